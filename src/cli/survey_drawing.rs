//! `survey` of a DXF or SVG file: the panel as found in a drawing of another program.

use crate::cli::common::{self, Failure};
use crate::cli::{Exit, reading};
use crate::diag::Problems;
use crate::draw;
use crate::found::{self, Measured, Options, Pattern};
use crate::geom::Point;
use crate::import::{self, ReadOptions};
use crate::report;
use crate::resolve::Catalogue;
use crate::units::{Length, Unit};
use clap::builder::PossibleValuesParser;
use clap::parser::ValueSource;
use clap::{Arg, ArgMatches};
use std::path::Path;

/// Names of the arguments that only a drawing has.
const OWN: &[&str] =
    &["layers", "unit", "join", "round", "fit", "curve", "grid", "accept", "origin", "instruments"];
/// Units of a file's numbers, mm; px: the pixel of SVG, 1/96 in.
const UNITS: [(&str, f64); 5] = [("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", 25.4), ("px", 25.4 / 96.0)];
/// Endings of files that hold drawings or pictures and are not read, with what to do.
const NOT_READ: &[(&str, &str)] = &[
    ("dwg", "save it as DXF in ASCII, version R12 or 2000 or later"),
    ("dxb", "save it as DXF in ASCII, version R12 or 2000 or later"),
    ("pdf", "ask for DXF or SVG: a PDF has no layers that say what is cut"),
    ("svgz", "unpack it first: an .svgz is an .svg in gzip"),
    ("eps", "save it as SVG or DXF"),
    ("ai", "save it as SVG or DXF"),
    ("png", "a picture has no lines: draw over it, or measure the panel with tape and calipers"),
    ("jpg", "a picture has no lines: draw over it, or measure the panel with tape and calipers"),
    ("jpeg", "a picture has no lines: draw over it, or measure the panel with tape and calipers"),
];

/// What a file is, by its ending.
pub enum Input {
    /// Readings in JSON.
    Readings,
    /// A drawing.
    Drawing,
    /// A table of measured points.
    Points,
}

/// Decides by the ending of the file's name; everything that is no drawing holds readings.
///
/// # Errors
/// A drawing in a format that is not read; an argument that belongs to the other kind.
pub fn input(path: &str, m: &ArgMatches) -> Result<Input, Failure> {
    let ending = Path::new(path).extension().map_or(String::new(), |e| e.to_string_lossy().to_lowercase());
    if let Some((_, help)) = NOT_READ.iter().find(|(e, _)| *e == ending) {
        return Err(Failure::Sentence(format!("{path} is not read: {help}")));
    }
    if matches!(ending.as_str(), "dxf" | "svg") {
        return Ok(Input::Drawing);
    }
    if ending == "csv" {
        return Ok(Input::Points);
    }
    match OWN.iter().find(|a| m.value_source(a) == Some(ValueSource::CommandLine)) {
        Some(a) => Err(Failure::Sentence(format!(
            "--{a} is for a drawing, and {path} does not end in .dxf, .svg or .csv: name the file so, or leave --{a} out"
        ))),
        None => Ok(Input::Readings),
    }
}

/// The arguments that only a drawing has.
pub fn args() -> Vec<Arg> {
    let length = |name: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name("LENGTH").value_parser(length).help(help)
    };
    vec![
        common::instruments_arg(),
        Arg::new("layers")
            .long("layers")
            .value_name("NAMES")
            .value_delimiter(',')
            .help("Drawing: layers that hold the panel, with commas between; otherwise by their names"),
        Arg::new("unit")
            .long("unit")
            .value_name("UNIT")
            .value_parser(PossibleValuesParser::new(UNITS.map(|(name, _)| name)))
            .help("Drawing: unit of its numbers, if it does not say so or says it wrongly"),
        length("join", "Drawing: join ends up to this far apart (otherwise only within 0.005 mm, rounding)"),
        length("round", "Drawing: what leaves a circle by no more is written as that circle (default 0.02 mm)"),
        length("fit", "Drawing: straights that leave an arc by no more are proposed as one (default 0.05 mm)"),
        length("curve", "Drawing: how far arcs may leave a curve (default 0.001 mm)"),
        length("grid", "Drawing: propose every contour on a grid this wide, counted from the origin"),
        Arg::new("accept")
            .long("accept")
            .value_name("IDS")
            .value_delimiter(',')
            .help("Drawing: proposals of the report to take, such as p1,p3; fits takes all fits, grid the whole grid"),
        Arg::new("origin")
            .long("origin")
            .value_name("X,Y")
            .allow_hyphen_values(true)
            .value_parser(point)
            .help("Drawing: the panel's origin, as the report tells places (default: lower left of the outline)"),
    ]
}

/// A length above zero, in mm where no unit is given.
fn length(text: &str) -> Result<f64, String> {
    let mm = Length::parse(text, Some(Unit::Millimetre)).map_err(|e| e.to_string())?.mm();
    if (1e-5..=1e4).contains(&mm) {
        Ok(mm)
    } else {
        Err("a length from 0.00001 to 10000 mm is expected, such as 0.1".into())
    }
}

fn point(text: &str) -> Result<(f64, f64), String> {
    let wrong = || "two numbers with a comma between are expected, such as 120.5,40".to_owned();
    let (x, y) = text.split_once(',').ok_or_else(wrong)?;
    let number =
        |t: &str| t.trim().parse::<f64>().ok().filter(|v| v.is_finite() && v.abs() <= import::MOST_MM);
    Ok((number(x).ok_or_else(wrong)?, number(y).ok_or_else(wrong)?))
}

fn options(m: &ArgMatches) -> Options {
    let length = |name: &str| m.get_one::<f64>(name).copied();
    let list = |name: &str| m.get_many::<String>(name).map(|v| v.cloned().collect()).unwrap_or_default();
    let plain = Options::default();
    Options {
        layers: list("layers"),
        join: length("join").unwrap_or(plain.join),
        curve: length("curve").unwrap_or(plain.curve),
        round: length("round").unwrap_or(plain.round),
        fit: length("fit").unwrap_or(plain.fit),
        grid: length("grid"),
        accept: list("accept"),
        origin: m.get_one::<(f64, f64)>("origin").map(|(x, y)| Point::new(*x, *y)),
    }
}

/// The patterns of the built-in catalogue.
pub fn patterns() -> Vec<Pattern> {
    patterns_of(&Catalogue::builtin()).unwrap_or_default().0
}

/// The patterns of a catalogue, and what is told of its instruments that have a fault.
///
/// # Errors
/// A folder that cannot be read.
pub fn patterns_of(catalogue: &Catalogue) -> Result<(Vec<Pattern>, Vec<String>), Problems> {
    let (mut samples, mut told) = (Vec::new(), Vec::new());
    for name in catalogue.names()? {
        match catalogue.sample(&name) {
            Ok(panel) => samples.push((name, panel)),
            Err(p) => {
                let why = p.to_string();
                let first = why.lines().next().unwrap_or_default();
                told.push(format!("The pattern of {name} was not looked for: {first}"));
            }
        }
    }
    Ok((Pattern::list(samples.iter().map(|(name, p)| (name.clone(), p))), told))
}

/// Reads a drawing, tells what was found, writes what was asked for.
pub fn run(path: &str, input: Input, m: &ArgMatches) -> Result<Exit, Failure> {
    let out = |name: &str| -> Result<Option<String>, Failure> {
        if m.get_one::<std::path::PathBuf>(name).is_some() {
            common::path(m, name).map(Some)
        } else {
            Ok(None)
        }
    };
    let (panel, drawing) = (out("panel")?, out("drawing")?);
    if let Some(name) = panel.as_deref().filter(|n| Path::new(n).exists()) {
        return Err(Failure::Sentence(format!("{name} exists: choose another name, it is not overwritten")));
    }
    let unit_mm =
        m.get_one::<String>("unit").and_then(|u| UNITS.iter().find(|(name, _)| name == u)).map(|(_, mm)| *mm);
    let bytes = reading::bytes(path)?;
    let (patterns, faults) = patterns_of(&common::catalogue(m))?;
    let (file, found) = match input {
        Input::Points => {
            let mut points = Measured::read(path, &bytes, &ReadOptions { unit_mm })?;
            points.file.remarks.extend(faults);
            let found = found::find_measured(&points, &patterns, &options(m))?;
            (points.file, found)
        }
        Input::Drawing | Input::Readings => {
            let mut file = import::read(path, &bytes, &ReadOptions { unit_mm })?;
            import::look_again(&mut file, &bytes);
            file.remarks.extend(faults);
            let found = found::find(&file, &patterns, &options(m))?;
            (file, found)
        }
    };
    if common::wants_json(m) {
        common::print(&format!("{:#}\n", report::found_json(&file, &found)))?;
    } else {
        common::print(&report::found_text(&file, &found))?;
    }
    let title = Path::new(path).file_stem().map_or("panel".into(), |s| s.to_string_lossy().into_owned());
    if let Some(name) = drawing {
        let sheet = draw::found::found(&title, &file, &found);
        common::write_drawing(&name, &sheet)?;
    }
    if let Some(name) = panel {
        let Some(text) = found::panel_file(&file, &found, &format!("{title}, as found")) else {
            let n = found.questions().count();
            let what = if n == 1 { "a question is".to_owned() } else { format!("{n} questions are") };
            return Err(Failure::Sentence(format!(
                "{name} was not written: {what} open, the report tells which"
            )));
        };
        common::write(Path::new(&name), text.as_bytes())?;
        anstream::eprintln!("wrote {name}: complete it, then panelwright check {name}");
    }
    Ok(if found.clean() { Exit::Clean } else { Exit::Findings })
}
