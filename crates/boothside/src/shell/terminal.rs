//! The terminal's life, from entering it to giving it back, in one module.
//!
//! Whatever ends the program (leaving, an error, a panic, a signal), the terminal is given back as it
//! was: [`Screen`] does it when it is dropped, the panic hook before a panic is told.

mod outlet;
mod panics;

use std::cell::RefCell;
use std::env;
use std::io::{self, IsTerminal, Write};
use std::rc::Rc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::channel;
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use crossterm::cursor::{Hide, Show};
use crossterm::event::{DisableBracketedPaste, EnableBracketedPaste};
use crossterm::queue;
use crossterm::style::{Attribute, SetAttribute, force_color_output};
use crossterm::terminal::{
    BeginSynchronizedUpdate, EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen,
    SetTitle, disable_raw_mode, enable_raw_mode, size,
};
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;
use ratatui::{Frame, Terminal};
use thiserror::Error;

use super::title::Title;
use outlet::Outlet;

/// Why the terminal cannot be used.
#[derive(Debug, Error)]
pub enum TerminalError {
    /// Output goes to a file or a pipe.
    #[error("the full screen needs a terminal, and standard output is not one")]
    NotATerminal,
    /// The terminal says that it cannot.
    #[error("the full screen needs a terminal that can move its cursor, and TERM is '{0}'")]
    Dumb(String),
    /// The system refuses, or the terminal is gone.
    #[error("could not {doing} the terminal: {source}")]
    System {
        /// What was tried.
        doing: &'static str,
        /// What the system says.
        source: io::Error,
    },
}

/// Another thread may take the signal that stops the program; until it has, the terminal must not be
/// entered anew.
const STOPS_WITHIN: Duration = Duration::from_millis(50);

/// Adds what was tried to a system's error.
fn tried(doing: &'static str) -> impl FnOnce(io::Error) -> TerminalError {
    move |source| TerminalError::System { doing, source }
}

/// Whether this program has the terminal: raw mode, alternate screen, no cursor.
static ENTERED: AtomicBool = AtomicBool::new(false);
/// The way out to it, for whoever has to give it back.
static OUTLET: Mutex<Option<Outlet>> = Mutex::new(None);
/// Whether the terminal did not take what gives it back: it takes no words either.
static STUCK: AtomicBool = AtomicBool::new(false);

/// The terminal, entered. Dropping it gives the terminal back.
#[derive(Debug)]
pub struct Screen {
    terminal: Terminal<CrosstermBackend<Page>>,
    page: Page,
    outlet: Outlet,
    title: Title,
    wanted_title: String,
}

impl Screen {
    /// Enters the terminal: raw mode, alternate screen, cursor hidden, pastes marked as such, mouse left
    /// off.
    ///
    /// # Errors
    /// Standard output is not a terminal, `TERM` is `dumb`, or the system refuses.
    pub fn open() -> Result<Self, TerminalError> {
        let out = io::stdout();
        fit(env::var("TERM").ok().as_deref(), out.is_terminal())?;
        panics::install();
        let outlet = Outlet::open().map_err(tried("open"))?;
        *the_outlet() = Some(outlet.clone());
        let given_back = |error| {
            restore();
            error
        };
        enter(&outlet).map_err(tried("enter")).map_err(given_back)?;
        let page = Page::default();
        let terminal = Terminal::new(CrosstermBackend::new(page.clone()))
            .map_err(tried("measure"))
            .map_err(given_back)?;
        let (title, wanted_title) = (Title::default(), String::new());
        Ok(Self { terminal, page, outlet, title, wanted_title })
    }

    /// What is called when a picture can be drawn, after one could not.
    pub fn wake_with(&self, wake: impl Fn() + Send + 'static) {
        self.outlet.wake_with(wake);
    }

    /// Whether the terminal has taken what was sent. While it has not, nothing is drawn; once it has, the
    /// waker is called.
    ///
    /// # Errors
    /// The terminal cannot be written to: it is gone, and the program has to end.
    pub fn is_free(&self) -> Result<bool, TerminalError> {
        self.outlet.is_free().map_err(tried("draw on"))
    }

    /// Draws a frame: what changed goes out as one synchronized update. Returns at once.
    ///
    /// # Errors
    /// The terminal does not tell its size.
    pub fn draw(&mut self, picture: impl FnOnce(&mut Frame<'_>)) -> Result<(), TerminalError> {
        self.queue_title()
            .and_then(|()| queue!(self.page, BeginSynchronizedUpdate))
            .and_then(|()| self.terminal.draw(picture).map(drop))
            .and_then(|()| queue!(self.page, EndSynchronizedUpdate))
            .map_err(tried("draw on"))?;
        self.send();
        Ok(())
    }

    /// Makes the next [`Screen::draw`] draw every cell.
    ///
    /// # Errors
    /// The terminal does not tell its size.
    pub fn redraw_all(&mut self) -> Result<(), TerminalError> {
        // not `Terminal::clear`: it asks the terminal for its cursor and would wait for an answer that
        // the thread reading events takes
        let (columns, rows) = size().map_err(tried("measure"))?;
        self.terminal.resize(Rect::new(0, 0, columns, rows)).map_err(tried("clear"))
    }

    /// Sets the window's title with the next frame, if it is not that already. It is emptied on
    /// leaving.
    pub fn set_title(&mut self, wanted: &str) {
        wanted.clone_into(&mut self.wanted_title);
    }

    /// Sends the title where it changed and the picture did not.
    ///
    /// # Errors
    /// It cannot be written in the terminal's words.
    pub fn send_title(&mut self) -> Result<(), TerminalError> {
        self.queue_title().map_err(tried("name"))?;
        self.send();
        Ok(())
    }

    fn queue_title(&mut self) -> io::Result<()> {
        match self.title.change(&self.wanted_title) {
            Some(text) => queue!(self.page, SetTitle(text)),
            None => Ok(()),
        }
    }

    /// Rings the terminal's bell once.
    pub fn ring(&self) {
        self.outlet.ring();
    }

    /// Gives the terminal back, stops the program as Ctrl-Z does, and on going on enters anew; the
    /// next frame is drawn whole. Read the clocks again afterwards.
    ///
    /// The whole process group is stopped, for the shell waits for all of it. The signal is SIGTSTP,
    /// not SIGSTOP: where no shell could ever continue the program (it was started by the terminal
    /// itself) the system leaves it out (POSIX.1-2017, 2.4.3), and nothing happens.
    ///
    /// # Errors
    /// The terminal cannot be given back or entered anew.
    pub fn suspend(&mut self) -> Result<(), TerminalError> {
        restore();
        stop_the_group().map_err(tried("stop beside"))?;
        let (_open, never) = channel::<()>();
        let _ = never.recv_timeout(STOPS_WITHIN);
        self.enter_anew()
    }

    /// Enters the terminal anew after the program was stopped from outside and goes on: whoever had
    /// the terminal meanwhile may have left it in any state. The next frame is drawn whole.
    ///
    /// # Errors
    /// The terminal cannot be entered.
    pub fn enter_anew(&mut self) -> Result<(), TerminalError> {
        // crossterm believes that it is still in raw mode, and would do nothing
        disable_raw_mode().map_err(tried("enter"))?;
        enter(&self.outlet).map_err(tried("enter"))?;
        self.title.forget();
        self.redraw_all()
    }

    /// Leaves the terminal as it is: it is gone, and nothing more may be written to it.
    pub fn abandon(self) {
        ENTERED.store(false, Ordering::SeqCst);
    }

    /// One piece for all that was queued: nothing half-drawn is ever seen.
    fn send(&self) {
        let bytes = self.page.take();
        if !bytes.is_empty() {
            self.outlet.send(&bytes);
        }
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        restore();
        self.outlet.end();
        panics::tell_held_back();
    }
}

/// Whether the terminal took nothing when it was given back: words to it would wait for ever.
#[must_use]
pub fn is_stuck() -> bool {
    STUCK.load(Ordering::SeqCst)
}

/// Whether a terminal with this `TERM` can show a full screen.
fn fit(term: Option<&str>, is_terminal: bool) -> Result<(), TerminalError> {
    match term {
        _ if !is_terminal => Err(TerminalError::NotATerminal),
        Some("dumb") => Err(TerminalError::Dumb("dumb".to_owned())),
        _ => Ok(()),
    }
}

fn the_outlet() -> std::sync::MutexGuard<'static, Option<Outlet>> {
    OUTLET.lock().unwrap_or_else(PoisonError::into_inner)
}

fn enter(outlet: &Outlet) -> io::Result<()> {
    enable_raw_mode()?;
    ENTERED.store(true, Ordering::SeqCst);
    // with NO_COLOR crossterm would write a bare reset wherever a colour ends, and lose bold and reverse;
    // the theme leaves colours out by itself
    force_color_output(true);
    let mut bytes = Vec::new();
    queue!(bytes, EnterAlternateScreen, EnableBracketedPaste, Hide)?;
    outlet.send(&bytes);
    Ok(())
}

fn write_leaving(out: &mut impl Write) -> io::Result<()> {
    queue!(
        out,
        EndSynchronizedUpdate,
        SetAttribute(Attribute::Reset),
        DisableBracketedPaste,
        SetTitle(""),
        LeaveAlternateScreen,
        Show
    )
}

/// Gives the terminal back if this program has it. Tells no error: there is nowhere left to tell it.
fn restore() {
    if !ENTERED.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut bytes = Vec::new();
    let _ = write_leaving(&mut bytes);
    let outlet = the_outlet().clone();
    let taken = outlet.is_none_or(|outlet| outlet.finish(&bytes));
    STUCK.store(!taken, Ordering::SeqCst);
    let _ = disable_raw_mode();
}

#[cfg(unix)]
fn stop_the_group() -> io::Result<()> {
    use rustix::process::{Signal, kill_current_process_group};
    kill_current_process_group(Signal::TSTP).map_err(io::Error::from)
}

/// Systems without job control go on at once.
#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "one signature for all systems")]
fn stop_the_group() -> io::Result<()> {
    Ok(())
}

/// Collects what is written until it is taken. Clones share it.
#[derive(Debug, Clone, Default)]
struct Page(Rc<RefCell<Vec<u8>>>);

impl Page {
    fn take(&self) -> Vec<u8> {
        self.0.take()
    }
}

impl Write for Page {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().extend_from_slice(bytes);
        Ok(bytes.len())
    }

    /// Does nothing: the frame goes out when it is whole.
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[cfg(test)]
mod tests;
