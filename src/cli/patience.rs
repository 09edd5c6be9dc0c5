//! How long a search may take: a time limit, Ctrl-C, and what the person sees meanwhile.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use indicatif::ProgressBar;

use super::output::{Failure, Output};
use crate::answers::reasoned_enough;
use crate::diagnostic::Finding;
use crate::select::Progress;

/// Set by Ctrl-C; a handler is one for the whole process.
static STOPPED: AtomicBool = AtomicBool::new(false);

/// Nothing is shown of a search that ends sooner.
const SILENT: Duration = Duration::from_millis(400);
/// How often the line of progress changes.
const REFRESH: Duration = Duration::from_millis(100);

/// Says whether a search may go on.
type Limit = dyn FnMut(&Progress) -> ControlFlow<()>;

/// A limit on all searches of a command together.
pub(super) struct Patience {
    started: Instant,
    time: Box<Limit>,
    shown: Instant,
    line: ProgressBar,
}

impl Patience {
    /// So many seconds from now, or until Ctrl-C.
    pub fn new(seconds: f64) -> Result<Self, Failure> {
        let time = Box::new(within(time_limit(seconds)?));
        // The first Ctrl-C ends the search, the second the program. Where no handler can be set,
        // the first ends the program as it always does.
        let _ = ctrlc::set_handler(|| {
            if STOPPED.swap(true, Ordering::Relaxed) {
                std::process::exit(130);
            }
        });
        let started = Instant::now();
        Ok(Self { started, time, shown: started, line: Output::progress() })
    }

    /// Whether the search may go on; shows how far it has come.
    pub fn watch(&mut self, progress: &Progress) -> ControlFlow<()> {
        if STOPPED.load(Ordering::Relaxed) {
            return ControlFlow::Break(());
        }
        (self.time)(progress)?;
        let now = Instant::now();
        if now - self.started > SILENT && now - self.shown > REFRESH {
            self.shown = now;
            self.line.set_message(words(progress));
            self.line.tick();
        }
        ControlFlow::Continue(())
    }

    /// Ends a search by Ctrl-C or after so many nodes, never by the clock.
    pub fn steady() -> impl FnMut(&Progress) -> ControlFlow<()> {
        |progress: &Progress| {
            let over = STOPPED.load(Ordering::Relaxed) || reasoned_enough(progress);
            if over { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        }
    }

    /// Clears the line, and says on stderr how long it took where a person watches.
    pub fn finish(self) {
        self.line.finish_and_clear();
        if !self.line.is_hidden() && self.started.elapsed() > SILENT {
            eprintln!("searched for {:.1} s", self.started.elapsed().as_secs_f64());
        }
    }
}

fn time_limit(seconds: f64) -> Result<Duration, Failure> {
    Duration::try_from_secs_f64(seconds).map_err(|_| {
        let finding = Finding::error(format!("a time limit of {seconds} seconds"));
        finding.expected("a number of seconds, 0 or more").into()
    })
}

/// Ends a search when its time is over.
pub(super) fn within(limit: Duration) -> impl FnMut(&Progress) -> ControlFlow<()> {
    let started = Instant::now();
    move |_: &Progress| {
        if started.elapsed() > limit { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }
}

fn words(progress: &Progress) -> String {
    match progress.value {
        Some(value) if progress.bound < i64::MAX => {
            let gap = progress.bound.saturating_sub(value).max(0) as f64;
            let share = 100.0 * gap / (value.abs().max(1) as f64);
            format!("best {value}, at most {} ({share:.1} % more), {} nodes", progress.bound, progress.nodes)
        }
        Some(value) => format!("best {value}, {} nodes", progress.nodes),
        None => format!("no list yet, {} nodes", progress.nodes),
    }
}
