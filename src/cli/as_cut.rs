//! `as-cut`: whether a panel was cut as its design asks.

use crate::as_cut::{AsCut, Trouble};
use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, reading};
use crate::report::{as_cut_json, as_cut_text};
use clap::{Arg, ArgAction, ArgMatches, Command};
use std::path::PathBuf;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    let file = |name: &'static str, shown: &'static str, help: &'static str| {
        Arg::new(name).value_name(shown).required(true).value_parser(clap::value_parser!(PathBuf)).help(help)
    };
    Command::new("as-cut")
        .about("Check a panel that was cut and measured against its design: deviation of every opening, in or out of tolerance")
        .after_help(
            "Exit codes: 0 all was measured and is in tolerance, 1 not all, 2 could not run, 3 our own fault.",
        )
        .arg(file("design", "DESIGN", "Panel file (JSON) that was cut"))
        .arg(file("measured", "MEASURED", "Panel file (JSON) of what was measured, such as survey --panel writes"))
        .arg(
            Arg::new("fit")
                .long("fit")
                .action(ArgAction::SetTrue)
                .help("Lay it over the design's openings first as well as it goes; otherwise both share their datum"),
        )
        .arg(common::instruments_arg())
        .arg(common::format_arg())
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let paths = [common::path(m, "design")?, common::path(m, "measured")?];
    if paths.iter().all(|p| p == reading::INPUT) {
        return Err(Failure::Sentence(
            "the standard input can be one of the two panels, not both: name a file".into(),
        ));
    }
    let design = common::read_panel(&paths[0], m)?;
    let measured = common::read_panel(&paths[1], m)?;
    let told = AsCut::of(&design, &measured, m.get_flag("fit")).map_err(|trouble| match trouble {
        Trouble::TooFew => Failure::Sentence(format!(
            "--fit: {} has fewer than two openings in common with {}: name its openings as the design does, or leave \
             --fit out and measure both from one datum",
            paths[1], paths[0]
        )),
    })?;
    let names = [design.name.as_str(), measured.name.as_str()];
    let text = if common::wants_json(m) {
        format!("{:#}\n", as_cut_json(names, &told))
    } else {
        as_cut_text(names, &told)
    };
    common::print(&text)?;
    Ok(if told.good() { Exit::Clean } else { Exit::Findings })
}
