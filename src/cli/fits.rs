//! `fits`: where on a panel an instrument fits, or by how much it is short.

use crate::check::bans::Allow;
use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, behind, fits_into, made, reading};
use crate::diag::{Problem, Problems};
use crate::draw::Drawing;
use crate::draw::region::region_view;
use crate::files::{Beside, Disk, beside};
use crate::geom::Point;
use crate::panel::Panel;
use crate::place::{Answer, Asks, Instead, Question};
use crate::report::fits;
use crate::resolve;
use crate::units::Angle;
use clap::{Arg, ArgAction, ArgMatches, Command};
use serde_json::json;
use std::path::PathBuf;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

/// Id under which the instrument is tried.
const TRIED: &str = "instrument-tried";

fn command() -> Command {
    Command::new("fits")
        .about("Say where an instrument fits on a panel, or by how much it is short and what is in its way")
        .arg(
            Arg::new("instrument")
                .value_name("INSTRUMENT")
                .required(true)
                .help("Name of its definition (see instruments)"),
        )
        .arg(common::panel_arg().help("Panel file (JSON)"))
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

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    if path == reading::INPUT {
        return Err(Failure::Sentence(
            "fits reads the panel from a file, not from the standard input: name the file".into(),
        ));
    }
    let name = m.get_one::<String>("instrument").cloned().unwrap_or_default();
    let catalogue = common::catalogue(m);
    catalogue.one(&name)?;
    let turns: Vec<f64> = m.get_many::<f64>("turn").map_or(vec![0.0], |t| t.copied().collect());
    let near = m.get_one::<Point>("near").copied();
    // the panel as it is, so that its own mistakes are told with its own name
    let bare = resolve::resolve_bare(&path, &Disk::new(""), &catalogue)?;
    let laid = |turn: f64| {
        let panel = with(&path, &name, turn, m)?;
        let subject =
            panel.find(TRIED).ok_or_else(|| Failure::Sentence(format!("{name} was not laid in")))?;
        Ok((panel, subject))
    };
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
    let own = asks.instrument.as_str();
    let other = [("-front", "-rear"), ("-rear", "-front"), ("-clamp", "-rear")];
    let other = other.iter().filter_map(|(from, to)| Some(format!("{}{to}", own.strip_suffix(from)?)));
    let known = other.filter(|n| catalogue.one(n).is_ok()).map(|n| (n, asks.turn));
    let turned = [90.0, 180.0, 270.0].map(|by| (own.to_string(), (asks.turn + by).rem_euclid(360.0)));
    let mut out = Vec::new();
    for (instrument, turn) in turned.into_iter().chain(known) {
        let panel = with(path, &instrument, turn, m)?;
        let Some(subject) = panel.find(TRIED) else { continue };
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

/// The panel with the instrument laid in at its datum.
fn with(path: &str, name: &str, turn: f64, m: &ArgMatches) -> Result<Panel, Failure> {
    let file = path.rsplit('/').next().unwrap_or(path);
    let text = json!({
        "format": 1, "panel": file, "unit": "mm", "builds-on": file,
        "place": [{ "id": TRIED, "instrument": name, "at": [0, 0], "turn": turn }],
    });
    let disk = Disk::new("");
    let files = Beside {
        others: &disk,
        name: beside(path, ".with-an-instrument-tried.json"),
        text: text.to_string(),
    };
    resolve::resolve(&files.name, &files, &common::catalogue(m)).map_err(|p| told(&p, &files.name))
}

/// Problems of the question itself, without the file that was made up for it: that one nobody wrote.
fn told(problems: &Problems, made: &str) -> Failure {
    let mut out = Problems::new();
    for p in problems.sorted() {
        let own = p.place.as_ref().is_some_and(|w| &*w.file == made);
        if !own {
            out.push(p.clone());
            continue;
        }
        let help = if p.message.ends_with("is a unit of a stack") {
            "its place is in a stack: list it among the \"units\" of one, or ask where the stack's frame fits"
                .to_string()
        } else {
            p.help
                .clone()
                .unwrap_or_else(|| "look at its definition: panelwright instruments show NAME".into())
        };
        out.push(Problem::nowhere(p.code, p.message.clone()).help(help));
    }
    Failure::Problems(out)
}
