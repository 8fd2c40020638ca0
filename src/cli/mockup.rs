//! `mockup`: fold-up paper nets of what stands behind the sheet, to try in a card panel.

use crate::cli::common::{self, Failure};
use crate::cli::made;
use crate::cli::{Entry, Exit};
use crate::draw::mockup::{Kit, mockup};
use crate::draw::template::Paper;
use crate::export::{self, Made};
use clap::{Arg, ArgMatches, Command, builder::PossibleValuesParser};
use std::path::Path;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

const PAPERS: [(&str, Paper); 4] =
    [("a4", Paper::A4), ("a3", Paper::A3), ("letter", Paper::Letter), ("tabloid", Paper::Tabloid)];

/// Formats that a printer or a screen takes.
const FORMATS: [&str; 3] = ["pdf", "svg", "png"];

fn command() -> Command {
    Command::new("mockup")
        .about("Make fold-up paper boxes of every body, to try behind a card panel")
        .long_about(
            "Writes a list and 1:1 pages with a net of every body and connector behind the sheet at its true depth: \
             sides, backs, tabs to glue, folds and the places of connectors. Cut, fold and stick them behind a card \
             panel (template --trial draws one), and look for ribs and controls before anything is bought.",
        )
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(made::out_arg())
        .arg(
            made::formats_arg("pdf", FORMATS, "Formats, joined by commas"),
        )
        .arg(
            Arg::new("paper")
                .long("paper")
                .value_name("PAPER")
                .value_parser(PossibleValuesParser::new(PAPERS.iter().map(|p| p.0)))
                .help("Paper of the printer; by default a4, or letter for a panel in inches"),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let asked = m.get_one::<String>("paper").and_then(|p| PAPERS.iter().find(|(n, _)| n == p));
    let paper = asked.map_or(if panel.unit.is_inch() { Paper::Letter } else { Paper::A4 }, |(_, p)| *p);
    let failed = |e: &dyn std::fmt::Display| Failure::Sentence(format!("{path}: {e}"));
    let kit = mockup(&panel, paper).map_err(|e| failed(&e))?;
    let stem = format!("{}-mockup", panel.slug);
    let mut made: Vec<Made> = Vec::new();
    for name in m.get_many::<String>("formats").into_iter().flatten() {
        let Some(format) = export::format(name) else { continue };
        let files = export::files(format, &kit.drawing, &stem, &export::Options::default());
        made.extend(files.map_err(|e| failed(&e))?);
    }
    let folder = made::out(m);
    made::write_all(folder, &made)?;
    common::print(&summary(&panel.name, &kit, folder, &made))?;
    Ok(Exit::Clean)
}

fn summary(name: &str, kit: &Kit, folder: &Path, made: &[Made]) -> String {
    let mut s = format!(
        "{name}\n{} nets in {} pieces on {} pages\n",
        kit.bodies,
        kit.pieces,
        kit.drawing.pages.len()
    );
    if !kit.without.is_empty() {
        s.push_str("\nWithout a net (an empty place behind the card is no free room):\n");
        for line in &kit.without {
            s.push_str(&format!("  {line}\n"));
        }
    }
    s.push('\n');
    for file in made {
        s.push_str(&format!("{}\n", folder.join(&file.name).display()));
    }
    s.push_str(
        "\nPrint at 100 % and measure the scale bars before you cut. Paper shows what is in the way; it proves no clearance.\n\
         This program advises; it approves nothing.\n",
    );
    s
}
