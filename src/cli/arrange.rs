//! `arrange`: gives many items new places at once, in a file of their own.

use crate::check::{Findings, Verdict};
use crate::cli::common::{self, Failure};
use crate::cli::progress::Progress;
use crate::cli::{Entry, Exit, interrupt, reading};
use crate::diag::{Problem, Problems};
use crate::edit::{Derived, is_untouched};
use crate::files::{Beside, Disk};
use crate::geom::{SLACK, span};
use crate::panel::{Panel, SubjectKind};
use crate::place::arrange::{
    Arranged, Asked, Conflict, Ground, Outcome, Told, Watch, What, arrange, can_move, free, pieces, unmet,
};
use crate::report::arrange::{One, Run, json, none_json, none_text, text};
use crate::resolve;
use clap::{Arg, ArgMatches, Command};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("arrange")
        .about("Place many items at once so that every rule holds, in a new file that builds on the panel")
        .arg(common::panel_arg().help("Panel file (JSON)"))
        .arg(common::instruments_arg())
        .arg(common::format_arg())
        .arg(
            Arg::new("write")
                .long("write")
                .value_name("FILE")
                .value_parser(clap::value_parser!(PathBuf))
                .help("The new panel file, in the panel's own folder [default: the panel's name with -arranged]"),
        )
        .arg(
            Arg::new("seed")
                .long("seed")
                .value_name("NUMBER")
                .default_value("1")
                .value_parser(clap::value_parser!(u64))
                .help("Another seed may come to another arrangement; the same comes to the same"),
        )
        .arg(
            Arg::new("alternatives")
                .long("alternatives")
                .value_name("NUMBER")
                .default_value("1")
                .value_parser(clap::value_parser!(u8).range(1..=9))
                .help("So many arrangements that differ, the cheapest first, each in a file of its own; shares the moves"),
        )
        .arg(
            Arg::new("moves")
                .long("moves")
                .value_name("NUMBER")
                .default_value("100000")
                .value_parser(clap::value_parser!(u64).range(1..))
                .help("How many moves may be made before it gives up"),
        )
        .arg(
            Arg::new("most-seconds")
                .long("most-seconds")
                .value_name("SECONDS")
                .value_parser(clap::value_parser!(u64).range(1..))
                .help("Stop after this time with the best so far, which is then not repeatable"),
        )
}

/// From one line of progress to the next.
const BETWEEN: Duration = Duration::from_millis(100);

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    if path == reading::INPUT {
        return Err(Failure::Sentence(
            "arrange reads the panel from a file, not from the standard input: name the file".into(),
        ));
    }
    let different = m.get_one::<u8>("alternatives").copied().unwrap_or(1);
    let targets: Vec<PathBuf> = (1..=different).map(|k| target(&path, k, m)).collect::<Result<_, _>>()?;
    let panel = common::read_panel(&path, m)?;
    let movable = free(&panel);
    if movable.is_empty() {
        return Err(Problems::from(none_free(&path, &panel)).into());
    }
    let mut ground = Ground::new(&panel, pieces(&panel, &movable));
    ground.bind(&panel);
    let most = m.get_one::<u64>("moves").copied().unwrap_or(1);
    // a time that no clock reaches is none
    let until =
        m.get_one::<u64>("most-seconds").and_then(|s| Instant::now().checked_add(Duration::from_secs(*s)));
    let mut progress = Progress::new(usize::try_from(most).unwrap_or(usize::MAX));
    interrupt::listen();
    let mut shown = Instant::now();
    let mut ask = |told: &Told| {
        if shown.elapsed() > BETWEEN {
            shown = Instant::now();
            progress.step(
                usize::try_from(told.made).unwrap_or(usize::MAX),
                &format!("{}, {}", told.phase, told.state),
            );
        }
        !interrupt::pressed() && until.is_none_or(|u| Instant::now() < u)
    };
    let mut watch = Watch::new(most, &mut ask);
    let seed = m.get_one::<u64>("seed").copied().unwrap_or(1);
    let asked = Asked { seed, different: usize::from(different) };
    let outcome = arrange(&panel, ground, asked, &mut watch);
    let told = Run { seed, most, made: watch.made, stopped: watch.stopped };
    drop(progress);
    match outcome {
        Outcome::None(conflict) if conflict.alone => Err(no_room(&panel, &conflict).into()),
        Outcome::None(conflict) => {
            let words = if common::wants_json(m) {
                format!("{:#}\n", none_json(&panel, &told, &conflict))
            } else {
                none_text(&panel, &told, &conflict)
            };
            common::print(&words)?;
            Ok(Exit::Findings)
        }
        Outcome::Found(all) => {
            let mut made = Vec::new();
            for (arranged, target) in all.iter().zip(&targets) {
                made.push((
                    target.display().to_string(),
                    written(&path, target, &panel, arranged, &told, m)?,
                    arranged,
                ));
            }
            for (target, (_, (text, ..), _)) in targets.iter().zip(&made) {
                common::write(target, text.as_bytes())?;
            }
            let free: Vec<String> = movable.iter().map(|k| panel.subjects[*k].id.clone()).collect();
            let one = |(file, (_, panel, findings), arranged): &'_ (
                String,
                (String, Panel, Findings),
                &Arranged,
            )| One {
                file: file.clone(),
                panel: panel.clone(),
                findings: findings.clone(),
                free: free.clone(),
                costs: arranged.costs.clone(),
            };
            let all: Vec<One> = made.iter().map(one).collect();
            let words = if common::wants_json(m) {
                format!("{:#}\n", json(&panel, &told, &all))
            } else {
                text(&panel, &told, usize::from(different), &all)
            };
            common::print(&words)?;
            let passes = |o: &One| {
                unmet(&o.panel).1.is_empty() && o.findings.list.iter().all(|f| f.verdict == Verdict::Pass)
            };
            let passes = all.iter().all(passes);
            Ok(if passes { Exit::Clean } else { Exit::Findings })
        }
    }
}

/// Nothing may move: told where the wishes stand, or else of the whole file.
fn none_free(path: &str, panel: &Panel) -> Problem {
    let w = &panel.wishes;
    let held = if w.fixed.is_empty() { "" } else { ", as does what is named under \"fixed\"" };
    let message =
        format!("nothing on this panel may move: what is there already and what is locked stays{held}");
    let help = match panel.subjects.iter().find(|s| can_move(s)) {
        Some(s) => {
            format!("name what may move all the same, such as \"arrange\": {{ \"free\": [\"{}\"] }}", s.id)
        }
        None => "no item stands in this file itself: arrange the file in which they stand".into(),
    };
    let problem = match &w.place {
        Some(place) => Problem::new("nothing-free", place, message),
        None => Problem::nowhere("nothing-free", format!("{path}: {message}")),
    };
    problem.help(help)
}

/// One item has no room whatever else stands there: what asks the impossible is told with its place.
fn no_room(panel: &Panel, c: &Conflict) -> Problems {
    let Some(why) = &c.why else {
        return Problem::nowhere("no-room", "an item has no room on its sheet").into();
    };
    let own = panel.subject(why.own);
    let zone = |k: usize| panel.wishes.zones.get(k).map(|z| &z.place);
    let (place, message, help) = match why.what {
        What::Zone(k) => (
            zone(k).unwrap_or(&own.place),
            format!("{} has no room within this zone, with what else is asked of its place", own.id),
            "make the zone larger than the item's front, or take the item out of one of its zones",
        ),
        What::Reach => (
            &own.place,
            format!(
                "{} cannot stand within reach of the shoulder, with what else is asked of its place",
                own.id
            ),
            "check the shoulder and the reach under \"arrange\"",
        ),
        What::Rule(rule) => (
            &own.place,
            format!("{} has no room on its sheet, whatever else stands there (rule {})", own.id, rule.id),
            "is it larger than the sheet? Check its size and the sheet's outline, or take it out",
        ),
        What::Apart(_) | What::Order(_) | What::Sight => (
            &own.place,
            format!("{} has no room beside what stays", own.id),
            "let more items move, or ask less under \"arrange\"",
        ),
    };
    Problem::new("no-room", place, message).help(help).into()
}

/// Where the new file goes: beside the panel, so that what it names beside itself is still there; never over a file that
/// somebody wrote.
fn target(path: &str, number: u8, m: &ArgMatches) -> Result<PathBuf, Failure> {
    let own = Path::new(path);
    let target = match m.get_one::<PathBuf>("write") {
        Some(file) => file.clone(),
        None => {
            let stem = own.file_stem().map_or("panel".into(), |s| s.to_string_lossy().into_owned());
            own.with_file_name(format!("{stem}-arranged.json"))
        }
    };
    let target = match number {
        1 => target,
        _ => {
            let stem = target.file_stem().map_or("panel".into(), |s| s.to_string_lossy().into_owned());
            target.with_file_name(format!("{stem}-{number}.json"))
        }
    };
    let folder = |p: &Path| {
        let parent = p.parent().filter(|f| !f.as_os_str().is_empty()).unwrap_or(Path::new("."));
        parent.canonicalize().ok()
    };
    if folder(own).is_none() || folder(&target) != folder(own) {
        return Err(Failure::Sentence(format!(
            "--write {}: the new file builds on {path} and belongs into its folder: name a file there",
            target.display()
        )));
    }
    match std::fs::read(&target) {
        Ok(bytes) if !is_untouched(&bytes) => Err(Failure::Sentence(format!(
            "{} is there, and this program did not write it or somebody has changed it since: name another file with \
             --write, or move it away",
            target.display()
        ))),
        _ => Ok(target),
    }
}

/// The new file's text, and the panel as it is read from that text again.
fn written(
    path: &str,
    target: &Path,
    panel: &Panel,
    arranged: &Arranged,
    told: &Run,
    m: &ArgMatches,
) -> Result<(String, Panel, Findings), Failure> {
    let file = path.rsplit('/').next().unwrap_or(path);
    let note = format!("arranged with seed {}, {} moves", told.seed, told.made);
    let mut derived = Derived::of(panel, "arranged", file, note);
    let takes_place = |k: SubjectKind| matches!(k, SubjectKind::Placement | SubjectKind::Label);
    for (was, now) in panel.subjects.iter().zip(&arranged.panel.subjects) {
        // labels that are placed by their item go with it
        if was.kind == SubjectKind::Placement && span(was.at, now.at) > 0.0 {
            derived.places.push((now.id.clone(), now.at));
        }
    }
    let disk = Disk::new("");
    let name = target.to_string_lossy().into_owned();
    loop {
        let text = derived.text(panel.unit);
        let files = Beside { others: &disk, name: name.clone(), text: text.clone() };
        let read = resolve::resolve(&name, &files, &common::catalogue(m))?;
        // what was placed by something that has moved says its own place from now on
        let mut astray = Vec::new();
        for s in arranged.panel.subjects.iter().filter(|s| takes_place(s.kind) && !s.id.contains(':')) {
            let there = read.find(&s.id).and_then(|k| read.subjects.get(k));
            if there.is_some_and(|t| span(t.at, s.at) > SLACK)
                && derived.places.iter().all(|(id, _)| *id != s.id)
            {
                astray.push((s.id.clone(), s.at));
            }
        }
        if astray.is_empty() {
            let findings = common::check_panel(&read, false);
            return Ok((text, read, findings));
        }
        derived.places.extend(astray);
    }
}
