//! Keeps the tree as its documents say: heads, lengths, import directions, paths, licences.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// Files of one ending below a folder, sorted, relative to the root.
fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    fn walk(at: &Path, ending: &str, found: &mut Vec<PathBuf>) {
        let Ok(entries) = fs::read_dir(at) else { return };
        for e in entries.flatten() {
            let p = e.path();
            if p.is_dir() {
                walk(&p, ending, found);
            } else if p.extension().is_some_and(|x| x == ending) {
                found.push(p);
            }
        }
    }
    let mut found = Vec::new();
    walk(&Path::new(ROOT).join(folder), ending, &mut found);
    found.sort();
    found
}

fn shown(p: &Path) -> String {
    p.strip_prefix(ROOT).unwrap_or(p).to_string_lossy().replace('\\', "/")
}

#[test]
fn every_source_file_opens_with_what_it_is_and_stays_short() {
    let mut bad = Vec::new();
    let all: Vec<PathBuf> = ["src", "tests", "benches"].iter().flat_map(|f| files(f, "rs")).collect();
    assert!(all.len() > 50, "the walk found only {} files", all.len());
    for p in all {
        let text = fs::read_to_string(&p).unwrap();
        if !text.starts_with("//! ") {
            bad.push(format!("{}: no //! line at its head", shown(&p)));
        }
        let lines = text.lines().count();
        if lines > 400 {
            bad.push(format!("{}: {lines} lines, at most 400", shown(&p)));
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}

/// Which rooms of the crate a room may import. What is not listed may import nothing but std and crates.
const MAY_IMPORT: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("geom", &["units"]),
    ("jobs", &[]),
    ("calc", &["units"]),
    ("diag", &["units"]),
    ("files", &["diag", "units"]),
    ("solid", &["geom"]),
    ("panel", &["diag", "geom", "solid", "units"]),
    ("define", &["diag", "files", "units"]),
    ("import", &["diag", "geom", "units"]),
    ("survey", &["define", "diag", "geom", "solid", "units"]),
    ("cut", &["check", "diag", "geom", "import", "panel", "units"]),
    ("found", &["cut", "diag", "geom", "import", "panel", "units"]),
    ("resolve", &["calc", "define", "diag", "files", "geom", "panel", "solid", "units"]),
    ("check", &["calc", "geom", "jobs", "panel", "solid", "units"]),
    ("as_cut", &["check", "geom", "panel"]),
    ("compare", &["check", "geom", "panel"]),
    ("place", &["calc", "check", "geom", "panel", "solid"]),
    ("edit", &["geom", "panel", "place", "units"]),
    ("many", &["diag", "files", "jobs", "place", "resolve"]),
    (
        "draw",
        &[
            "calc", "check", "compare", "cut", "found", "geom", "import", "panel", "place", "solid",
            "survey", "units",
        ],
    ),
    ("export", &["draw", "geom", "solid", "units"]),
    (
        "report",
        &[
            "as_cut", "check", "compare", "cut", "define", "diag", "draw", "export", "found", "geom",
            "import", "many", "panel", "place", "solid", "survey", "units",
        ],
    ),
    (
        "board",
        &[
            "check", "compare", "define", "diag", "draw", "edit", "export", "files", "geom", "import",
            "panel", "place", "report", "resolve", "solid", "survey", "units",
        ],
    ),
];

/// Exceptions with their reason.
const ALSO: &[(&str, &str, &str)] = &[
    ("units", "diag", "did_you_mean: a function of words alone"),
    ("check", "diag", "tests alone build a Where"),
    ("draw", "diag", "tests alone build a Where"),
    ("resolve", "check", "the list of rule ids, to refuse a limit for a rule that does not exist"),
];

#[test]
fn rooms_import_only_what_the_direction_allows() {
    let mut bad = Vec::new();
    for p in files("src", "rs") {
        let name = shown(&p);
        let room = name.trim_start_matches("src/").split(['/', '.']).next().unwrap_or("").to_string();
        let Some((_, allowed)) = MAY_IMPORT.iter().find(|(r, _)| *r == room) else { continue };
        let text = fs::read_to_string(&p).unwrap();
        for (n, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or("");
            for used in code.match_indices("crate::").map(|(i, _)| &code[i + 7..]) {
                let target: String = used.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                let known = MAY_IMPORT.iter().any(|(r, _)| *r == target) || target == "cli";
                let fine = target == room
                    || allowed.contains(&target.as_str())
                    || ALSO.iter().any(|(a, b, _)| *a == room && *b == target);
                if known && !fine {
                    bad.push(format!("{name}:{}: {room} may not import {target}", n + 1));
                }
            }
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}

#[test]
fn every_path_named_in_the_developers_page_exists() {
    let text = fs::read_to_string(Path::new(ROOT).join("DEVELOPERS.md")).unwrap();
    let mut seen = 0;
    let mut bad = Vec::new();
    for word in text.split('`').skip(1).step_by(2) {
        let path = word.trim_end_matches('/');
        let looks =
            ["src/", "tests/", "benches/", "instruments/", "panels/", "surveys/", "assets/", "out/", ".ci/"]
                .iter()
                .any(|s| word.starts_with(s));
        if !looks || path.contains(['<', '*', ' ', '{']) {
            continue;
        }
        seen += 1;
        if !Path::new(ROOT).join(path).exists() {
            bad.push(path.to_string());
        }
    }
    assert!(seen >= 15, "only {seen} paths found in DEVELOPERS.md");
    assert!(bad.is_empty(), "DEVELOPERS.md names what is not there: {bad:?}");
}

#[test]
fn no_hash_order_and_no_platform_trigonometry_is_let_through() {
    // clippy bans them by name; an allow attribute would open the door again
    for p in files("src", "rs") {
        let text = fs::read_to_string(&p).unwrap();
        assert!(
            !text.contains("allow(clippy::disallowed"),
            "{}: an exception to the banned methods needs a way without it",
            shown(&p)
        );
    }
}

#[test]
fn licences_of_all_dependencies_are_permissive() {
    let out = std::process::Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(ROOT)
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let meta: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let free: BTreeSet<&str> = [
        "MIT",
        "Apache-2.0",
        "BSD-2-Clause",
        "BSD-3-Clause",
        "ISC",
        "Zlib",
        "Unicode-3.0",
        "CC0-1.0",
        "0BSD",
        "Unlicense",
        "BSL-1.0",
        "Apache-2.0 WITH LLVM-exception",
        "MIT-0",
    ]
    .into();
    let mut bad = Vec::new();
    let packages = meta["packages"].as_array().unwrap();
    assert!(packages.len() > 100);
    for p in packages {
        let licence = p["license"].as_str().unwrap_or("");
        // every AND term needs one free OR choice
        let fine = licence
            .replace(['(', ')'], "")
            .split(" AND ")
            .all(|term| term.split(" OR ").flat_map(|t| t.split('/')).any(|one| free.contains(one.trim())));
        if licence.is_empty() || !fine {
            bad.push(format!("{}: {licence:?}", p["name"]));
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
    let direct: BTreeSet<String> = packages
        .iter()
        .find(|p| p["name"] == "panelwright")
        .map(|p| {
            p["dependencies"]
                .as_array()
                .unwrap()
                .iter()
                .map(|d| d["name"].as_str().unwrap().to_string())
                .collect()
        })
        .unwrap();
    for asked in ["kurbo", "usvg", "resvg", "svg", "serde_json", "clap", "geo"] {
        assert!(direct.contains(asked), "{asked} is no direct dependency any more");
    }
}

#[test]
fn each_direct_dependency_is_used() {
    let manifest = fs::read_to_string(Path::new(ROOT).join("Cargo.toml")).unwrap();
    let section = manifest.split("[dependencies]").nth(1).unwrap().split("\n[").next().unwrap();
    let source: String = files("src", "rs").iter().map(|p| fs::read_to_string(p).unwrap()).collect();
    for line in section.lines().filter(|l| !l.starts_with('#') && l.contains('=')) {
        let name = line.split('=').next().unwrap().trim().replace('-', "_");
        let used = [format!("{name}::"), format!("use {name}")].iter().any(|u| source.contains(u.as_str()));
        assert!(used, "{name} stands in Cargo.toml but no source file uses it");
    }
}

#[test]
fn third_party_notices_are_current() {
    let out = std::process::Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(ROOT)
        .output()
        .unwrap();
    let meta: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let mut rows: Vec<String> = meta["packages"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|p| p["name"] != "panelwright")
        .map(|p| {
            let text = |k: &str| p[k].as_str().unwrap_or("").to_string();
            format!("| {} | {} | {} |", text("name"), text("version"), text("license"))
        })
        .collect();
    rows.sort();
    let page = format!(
        "# Third-party notices\n\nThe program is built from these packages, each under the licence named; the texts are in their sources.\n\
         The bundled font has its licence beside it in `assets/fonts`, three.js (MIT), with which the board draws solids, in\n\
         `assets/board/vendor`.\n\n| package | version | licence |\n| --- | --- | --- |\n{}\n",
        rows.join("\n")
    );
    let path = Path::new(ROOT).join("THIRD-PARTY.md");
    if fs::read_to_string(&path).unwrap_or_default() != page {
        assert!(
            std::env::var_os("UPDATE").is_some(),
            "THIRD-PARTY.md is stale: UPDATE=1 cargo test --test tidy"
        );
        fs::write(&path, page).unwrap();
    }
}
