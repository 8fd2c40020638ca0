//! `report`: checks a panel and writes the fit report that an inspector reads line by line.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, made};
use crate::draw::template::Paper;
use crate::export::{self, ExportError, Made};
use crate::report;
use clap::{Arg, ArgMatches, Command, builder::PossibleValuesParser};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

const PAPERS: [(&str, Paper); 2] = [("a4", Paper::A4), ("letter", Paper::Letter)];

fn command() -> Command {
    Command::new("report")
        .about("Write the fit report of a panel as one HTML file and as PDF")
        .long_about(
            "Checks the panel and writes the whole report: front view, every finding worst first with what was measured, \
             asked and by which source, what rests on typical values, what is withheld and why, equipment, cut data, what \
             is not checked, cautions, and lines to sign. The HTML file needs nothing but itself. Exit codes as `check`.",
        )
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(made::out_arg())
        .arg(
            made::formats_arg("html,pdf", ["html", "pdf"], "Formats, joined by commas"),
        )
        .arg(
            Arg::new("paper")
                .long("paper")
                .value_name("PAPER")
                .value_parser(PossibleValuesParser::new(PAPERS.map(|p| p.0)))
                .help("Paper of the PDF; by default a4, or letter for a panel in inches"),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let findings = common::check_panel(&panel, false);
    let document = report::document(&panel, &findings);
    let asked = m.get_one::<String>("paper").and_then(|p| PAPERS.iter().find(|(n, _)| n == p));
    let usual = if panel.unit.is_inch() { Paper::Letter } else { Paper::A4 };
    let paper = asked.map_or(usual, |(_, p)| *p);
    let failed = |e: ExportError| Failure::Sentence(format!("{path}: {e}"));
    let mut made: Vec<Made> = Vec::new();
    for format in m.get_many::<String>("formats").into_iter().flatten() {
        let bytes = match format.as_str() {
            "pdf" => export::pdf::write(&report::pages(&document, paper)).map_err(failed)?,
            _ => report::html::write(&document).map_err(failed)?.into_bytes(),
        };
        made.push(Made { name: format!("{}-report.{format}", panel.slug), bytes });
    }
    let folder = made::out(m);
    made::write_all(folder, &made)?;
    let said: String = made.iter().map(|f| format!("{}\n", folder.join(&f.name).display())).collect();
    common::print(&said)?;
    Ok(common::exit_for(&findings, false))
}
