//! `completions` and `man`: made from the same definition as the parser.

use clap::CommandFactory;

use super::Answer;
use super::args::{Cli, CompletionsArgs};
use super::output::{Failure, Output};
use crate::diagnostic::Finding;

pub(super) fn completions(args: &CompletionsArgs, output: &mut Output) -> Result<Answer, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "quillwort", &mut script);
    output.data(&String::from_utf8_lossy(&script))?;
    Ok(Answer::Yes)
}

pub(super) fn man(output: &mut Output) -> Result<Answer, Failure> {
    let mut page = Vec::new();
    let made = clap_mangen::Man::new(Cli::command()).render(&mut page);
    made.map_err(|e| Finding::error(format!("the manual page cannot be made: {e}")))?;
    output.data(&String::from_utf8_lossy(&page))?;
    Ok(Answer::Yes)
}
