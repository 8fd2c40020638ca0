//! The README as a newcomer takes it: its sample is a panel, its commands run, its paths are there.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

fn readme() -> String {
    fs::read_to_string(Path::new(ROOT).join("README.md")).unwrap()
}

/// The blocks of the README that are indented by four blanks, without the indent.
fn blocks() -> Vec<String> {
    let mut all: Vec<String> = vec![String::new()];
    for line in readme().lines() {
        match (line.strip_prefix("    "), all.last_mut()) {
            (Some(code), Some(block)) => block.push_str(&format!("{code}\n")),
            (None, Some(block)) if !block.is_empty() => all.push(String::new()),
            _ => {}
        }
    }
    all.retain(|b| !b.is_empty());
    all
}

fn run(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_panelwright")).args(args).current_dir(folder).output().unwrap()
}

fn folder(name: &str) -> std::path::PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("readme-{name}"));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

#[test]
fn the_sample_is_a_panel() {
    let samples: Vec<String> =
        blocks().into_iter().filter(|b| b.contains("\"format\":") && b.contains("\"panel\":")).collect();
    assert_eq!(samples.len(), 1, "one sample of a panel file");
    let folder = folder("sample");
    for sample in samples {
        fs::write(folder.join("shed.json"), sample).unwrap();
        let o = run(&folder, &["check", "shed.json", "--format", "json"]);
        let text = String::from_utf8_lossy(&o.stdout);
        // it is no finished panel: verdicts wait for data, but all of it can be read and nothing fails
        assert_eq!(o.status.code(), Some(1), "{text}");
        let report: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(report["counts"]["fail"], 0, "{text}");
        assert!(report["counts"]["pass"].as_u64().unwrap() > 20, "{text}");
    }
    fs::remove_dir_all(folder).unwrap();
}

#[test]
fn the_sample_survey_is_solved_and_nothing_disagrees() {
    let samples: Vec<String> = blocks().into_iter().filter(|b| b.contains("\"survey\":")).collect();
    assert_eq!(samples.len(), 1, "one sample of a survey file");
    let folder = folder("survey");
    fs::write(folder.join("shed.json"), &samples[0]).unwrap();
    let o = run(&folder, &["survey", "shed.json", "--format", "json"]);
    let text = String::from_utf8_lossy(&o.stdout);
    assert_eq!(o.status.code(), Some(0), "{text}{}", String::from_utf8_lossy(&o.stderr));
    let report: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(report["redundancy"], 2, "{text}");
    fs::remove_dir_all(folder).unwrap();
}

#[test]
fn the_two_commands_name_what_is_there() {
    let commands: Vec<String> =
        blocks().into_iter().filter(|b| b.starts_with("cargo run") || b.starts_with("bash ")).collect();
    assert_eq!(commands.len(), 2, "{commands:?}");
    for word in commands.iter().flat_map(|c| c.split_whitespace()).filter(|w| w.contains('/')) {
        assert!(Path::new(ROOT).join(word).exists(), "{word}");
    }
    let gate = fs::read_to_string(Path::new(ROOT).join(".ci/run")).unwrap();
    assert!(gate.contains("tests/all"), "{gate}");
}

#[test]
fn every_file_and_folder_it_names_is_there() {
    let text = readme();
    let links = text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    let quoted = text.split('`').skip(1).step_by(2).filter(|w| {
        w.contains('/') && !w.contains([' ', '"']) || ["LICENSE-MIT", "THIRD-PARTY.md"].contains(w)
    });
    let mut seen = 0;
    // what the reader's own commands write is held by the newcomer's test
    let theirs = |p: &&str| p.starts_with("out/my-panel");
    for path in links.chain(quoted).filter(|p| !p.contains("://") && !theirs(p)) {
        assert!(Path::new(ROOT).join(path).exists(), "{path}");
        seen += 1;
    }
    assert!(seen >= 4, "{seen} names");
}
