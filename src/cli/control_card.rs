//! `control-card`: the card of the full-and-free check of the controls, to work through and sign.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, behind, made};
use crate::draw::behind::card;
use clap::{ArgMatches, Command};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("control-card")
        .about("Print the card to sign after the job: controls full and free")
        .long_about(
            "Checks the panel and writes the card for the check of the controls after work behind the panel: conditions, \
             every control with its stops and what to try, where the fit check found it nearest and in which pose, and \
             lines for two signatures. It asks; it approves nothing. Exit codes as `check`.",
        )
        .arg(common::panel_arg())
        .arg(common::instruments_arg())
        .arg(made::out_arg())
        .arg(behind::formats_arg().default_value("pdf"))
        .arg(behind::page_arg())
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let findings = common::check_panel(&panel, false);
    let drawing = card(&panel, &findings.list, &behind::options(m));
    let files = behind::made(m, &path, &[(format!("{}-control-card", panel.slug), drawing)])?;
    let folder = made::out(m);
    made::write_all(folder, &files)?;
    let said: String = files.iter().map(|f| format!("{}\n", folder.join(&f.name).display())).collect();
    common::print(&format!("{said}\nThis program advises; it approves nothing.\n"))?;
    Ok(common::exit_for(&findings, false))
}
