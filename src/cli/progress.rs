//! A sign of life while outlets are followed or reviewed: one line on a terminal, written over in place and gone at the
//! end. Prints nothing if standard error is no terminal.

use std::io::{IsTerminal, Stderr, Write};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// What is done sooner needs no sign.
const SOON: Duration = Duration::from_secs(1);

/// The line, while it stands.
pub struct Progress<W: Write = Stderr>(Option<Mutex<Line<W>>>);

struct Line<W> {
    to: W,
    what: &'static str,
    from: Instant,
    /// The furthest that was shown.
    at: usize,
    /// Characters that stand on the screen.
    width: usize,
}

impl Progress {
    /// On standard error unless `is_quiet`; `what` stands before the count: `Following outlet`.
    pub fn of(what: &'static str, is_quiet: bool) -> Self {
        let to = std::io::stderr();
        let is_shown = !is_quiet && to.is_terminal();
        if is_shown { Self::on(to, what, Instant::now() + SOON) } else { Self(None) }
    }
}

impl<W: Write> Progress<W> {
    fn on(to: W, what: &'static str, from: Instant) -> Self {
        Self(Some(Mutex::new(Line { to, what, from, at: 0, width: 0 })))
    }

    /// Shows that this one of so many is begun; one that comes late is not gone back to.
    pub fn tell(&self, at: usize, of: usize) {
        let Some(line) = &self.0 else { return };
        let mut line = line.lock().unwrap_or_else(PoisonError::into_inner);
        if at <= line.at || Instant::now() < line.from {
            return;
        }
        let text = format!("{} {at} of {of}", line.what);
        (line.at, line.width) = (at, text.len());
        // Nobody is left to tell where standard error is closed.
        let _ = write!(line.to, "\r{text}").and_then(|()| line.to.flush());
    }
}

impl<W: Write> Drop for Progress<W> {
    fn drop(&mut self) {
        let Some(line) = &mut self.0 else { return };
        let line = line.get_mut().unwrap_or_else(PoisonError::into_inner);
        if line.width > 0 {
            let _ = write!(line.to, "\r{}\r", " ".repeat(line.width)).and_then(|()| line.to.flush());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(from: Instant) -> String {
        let mut screen = Vec::new();
        let progress = Progress::on(&mut screen, "Following faucet", from);
        [1, 3, 2, 10].into_iter().for_each(|at| progress.tell(at, 10));
        drop(progress);
        String::from_utf8(screen).unwrap()
    }

    #[test]
    fn a_line_is_written_over_in_place_goes_no_way_back_and_is_cleared() {
        let blank = " ".repeat("Following faucet 10 of 10".len());
        assert_eq!(
            shown(Instant::now()),
            format!(
                "\rFollowing faucet 1 of 10\rFollowing faucet 3 of 10\rFollowing faucet 10 of 10\r{blank}\r"
            )
        );
    }

    #[test]
    fn a_quiet_run_has_no_line() {
        assert!(Progress::of("Following faucet", true).0.is_none());
    }

    #[test]
    fn what_is_done_soon_shows_nothing_and_clears_nothing() {
        assert_eq!(shown(Instant::now() + Duration::from_secs(3600)), "");
    }
}
