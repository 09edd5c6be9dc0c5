//! What every command shares: help, completions, the manual page.

use crate::program::run;

#[test]
fn completions_for_every_shell_name_the_commands() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let run = run(&["completions", shell]);
        assert_eq!(run.code, 0, "{shell}");
        assert!(run.out.contains("catalogue") && run.out.contains("fill"), "{shell}");
    }
}

#[test]
fn the_manual_page_is_a_manual_page() {
    let run = run(&["man"]);
    assert_eq!(run.code, 0);
    assert!(run.out.contains(".TH quillwort 1"), "{}", &run.out[..200.min(run.out.len())]);
    assert!(run.out.contains("fill"));
}

#[test]
fn help_names_the_exit_codes() {
    let run = run(&["--help"]);
    assert!(run.out.contains("Exit code: 0 yes or done, 1 the answer is no, 2 usage or input error."));
}
