//! `compare`: what differs between two panel files.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, behind, compare_swap, made, reading};
use crate::compare::Difference;
use crate::draw::compared::compared;
use crate::report::{compare_json, compare_text};
use clap::{Arg, ArgMatches, Command};
use std::path::PathBuf;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    let file = |name: &'static str, shown: &'static str, help: &'static str| {
        Arg::new(name).value_name(shown).required(true).value_parser(clap::value_parser!(PathBuf)).help(help)
    };
    Command::new("compare")
        .about("Say what differs between two panels: items, verdicts, sheets, openings to keep, to fill and to cut")
        .after_help("Exit codes: 0 no verdict got worse, 1 one did, 2 could not run, 3 our own fault.")
        .arg(file("old", "OLD", "Panel file (JSON) to start from, such as the panel as found"))
        .arg(
            file("new", "NEW", "Panel file (JSON) to compare with it")
                .required(false)
                .required_unless_present("swap"),
        )
        .args(compare_swap::args())
        .arg(common::instruments_arg())
        .arg(common::format_arg())
        .arg(
            Arg::new("margin")
                .long("margin")
                .value_name("MM")
                .default_value("0.1")
                .value_parser(clap::value_parser!(f64))
                .help("Tell margins that differ by more than this, though the verdict is the same"),
        )
        .arg(
            Arg::new("out")
                .long("out")
                .value_name("FOLDER")
                .value_parser(clap::value_parser!(PathBuf))
                .help("Draw what changes too, into this folder: metal to cut and to fill, openings kept, old outlines"),
        )
        .arg(made::formats_arg("svg,pdf", behind::FORMATS, "Formats of the drawing, joined by commas"))
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let first = common::path(m, "old")?;
    let second = if m.contains_id("new") { Some(common::path(m, "new")?) } else { None };
    if first == reading::INPUT && second.as_deref() == Some(reading::INPUT) {
        return Err(Failure::Sentence(
            "the standard input can be one of the two panels, not both: name a file".into(),
        ));
    }
    let least = m.get_one::<f64>("margin").copied().unwrap_or(0.1);
    if !(least >= 0.0 && least.is_finite()) {
        return Err(Failure::Sentence(format!("--margin {least}: a number of millimetres, 0 or more")));
    }
    let old = common::read_panel(&first, m)?;
    let swapped = if second.is_none() { Some(compare_swap::swapped(&first, &old, m)?) } else { None };
    let new = match (&swapped, &second) {
        (Some(s), _) => s.panel.clone(),
        (None, second) => common::read_panel(second.as_deref().unwrap_or_default(), m)?,
    };
    let [was, now] = [&old, &new].map(|p| common::check_panel(p, false));
    let d = Difference::of((&old, &was), (&new, &now), least);
    let names = [old.name.as_str(), new.name.as_str()];
    let text = if common::wants_json(m) {
        format!("{:#}\n", compare_json(names, &d))
    } else {
        compare_text(names, &d)
    };
    if let Some(s) = &swapped {
        s.write(m)?;
    }
    common::print(&text)?;
    if m.get_one::<PathBuf>("out").is_some() {
        let stem = format!("{}-changes-from-{}", new.slug, old.slug);
        let drawing = compared(&old, &new, &now.list, &d);
        let files = behind::made(m, &first, &[(stem, drawing)])?;
        made::write_all(made::out(m), &files)?;
        for f in &files {
            anstream::eprintln!("drawn: {}", made::out(m).join(&f.name).display());
        }
    }
    Ok(if d.worse() { Exit::Findings } else { Exit::Clean })
}
