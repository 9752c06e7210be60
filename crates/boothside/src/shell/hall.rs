//! Terminal and messages, shared by the book and the session.

use std::io;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use crossterm::event::{KeyCode, KeyModifiers};
use ratatui::Frame;

use super::clocks::Look;
use super::picture::Picture;
use super::signals::{self, Incoming, Sig};
use super::terminal::{Screen, TerminalError};
use super::writer::Report;
use crate::update::desk::Pressed;
use crate::view::theme::Theme;

/// What reaches the loop.
#[derive(Debug)]
pub enum Message {
    /// From terminal and signals.
    In(Incoming),
    /// From the writer.
    Report(Report),
    /// Something changed that is drawn.
    Woken,
}

impl From<Incoming> for Message {
    fn from(incoming: Incoming) -> Self {
        Self::In(incoming)
    }
}

/// What a message of terminal or signals comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Came {
    /// A key for the screen, and the clocks when it was read.
    Key(Pressed, Look),
    /// A pasted text for the screen: one line without control characters.
    Pasted(String, Look),
    /// Nothing that concerns the screen.
    Nothing,
    /// The program is to end.
    End,
    /// The terminal is gone; nothing may be written to it any more.
    Gone,
}

/// Why the full screen ended by itself.
#[derive(Debug, thiserror::Error)]
pub enum HallError {
    /// The terminal refuses.
    #[error(transparent)]
    Terminal(#[from] TerminalError),
    /// Signals or the terminal's events cannot be listened to.
    #[error("signals and keys cannot be listened to: {0}")]
    Signals(#[from] io::Error),
    /// A rehearsal cannot be had.
    #[error("{0}")]
    Rehearsal(String),
}

/// The terminal and the one channel on which everything comes in.
pub struct Hall {
    /// The terminal.
    pub screen: Screen,
    /// How things look.
    pub theme: Theme,
    picture: Picture,
    size: (u16, u16),
    rx: Receiver<Message>,
    tx: Sender<Message>,
}

impl Hall {
    /// Enters the terminal and begins to listen.
    ///
    /// # Errors
    /// [`HallError`]; the terminal is then as it was.
    pub fn open() -> Result<Self, HallError> {
        let screen = Screen::open()?;
        let (tx, rx) = channel();
        let woken: Sender<Message> = tx.clone();
        screen.wake_with(move || {
            // nobody listens any more: the program is leaving
            let _ = woken.send(Message::Woken);
        });
        signals::spawn(tx.clone())?;
        let size = crossterm::terminal::size().unwrap_or((80, 24));
        let theme = Theme::of_environment();
        Ok(Self { screen, theme, picture: Picture::new(), size, rx, tx })
    }

    /// Where the writer reports to.
    pub fn reports(&self) -> impl Fn(Report) + Send + 'static {
        let tx = self.tx.clone();
        move |report| {
            // nobody listens any more: the program is leaving
            let _ = tx.send(Message::Report(report));
        }
    }

    /// What calls for a new look at what is drawn.
    pub fn waker(&self) -> impl Fn() + Send + 'static {
        let tx = self.tx.clone();
        move || {
            // nobody listens any more: the program is leaving
            let _ = tx.send(Message::Woken);
        }
    }

    /// Draws, if the picture is another one than before. While the terminal has not taken the last one
    /// nothing is drawn, and nothing waits: once it has, a message comes and the newest is drawn.
    ///
    /// # Errors
    /// The terminal is gone.
    pub fn paint(&mut self, paint: impl Fn(&mut Frame<'_>, &Theme)) -> Result<(), TerminalError> {
        if !self.screen.is_free()? {
            return Ok(());
        }
        let theme = &self.theme;
        if self.picture.changed(self.size, |frame| paint(frame, theme)) {
            return self.screen.draw(|frame| paint(frame, theme));
        }
        self.screen.send_title()
    }

    /// Waits for a message, so long at most.
    pub fn wait(&mut self, at_most: Duration) -> Option<Message> {
        self.rx.recv_timeout(at_most).ok()
    }

    /// A message that has come already.
    pub fn waiting(&mut self) -> Option<Message> {
        self.rx.try_recv().ok()
    }

    /// What a message of terminal or signals comes to; resizing and stopping are dealt with here.
    ///
    /// # Errors
    /// The terminal cannot be entered anew.
    pub fn take(&mut self, incoming: Incoming) -> Result<Came, TerminalError> {
        Ok(match incoming {
            Incoming::Key(pressed) if pressed.key.modifiers.contains(KeyModifiers::CONTROL) => {
                self.control(pressed.key.code)?
            }
            Incoming::Key(pressed) => {
                key(pressed.key.code).map_or(Came::Nothing, |key| Came::Key(key, pressed.at))
            }
            Incoming::Pasted { text, at } => Came::Pasted(one_line(&text), at),
            Incoming::Resize(columns, rows) => {
                self.size = (columns, rows);
                self.picture.forget();
                Came::Nothing
            }
            Incoming::Signal(Sig::GoOn) => {
                self.screen.enter_anew()?;
                self.picture.forget();
                Came::Nothing
            }
            Incoming::Signal(Sig::End) => Came::End,
            Incoming::Signal(Sig::HungUp) | Incoming::Unreadable(_) => Came::Gone,
        })
    }

    fn control(&mut self, code: KeyCode) -> Result<Came, TerminalError> {
        match code {
            KeyCode::Char('c') => Ok(Came::End),
            KeyCode::Char('z') => {
                self.screen.suspend()?;
                self.picture.forget();
                Ok(Came::Nothing)
            }
            KeyCode::Char('l') => {
                self.screen.redraw_all()?;
                self.picture.forget();
                Ok(Came::Nothing)
            }
            _ => Ok(Came::Nothing),
        }
    }
}

/// The key of the screen that was pressed, where it is one.
const fn key(code: KeyCode) -> Option<Pressed> {
    Some(match code {
        KeyCode::Char(c) => Pressed::Char(c),
        KeyCode::Enter => Pressed::Enter,
        KeyCode::Esc => Pressed::Esc,
        KeyCode::Backspace => Pressed::Backspace,
        KeyCode::Up | KeyCode::BackTab => Pressed::Up,
        KeyCode::Down | KeyCode::Tab => Pressed::Down,
        KeyCode::PageDown => Pressed::PageDown,
        KeyCode::PageUp => Pressed::PageUp,
        KeyCode::Left => Pressed::Left,
        KeyCode::Right => Pressed::Right,
        KeyCode::Home => Pressed::Home,
        KeyCode::End => Pressed::End,
        KeyCode::Delete => Pressed::Delete,
        _ => return None,
    })
}

/// A pasted text as one line: ends of lines and tabs become blanks, other control characters go.
fn one_line(text: &str) -> String {
    let text = text.replace("\r\n", "\n");
    let blank = |c: char| if matches!(c, '\r' | '\n' | '\t') { ' ' } else { c };
    let line: String = text.chars().map(blank).filter(|c| !c.is_control()).collect();
    line.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::one_line;

    #[test]
    fn a_pasted_text_is_one_line() {
        assert_eq!(one_line("19.4\r\n58\n18.8\n"), "19.4 58 18.8");
        assert_eq!(one_line("lot\t24-117\u{1b}[2J\u{7}"), "lot 24-117[2J");
        assert_eq!(one_line("\r\n\t"), "");
    }
}
