//! The command line: thin faces over the library. One command a file; none holds logic of its own.
//!
//! Results go to standard output, talk to standard error. Exit codes: 0 all pass, 1 any fail, tight or
//! withheld, 2 could not run, 3 our own fault.

mod arrange;
mod as_cut;
mod behind;
mod board;
mod check;
mod common;
mod compare;
mod compare_swap;
mod completions;
mod control_card;
mod cut_check;
mod drawing;
mod explain;
mod fits;
mod fits_into;
mod fits_many;
mod instruments;
mod interrupt;
mod made;
mod man;
mod mockup;
mod new;
mod numbers;
mod progress;
mod reading;
mod report;
mod schema;
mod solids;
mod survey;
pub mod survey_drawing;
mod survey_images;
mod template;
mod watch;

use clap::{ArgMatches, Command};
pub use common::Failure;

/// One command: its name and words for clap, and what runs.
pub struct Entry {
    /// Builds the clap command.
    pub command: fn() -> Command,
    /// Runs it.
    pub run: fn(&ArgMatches) -> Result<Exit, Failure>,
}

/// All commands, in the order of the help text.
pub static COMMANDS: &[Entry] = &[
    check::ENTRY,
    fits::ENTRY,
    arrange::ENTRY,
    board::ENTRY,
    compare::ENTRY,
    template::ENTRY,
    drawing::ENTRY,
    solids::ENTRY,
    mockup::ENTRY,
    behind::ENTRY,
    control_card::ENTRY,
    report::ENTRY,
    cut_check::ENTRY,
    as_cut::ENTRY,
    survey::ENTRY,
    instruments::ENTRY,
    numbers::ENTRY,
    explain::ENTRY,
    new::ENTRY,
    schema::ENTRY,
    completions::ENTRY,
    man::ENTRY,
];

/// How a command that ran ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// All pass.
    Clean = 0,
    /// Any fail, tight or withheld.
    Findings = 1,
    /// Could not run.
    CouldNotRun = 2,
    /// Our own fault.
    OurFault = 3,
}

/// The whole command line.
pub fn command() -> Command {
    let mut c = Command::new("panelwright")
        .version(env!("CARGO_PKG_VERSION"))
        .about("Layout and fit check of light-aeroplane instrument panels")
        .long_about(
            "Reads a panel file, says what fits and what does not, and makes the 1:1 cutting template and \
             the shop files. It advises; it approves nothing: the maintenance manual, the local rules and \
             the licensed person who signs decide.",
        )
        .after_help(
            "Exit codes: 0 all pass, 1 any fail, tight or withheld, 2 could not run, 3 our own fault.\n\
             Start with: panelwright new my-panel.json",
        )
        .subcommand_required(true)
        .arg_required_else_help(true)
        .arg(common::colour_arg());
    for e in COMMANDS {
        c = c.subcommand((e.command)());
    }
    c
}

/// Runs the command line `args` (the first is the program's name) and gives the exit code.
pub fn run(args: Vec<std::ffi::OsString>) -> Exit {
    let matches = match command().try_get_matches_from(args) {
        Ok(m) => m,
        Err(e) => {
            let code = e.exit_code();
            // a closed pipe while help is printed is nobody's fault
            let _ = e.print();
            return if code == 0 { Exit::Clean } else { Exit::CouldNotRun };
        }
    };
    common::set_colour(&matches);
    let Some((name, sub)) = matches.subcommand() else { return Exit::CouldNotRun };
    let entry = COMMANDS.iter().find(|e| (e.command)().get_name() == name);
    let Some(entry) = entry else { return Exit::OurFault };
    match (entry.run)(sub) {
        Ok(exit) => exit,
        Err(failure) => {
            failure.tell(sub);
            Exit::CouldNotRun
        }
    }
}
