//! `instruments`: the catalogue: list, search, show with a picture.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit};
use crate::panel::SubjectKind;
use crate::report::catalogue as words;
use clap::{Arg, ArgMatches, Command};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    let name = || Arg::new("name").value_name("NAME").required(true);
    Command::new("instruments")
        .about("The catalogue of instruments: list, search, show")
        .subcommand_required(true)
        .arg_required_else_help(true)
        .subcommand(
            Command::new("list")
                .about("Every definition, with how many of its sizes are typical and how many are missing")
                .arg(common::instruments_arg())
                .arg(common::format_arg()),
        )
        .subcommand(
            Command::new("search")
                .about("Definitions whose name, title, kind or words hold every given word")
                .arg(common::instruments_arg())
                .arg(
                    Arg::new("words")
                        .value_name("WORD")
                        .required(true)
                        .num_args(1..)
                        .help("Words to look for"),
                ),
        )
        .subcommand(
            Command::new("show")
                .about("One definition: its sizes, where each comes from, what is missing; with a picture")
                .arg(common::instruments_arg())
                .arg(name().help("Name in the catalogue, such as round/3-1-8in-front, or a file"))
                .arg(
                    Arg::new("picture")
                        .long("picture")
                        .value_name("FILE")
                        .value_parser(clap::value_parser!(std::path::PathBuf))
                        .help("Write a picture (front and side): the ending .svg, .png or .pdf says which"),
                ),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    match m.subcommand() {
        Some(("search", m)) => {
            let asked: Vec<String> =
                m.get_many::<String>("words").into_iter().flatten().map(|w| w.to_lowercase()).collect();
            let all = common::catalogue(m).all()?;
            let found: Vec<_> = all.iter().filter(|e| words::matches(e, &asked)).collect();
            if found.is_empty() {
                return Err(Failure::Sentence(format!(
                    "no definition holds {}: fewer words, or `panelwright instruments list`",
                    asked.join(" and ")
                )));
            }
            common::print(&words::list(found.into_iter()))?;
        }
        Some(("show", m)) => {
            let name = m.get_one::<String>("name").map(String::as_str).unwrap_or_default();
            let catalogue = common::catalogue(m);
            let one = catalogue.one(name)?;
            common::print(&words::show(&one))?;
            if let Some(file) = m.get_one::<std::path::PathBuf>("picture") {
                let panel = catalogue.sample(name)?;
                let Some(subject) = panel.subjects.iter().find(|s| s.kind == SubjectKind::Placement) else {
                    return Err(Failure::Sentence(format!("{name} has nothing to draw")));
                };
                let drawing = crate::draw::picture::picture(subject);
                let ending = file.extension().and_then(|e| e.to_str()).unwrap_or("");
                common::write(file, &common::export(&drawing, ending)?)?;
                anstream::eprintln!("picture: {}", file.display());
            }
        }
        Some((_, m)) => {
            let all = common::catalogue(m).all()?;
            let text = if common::wants_json(m) {
                format!("{:#}\n", words::json(&all))
            } else {
                words::list(all.iter())
            };
            common::print(&text)?;
        }
        None => return Ok(Exit::CouldNotRun),
    }
    Ok(Exit::Clean)
}
