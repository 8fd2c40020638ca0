//! `template`: checks a panel, then writes the 1:1 cutting sheets, the shop files and the fit report.

use crate::cli::common::{self, Failure};
use crate::cli::made::{self, BARRED};
use crate::cli::progress::Progress;
use crate::cli::{Entry, Exit, watch};
use crate::draw::Drawing;
use crate::draw::front_view;
use crate::draw::template::{
    Face, Measured, Paper, Purpose, Standing, TemplateOptions, printed, shop, template,
};
use crate::export::{self, Made};
use crate::geom::Rect;
use crate::jobs;
use crate::panel::Panel;
use crate::report;
use crate::units::{Length, Sign, Unit};
use clap::{Arg, ArgAction, ArgMatches, Command, builder::PossibleValuesParser};
use std::path::Path;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

const PAPERS: [(&str, Paper); 4] =
    [("a4", Paper::A4), ("a3", Paper::A3), ("letter", Paper::Letter), ("tabloid", Paper::Tabloid)];

fn command() -> Command {
    Command::new("template")
        .about("Make the 1:1 cutting template, the shop files and the fit report")
        .long_about(
            "Checks the panel and writes, for every sheet: the template at true size (one page and tiles, front and \
             mirrored back), the shop files, a picture that is not to scale, and the fit report as text and JSON. \
             A panel with fail or withheld verdicts gives sheets marked NOT FOR CUTTING; a reason recorded in the \
             panel file (\"reasons\": { \"cut-anyway\": ... }) lifts the mark and is printed.",
        )
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(made::out_arg())
        .arg(
            made::formats_arg("svg,pdf,dxf,dxf-r12,png", export::FORMATS.iter().map(|f| f.name), "Formats, joined by commas"),
        )
        .arg(
            Arg::new("paper")
                .long("paper")
                .value_name("PAPER")
                .value_parser(PossibleValuesParser::new(PAPERS.iter().map(|p| p.0)))
                .help("Paper of the tiles; by default a4, or letter for a panel in inches"),
        )
        .arg(
            Arg::new("overlap")
                .long("overlap")
                .value_name("LENGTH")
                .default_value("10 mm")
                .allow_hyphen_values(true)
                .help("How far neighbouring tiles overlap"),
        )
        .arg(common::earlier_arg())
        .arg(measured_arg("measured-x", "horizontal"))
        .arg(measured_arg("measured-y", "vertical"))
        .arg(
            Arg::new("trial")
                .long("trial")
                .action(ArgAction::SetTrue)
                .help("A version for card or plywood, to try the boxes in, instead of the one for metal"),
        )
        .arg(
            Arg::new("watch")
                .long("watch")
                .action(ArgAction::SetTrue)
                .help("Draw again whenever a file that it reads is saved, until interrupted"),
        )
}

fn measured_arg(name: &'static str, axis: &str) -> Arg {
    Arg::new(name).long(name).value_name("READ/BAR").help(format!(
        "What your rule reads on the printed {axis} scale bar, and what the bar says: 243.2/250 (mm)"
    ))
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    if m.get_flag("watch") {
        return watch::repeat(&common::path(m, "panel")?, m, || once(m));
    }
    once(m)
}

fn once(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let mut options = options(m)?;
    let panel = common::read_panel(&path, m)?;
    let findings = common::check_panel(&panel, false);
    let stale = common::stale(m, &panel, &findings)?;
    options.stale =
        stale.as_deref().map(|w| w.trim_start_matches("Out of date: ").trim_end_matches('.').into());
    options.correction().map_err(|e| Failure::Sentence(format!("{path}: {e}")))?;
    let papers = tiles(m, panel.unit);
    let fit = !Standing::of(&panel, &findings.list, &options).barred();
    let formats: Vec<&str> =
        m.get_many::<String>("formats").into_iter().flatten().map(String::as_str).collect();
    let failed = |e: &dyn std::fmt::Display| Failure::Sentence(format!("{path}: {e}"));
    let write = |name: &str, drawing: &Drawing, stem: &str| -> Result<Vec<Made>, Failure> {
        let Some(format) = export::format(name) else { return Ok(Vec::new()) };
        export::files(format, drawing, stem, &export::Options::default()).map_err(|e| failed(&e))
    };
    let one = |sheet: usize, name: &str| -> Result<Vec<Made>, Failure> {
        let stem = stem(&panel, sheet, fit, options.purpose);
        let draw = |change: &dyn Fn(&mut TemplateOptions)| -> Result<Drawing, Failure> {
            let mut o = options.clone();
            change(&mut o);
            template(&panel, sheet, &findings.list, &o).map_err(|e| failed(&e))
        };
        Ok(match name {
            // shop files: true size, never corrected for a printer
            "dxf" | "dxf-r12" => {
                let file = shop(&panel, sheet, &findings.list, &options).map_err(|e| failed(&e))?;
                write(name, &file, &stem)?
            }
            // a screen knows no true size
            "png" => {
                let copy = draw(&|o| (o.purpose, o.paper) = (Purpose::Copy, papers))?;
                write(name, &copy, &format!("{stem}-copy"))?
            }
            "pdf" => {
                let mut all = write(name, &draw(&|_| ())?, &stem)?;
                all.extend(write(name, &draw(&|o| o.face = Face::Back)?, &format!("{stem}-back"))?);
                all.extend(write(name, &draw(&|o| o.paper = papers)?, &format!("{stem}-tiles"))?);
                let back = draw(&|o| (o.face, o.paper) = (Face::Back, papers))?;
                all.extend(write(name, &back, &format!("{stem}-back-tiles"))?);
                all
            }
            // a drawing for screens and editors: only a print is corrected for its printer
            _ => write(name, &draw(&|o| (o.measured_x, o.measured_y) = (None, None))?, &stem)?,
        })
    };
    let view = |name: &str| {
        let drawing = front_view::front_view(&panel, &findings.list);
        write(name, &drawing, &format!("{}-front-view", panel.slug))
    };
    // the front view is the largest picture: it comes first, so that no core waits for it at the end
    let views: Vec<&str> = formats.iter().copied().filter(|n| ["svg", "png"].contains(n)).collect();
    let sheets = (0..panel.sheets.len()).flat_map(|sheet| formats.iter().map(move |name| (sheet, *name)));
    let sheets: Vec<(usize, &str)> = sheets.collect();
    let mut progress = Progress::new(views.len() + sheets.len());
    let told = |k: usize| progress.step(k + 1, &panel.name);
    let mut files = jobs::each(views.len() + sheets.len(), told, |k| match k.checked_sub(views.len()) {
        None => view(views[k]),
        Some(k) => one(sheets[k].0, sheets[k].1),
    });
    files.rotate_left(views.len());
    let mut made: Vec<Made> = Vec::new();
    for file in files {
        made.extend(file?);
    }
    let text = report::text(&panel, &findings, &report::TextOptions { passes: true });
    made.push(Made {
        name: format!("{}-fit.txt", panel.slug),
        bytes: anstream::adapter::strip_str(&text).to_string().into_bytes(),
    });
    let json = format!("{:#}\n", report::json(&panel, &findings));
    made.push(Made { name: format!("{}-fit.json", panel.slug), bytes: json.into_bytes() });
    let folder = made::out(m);
    made::write_all(folder, &made)?;
    let size = panel.sheets.first().map_or(Rect::ZERO, |s| s.outline.bounds());
    let print = printed(&options, size.width(), size.height());
    let told: String = stale
        .into_iter()
        .chain(print.map(|p| format!("The print that you measured: {p}")))
        .map(|w| w + "\n")
        .collect();
    common::print(&(told + &summary(&panel, &findings, fit, folder, &made)))?;
    Ok(if fit { Exit::Clean } else { Exit::Findings })
}

/// `wheatear-proposed`, `wheatear-proposed-overlay`; a sheet that may not be cut says so in its name.
fn stem(panel: &Panel, sheet: usize, fit: bool, purpose: Purpose) -> String {
    let mut s = String::new();
    if !fit && purpose == Purpose::Cut {
        s.push_str(BARRED);
    }
    s.push_str(&panel.slug);
    if sheet > 0 {
        s.push('-');
        s.push_str(&made::name_of(&panel.sheets[sheet]));
    }
    if purpose == Purpose::Trial {
        s.push_str("-trial");
    }
    s
}

fn tiles(m: &ArgMatches, unit: Unit) -> Paper {
    let asked = m.get_one::<String>("paper").and_then(|p| PAPERS.iter().find(|(n, _)| n == p));
    asked.map_or(if unit == Unit::Inch { Paper::Letter } else { Paper::A4 }, |(_, p)| *p)
}

fn options(m: &ArgMatches) -> Result<TemplateOptions, Failure> {
    let mut o = TemplateOptions::default();
    if let Some(text) = m.get_one::<String>("overlap") {
        let length = Length::parse(text, Some(Unit::Millimetre))
            .and_then(|l| l.check(Sign::NotNegative).map(|()| l))
            .map_err(|e| Failure::Sentence(format!("--overlap \"{text}\": {e}")))?;
        o.overlap = length.mm();
    }
    o.measured_x = measured(m, "measured-x")?;
    o.measured_y = measured(m, "measured-y")?;
    if m.get_flag("trial") {
        o.purpose = Purpose::Trial;
    }
    Ok(o)
}

fn measured(m: &ArgMatches, name: &str) -> Result<Option<Measured>, Failure> {
    let Some(text) = m.get_one::<String>(name) else { return Ok(None) };
    let wrong = |why: String| {
        Failure::Sentence(format!(
            "--{name} \"{text}\": {why}. Write what the rule reads, a stroke, what the bar says: 243.2/250"
        ))
    };
    let (read, bar) = text.rsplit_once('/').ok_or_else(|| wrong("there is no stroke".into()))?;
    let one = |t: &str| {
        Length::parse(t.trim(), Some(Unit::Millimetre))
            .and_then(|l| l.check(Sign::Positive).map(|()| l))
            .map(|l| l.mm())
            .map_err(|e| wrong(e.to_string()))
    };
    Ok(Some(Measured { nominal: one(bar)?, read: one(read)? }))
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
    match (&panel.cut_anyway, fit) {
        (Some((because, by)), true) if c.fail + c.withheld > 0 => {
            s.push_str(&format!("cut in spite of the verdicts, because {because} ({by})\n"));
        }
        (_, true) => {}
        (_, false) => s.push_str(
            "The sheets are marked NOT FOR CUTTING. `panelwright check` says what each verdict waits for.\n",
        ),
    }
    s.push('\n');
    for file in made {
        s.push_str(&format!("{}\n", folder.join(&file.name).display()));
    }
    s.push_str(
        "\nMeasure the scale bars on both axes before you cut. Check the numbers against your own instruments and airframe.\n\
         This program advises; it approves nothing.\n",
    );
    s
}
