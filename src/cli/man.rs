//! `man`: the manual page in roff.

use crate::cli::common::{self, Failure};
use crate::cli::{self, Entry, Exit};
use clap::{ArgMatches, Command};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("man").about("Print the manual page (roff): panelwright man > panelwright.1")
}

fn run(_: &ArgMatches) -> Result<Exit, Failure> {
    let mut page = Vec::new();
    // one page: the program, then each command
    let whole = cli::command();
    let write = |c: &Command, page: &mut Vec<u8>| clap_mangen::Man::new(c.clone()).render(page);
    let mut result = write(&whole, &mut page);
    for sub in whole.get_subcommands() {
        let named = sub.clone().display_name(format!("panelwright-{}", sub.get_name()));
        result = result.and_then(|()| write(&named, &mut page));
    }
    result.map_err(|e| Failure::Sentence(format!("cannot make the manual page: {e}")))?;
    common::print(&String::from_utf8_lossy(&page))?;
    Ok(Exit::Clean)
}
