//! `fits --into`: an instrument into an opening that is there, or on an adapter plate over it.

use crate::check::{Findings, Verdict};
use crate::cli::Exit;
use crate::cli::common::{self, Failure};
use crate::edit::adapter;
use crate::files::{Beside, Disk};
use crate::panel::Panel;
use crate::place::Into;
use crate::report::fits_into::{self, Plated};
use crate::resolve;
use clap::{Arg, ArgMatches};
use std::path::{Path, PathBuf};

/// What `fits` takes besides.
pub fn args() -> [Arg; 2] {
    [
        Arg::new("into")
            .long("into")
            .value_name("ID")
            .conflicts_with_all(["near", "nominal", "out"])
            .help("Into the opening of this item or old opening: which screws match, or what adapter plate it takes"),
        Arg::new("adapter")
            .long("adapter")
            .value_name("FILE")
            .requires("into")
            .value_parser(clap::value_parser!(PathBuf))
            .help("Write the adapter plate as a panel file of its own; nothing that exists is overwritten"),
    ]
}

/// Answers; `with` lays the instrument in at an angle.
pub fn run(
    m: &ArgMatches,
    bare: &Panel,
    (name, turn): (&str, f64),
    with: impl Fn(f64) -> Result<(Panel, usize), Failure>,
) -> Result<Exit, Failure> {
    let id = m.get_one::<String>("into").map_or("", String::as_str);
    let unknown = || {
        Failure::Sentence(format!(
            "--into {id}: there is no such item with an opening on {}; `panelwright check` lists what there is",
            bare.name
        ))
    };
    let old = bare.find(id).ok_or_else(unknown)?;
    let stands = bare.subjects.get(old).map_or(0.0, |s| s.turn);
    let (panel, subject) = with((turn + stands) % 360.0)?;
    let old = panel.find(id).ok_or_else(unknown)?;
    let answer = Into::of(panel, subject, name, old).ok_or_else(unknown)?;
    let file = m.get_one::<PathBuf>("adapter");
    let mut plated: Option<(Panel, Findings)> = None;
    if let Some(Ok(plate)) = &answer.plate {
        let written = file.map_or("adapter.json".into(), |f| f.to_string_lossy());
        let text = adapter(&answer, plate, &common::named_in(&written, name));
        plated = Some(checked(&text, file, m)?);
        if let Some(file) = file {
            write(file, &text)?;
        }
    }
    let made = plated.as_ref().map(|(panel, findings)| Plated {
        panel,
        findings,
        file: file.map(|f| f.display().to_string()),
    });
    let text = if common::wants_json(m) {
        format!("{:#}\n", fits_into::json(&answer, made.as_ref()))
    } else {
        fits_into::text(&answer, made.as_ref())
    };
    common::print(&text)?;
    Ok(if answer.verdict() == Verdict::Pass { Exit::Clean } else { Exit::Findings })
}

/// The plate as every panel is read and checked.
fn checked(text: &str, file: Option<&PathBuf>, m: &ArgMatches) -> Result<(Panel, Findings), Failure> {
    let name = file.map_or("adapter.json".to_owned(), |f| f.to_string_lossy().into_owned());
    let disk = Disk::new("");
    let files = Beside { others: &disk, name, text: text.to_owned() };
    let panel = resolve::resolve(&files.name, &files, &common::catalogue(m))?;
    let findings = common::check_panel(&panel, false);
    Ok((panel, findings))
}

fn write(file: &Path, text: &str) -> Result<(), Failure> {
    if file.exists() {
        return Err(Failure::Sentence(format!(
            "{} exists: choose another name, it is not overwritten",
            file.display()
        )));
    }
    common::write(file, text.as_bytes())
}
