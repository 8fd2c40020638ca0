//! `survey`: from tape and calipers to points, and how far to trust them.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, reading, survey_drawing, survey_images};
use crate::define;
use crate::diag::{Problem, Problems};
use crate::draw;
use crate::report;
use crate::survey::{Network, behind, found, solve};
use clap::{Arg, ArgMatches, Command};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("survey")
        .about("Turn tape and caliper readings, or a DXF or SVG of the panel, into the panel as found")
        .long_about(
            "Reads a survey file (points, readings, conditions, picks in photographs) and adjusts all readings at once by least squares: \
             coordinates, deviations and error ellipses; which reading is wrong and what it perhaps should have been; \
             which points are not determined, and which further reading would help most. What rods, sticks and tapes found \
             behind the panel (`behind`) becomes depth, obstacles and controls with their travel, each with its doubt. \
             `panelwright schema survey` prints the file's schema.\n\n\
             Of a FILE that ends in .dxf or .svg it finds outline and openings instead: joined, nested, merged, circles and \
             the catalogue's patterns recognised; what is open, left out or perhaps meant is told, and nothing is rounded or \
             guessed without your word.\n\n\
             A FILE that ends in .csv holds measured points, one a row under a first row `x mm,y mm,contour,piece`; piece is \
             line, arc, circle or fillet with a name of yours behind (`line left`), in the order round the contour. Each piece is \
             fitted by least squares and told with its residuals; mirror images and trade sizes are proposed.",
        )
        .arg(
            Arg::new("file")
                .value_name("FILE")
                .required(true)
                .value_parser(clap::value_parser!(PathBuf))
                .help("Survey file (JSON), or a drawing (.dxf in ASCII, .svg), or points (.csv); - for a survey on the standard input"),
        )
        .arg(common::format_arg())
        .arg(
            Arg::new("panel")
                .long("panel")
                .value_name("FILE")
                .value_parser(clap::value_parser!(PathBuf))
                .help("Write the panel as found: outline and old openings, with how far each may be off"),
        )
        .arg(
            Arg::new("drawing")
                .long("drawing")
                .value_name("FILE")
                .value_parser(clap::value_parser!(PathBuf))
                .help("Draw points, ellipses (exaggerated) and what disagrees, or what was found in the drawing: FILE ends in .svg, .pdf, .dxf or .png"),
        )
        .args(survey_images::args())
        .args(survey_drawing::args())
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "file")?;
    match survey_drawing::input(&path, m)? {
        survey_drawing::Input::Readings => once(&path, m),
        input @ (survey_drawing::Input::Drawing | survey_drawing::Input::Points) => {
            survey_drawing::run(&path, input, m)
        }
    }
}

fn once(path: &str, m: &ArgMatches) -> Result<Exit, Failure> {
    let bytes = reading::bytes(path)?;
    let text: Arc<str> = match std::str::from_utf8(&bytes) {
        Ok(text) => text.into(),
        Err(_) => {
            let message = format!("{path} is not UTF-8 text");
            return Err(
                Problems::from(Problem::nowhere("not-utf8", message).help("save the file as UTF-8")).into()
            );
        }
    };
    let mut problems = Problems::new();
    let survey = define::read_survey(path, &text, &mut problems);
    let images = survey.as_ref().map_or(vec![], |s| survey_images::read(path, s, &mut problems));
    let network = survey.as_ref().and_then(|s| Network::build(s, &mut problems));
    let (Some(survey), Some(network)) = (survey, network) else { return Err(problems.into()) };
    // what is found later is shown with the file's lines too
    let told = |found: Problems| {
        let mut all = problems.clone();
        all.append(found);
        all
    };
    let solved = solve(network).map_err(told)?;
    let behind = behind::behind(&survey, &solved).map_err(told)?;
    if common::wants_json(m) {
        common::print(&format!("{:#}\n", report::survey_json(path, &survey.title, &solved, &behind)))?;
    } else {
        common::print(&report::survey_text(path, &survey.title, &solved, &behind))?;
    }
    if m.get_one::<PathBuf>("panel").is_some() {
        let name = common::path(m, "panel")?;
        if Path::new(&name).exists() {
            return Err(Failure::Sentence(format!(
                "{name} exists: choose another name, it is not overwritten"
            )));
        }
        let panel = found::panel_file(&survey, &solved, &behind, path).map_err(told)?;
        common::write(Path::new(&name), panel.as_bytes())?;
        anstream::eprintln!("wrote {name}: complete it, then panelwright check {name}");
    }
    let outline = found::outline(&survey, &solved);
    let under = survey_images::straight(&survey, &solved, &outline, &images, m)?;
    if m.get_one::<PathBuf>("drawing").is_some() {
        let name = common::path(m, "drawing")?;
        let sheet = draw::survey::survey(
            &survey.title,
            &solved,
            (&outline, &found::openings(&survey, &solved)),
            &behind,
            under.as_ref(),
        );
        common::write_drawing(&name, &sheet)?;
    }
    Ok(if solved.clean() && behind.clean() { Exit::Clean } else { Exit::Findings })
}
