//! `page`: a form in the browser, on this machine alone.
//!
//! ```text
//! a connection - server - request - door (who is let in) - site (what is asked for) - answer
//! ```
//!
//! `folder` has the files, and no other file is read or written. `desk` has rules and benches at hand,
//! `plan` is what the browser sends, `kept` what is not saved yet, `opened` where a form begins. `form`
//! makes its fields, `bench` shows and corrects tables, `in_place` changes files where they are written,
//! `shell` the documents around them; what is said of a plan is made by the pages of
//! the library. The scripts hold the plan and show what comes back: they make no verdict and no reason.

mod answer;
mod bench;
mod choose;
mod desk;
mod door;
mod folder;
mod form;
mod in_place;
mod kept;
mod opened;
mod plan;
mod range;
mod report;
mod request;
mod saving;
mod server;
mod shell;
mod site;

use std::io;

use rules_core::document::{Fault, Problem};

use self::desk::Desk;
use self::folder::Folder;
use self::server::Server;
use self::site::FormSite;
use crate::args::PageArgs;
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &PageArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let opened = Folder::open(&args.folder).and_then(|folder| {
        let server = Server::bind(args.port).map_err(|error| taken(args.port, &error))?;
        Ok((folder, server))
    });
    match opened {
        Ok((folder, server)) => {
            terminal.write_now(greeting(&server.address()).as_bytes())?;
            let desk = Desk::new(folder, args.rules.clone());
            server.serve(FormSite { desk })?;
            Ok(ExitStatus::Success)
        }
        Err(problem) => {
            terminal.report_problems(&[problem]);
            Ok(ExitStatus::BadInput)
        }
    }
}

fn greeting(address: &str) -> String {
    format!("The form is at\n  {address}\nfor this machine alone. Ctrl-C ends it.\n")
}

fn taken(port: u16, error: &io::Error) -> Problem {
    let message = format!("nothing can listen on port {port} of this machine: {error}");
    let help = "name another one, or leave `--port` out for one that is free";
    Problem::of_file(Fault::Unreadable, message, help)
}
