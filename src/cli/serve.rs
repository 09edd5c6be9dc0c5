//! `serve`: the local page.

use std::io;
use std::sync::Arc;
use std::time::Duration;

use super::Answer;
use super::args::{Global, ServeArgs};
use super::house;
use super::output::{Failure, Output};
use crate::diagnostic::Finding;
use crate::page::{self, Desk, Rooms, Shared};

/// How long requests under way may take once the program is asked to stop.
const LAST: Duration = Duration::from_secs(5);

pub(super) fn run(args: &ServeArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let desk = Desk::open(args.tank.as_deref())?;
    let rooms = Rooms::new(house::open(global, output)?);
    if let Err(findings) = rooms.read_prices(&desk) {
        output.findings(&findings);
        output.note("The page goes on without prices.");
    }
    let shared = Arc::new(Shared::new(desk, rooms));
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(|error| refused(args.port, &error))?;
    let served = runtime.block_on(serve(args, Arc::clone(&shared), output));
    runtime.shutdown_background();
    served?;
    if shared.desk().is_unsaved() {
        output.note("The tank had changes that were not saved.");
    }
    Ok(Answer::Yes)
}

async fn serve(args: &ServeArgs, shared: Arc<Shared>, output: &Output) -> Result<(), Failure> {
    let listener = page::listen(args.port).await.map_err(|error| refused(args.port, &error))?;
    let address = listener.local_addr().map_err(|error| refused(args.port, &error))?;
    let address = format!("http://{address}/");
    output.data(&format!("{address}\n"))?;
    output.note("Open this address in a browser of this machine; Ctrl-C stops the page.");
    if args.open
        && let Err(error) = open::that_detached(&address)
    {
        output.note(&format!("No browser could be opened: {error}"));
    }
    let late = async {
        stopped().await;
        tokio::time::sleep(LAST).await;
    };
    let served = page::serve(listener, shared, stopped());
    tokio::select! {
        result = served => result.map_err(|error| refused(args.port, &error)),
        () = late => Ok(()),
    }
}

/// Ends when the person, or the system, asks the program to stop.
async fn stopped() {
    let interrupted = async { drop(tokio::signal::ctrl_c().await) };
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut ended) = signal(SignalKind::terminate()) {
            tokio::select! {
                () = interrupted => {}
                _ = ended.recv() => {}
            }
            return;
        }
    }
    interrupted.await;
}

fn refused(port: u16, error: &io::Error) -> Failure {
    let what = crate::answers::files::plain(error);
    let finding = Finding::error(format!("the page cannot be served on port {port}: {what}"));
    finding.expected("a free port: --port N, or --port 0 for any").into()
}
