//! `check`: reads a panel and says what fits.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, watch};
use crate::report;
use clap::{Arg, ArgAction, ArgMatches, Command};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("check")
        .about("Judge a panel: fail, tight, pass or withheld, with what would cure it")
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(common::format_arg())
        .arg(common::earlier_arg())
        .arg(
            Arg::new("all-pairs")
                .long("all-pairs")
                .action(ArgAction::SetTrue)
                .help("List every pair of parts within 25 mm, not only the nearest"),
        )
        .arg(
            Arg::new("only-fail")
                .long("only-fail")
                .action(ArgAction::SetTrue)
                .help("Exit code 1 for fail alone; the report stays whole"),
        )
        .arg(
            Arg::new("passes")
                .long("passes")
                .action(ArgAction::SetTrue)
                .help("List passes too (json always does)"),
        )
        .arg(
            Arg::new("watch")
                .long("watch")
                .action(ArgAction::SetTrue)
                .help("Check again whenever a file that it reads is saved, until interrupted"),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    if m.get_flag("watch") {
        return watch::repeat(&common::path(m, "panel")?, m, || once(m));
    }
    once(m)
}

fn once(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let findings = common::check_panel(&panel, m.get_flag("all-pairs"));
    let stale = common::stale(m, &panel, &findings)?;
    let text = if common::wants_json(m) {
        let mut report = report::json(&panel, &findings);
        report["out-of-date"] = stale.clone().into();
        format!("{report:#}\n")
    } else {
        let report = report::text(&panel, &findings, &report::TextOptions { passes: m.get_flag("passes") });
        stale.iter().map(|words| format!("{words}\n\n")).collect::<String>() + &report
    };
    common::print(&text)?;
    Ok(if stale.is_some() { Exit::Findings } else { common::exit_for(&findings, m.get_flag("only-fail")) })
}
