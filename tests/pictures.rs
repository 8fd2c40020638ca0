//! The pictures of the demo panels in `assets/pictures` are what the program draws now.
//!
//! `UPDATE=1 cargo test --test pictures` draws them anew: look at each before it is committed. Those of the board, which a
//! browser makes (`node tests/browser/pictures.mjs PROGRAM`), are left as they are.

use panelwright::check::{self, Findings};
use panelwright::define;
use panelwright::diag::Problems;
use panelwright::draw;
use panelwright::draw::drawing::{DrawingOptions, drawing};
use panelwright::draw::front_view::front_view;
use panelwright::draw::region::region_view;
use panelwright::draw::template::Paper;
use panelwright::export::png;
use panelwright::files::{Beside, Disk, Files};
use panelwright::geom::Point;
use panelwright::panel::Panel;
use panelwright::place::{Answer, Asks};
use panelwright::report;
use panelwright::resolve::{self, Catalogue};
use panelwright::survey::{self, Network};
use std::collections::BTreeMap;
use std::path::Path;

/// Fine enough to read the largest sheet on a screen.
const DPI: f64 = 75.0;

/// Every panel file of the demo aeroplanes, by aeroplane and name.
const PANELS: [&str; 11] = [
    "corncrake/fixed-as-found",
    "corncrake/fixed-proposed",
    "corncrake/floating-as-found",
    "corncrake/floating-proposed",
    "corncrake/whole-proposed",
    "dunlin/as-found",
    "dunlin/proposed",
    "wheatear/as-found",
    "wheatear/proposed",
    "whinchat/arranged",
    "whinchat/sketched",
];

/// Pictures of the board, which the README shows.
const BOARD: [&str; 3] = ["board-behind.png", "board-held.png", "board-photograph.png"];

fn read(name: &str) -> (Panel, Findings) {
    let files = Disk::new(env!("CARGO_MANIFEST_DIR"));
    let panel = resolve::resolve(&format!("panels/{name}.json"), &files, &Catalogue::builtin())
        .unwrap_or_else(|p| panic!("{}", p.render(false)));
    let findings = check::check(&panel, &check::Options::default());
    (panel, findings)
}

/// Where a breaker fits on one of them, near a place wished for.
fn fits() -> Vec<u8> {
    let (panel, findings) = read("corncrake/fixed-proposed");
    let disk = Disk::new(env!("CARGO_MANIFEST_DIR"));
    let text = r#"{ "format": 1, "panel": "x", "unit": "mm", "builds-on": "fixed-proposed.json",
        "place": [{ "id": "tried", "instrument": "breaker/pullable", "at": [0, 0] }] }"#;
    let name = "panels/corncrake/x.json".to_string();
    let files = Beside { others: &disk, name: name.clone(), text: text.into() };
    let with = resolve::resolve(&name, &files, &Catalogue::builtin()).unwrap();
    let subject = with.find("tried").unwrap();
    let near = Some(Point::new(0.0, 150.0));
    let asks = Asks { instrument: "breaker/pullable".into(), turn: 0.0, near, tight: false };
    let answer = Answer::of(with, subject, asks);
    png::write(&region_view(&panel, &findings.list, &answer), 0, DPI).unwrap()
}

/// File name and bytes of every picture.
fn pictures() -> BTreeMap<String, Vec<u8>> {
    let mut made = BTreeMap::new();
    for name in PANELS {
        let (panel, findings) = read(name);
        let stem = name.replace('/', "-");
        let report = report::document(&panel, &findings);
        for (what, d) in [
            ("front-view", front_view(&panel, &findings.list)),
            ("drawing", drawing(&panel, 0, &findings.list, &DrawingOptions::default()).unwrap()),
            ("report", report::pages(&report, Paper::A4)),
        ] {
            made.insert(format!("{stem}-{what}.png"), png::write(&d, 0, DPI).unwrap());
        }
    }
    made.insert("wheatear-survey.png".into(), survey());
    made.insert("corncrake-fixed-proposed-fits-breaker-pullable.png".into(), fits());
    made
}

/// The demo survey.
fn survey() -> Vec<u8> {
    let files = Disk::new(env!("CARGO_MANIFEST_DIR"));
    let mut problems = Problems::new();
    let read =
        define::read_survey("s.json", &files.read("surveys/wheatear.json").unwrap(), &mut problems).unwrap();
    let network = Network::build(&read, &mut problems).unwrap();
    let solved = survey::solve(network).unwrap();
    let drawing = draw::survey::survey(
        &read.title,
        &solved,
        (&survey::found::outline(&read, &solved), &survey::found::openings(&read, &solved)),
        &Default::default(),
        None,
    );
    png::write(&drawing, 0, DPI).unwrap()
}

#[test]
fn the_pictures_are_what_the_program_draws() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/pictures");
    let made = pictures();
    if std::env::var_os("UPDATE").is_some() {
        std::fs::create_dir_all(&folder).unwrap();
        for old in std::fs::read_dir(&folder).unwrap().map(|e| e.unwrap().path()) {
            if !BOARD.iter().any(|b| old.ends_with(b)) {
                std::fs::remove_file(old).unwrap();
            }
        }
        for (name, bytes) in &made {
            std::fs::write(folder.join(name), bytes).unwrap();
        }
    }
    let mut there: Vec<String> = std::fs::read_dir(&folder)
        .expect("assets/pictures is there")
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    there.sort();
    let mut all: Vec<String> = made.keys().cloned().chain(BOARD.map(String::from)).collect();
    all.sort();
    assert_eq!(there, all, "UPDATE=1 cargo test --test pictures");
    for (name, bytes) in &made {
        assert!(
            std::fs::read(folder.join(name)).unwrap() == *bytes,
            "{name} is stale: UPDATE=1 cargo test --test pictures"
        );
    }
}

/// Pictures of the board are there to be shown, and are what a browser makes of a window.
#[test]
fn the_readme_shows_the_pictures_of_the_board() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = std::fs::read_to_string(root.join("README.md")).unwrap();
    for name in BOARD {
        assert!(readme.contains(&format!("(assets/pictures/{name})")), "{name}");
        let file = std::fs::File::open(root.join("assets/pictures").join(name)).unwrap();
        let header = ::png::Decoder::new(std::io::BufReader::new(file)).read_info().unwrap();
        assert!(header.info().width >= 1280 && header.info().height >= 700, "{name}");
    }
}

/// A panel file that is added must be shown too.
#[test]
fn every_demo_panel_is_shown() {
    let mut found = Vec::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("panels");
    for plane in std::fs::read_dir(root).unwrap() {
        let plane = plane.unwrap();
        for file in std::fs::read_dir(plane.path()).unwrap() {
            let path = file.unwrap().path();
            let text = std::fs::read_to_string(&path).unwrap_or_default();
            if text.contains("\"panel\":") {
                let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
                found.push(format!("{}/{stem}", plane.file_name().to_string_lossy()));
            }
        }
    }
    found.sort();
    assert_eq!(found, PANELS);
}
