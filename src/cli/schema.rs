//! `schema`: the JSON Schema of a panel, instrument or survey file, for an editor.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit};
use crate::define;
use clap::{Arg, ArgMatches, Command, builder::PossibleValuesParser};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("schema").about("Print the JSON Schema of a file kind, so that an editor completes it").arg(
        Arg::new("kind")
            .value_name("KIND")
            .required(true)
            .value_parser(PossibleValuesParser::new(["panel", "instrument", "survey"]))
            .help("Which file"),
    )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let schema = match m.get_one::<String>("kind").map(String::as_str) {
        Some("instrument") => define::schema::instrument(),
        Some("survey") => define::schema::survey(),
        _ => define::schema::panel(),
    };
    common::print(&format!("{schema:#}\n"))?;
    Ok(Exit::Clean)
}
