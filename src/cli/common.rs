//! What the commands share: reading a panel, printing problems, arguments of one spelling.

use crate::check::{self, Findings, Verdict};
use crate::cli::{Exit, reading};
use crate::diag::Problems;
use crate::export;
use crate::files::{self, Disk, Files};
use crate::panel::Panel;
use crate::report;
use crate::resolve::Catalogue;
use clap::{Arg, ArgMatches, builder::PossibleValuesParser};
use std::path::PathBuf;

/// Why a command could not run.
pub enum Failure {
    /// Problems in the input files.
    Problems(Problems),
    /// Anything else, as one sentence with its advice.
    Sentence(String),
}

impl Failure {
    /// What is printed on standard error.
    pub fn text(&self) -> String {
        match self {
            Failure::Problems(p) => p.render(false),
            Failure::Sentence(s) => format!("panelwright: {s}\n"),
        }
    }

    /// Tells people on standard error; problems of the input go to standard output as JSON where that was asked for, so
    /// that a program that reads the answers of any command reads these too.
    pub fn tell(&self, m: &ArgMatches) {
        let json = match self {
            Failure::Problems(p) if wants_json(m) => Some(format!("{:#}\n", report::problems_json(p))),
            _ => None,
        };
        if json.is_none_or(|json| print(&json).is_err()) {
            anstream::eprint!("{}", self.text());
        }
    }
}

impl From<Problems> for Failure {
    fn from(p: Problems) -> Failure {
        Failure::Problems(p)
    }
}

/// `--colour`, for every command.
pub fn colour_arg() -> Arg {
    Arg::new("colour")
        .long("colour")
        .global(true)
        .value_name("WHEN")
        .default_value("auto")
        .value_parser(PossibleValuesParser::new(["auto", "always", "never"]))
        .help("Colour in text for people; auto: on a terminal only")
}

/// Makes the choice of `--colour` hold for everything printed.
pub fn set_colour(m: &ArgMatches) {
    let choice = match m.get_one::<String>("colour").map(String::as_str) {
        Some("always") => anstream::ColorChoice::Always,
        Some("never") => anstream::ColorChoice::Never,
        _ => anstream::ColorChoice::Auto,
    };
    choice.write_global();
}

/// The panel file.
pub fn panel_arg() -> Arg {
    Arg::new("panel")
        .value_name("PANEL")
        .required(true)
        .value_parser(clap::value_parser!(PathBuf))
        .help("Panel file (JSON); - for the standard input")
}

/// `--instruments`, an own catalogue before the built-in one.
pub fn instruments_arg() -> Arg {
    Arg::new("instruments")
        .long("instruments")
        .value_name("FOLDER")
        .value_parser(clap::value_parser!(PathBuf))
        .help("Folder of your own instrument files, looked in before the built-in catalogue")
}

/// `--earlier`.
pub fn earlier_arg() -> Arg {
    Arg::new("earlier")
        .long("earlier")
        .value_name("FILE")
        .value_parser(clap::value_parser!(PathBuf))
        .help("A fit report (JSON), SVG or DXF made earlier: say whether it still holds for these inputs")
}

/// What is out of date about the file that `--earlier` names, in words; `None` when nothing is, or when
/// the option was not given.
pub fn stale(m: &ArgMatches, panel: &Panel, findings: &Findings) -> Result<Option<String>, Failure> {
    if m.get_one::<PathBuf>("earlier").is_none() {
        return Ok(None);
    }
    let name = path(m, "earlier")?;
    let bytes = Disk::new("").bytes(&name).map_err(|p| Failure::Sentence(p.message))?;
    let earlier = report::Earlier::read(&String::from_utf8_lossy(&bytes))
        .map_err(|why| Failure::Sentence(format!("--earlier {name}: {why}")))?;
    Ok(earlier.stale(panel, findings))
}

/// `--format`.
pub fn format_arg() -> Arg {
    Arg::new("format")
        .long("format")
        .value_name("FORMAT")
        .default_value("text")
        .value_parser(PossibleValuesParser::new(["text", "json"]))
        .help("text for people, json for programs (every finding, unrounded)")
}

/// Whether `--format json` was given; not every command has that option.
pub fn wants_json(m: &ArgMatches) -> bool {
    m.try_get_one::<String>("format").ok().flatten().is_some_and(|f| f == "json")
}

/// The catalogue that the arguments ask for.
pub fn catalogue(m: &ArgMatches) -> Catalogue {
    let own = m.try_get_one::<PathBuf>("instruments").ok().flatten();
    match own {
        Some(folder) => Catalogue::with_folder(folder.to_string_lossy().as_ref()),
        None => Catalogue::builtin(),
    }
}

/// A path argument as the user wrote it.
pub fn path(m: &ArgMatches, name: &str) -> Result<String, Failure> {
    let p =
        m.get_one::<PathBuf>(name).ok_or_else(|| Failure::Sentence(format!("argument {name} is missing")))?;
    match p.to_str() {
        Some(s) => Ok(s.to_string()),
        None => {
            Err(Failure::Sentence(format!("the name {} is not UTF-8: rename the file", p.to_string_lossy())))
        }
    }
}

/// The name of an instrument as the file of a panel names it: a file of the user's own is given from where the user is, and
/// named from the panel's folder.
pub fn named_in(panel: &str, instrument: &str) -> String {
    if !instrument.ends_with(".json") {
        return instrument.to_string();
    }
    let whole = |p: &str| Some(std::path::absolute(p).ok()?.to_str()?.to_string());
    files::named_in(panel, instrument)
        .or_else(|| files::named_in(&whole(panel)?, &whole(instrument)?))
        .unwrap_or_else(|| instrument.to_string())
}

/// Reads and resolves a panel from disk, or from the standard input under the name `-`.
pub fn read_panel(path: &str, m: &ArgMatches) -> Result<Panel, Failure> {
    reading::panel(path, m).0
}

/// Checks a panel.
pub fn check_panel(panel: &Panel, all_pairs: bool) -> Findings {
    check::check(panel, &check::Options { all_pairs })
}

/// The exit code that findings ask for.
pub fn exit_for(findings: &Findings, only_fail: bool) -> Exit {
    let bad = findings.list.iter().any(|f| match f.verdict {
        Verdict::Fail => true,
        Verdict::Tight | Verdict::Withheld => !only_fail,
        Verdict::Pass => false,
    });
    if bad { Exit::Findings } else { Exit::Clean }
}

/// Prints a result on standard output; a closed pipe ends quietly.
pub fn print(text: &str) -> Result<(), Failure> {
    use std::io::Write;
    let mut out = anstream::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Failure::Sentence(format!("cannot print the result: {e}")))
        }
        _ => Ok(()),
    }
}

/// Makes a folder and those above it.
pub fn make_folder(path: &std::path::Path) -> Result<(), Failure> {
    use std::io::ErrorKind as K;
    std::fs::create_dir_all(path).map_err(|e| {
        let why = match e.kind() {
            K::AlreadyExists | K::NotADirectory => {
                "a file of that name is there: name another folder".to_string()
            }
            K::PermissionDenied => "permission denied: name another folder".to_string(),
            _ => e.to_string(),
        };
        Failure::Sentence(format!("cannot make the folder {}: {why}", path.display()))
    })
}

/// Removes a file.
pub fn remove(path: &std::path::Path) -> Result<(), Failure> {
    std::fs::remove_file(path)
        .map_err(|e| Failure::Sentence(format!("cannot remove {}: {e}", path.display())))
}

/// One page of a drawing in the format that a file's ending names.
pub fn export(drawing: &crate::draw::Drawing, ending: &str) -> Result<Vec<u8>, Failure> {
    let mut known: Vec<&str> = export::FORMATS.iter().map(|f| f.extension).collect();
    // two formats share an ending and stand beside each other
    known.dedup();
    let format = export::FORMATS.iter().find(|f| f.extension == ending).ok_or_else(|| {
        Failure::Sentence(format!(
            "a file that ends in \".{ending}\" is no picture: one of {}",
            known.join(", ")
        ))
    })?;
    (format.write)(drawing, 0, &export::Options::default()).map_err(|e| Failure::Sentence(e.to_string()))
}

/// Writes a drawing in the format that the file's ending names, and tells it; never over what another program made.
pub fn write_drawing(name: &str, drawing: &crate::draw::Drawing) -> Result<(), Failure> {
    let path = std::path::Path::new(name);
    if std::fs::read(path).is_ok_and(|there| !export::mark::is_own(&there)) {
        let words = format!(
            "{name} exists and this program did not make it: choose another name, it is not overwritten"
        );
        return Err(Failure::Sentence(words));
    }
    let ending = path.extension().map_or(String::new(), |e| e.to_string_lossy().to_lowercase());
    write(path, &export(drawing, &ending)?)?;
    anstream::eprintln!("wrote {name}");
    Ok(())
}

/// Writes a whole file or leaves the old one as it was.
pub fn write(path: &std::path::Path, bytes: &[u8]) -> Result<(), Failure> {
    files::write_whole(path, bytes)
        .map_err(|p| Failure::Sentence(format!("{}. The file, if it was there, is as it was.", p.message)))
}
