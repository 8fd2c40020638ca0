//! Files that a command has made: whole or not at all, and none left beside them that contradicts them.

use crate::cli::common::{self, Failure};
use crate::export::{Made, mark};
use crate::panel::{Sheet, SheetRole};
use clap::builder::PossibleValuesParser;
use clap::{Arg, ArgMatches};
use std::path::{Path, PathBuf};

pub use crate::draw::template::BARRED;

/// A sheet in the names of files: what stands on a floating panel has a colon in its id, which no file name bears
/// everywhere; a full stop is in no id.
pub fn name_of(sheet: &Sheet) -> String {
    match (sheet.role, sheet.id.split_once(':')) {
        (SheetRole::Floating, Some((panel, _))) => panel.to_string(),
        (_, Some((panel, own))) => format!("{panel}.{own}"),
        (_, None) => sheet.id.clone(),
    }
}

/// The name that a file has when the verdicts are otherwise.
fn counterpart(name: &str) -> String {
    name.strip_prefix(BARRED).map_or_else(|| format!("{BARRED}{name}"), str::to_owned)
}

/// `--out`, for every command that writes a set of files.
pub fn out_arg() -> Arg {
    Arg::new("out")
        .long("out")
        .value_name("FOLDER")
        .default_value("out")
        .value_parser(clap::value_parser!(PathBuf))
        .help("Folder to write into; made if it is not there")
}

/// `--formats`, for every command that writes a set of files: those written by default, joined by commas, and all that
/// there are.
pub fn formats_arg(
    default: &'static str,
    names: impl IntoIterator<Item = &'static str>,
    help: impl Into<String>,
) -> Arg {
    Arg::new("formats")
        .long("formats")
        .value_name("LIST")
        .value_delimiter(',')
        .default_value(default)
        .value_parser(PossibleValuesParser::new(names))
        .help(help.into())
}

/// The folder that `--out` names.
pub fn out(m: &ArgMatches) -> &Path {
    m.get_one::<PathBuf>("out").map_or(Path::new("out"), PathBuf::as_path)
}

/// Writes all files into a folder, which is made if it is not there.
///
/// # Errors
/// A file of that name is there that this program did not write (nothing is written then), or the disk's own.
pub fn write_all(folder: &Path, made: &[Made]) -> Result<(), Failure> {
    common::make_folder(folder)?;
    let foreign: Vec<String> = made
        .iter()
        .map(|f| folder.join(&f.name))
        .filter(|p| p.is_file() && !is_own(p))
        .map(|p| p.display().to_string())
        .collect();
    if !foreign.is_empty() {
        return Err(Failure::Sentence(format!(
            "{} would be replaced, and this program did not make {}: name another folder with --out, or move {} away. \
             Nothing was written",
            foreign.join(", "),
            if foreign.len() == 1 { "it" } else { "them" },
            if foreign.len() == 1 { "it" } else { "them" },
        )));
    }
    for file in made {
        common::write(&folder.join(&file.name), &file.bytes)?;
    }
    // the sheet of an earlier run with the other standing would lie beside this one and could be cut
    let older = made.iter().map(|f| counterpart(&f.name)).filter(|n| folder.join(n).is_file());
    for name in older {
        if !is_own(&folder.join(&name)) {
            anstream::eprintln!(
                "note: {} lies beside these files and was not made by this program: it is left as it is",
                folder.join(&name).display()
            );
            continue;
        }
        common::remove(&folder.join(&name))?;
        anstream::eprintln!(
            "removed {}: an earlier run's, the verdicts differ now",
            folder.join(&name).display()
        );
    }
    Ok(())
}

/// Whether this program wrote the file; what cannot be read is somebody else's.
fn is_own(path: &Path) -> bool {
    std::fs::read(path).is_ok_and(|bytes| mark::is_own(&bytes))
}
