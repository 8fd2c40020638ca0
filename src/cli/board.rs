//! `board`: serves a page on this machine on which the panel is laid out by hand.

use crate::board::{Board, Options, Session};
use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, interrupt, reading};
use clap::{Arg, ArgAction, ArgMatches, Command};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

fn command() -> Command {
    Command::new("board")
        .about("Lay the panel out by hand in a browser, the rules answering as it moves")
        .long_about(
            "Serves a page from this program itself, on this machine alone, and opens it. The address holds a random token: who \
             does not have it is refused, and so is a page of any other origin. What is done is kept in a journal beside the \
             file until it is saved; save writes the same file as a person would. Ctrl-C stops it.",
        )
        .arg(common::panel_arg().help("Panel file (JSON)"))
        .arg(common::instruments_arg())
        .arg(
            Arg::new("port")
                .long("port")
                .value_name("PORT")
                .default_value("0")
                .value_parser(clap::value_parser!(u16))
                .help("Port of this machine; 0: any that is free"),
        )
        .arg(
            Arg::new("no-open")
                .long("no-open")
                .action(ArgAction::SetTrue)
                .help("Only print the address: open no browser"),
        )
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    if path == reading::INPUT {
        return Err(Failure::Sentence("the board changes a file: name one, not the standard input".into()));
    }
    let session = Session::open(&path, common::catalogue(m)).map_err(Failure::Problems)?;
    let port = m.get_one::<u16>("port").copied().unwrap_or(0);
    let board = Board::open(session, Options { port }).map_err(Failure::Sentence)?;
    let address = board.address();
    common::print(&format!("{address}\n"))?;
    anstream::eprintln!("the board of {path} is open; Ctrl-C stops it");
    if !m.get_flag("no-open") && !open(&address) {
        anstream::eprintln!("no browser could be opened: open the address above yourself");
    }
    interrupt::listen();
    board.serve(interrupt::pressed).map_err(Failure::Sentence)?;
    Ok(Exit::Clean)
}

/// Opens an address in the user's browser, by the system's own way.
fn open(address: &str) -> bool {
    let (program, before): (&str, &[&str]) = if cfg!(target_os = "windows") {
        ("cmd", &["/C", "start", ""])
    } else if cfg!(target_os = "macos") {
        ("open", &[])
    } else {
        ("xdg-open", &[])
    };
    let null = std::process::Stdio::null;
    let started =
        std::process::Command::new(program).args(before).arg(address).stdout(null()).stderr(null()).spawn();
    started.is_ok()
}
