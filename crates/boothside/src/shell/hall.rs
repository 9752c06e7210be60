//! Terminal and messages, shared by the book and the session.

use std::io;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::Frame;

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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Came {
    /// A key for the screen.
    Key(Pressed),
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
    /// There is nowhere to log a rehearsal.
    #[error(
        "a rehearsal has nowhere to write: {0}; accepted: a temporary folder that is there (TMPDIR)"
    )]
    NoFolder(io::Error),
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

    /// Draws, if the picture is another one than before.
    ///
    /// # Errors
    /// The terminal is gone.
    pub fn paint(&mut self, paint: impl Fn(&mut Frame<'_>, &Theme)) -> Result<(), TerminalError> {
        let theme = &self.theme;
        if self.picture.changed(self.size, |frame| paint(frame, theme)) {
            self.screen.draw(|frame| paint(frame, theme))?;
        }
        Ok(())
    }

    /// Waits for a message, so long at most.
    pub fn wait(&mut self, at_most: Duration) -> Option<Message> {
        self.rx.recv_timeout(at_most).ok()
    }

    /// What a message of terminal or signals comes to; resizing and stopping are dealt with here.
    ///
    /// # Errors
    /// The terminal cannot be entered anew.
    pub fn take(&mut self, incoming: &Incoming) -> Result<Came, TerminalError> {
        Ok(match incoming {
            Incoming::Key(pressed) => self.key(pressed.key)?,
            Incoming::Resize(columns, rows) => {
                self.size = (*columns, *rows);
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

    fn key(&mut self, key: KeyEvent) -> Result<Came, TerminalError> {
        if key.modifiers.contains(KeyModifiers::CONTROL) {
            return self.control(key.code);
        }
        Ok(match key.code {
            KeyCode::Char(c) => Came::Key(Pressed::Char(c)),
            KeyCode::Enter => Came::Key(Pressed::Enter),
            KeyCode::Esc => Came::Key(Pressed::Esc),
            KeyCode::Backspace => Came::Key(Pressed::Backspace),
            KeyCode::Up | KeyCode::BackTab => Came::Key(Pressed::Up),
            KeyCode::Down | KeyCode::Tab => Came::Key(Pressed::Down),
            KeyCode::PageDown => Came::Key(Pressed::PageDown),
            KeyCode::PageUp => Came::Key(Pressed::PageUp),
            KeyCode::Left => Came::Key(Pressed::Left),
            KeyCode::Right => Came::Key(Pressed::Right),
            KeyCode::Home => Came::Key(Pressed::Home),
            KeyCode::End => Came::Key(Pressed::End),
            KeyCode::Delete => Came::Key(Pressed::Delete),
            _ => Came::Nothing,
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
