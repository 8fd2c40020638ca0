//! `explain`: what a rule asks, why, by which source; without a name, the list of rules.

use crate::check::RULES;
use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit};
use crate::{diag, report};
use clap::{Arg, ArgMatches, Command};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("explain").about("Say what a rule asks, why, and by which source").arg(
        Arg::new("rule").value_name("RULE").help("Name of a rule, as findings show it; none: list them all"),
    )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let Some(name) = m.get_one::<String>("rule") else {
        let width = RULES.iter().map(|r| r.id.len()).max().unwrap_or(0);
        let list: String = RULES.iter().map(|r| format!("{:width$}  {}\n", r.id, r.asks)).collect();
        common::print(&list)?;
        return Ok(Exit::Clean);
    };
    // a whole finding id may be pasted
    let id = name.split('/').next().unwrap_or(name);
    match RULES.iter().find(|r| r.id == id) {
        Some(rule) => {
            common::print(&report::explain(rule))?;
            Ok(Exit::Clean)
        }
        None => {
            let near = diag::did_you_mean(id, RULES.iter().map(|r| r.id));
            let hint = near.map(|n| format!(" Did you mean {n}?")).unwrap_or_default();
            Err(Failure::Sentence(format!(
                "there is no rule \"{id}\".{hint} `panelwright explain` lists them."
            )))
        }
    }
}
