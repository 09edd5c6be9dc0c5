//! Runs the program as a user does, on a library kept for the whole test run.

use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// The program with the library folder of the test run, plain and 80 columns wide.
pub fn quillwort() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_quillwort"));
    command.args(library_args());
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE").env("COLUMNS", "80");
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

/// The library of the test run, and never the rows of the person who runs the tests.
pub fn library_args() -> [PathBuf; 4] {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    ["--library".into(), folder.join("library"), "--own".into(), folder.join("no-own-rows")]
}

/// A demo file, relative to the project.
pub fn demo(name: &str) -> String {
    format!("data/demo/{name}")
}

/// What a run gave.
pub struct Run {
    /// The exit code; -1 when a signal ended it.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// Runs with these arguments.
pub fn run(args: &[&str]) -> Run {
    finish(quillwort().args(args))
}

/// Runs with these arguments and standard input.
pub fn run_with(args: &[&str], stdin: &str) -> Run {
    finish(quillwort().args(args).write_stdin(stdin))
}

/// Runs a prepared command.
pub fn finish(command: &mut Command) -> Run {
    let output = command.output().expect("the program starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
    Run { code: output.status.code().unwrap_or(-1), out: text(output.stdout), err: text(output.stderr) }
}

/// A file of the test run with this content.
pub fn file(name: &str, content: impl AsRef<[u8]>) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("inputs");
    std::fs::create_dir_all(&folder).expect("the test folder can be made");
    let path = folder.join(name);
    std::fs::write(&path, content).expect("the test file can be written");
    path
}

/// The low-tech demo with one piece of text replaced.
pub fn changed_demo(name: &str, from: &str, to: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(demo("attic-lowtech.toml"));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    assert!(text.contains(from), "the demo no longer says {from:?}");
    // The price list stands beside the demo, not beside the copy.
    let text = text.replacen(from, to, 1).replace("prices = \"prices-invented.csv\"\n", "");
    file(name, text)
}
