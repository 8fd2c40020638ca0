//! `drawing`: checks a panel, then writes the dimensioned fabrication drawing of every sheet of metal.

use crate::cli::common::{self, Failure};
use crate::cli::made::{self, BARRED};
use crate::cli::{Entry, Exit};
use crate::draw::drawing::{DrawingOptions, PageSize, SIZES, drawing};
use crate::draw::front_view::{Shows, front_view_of};
use crate::draw::template::{Standing, TemplateOptions};
use crate::export::{self, Made};
use crate::panel::Panel;
use clap::{Arg, ArgAction, ArgMatches, Command, builder::PossibleValuesParser};
use std::path::Path;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

/// Formats of a drawing: it is to scale and never cut from, so there is no shop file among them.
const FORMATS: [&str; 4] = ["svg", "pdf", "png", "dxf"];

/// Pixels per inch of a picture: small letters stay readable, a sheet of 22 x 34 in stays below 10 million pixels.
const DPI: f64 = 110.0;

fn command() -> Command {
    Command::new("drawing")
        .about("Make the dimensioned fabrication drawing")
        .long_about(
            "Checks the panel and writes, for every sheet of metal, the fabrication drawing: front view to scale, \
             running dimensions from the datum (or a table of coordinates where they are too many), hole \
             schedule, contours, notes, title block, and the equipment legend. Sheets and scales follow ISO, or \
             ASME for a panel in inches. A panel with fail or withheld verdicts gives drawings marked NOT FOR \
             CUTTING; a reason recorded in the panel file lifts the mark and is printed.",
        )
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(made::out_arg())
        .arg(
            made::formats_arg("svg,pdf", FORMATS, "Formats, joined by commas; png draws large sheets slowly, dxf is to look at"),
        )
        .arg(
            Arg::new("page")
                .long("page")
                .value_name("PAGE")
                .value_parser(PossibleValuesParser::new(SIZES.map(|s| s.name)))
                .help("Sheet of paper: a4 to a0 of ISO 5457, a to e of ASME Y14.1; by default the smallest legible"),
        )
        .arg(
            Arg::new("front-view")
                .long("front-view")
                .action(ArgAction::SetTrue)
                .help("Add the one-page front view with names, verdicts and keep-out bands"),
        )
        .arg(
            Arg::new("no-bands")
                .long("no-bands")
                .requires("front-view")
                .action(ArgAction::SetTrue)
                .help("Leave the bands of airframe and moving controls out of the front view"),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let findings = common::check_panel(&panel, false);
    let page = m.get_one::<String>("page").and_then(|name| PageSize::named(name));
    let options = DrawingOptions { page, stale: None };
    let fit = !Standing::of(&panel, &findings.list, &TemplateOptions::default()).barred();
    let failed = |e: &dyn std::fmt::Display| Failure::Sentence(format!("{path}: {e}"));
    let mut drawings = Vec::new();
    for sheet in 0..panel.sheets.len() {
        let d = drawing(&panel, sheet, &findings.list, &options).map_err(|e| failed(&e))?;
        drawings.push((stem(&panel, sheet, fit), d));
    }
    if m.get_flag("front-view") {
        let shows = Shows { bands: !m.get_flag("no-bands") };
        drawings.push((format!("{}-front-view", panel.slug), front_view_of(&panel, &findings.list, shows)));
    }
    let mut made: Vec<Made> = Vec::new();
    for name in m.get_many::<String>("formats").into_iter().flatten() {
        let Some(format) = export::format(name) else { continue };
        for (stem, d) in &drawings {
            let files = export::files(format, d, stem, &export::Options { dpi: DPI });
            made.extend(files.map_err(|e| failed(&e))?);
        }
    }
    let folder = made::out(m);
    made::write_all(folder, &made)?;
    common::print(&summary(&panel, &findings, fit, folder, &made))?;
    Ok(if fit { Exit::Clean } else { Exit::Findings })
}

/// `wheatear-proposed-drawing`; one that may not be cut from says so in its name.
fn stem(panel: &Panel, sheet: usize, fit: bool) -> String {
    let barred = if fit { "" } else { BARRED };
    match panel.sheets.get(sheet).filter(|_| sheet > 0) {
        Some(s) => format!("{barred}{}-{}-drawing", panel.slug, made::name_of(s)),
        None => format!("{barred}{}-drawing", panel.slug),
    }
}

fn summary(
    panel: &Panel,
    findings: &crate::check::Findings,
    fit: bool,
    folder: &Path,
    made: &[Made],
) -> String {
    let c = findings.counts();
    let mut s = format!(
        "{}\nfail {}   tight {}   withheld {}   pass {}\n",
        panel.name, c.fail, c.tight, c.withheld, c.pass
    );
    if !fit {
        s.push_str(
            "The drawings are marked NOT FOR CUTTING. `panelwright check` says what each verdict waits for.\n",
        );
    }
    s.push('\n');
    for file in made {
        s.push_str(&format!("{}\n", folder.join(&file.name).display()));
    }
    s.push_str(
        "\nDo not scale from a drawing: the numbers hold. Check them against your own instruments and airframe.\n\
         This program advises; it approves nothing.\n",
    );
    s
}
