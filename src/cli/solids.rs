//! `solids`: the panel and everything behind and in front of it as solids, for viewers, CAD and printers.

use crate::cli::common::{self, Failure};
use crate::cli::made::{self, BARRED};
use crate::cli::{Entry, Exit};
use crate::diag::did_you_mean;
use crate::draw::solids::{Model3, model};
use crate::draw::template::{Standing, TemplateOptions};
use crate::export::Made;
use crate::export::solids::{SOLID_FORMATS, file};
use crate::panel::{NamedPose, Panel};
use crate::solid::travel::DriverKind;
use clap::{Arg, ArgAction, ArgMatches, Command};
use std::path::Path;

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    let formats: Vec<String> = SOLID_FORMATS.iter().map(|f| format!("{}: {}", f.name, f.says)).collect();
    Command::new("solids")
        .about("Make three-dimensional models for viewers, CAD and printing")
        .long_about(
            "Checks the panel and writes its sheets with their openings, bezels, bodies, ports, front parts, obstacles, \
             controls and lines as solids: x to the pilot's right, y up, z towards the pilot. What has no thickness \
             or depth is left out and listed. A panel with fail or withheld verdicts gives files marked NOT FOR \
             CUTTING.",
        )
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(made::out_arg())
        .arg(
            made::formats_arg("glb,step,3mf", SOLID_FORMATS.iter().map(|f| f.name), format!("Formats, joined by commas ({})", formats.join("; "))),
        )
        .arg(
            Arg::new("pose")
                .long("pose")
                .value_name("CONTROL.POSE")
                .help("A pose of a control that the panel file names, such as canopy.shut; all else is at rest"),
        )
        .arg(
            Arg::new("set")
                .long("set")
                .value_name("DRIVER=NUMBER")
                .action(ArgAction::Append)
                .help("Where a driver of the controls stands, in mm or degrees; may be given for each. By default all are at rest"),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let drivers = drivers(m, &panel)?;
    let findings = common::check_panel(&panel, false);
    let fit = !Standing::of(&panel, &findings.list, &TemplateOptions::default()).barred();
    let solids = model(&panel, &findings.list, &drivers);
    let stem = format!("{}{}-solids", if fit { "" } else { BARRED }, panel.slug);
    let mut made = Vec::new();
    for name in m.get_many::<String>("formats").into_iter().flatten() {
        let Some(format) = SOLID_FORMATS.iter().find(|f| f.name == name) else { continue };
        made.push(file(format, &solids, &stem).map_err(|e| Failure::Sentence(format!("{path}: {e}")))?);
    }
    let folder = made::out(m);
    made::write_all(folder, &made)?;
    common::print(&summary(&solids, folder, &made, fit))?;
    Ok(if fit { Exit::Clean } else { Exit::Findings })
}

/// Every driver's number: at rest, or what `--set` says.
fn drivers(m: &ArgMatches, panel: &Panel) -> Result<Vec<f64>, Failure> {
    let mechanism = &panel.space.mechanism;
    let mut wrong = Vec::new();
    let mut numbers = match m.get_one::<String>("pose").map(|said| (said, pose(panel, said))) {
        Some((_, Some(numbers))) => numbers,
        Some((said, None)) => {
            let known: Vec<String> = panel.space.poses.iter().map(|p| pose_name(panel, p)).collect();
            let advice = match known.is_empty() {
                true => "this panel names none".to_owned(),
                false => format!("there are {}", known.join(", ")),
            };
            wrong.push(format!("--pose {said:?}: no pose has that name; {advice}"));
            mechanism.neutral()
        }
        None => mechanism.neutral(),
    };
    for said in m.get_many::<String>("set").into_iter().flatten() {
        let Some((id, number)) = said.split_once('=') else {
            wrong.push(format!("--set {said:?}: write a driver, =, a number: --set roll=-30"));
            continue;
        };
        let Some((k, driver)) = mechanism.drivers.iter().enumerate().find(|(_, d)| d.id == id) else {
            let known: Vec<&str> = mechanism.drivers.iter().map(|d| d.id.as_str()).collect();
            let advice = match (did_you_mean(id, known.iter().copied()), known.is_empty()) {
                (Some(near), _) => format!("did you mean {near:?}?"),
                (None, true) => "this panel has none".to_owned(),
                (None, false) => format!("there are {}", known.join(", ")),
            };
            wrong.push(format!("--set {said:?}: no driver is named {id:?}; {advice}"));
            continue;
        };
        let unit = match driver.kind {
            DriverKind::Slide => "mm",
            DriverKind::Turn => "degrees",
        };
        let (low, high) = driver.domain();
        match number.trim().parse::<f64>() {
            Ok(v) if v >= low && v <= high => {
                if let Some(slot) = numbers.get_mut(k) {
                    *slot = v;
                }
            }
            Ok(_) => wrong.push(format!("--set {said:?}: {id} goes from {low} to {high} {unit}")),
            Err(_) => {
                wrong.push(format!("--set {said:?}: {number:?} is no number; write {unit} without the unit"))
            }
        }
    }
    if wrong.is_empty() { Ok(numbers) } else { Err(Failure::Sentence(wrong.join("\npanelwright: "))) }
}

/// `canopy.shut`.
fn pose_name(panel: &Panel, pose: &NamedPose) -> String {
    let control = panel.subjects.get(pose.control as usize).map_or("", |s| s.id.as_str());
    format!("{control}.{}", pose.name)
}

/// The drivers of a named pose.
fn pose(panel: &Panel, name: &str) -> Option<Vec<f64>> {
    panel.space.poses.iter().find(|p| pose_name(panel, p) == name).map(|p| p.drivers.clone())
}

fn summary(solids: &Model3, folder: &Path, made: &[Made], fit: bool) -> String {
    let mut s =
        format!("{}\n{} solids in {} groups\n", solids.title, solids.parts().count(), solids.groups.len());
    if !solids.left_out.is_empty() {
        s.push_str(&format!(
            "\nNot in the model, {} (an empty place there is no free room):\n",
            solids.left_out.len()
        ));
        for line in &solids.left_out {
            s.push_str(&format!("  {line}\n"));
        }
    }
    if !fit {
        s.push_str("\nMarked NOT FOR CUTTING. `panelwright check` says what each verdict waits for.\n");
    }
    s.push('\n');
    for file in made {
        s.push_str(&format!("{}\n", folder.join(&file.name).display()));
    }
    s.push_str(
        "\nThe model shows what the files say: check the numbers against your own instruments and airframe.\n\
         This program advises; it approves nothing.\n",
    );
    s
}
