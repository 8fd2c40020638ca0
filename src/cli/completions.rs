//! `completions`: a completion script for a shell.

use crate::cli::common::{self, Failure};
use crate::cli::{self, Entry, Exit};
use clap::{Arg, ArgMatches, Command, value_parser};
use clap_complete::Shell;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("completions").about("Print a completion script for your shell").arg(
        Arg::new("shell")
            .value_name("SHELL")
            .required(true)
            .value_parser(value_parser!(Shell))
            .help("Which shell"),
    )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let Some(shell) = m.get_one::<Shell>("shell") else { return Ok(Exit::CouldNotRun) };
    let mut script = Vec::new();
    clap_complete::generate(*shell, &mut cli::command(), "panelwright", &mut script);
    common::print(&String::from_utf8_lossy(&script))?;
    Ok(Exit::Clean)
}
