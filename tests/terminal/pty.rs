//! The real program in a real pseudo-terminal.

use std::io::{Read, Write};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// How long the program may take for anything; a busy machine is no failure.
const PATIENCE: Duration = Duration::from_secs(30);

/// The program, running.
pub(crate) struct Program {
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    keys: Box<dyn Write + Send>,
    out: Receiver<Vec<u8>>,
    /// Whether the terminal reads nothing.
    held: Arc<AtomicBool>,
    screen: vt100::Parser,
    /// Everything that the program wrote.
    pub(crate) bytes: Vec<u8>,
}

impl Program {
    /// Starts the program with these arguments in a terminal of this size.
    pub(crate) fn start(data: &Path, args: &[&str], size: (u16, u16)) -> Self {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_boothside"));
        command.arg("--data");
        command.arg(data);
        command.args(args);
        command.env("TERM", "xterm-256color");
        command.env("TZ", "UTC");
        Self::run(command, size)
    }

    /// Starts a command in a terminal of this size.
    pub(crate) fn run(command: CommandBuilder, (columns, rows): (u16, u16)) -> Self {
        let size = PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
        let child = pair.slave.spawn_command(command).expect("the program");
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("its output");
        let keys = pair.master.take_writer().expect("its keys");
        let (tx, out) = channel();
        let held = Arc::new(AtomicBool::new(false));
        let holds = Arc::clone(&held);
        std::thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(read @ 1..) = reader.read(&mut buffer) {
                if tx.send(buffer[..read].to_vec()).is_err() {
                    return;
                }
                while holds.load(Ordering::SeqCst) {
                    std::thread::park_timeout(Duration::from_millis(5));
                }
            }
        });
        let screen = vt100::Parser::new(rows, columns, 0);
        Self { child, master: pair.master, keys, out, held, screen, bytes: Vec::new() }
    }

    /// What stands on the screen.
    pub(crate) fn text(&self) -> String {
        self.screen.screen().contents()
    }

    /// Takes output for as long as `span`, or until it stands still for longer.
    fn take(&mut self, span: Duration) -> bool {
        match self.out.recv_timeout(span) {
            Ok(bytes) => {
                self.bytes.extend_from_slice(&bytes);
                self.screen.process(&bytes);
                true
            }
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => false,
        }
    }

    /// Lets a span pass, taking output.
    pub(crate) fn pass(&mut self, span: Duration) {
        let steps = span.as_millis() / 50;
        let (_keep, never) = channel::<()>();
        for _ in 0..steps {
            while self.take(Duration::from_millis(1)) {}
            let _ = never.recv_timeout(Duration::from_millis(49));
        }
    }

    /// Waits until the screen shows `wanted`.
    pub(crate) fn wait_for(&mut self, wanted: &str) {
        self.wait_until(wanted, |text| text.contains(wanted));
    }

    /// Waits until the screen is as wanted.
    pub(crate) fn wait_until(&mut self, what: &str, wanted: impl Fn(&str) -> bool) {
        let mut waited = Duration::ZERO;
        while !wanted(&self.text()) {
            let step = Duration::from_millis(20);
            if !self.take(step) {
                waited += step;
            }
            assert!(waited < PATIENCE, "never came: {what}\n{}", self.text());
        }
        // the rest of the same drawing may still be on its way
        while self.take(Duration::from_millis(40)) {}
    }

    /// The terminal reads nothing more of what the program sends, or goes on.
    #[allow(dead_code, reason = "for tests/faults, which shares this file")]
    pub(crate) fn hold(&self, held: bool) {
        self.held.store(held, Ordering::SeqCst);
    }

    /// Waits for the next output; false where none comes within `span`.
    #[allow(dead_code, reason = "for tests/faults, which shares this file")]
    pub(crate) fn takes_within(&mut self, span: Duration) -> bool {
        self.take(span)
    }

    /// Types keys as they are.
    pub(crate) fn keys(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).expect("typed");
        self.keys.flush().expect("typed");
    }

    /// Kills the program as nothing can be refused: SIGKILL.
    pub(crate) fn kill(self) {
        self.kill_and_read();
    }

    /// Kills the program, and gives everything that it wrote until then.
    pub(crate) fn kill_and_read(mut self) -> Vec<u8> {
        self.child.kill().expect("killed");
        self.child.wait().expect("gone");
        while self.take(PATIENCE) {}
        self.bytes
    }

    /// Waits for the program to end by itself; its exit status.
    pub(crate) fn ended(&mut self) -> u32 {
        let mut waited = Duration::ZERO;
        loop {
            if let Some(status) = self.child.try_wait().expect("a child") {
                while self.take(Duration::from_millis(50)) {}
                return status.exit_code();
            }
            let step = Duration::from_millis(20);
            if !self.take(step) {
                let (_keep, never) = channel::<()>();
                let _ = never.recv_timeout(step);
                waited += step;
            }
            assert!(waited < PATIENCE, "it does not end:\n{}", self.text());
        }
    }

    /// Gives the terminal another size.
    pub(crate) fn resize(&mut self, columns: u16, rows: u16) {
        let size = PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 };
        self.master.resize(size).expect("resized");
        self.screen.screen_mut().set_size(rows.max(1), columns.max(1));
    }

    /// The same, but what is shown here keeps its size: vt100 cannot take some of the smallest.
    #[allow(dead_code, reason = "for tests/faults, which shares this file")]
    pub(crate) fn resize_unseen(&mut self, columns: u16, rows: u16) {
        let size = PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 };
        self.master.resize(size).expect("resized");
    }

    /// The program's process number.
    pub(crate) fn pid(&self) -> u32 {
        self.child.process_id().expect("a process")
    }
}
