//! `new`: a starter panel to edit.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit};
use clap::{Arg, ArgMatches, Command, builder::PossibleValuesParser};
use std::path::PathBuf;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

const MILLIMETRE: &str = include_str!("../../assets/starter/panel-mm.json");
const INCH: &str = include_str!("../../assets/starter/panel-in.json");

fn command() -> Command {
    Command::new("new")
        .about("Write a starter panel to edit; nothing that exists is overwritten")
        .arg(
            Arg::new("file")
                .value_name("FILE")
                .required(true)
                .value_parser(clap::value_parser!(PathBuf))
                .help("Where to write it"),
        )
        .arg(
            Arg::new("unit")
                .long("unit")
                .value_name("UNIT")
                .default_value("mm")
                .value_parser(PossibleValuesParser::new(["mm", "in"]))
                .help("Unit in which the file speaks"),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let Some(file) = m.get_one::<PathBuf>("file") else { return Ok(Exit::CouldNotRun) };
    if file.as_os_str() == "-" {
        return Err(Failure::Sentence(
            "`-` names no file: give the new panel file a name, such as my-panel.json".into(),
        ));
    }
    if file.exists() {
        return Err(Failure::Sentence(format!(
            "{} exists: choose another name, it is not overwritten",
            file.display()
        )));
    }
    let text = if m.get_one::<String>("unit").is_some_and(|u| u == "in") { INCH } else { MILLIMETRE };
    common::write(file, text.as_bytes())?;
    common::print(&format!(
        "wrote {0}\nNext: put in your outline, sheet and instruments (`panelwright instruments list`), then\n  panelwright check {1}\n",
        file.display(),
        quoted(&file.to_string_lossy())
    ))?;
    Ok(Exit::Clean)
}

/// A name as a shell takes it.
fn quoted(name: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "/._-+:\\".contains(c);
    if name.chars().all(plain) { name.to_owned() } else { format!("\"{name}\"") }
}
