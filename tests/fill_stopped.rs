//! `fill` ended by Ctrl-C, at a terminal as a person has it: the line of progress, then the best
//! list so far with what is proven of it.
//!
//! The terminal is that of `script` (util-linux); elsewhere the test says that it was skipped.

use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use crate::page_person::is_ci;
use crate::program::{file, library_args};
use crate::select_export::varied;

/// A tank whose proof takes minutes: eight zones, many plants alike.
const LONG: u64 = 3;

/// Runs `fill` of a tank at a terminal of its own, 120 columns wide.
fn at_a_terminal(tank: &Path) -> Option<Child> {
    let quoted = |word: &str| format!("'{}'", word.replace('\'', r"'\''"));
    let library = library_args().map(|arg| quoted(&arg.to_string_lossy())).join(" ");
    let (program, tank) = (quoted(env!("CARGO_BIN_EXE_quillwort")), quoted(&tank.to_string_lossy()));
    let line = format!("stty cols 120; exec {program} {library} fill --time-limit 300 {tank}");
    let mut command = Command::new("script");
    command.args(["-qec", &line, "/dev/null"]).env("TERM", "xterm").env("SHELL", "/bin/sh");
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().ok()
}

/// Reads until the text holds `wanted`, or to the end.
fn read_until(from: &mut impl Read, wanted: &str) -> String {
    let (mut seen, mut part) = (String::new(), [0; 4096]);
    while !seen.contains(wanted) {
        match from.read(&mut part) {
            Ok(count) if count > 0 => seen.push_str(&String::from_utf8_lossy(&part[..count])),
            _ => break,
        }
    }
    seen
}

/// The number after `label`.
fn number_after(text: &str, label: &str) -> Option<i64> {
    let rest = text.rsplit_once(label)?.1;
    rest.chars().take_while(char::is_ascii_digit).collect::<String>().parse().ok()
}

#[test]
#[cfg_attr(not(target_os = "linux"), ignore = "needs `script` of util-linux")]
fn ctrl_c_gives_the_best_list_so_far_with_its_gap() {
    let prices = file("stopped-prices.csv", include_str!("../data/demo/prices-invented.csv"));
    let text = varied::tank(LONG).replace("prices-invented.csv", &prices.to_string_lossy());
    let tank = file("stopped-tank.toml", text);
    let Some(mut child) = at_a_terminal(&tank) else {
        assert!(!is_ci(), "no program `script`; with CI=true there has to be");
        eprintln!("SKIPPED: no program `script`, so Ctrl-C at a terminal was not tried");
        return;
    };
    let mut out = child.stdout.take().expect("piped");
    let progress = read_until(&mut out, " nodes");
    let shown = number_after(&progress, "best ").unwrap_or_else(|| panic!("no progress: {progress}"));
    let most = number_after(&progress, "at most ").unwrap_or_else(|| panic!("no bound: {progress}"));
    child.stdin.as_mut().expect("piped").write_all(b"\x03").expect("the key is pressed");
    let mut rest = Vec::new();
    out.read_to_end(&mut rest).expect("readable");
    let rest = String::from_utf8_lossy(&rest);
    let status = child.wait().expect("the program ends");

    assert_eq!(status.code(), Some(0), "{rest}");
    let value = number_after(&rest, "this list is worth ").unwrap_or_else(|| panic!("no proof line: {rest}"));
    let bound = number_after(&rest, "none is worth more than ").unwrap_or_else(|| panic!("no bound: {rest}"));
    assert!(shown <= value && value < bound && bound <= most, "{shown} {value} {bound} {most}: {rest}");
    assert!(rest.contains("searched for "), "{rest}");
}
