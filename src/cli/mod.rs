//! The command line: one file a command. Reads arguments and files, calls the rooms, hands
//! the results to `report`, and is the only room (with `page`) that touches the outside.

mod args;
mod calendar;
mod catalogue;
mod check;
mod chosen;
mod compare;
mod completions;
mod demands;
mod fill;
mod find;
mod grow;
mod house;
mod list;
mod output;
mod patience;
mod plan;
mod prices;
mod schema;
mod serve;
mod show;
mod tank;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser;
use clap::error::ErrorKind;

use args::{Cli, Command};
use output::{Failure, Output};

/// What a command that ran to its end says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Answer {
    /// Yes, or done.
    Yes,
    /// No: a misfit, nothing found, an impossible layout.
    No,
}

/// Runs the program: 0 yes or done, 1 the answer is no, 2 usage or input error.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let cli = match Cli::try_parse_from(args) {
        Ok(cli) => cli,
        Err(error) => return usage(&error),
    };
    let mut output = Output::new(&cli.global);
    let result = dispatch(&cli, &mut output);
    output.finish(result)
}

fn usage(error: &clap::Error) -> ExitCode {
    // Nothing can be done when even the help cannot be printed.
    let _ = error.print();
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => ExitCode::SUCCESS,
        _ => ExitCode::from(output::EXIT_INPUT),
    }
}

fn dispatch(cli: &Cli, output: &mut Output) -> Result<Answer, Failure> {
    let global = &cli.global;
    match &cli.command {
        Command::Fill(args) => fill::run(args, global, output),
        Command::Check(args) => check::run(args, global, output),
        Command::Compare(args) => compare::run(args, global, output),
        Command::Tank(args) => tank::run(args, global, output),
        Command::Plan(args) => plan::run(args, global, output),
        Command::Grow(args) => grow::run(args, global, output),
        Command::Calendar(args) => calendar::run(args, global, output),
        Command::Completions(args) => completions::completions(args, output),
        Command::Serve(args) => serve::run(args, global, output),
        Command::Schema(args) => schema::run(args, output),
        Command::Man => completions::man(output),
        Command::Show(args) => show::run(args, global, output),
        Command::Find(args) => find::run(args, global, output),
        Command::Catalogue(args) => catalogue::run(args, global, output),
    }
}
