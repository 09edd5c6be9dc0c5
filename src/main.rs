//! The `quillwort` program. Everything is in the library; see `src/lib.rs` for the map.

fn main() -> std::process::ExitCode {
    quillwort::cli::run(std::env::args_os())
}
