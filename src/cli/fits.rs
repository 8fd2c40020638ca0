//! `fits`: where on a panel an instrument fits, or by how much it is short.

use crate::check::bans::Allow;
use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, behind, fits_into, fits_many, made, reading};
use crate::draw::Drawing;
use crate::draw::region::region_view;
use crate::files::Disk;
use crate::geom::Point;
use crate::panel::Panel;
use crate::place::{Answer, Asks, Instead, Question};
use crate::report::fits;
use crate::resolve;
use crate::units::Angle;
use clap::{Arg, ArgAction, ArgMatches, Command};
use std::path::PathBuf;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("fits")
        .about("Say where an instrument fits on a panel, or by how much it is short and what is in its way")
        .arg(
            Arg::new("instrument")
                .value_name("INSTRUMENT")
                .required(true)
                .help("Name of its definition (see instruments)"),
        )
        .after_help(
            "Of several panels, or a folder of them: a table, the best first. Of a folder its own files are asked whose names \
             end in .json, not those of folders in it. Exit codes: 0 it fits (on every panel), 1 it does not, or is tight or \
             withheld, 2 a file could not be read, 3 our own fault.",
        )
        .arg(
            common::panel_arg()
                .num_args(1..)
                .help("Panel file (JSON); several, or a folder of them, for a table, the best first"),
        )
        .arg(common::instruments_arg())
        .arg(common::format_arg())
        .arg(
            Arg::new("turn")
                .long("turn")
                .value_name("DEGREES")
                .action(ArgAction::Append)
                .allow_negative_numbers(true)
                .value_parser(degrees)
                .help("Turned counter-clockwise; give it again for further angles [default: 0]"),
        )
        .arg(
            Arg::new("nominal")
                .long("nominal")
                .action(ArgAction::SetTrue)
                .help("Places that hold as drawn will do, whatever the tolerances take (verdict tight)"),
        )
        .arg(
            Arg::new("near")
                .long("near")
                .value_name("X,Y")
                .allow_hyphen_values(true)
                .value_parser(point)
                .help("The place wished for, millimetres to the right and up from the datum"),
        )
        .arg(
            Arg::new("out")
                .long("out")
                .value_name("FOLDER")
                .value_parser(clap::value_parser!(PathBuf))
                .help("Draw the answer too, into this folder; made if it is not there"),
        )
        .args(fits_into::args())
        .arg(made::formats_arg("svg,pdf,png", behind::FORMATS, "Formats of the drawing, joined by commas"))
}

/// An angle as a file may hold it.
fn degrees(text: &str) -> Result<f64, String> {
    Angle::parse(text).map(|a| a.degrees()).map_err(|e| e.to_string())
}

fn point(text: &str) -> Result<Point, String> {
    let numbers: Vec<f64> = text
        .split(',')
        .map(|n| n.trim().parse())
        .collect::<Result<_, _>>()
        .map_err(|_| "two numbers with a comma between, such as 120,45.5")?;
    match numbers.as_slice() {
        [x, y] if x.is_finite() && y.is_finite() => Ok(Point::new(*x, *y)),
        _ => Err("two numbers with a comma between, such as 120,45.5".into()),
    }
}

/// The angles that are asked.
pub(super) fn turns(m: &ArgMatches) -> Vec<f64> {
    m.get_many::<f64>("turn").map_or(vec![0.0], |t| t.copied().collect())
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    if fits_many::asked(m) {
        return fits_many::run(m);
    }
    let path = common::path(m, "panel")?;
    if path == reading::INPUT {
        return Err(Failure::Sentence(
            "fits reads the panel from a file, not from the standard input: name the file".into(),
        ));
    }
    let name = m.get_one::<String>("instrument").cloned().unwrap_or_default();
    let catalogue = common::catalogue(m);
    catalogue.one(&name)?;
    let turns = turns(m);
    let named = common::named_in(&path, &name);
    let near = m.get_one::<Point>("near").copied();
    // the panel as it is, so that its own mistakes are told with its own name
    let bare = resolve::resolve_bare(&path, &Disk::new(""), &catalogue)?;
    let disk = Disk::new("");
    let laid = |turn: f64| Ok(resolve::laid_in(&path, &disk, &catalogue, &named, turn)?);
    if m.get_one::<String>("into").is_some() {
        if turns.len() > 1 {
            return Err(Failure::Sentence("--into asks for one angle: give one --turn".into()));
        }
        return fits_into::run(m, &bare, (&name, turns.first().copied().unwrap_or(0.0)), laid);
    }
    let mut answers = Vec::new();
    for turn in turns {
        let (panel, subject) = laid(turn)?;
        let asks = Asks { instrument: name.clone(), turn, near, tight: m.get_flag("nominal") };
        let mut answer = Answer::of(panel, subject, asks);
        if answer.short.is_some() {
            answer.instead = instead(&path, &answer.asks, m)?;
        }
        answers.push(answer);
    }
    let fits = answers.iter().any(Answer::fits);
    let text =
        if common::wants_json(m) { format!("{:#}\n", fits::json(&answers)) } else { fits::text(&answers) };
    common::print(&text)?;
    if m.get_one::<PathBuf>("out").is_some() {
        let drawings = drawings(&bare, &answers);
        let files = behind::made(m, &path, &drawings)?;
        made::write_all(made::out(m), &files)?;
        for f in &files {
            anstream::eprintln!("drawn: {}", made::out(m).join(&f.name).display());
        }
    }
    Ok(if fits { Exit::Clean } else { Exit::Findings })
}

/// Other angles of a quarter turn, and the version that is put in from the other side, for which there is a place.
fn instead(path: &str, asks: &Asks, m: &ArgMatches) -> Result<Vec<Instead>, Failure> {
    let catalogue = common::catalogue(m);
    let named = common::named_in(path, &asks.instrument);
    let own = named.as_str();
    let other = [("-front", "-rear"), ("-rear", "-front"), ("-clamp", "-rear")];
    let other = other.iter().filter_map(|(from, to)| Some(format!("{}{to}", own.strip_suffix(from)?)));
    let known = other.filter(|n| catalogue.one(n).is_ok()).map(|n| (n, asks.turn));
    let turned = [90.0, 180.0, 270.0].map(|by| (own.to_string(), (asks.turn + by).rem_euclid(360.0)));
    let mut out = Vec::new();
    for (instrument, turn) in turned.into_iter().chain(known) {
        let (panel, subject) = resolve::laid_in(path, &Disk::new(""), &catalogue, &instrument, turn)?;
        let question = Question::of(&panel, subject, Allow { tight: asks.tight });
        let area = question.map_or(0.0, |q| q.answer(0.0, &[]).area.size());
        if area > 0.0 {
            out.push(Instead { instrument, turn, area });
        }
    }
    Ok(out)
}

/// A view of every answer with its name for files.
fn drawings(bare: &Panel, answers: &[Answer]) -> Vec<(String, Drawing)> {
    let findings = common::check_panel(bare, false);
    let mut all: Vec<(String, Drawing)> = Vec::new();
    for a in answers {
        let letters = |c: char| if c.is_ascii_alphanumeric() || c == '.' { c } else { '-' };
        let name = a.asks.instrument.trim_end_matches(".json");
        let name: String = name.trim_matches(['.', '/']).chars().map(letters).collect();
        let turn = if a.asks.turn == 0.0 { String::new() } else { format!("-turned-{}", a.asks.turn) };
        let stem = format!("{}-fits-{name}{turn}", bare.slug);
        if all.iter().all(|(known, _)| *known != stem) {
            all.push((stem, region_view(bare, &findings.list, a)));
        }
    }
    all
}
