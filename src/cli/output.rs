//! Where results go: data to stdout, everything else to stderr, one exit code.

use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use super::Answer;
use super::args::{ColorWhen, Global};
use crate::diagnostic::{Finding, Findings, render_for_terminal};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// The answer is no.
const EXIT_NO: u8 = 1;
/// Usage or input error.
pub(super) const EXIT_INPUT: u8 = 2;

/// Columns assumed where there is no terminal.
const DEFAULT_WIDTH: usize = 80;

/// Why a command could not answer.
#[derive(Debug)]
pub(super) enum Failure {
    /// Something is wrong with the input.
    Input(Findings),
    /// The answer is no, and this is why.
    Answer(Findings),
    /// Stdout was closed by its reader.
    ClosedPipe,
}

impl From<Findings> for Failure {
    fn from(findings: Findings) -> Self {
        Self::Input(findings)
    }
}

impl From<Finding> for Failure {
    fn from(finding: Finding) -> Self {
        Self::Input(finding.into())
    }
}

/// The two streams of the program.
pub(super) struct Output {
    color: anstream::ColorChoice,
    width: usize,
}

impl Output {
    pub fn new(global: &Global) -> Self {
        let color = match global.color {
            ColorWhen::Auto => anstream::ColorChoice::Auto,
            ColorWhen::Always => anstream::ColorChoice::Always,
            ColorWhen::Never => anstream::ColorChoice::Never,
        };
        let width = terminal_size::terminal_size().map_or(DEFAULT_WIDTH, |(w, _)| usize::from(w.0));
        Self { color, width: width.clamp(40, 120) }
    }

    /// Columns to lay text out in: the terminal's, at most 80.
    pub fn width(&self) -> usize {
        self.width.min(DEFAULT_WIDTH)
    }

    /// A progress bar of so many steps on stderr; hidden where no person watches.
    pub fn steps(count: u64) -> ProgressBar {
        let watched = io::stderr().is_terminal();
        let target = if watched { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
        let bar = ProgressBar::with_draw_target(Some(count), target);
        // The template is a constant of this line; without it the plain style serves.
        if let Ok(style) = ProgressStyle::with_template("  {bar:24} {msg}") {
            bar.set_style(style);
        }
        bar
    }

    /// A line of progress on stderr; hidden where no person watches.
    pub fn progress() -> ProgressBar {
        let watched = io::stderr().is_terminal();
        let target = if watched { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
        let line = ProgressBar::with_draw_target(None, target);
        if let Ok(style) = ProgressStyle::with_template("  {msg}") {
            line.set_style(style);
        }
        line
    }

    /// Writes data to stdout.
    pub fn data(&self, text: &str) -> Result<(), Failure> {
        let mut stream = anstream::AutoStream::new(io::stdout(), self.color);
        stream.write_all(text.as_bytes()).and_then(|()| stream.flush()).map_err(|e| write_failure(&e))
    }

    /// Says something to the person on stderr.
    pub fn note(&self, text: &str) {
        self.teller()(text);
    }

    /// As [`Self::note`], to be taken along.
    pub fn teller(&self) -> impl Fn(&str) + Send + Sync + 'static {
        let color = self.color;
        move |text| {
            let mut stream = anstream::AutoStream::new(io::stderr(), color);
            // A closed stderr is no reason to stop.
            let _ = writeln!(stream, "{text}");
        }
    }

    /// Shows findings on stderr.
    pub fn findings(&self, findings: &Findings) {
        if findings.is_empty() {
            return;
        }
        let stream = anstream::AutoStream::new(io::stderr(), self.color);
        let styled = stream.current_choice() != anstream::ColorChoice::Never;
        self.note(render_for_terminal(findings, self.width, styled).trim_end());
    }

    /// Turns the result of a command into the exit code, showing what is wrong.
    pub fn finish(&self, result: Result<Answer, Failure>) -> ExitCode {
        match result {
            Ok(Answer::Yes) | Err(Failure::ClosedPipe) => ExitCode::SUCCESS,
            Ok(Answer::No) => ExitCode::from(EXIT_NO),
            Err(Failure::Answer(findings)) => {
                self.findings(&findings);
                ExitCode::from(EXIT_NO)
            }
            Err(Failure::Input(findings)) => {
                self.findings(&findings);
                ExitCode::from(EXIT_INPUT)
            }
        }
    }
}

fn write_failure(error: &io::Error) -> Failure {
    if error.kind() == io::ErrorKind::BrokenPipe {
        return Failure::ClosedPipe;
    }
    Finding::error(format!("the output cannot be written: {error}")).into()
}
