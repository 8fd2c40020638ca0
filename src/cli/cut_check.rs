//! `cut-check`: reads a cutting file before it goes to the machine.

use crate::check::Verdict;
use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, reading};
use crate::cut::{self, Options};
use crate::diag::Problems;
use crate::import::{self, ReadOptions};
use crate::panel::ProcessKind;
use crate::units::{Length, Unit};
use crate::{report, resolve};
use clap::{Arg, ArgMatches, Command, builder::PossibleValuesParser};
use std::path::PathBuf;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("cut-check")
        .about("Check a cutting file (DXF or SVG, ours or another's) before it goes to the machine")
        .long_about(
            "Reads a DXF (ASCII) or SVG file and says what a machine would cut: unit and size, layers, closed and open \
             contours, what is doubled, crossing or stray, text on cut layers, least hole and web, cut length. The file \
             is not changed. What this version does not read is named and withheld.",
        )
        .arg(
            Arg::new("file")
                .value_name("FILE")
                .required(true)
                .value_parser(clap::value_parser!(PathBuf))
                .help("Cutting file (DXF in ASCII, or SVG); - for the standard input"),
        )
        .arg(common::format_arg())
        .arg(
            Arg::new("cut-layers")
                .long("cut-layers")
                .value_name("NAMES")
                .value_delimiter(',')
                .help("Layers that are cut, with commas between; otherwise by their names"),
        )
        .arg(
            Arg::new("process")
                .long("process")
                .value_name("PROCESS")
                .value_parser(PossibleValuesParser::new(PROCESSES.map(|(name, _)| name)))
                .help("How it is cut: decides the least hole"),
        )
        .arg(length_arg("thickness", "THICKNESS", "Thickness of the sheet (mm, or with its unit)"))
        .arg(length_arg("tool", "DIAMETER", "Diameter of the router's tool"))
        .arg(length_arg("web", "WIDTH", "Least metal that you want between openings (default: one thickness)"))
        .arg(length_arg("join", "GAP", "Join ends up to this far apart (the machine's program must do the same)"))
        .arg(
            Arg::new("unit")
                .long("unit")
                .value_name("UNIT")
                .value_parser(PossibleValuesParser::new(["mm", "cm", "m", "in"]))
                .help("Unit of the file's numbers, if it does not say so or says it wrongly"),
        )
}

const PROCESSES: [(&str, ProcessKind); 5] = [
    ("hand", ProcessKind::Hand),
    ("punch", ProcessKind::Punch),
    ("router", ProcessKind::Router),
    ("waterjet", ProcessKind::Waterjet),
    ("laser", ProcessKind::Laser),
];

fn length_arg(name: &'static str, value: &'static str, help: &'static str) -> Arg {
    Arg::new(name).long(name).value_name(value).value_parser(length).help(help)
}

/// A length above zero, in mm where no unit is given.
fn length(text: &str) -> Result<f64, String> {
    let length = Length::parse(text, Some(Unit::Millimetre)).map_err(|e| e.to_string())?;
    let mm = length.mm();
    if mm > 0.0 { Ok(mm) } else { Err("a length above zero is expected, such as 2 or \"0.08 in\"".into()) }
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "file")?;
    let (text, exit) = once(&path, m)?;
    common::print(&text)?;
    Ok(exit)
}

fn once(path: &str, m: &ArgMatches) -> Result<(String, Exit), Failure> {
    let length = |name: &str| m.get_one::<f64>(name).copied();
    let unit_mm = match m.get_one::<String>("unit").map(String::as_str) {
        Some("mm") => Some(1.0),
        Some("cm") => Some(10.0),
        Some("m") => Some(1000.0),
        Some("in") => Some(25.4),
        _ => None,
    };
    let process = m
        .get_one::<String>("process")
        .and_then(|p| PROCESSES.iter().find(|(name, _)| name == p))
        .map(|(_, kind)| *kind);
    let options = Options {
        cut_layers: m.get_many::<String>("cut-layers").map(|v| v.cloned().collect()).unwrap_or_default(),
        process,
        tolerance: process.map_or(0.0, resolve::cut_tolerance),
        thickness: length("thickness"),
        tool: length("tool"),
        web: length("web"),
        join: length("join"),
    };
    let bytes = reading::bytes(path)?;
    let file = import::read(path, &bytes, &ReadOptions { unit_mm })?;
    let found = cut::check(&file, &options).map_err(Problems::from)?;
    let text = if common::wants_json(m) {
        format!("{:#}\n", report::cut_json(&file, &found))
    } else {
        report::cut_text(&file, &found)
    };
    let exit = match found.findings.iter().all(|f| f.verdict == Verdict::Pass) {
        true => Exit::Clean,
        false => Exit::Findings,
    };
    Ok((text, exit))
}
