//! `behind`: views behind and in front of the sheet: sections, the view from behind, the map and the table of depth.

use crate::cli::common::{self, Failure};
use crate::cli::made::{self, BARRED};
use crate::cli::{Entry, Exit};
use crate::draw::Drawing;
use crate::draw::behind::{Asked, back, depth_map, depth_table, sections};
use crate::draw::drawing::{DrawingOptions, PageSize, SIZES};
use crate::draw::template::{Standing, TemplateOptions};
use crate::export::{self, Made};
use crate::panel::Panel;
use crate::units::Length;
use clap::{Arg, ArgAction, ArgMatches, Command, builder::PossibleValuesParser};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

/// Formats of a view: to scale and never cut from.
pub(super) const FORMATS: [&str; 4] = ["svg", "pdf", "png", "dxf"];
/// Pixels per inch of a picture, as of a drawing.
pub(super) const DPI: f64 = 110.0;
/// Views that need no line.
const VIEWS: [&str; 3] = ["back", "map", "table"];

fn command() -> Command {
    Command::new("behind")
        .about("Draw what is behind the panel: sections, the view from behind, map and table of depth")
        .long_about(
            "Checks the panel and draws, to scale: the view from behind (mirrored, and labelled so), the map of the depth \
             behind each point with contour lines, the table of what each item's depth adds up to, and sections through \
             items or lines, with their depths and least gap. Not to cut from. Exit codes as `check`.",
        )
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(
            Arg::new("section")
                .long("section")
                .value_name("ID|x=..|y=..")
                .action(ArgAction::Append)
                .help(
                    "Cut through an item (upright and level), or upright at x=120, or level at y=60 (or y=2.5in); may be \
                     given again. Without --views, sections alone are drawn",
                ),
        )
        .arg(
            Arg::new("views")
                .long("views")
                .value_name("LIST")
                .value_delimiter(',')
                .value_parser(PossibleValuesParser::new(VIEWS))
                .help("Views beside the sections, joined by commas; by default all"),
        )
        .arg(made::out_arg())
        .arg(formats_arg())
        .arg(page_arg())
}

/// `--formats`.
pub(super) fn formats_arg() -> Arg {
    made::formats_arg(
        "svg,pdf",
        FORMATS,
        "Formats, joined by commas; png draws large sheets slowly, dxf is to look at",
    )
}

/// `--page`.
pub(super) fn page_arg() -> Arg {
    Arg::new("page")
        .long("page")
        .value_name("PAGE")
        .value_parser(PossibleValuesParser::new(SIZES.map(|s| s.name)))
        .help("Sheet of paper: a4 to a0 of ISO 5457, a to e of ASME Y14.1; by default the smallest legible")
}

/// The page that `--page` names.
pub(super) fn options(m: &ArgMatches) -> DrawingOptions {
    let page = m.get_one::<String>("page").and_then(|name| PageSize::named(name));
    DrawingOptions { page, stale: None }
}

/// Drawings in the formats that `--formats` lists.
pub(super) fn made(m: &ArgMatches, path: &str, drawings: &[(String, Drawing)]) -> Result<Vec<Made>, Failure> {
    let mut made: Vec<Made> = Vec::new();
    for name in m.get_many::<String>("formats").into_iter().flatten() {
        let Some(format) = export::format(name) else { continue };
        for (stem, d) in drawings {
            let files = export::files(format, d, stem, &export::Options { dpi: DPI });
            made.extend(files.map_err(|e| Failure::Sentence(format!("{path}: {e}")))?);
        }
    }
    Ok(made)
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let asked = asked(m, &panel)?;
    let findings = common::check_panel(&panel, false);
    let opts = options(m);
    let fit = !Standing::of(&panel, &findings.list, &TemplateOptions::default()).barred();
    let failed = |e: &dyn std::fmt::Display| Failure::Sentence(format!("{path}: {e}"));
    let stem = |what: &str| format!("{}{}-{what}", if fit { "" } else { BARRED }, panel.slug);
    let mut drawings: Vec<(String, Drawing)> = Vec::new();
    let listed: Option<Vec<&String>> = m.get_many("views").map(Iterator::collect);
    let wants = |view: &str| match &listed {
        Some(list) => list.iter().any(|v| *v == view),
        None => asked.is_empty(),
    };
    if !asked.is_empty() {
        let d = sections(&panel, &findings.list, &asked, &opts).map_err(|e| failed(&e))?;
        drawings.push((stem("sections"), d));
    }
    if wants("back") {
        drawings.push((stem("from-behind"), back(&panel, &findings.list, &opts).map_err(|e| failed(&e))?));
    }
    if wants("map") {
        let d = depth_map(&panel, &findings.list, &opts).map_err(|e| failed(&e))?;
        drawings.push((stem("depth-map"), d));
    }
    if wants("table") {
        drawings.push((stem("depth-table"), depth_table(&panel, &findings.list, &opts)));
    }
    let made = made(m, &path, &drawings)?;
    let folder = made::out(m);
    made::write_all(folder, &made)?;
    let mut said: String = made.iter().map(|f| format!("{}\n", folder.join(&f.name).display())).collect();
    said.push_str("\nNot to cut from. This program advises; it approves nothing.\n");
    common::print(&said)?;
    Ok(common::exit_for(&findings, false))
}

/// What `--section` asks for.
fn asked(m: &ArgMatches, panel: &Panel) -> Result<Vec<Asked>, Failure> {
    let mut out = Vec::new();
    for words in m.get_many::<String>("section").into_iter().flatten() {
        let line = words.split_once('=').filter(|(axis, _)| matches!(axis.trim(), "x" | "y"));
        let Some((axis, at)) = line else {
            out.push(Asked::Item(words.clone()));
            continue;
        };
        let at = Length::parse(at.trim(), Some(panel.unit)).map_err(|e| {
            Failure::Sentence(format!("--section {words}: {e}. Write x=120 or y=2.5in, or the id of an item"))
        })?;
        out.push(if axis.trim() == "x" { Asked::Upright(at.mm()) } else { Asked::Level(at.mm()) });
    }
    Ok(out)
}
