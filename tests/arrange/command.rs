//! The command `arrange` from outside.

use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// Three covers on one another; a grommet that is there.
const HEAP: &str = r#"{ "format": 1, "panel": "Heap", "unit": "mm",
  "sheet": { "material": "6061-T6", "thickness": 2, "coat": 0.08, "outline": "M 0 0 H 300 V 120 H 0 Z" },
  "depth": { "default": 300 },
  "place": [
    { "id": "loom", "instrument": "mount/grommet", "at": [150, 20], "kept": true },
    { "id": "one", "instrument": "blank/3-1-8in", "at": [60, 60] },
    { "id": "two", "instrument": "blank/2-1-4in", "at": [70, 60], "label": "SPARE" },
    { "id": "three", "instrument": "blank/2-1-4in", "right-of": "two", "pitch": 10 } ] }"#;

fn scratch(name: &str, text: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("arrange-{name}"));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let file = folder.join("heap.json");
    fs::write(&file, text).unwrap();
    file
}

fn run(args: &[&str]) -> (i32, String, Output) {
    let o = Command::new(env!("CARGO_BIN_EXE_panelwright")).args(args).output().unwrap();
    let all = String::from_utf8_lossy(&o.stdout).into_owned() + &String::from_utf8_lossy(&o.stderr);
    (o.status.code().unwrap_or(-1), all, o)
}

#[test]
fn a_heap_is_put_in_order_in_a_file_of_its_own() {
    let file = scratch("heap", HEAP);
    let path = file.to_str().unwrap();
    let (_, said, o) = run(&["arrange", path, "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{said}"));
    assert_eq!(v["found"], true, "{said}");
    assert_eq!(
        (&v["arrangements"][0]["fail"], &v["arrangements"][0]["tight"]),
        (&Value::from(Vec::<Value>::new()), &Value::from(Vec::<Value>::new()))
    );
    // the user's own file is as it was, the new one passes by itself
    assert_eq!(fs::read_to_string(&file).unwrap(), HEAP);
    let new = file.with_file_name("heap-arranged.json");
    let (_, said, o) = run(&["check", new.to_str().unwrap(), "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{said}"));
    assert_eq!((v["counts"]["fail"].as_u64(), v["counts"]["tight"].as_u64()), (Some(0), Some(0)), "{said}");
    // what is there stays
    assert!(!fs::read_to_string(&new).unwrap().contains("loom"));
    // again: the same bytes, and its own file may be replaced
    let first = fs::read(&new).unwrap();
    let (code, said, _) = run(&["arrange", path]);
    assert!(code <= 1 && said.contains("stays") || said.contains("was x"), "{said}");
    assert_eq!(fs::read(&new).unwrap(), first);
    assert_eq!(fs::read_dir(file.parent().unwrap()).unwrap().count(), 2);
}

#[test]
fn a_file_that_somebody_wrote_is_never_replaced() {
    let file = scratch("mine", HEAP);
    let new = file.with_file_name("heap-arranged.json");
    for mine in ["{}".to_string(), HEAP.to_string()] {
        fs::write(&new, &mine).unwrap();
        let (code, said, _) = run(&["arrange", file.to_str().unwrap()]);
        assert!(code == 2 && said.contains("name another file with --write"), "{said}");
        assert_eq!(fs::read_to_string(&new).unwrap(), mine);
    }
    // one of its own that was worked on since
    fs::remove_file(&new).unwrap();
    run(&["arrange", file.to_str().unwrap()]);
    let worked = fs::read_to_string(&new).unwrap().replace("arranged\"", "mine\"");
    fs::write(&new, &worked).unwrap();
    let (code, _, _) = run(&["arrange", file.to_str().unwrap()]);
    assert_eq!((code, fs::read_to_string(&new).unwrap()), (2, worked));
    // nor the panel itself, nor a file elsewhere
    let path = file.to_str().unwrap();
    assert_eq!(run(&["arrange", path, "--write", path]).0, 2);
    let (code, said, _) = run(&["arrange", path, "--write", "/tmp/heap-elsewhere.json"]);
    assert!(code == 2 && said.contains("belongs into its folder"), "{said}");
}

#[test]
fn no_room_is_said_with_the_tightest_conflict_and_nothing_is_written() {
    let text = HEAP.replace("H 300 V 120", "H 200 V 105");
    let file = scratch("full", &text);
    let (code, said, _) = run(&["arrange", file.to_str().unwrap(), "--moves", "300"]);
    assert!(code == 1 && said.contains("no arrangement found (seed 1, 300 of at most 300 moves"), "{said}");
    assert!(said.contains("The tightest conflict is") && said.contains("does not prove"), "{said}");
    assert_eq!(fs::read_dir(file.parent().unwrap()).unwrap().count(), 1);
}

#[test]
fn what_cannot_be_asked_is_refused() {
    let file = scratch("refused", &HEAP.replace("\"at\": [60, 60]", "\"at\": [60, 60], \"locked\": true"));
    let path = file.to_str().unwrap();
    for (args, words) in [
        (vec!["arrange", "-"], "from a file"),
        (vec!["arrange", path, "--moves", "0"], "--moves"),
        (vec!["arrange", path, "--seed", "one"], "--seed"),
        (vec!["arrange", "nowhere.json"], "nowhere.json"),
    ] {
        let (code, said, _) = run(&args);
        assert!(code == 2 && said.contains(words), "{args:?}: {said}");
    }
}

#[test]
fn where_nothing_may_move_what_to_write_is_said_at_its_line() {
    let still = HEAP
        .replace("\"at\": [", "\"locked\": true, \"at\": [")
        .replace("\"right-of\"", "\"locked\": true, \"right-of\"");
    let file = scratch("still", &still);
    let (code, said, _) = run(&["arrange", file.to_str().unwrap()]);
    assert!(
        code == 2 && said.contains("nothing on this panel may move") && said.contains("heap.json"),
        "{said}"
    );
    assert!(said.contains(r#""arrange": { "free": ["loom"] }"#), "{said}");
    let wished =
        HEAP.replace("\"place\"", "\"arrange\": { \"fixed\": [\"one\", \"two\", \"three\"] },\n  \"place\"");
    let file = scratch("fixed", &wished);
    let (code, said, _) = run(&["arrange", file.to_str().unwrap()]);
    assert!(code == 2 && said.contains("heap.json:4:") && said.contains("under \"fixed\""), "{said}");
}

#[test]
fn alternatives_differ_and_the_cheapest_comes_first() {
    let file = scratch("alternatives", HEAP);
    let path = file.to_str().unwrap();
    let (_, said, o) = run(&["arrange", path, "--alternatives", "2", "--moves", "1600", "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{said}"));
    let all = v["arrangements"].as_array().unwrap();
    assert_eq!(all.len(), 2, "{said}");
    assert!(all[0]["cost"].as_f64() <= all[1]["cost"].as_f64());
    let first = fs::read(file.with_file_name("heap-arranged.json")).unwrap();
    let second = fs::read(file.with_file_name("heap-arranged-2.json")).unwrap();
    assert_ne!(first, second);
    // each term is told with what it is made of
    for t in all[0]["terms"].as_array().unwrap() {
        let cost = t["measured"].as_f64().map_or(0.0, |m| m * t["weight"].as_f64().unwrap());
        assert!(
            (t["cost"].as_f64().unwrap() - cost).abs() < 1e-9 && !t["source"].as_str().unwrap().is_empty()
        );
    }
}

#[test]
fn a_time_limit_that_no_clock_reaches_is_none() {
    let file = scratch("no-limit", HEAP);
    let (code, said, _) =
        run(&["arrange", file.to_str().unwrap(), "--moves", "300", "--most-seconds", "18446744073709551615"]);
    assert!(code <= 1 && said.contains("300 moves"), "{said}");
}

#[test]
fn a_time_limit_keeps_the_best_so_far_and_says_that_it_does_not_repeat() {
    let file = scratch("limit", HEAP);
    let path = file.to_str().unwrap();
    let many = ["arrange", path, "--moves", "1000000000", "--most-seconds", "2"];
    let (code, said, _) = run(&many);
    assert!(code <= 1 && said.contains("another run may come out otherwise"), "{said}");
    assert!(file.with_file_name("heap-arranged.json").is_file());
}

#[test]
#[cfg(unix)]
fn an_interrupt_keeps_the_best_so_far() {
    let file = scratch("interrupt", HEAP);
    let path = file.to_str().unwrap();
    let child = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["arrange", path, "--moves", "1000000000"])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_secs(4));
    let sent = Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap();
    assert!(sent.success());
    let o = child.wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&o.stdout).into_owned() + &String::from_utf8_lossy(&o.stderr);
    assert!(said.contains("another run may come out otherwise"), "{said}");
    assert!(file.with_file_name("heap-arranged.json").is_file(), "{said}");
}

#[test]
fn an_item_larger_than_the_sheet_is_told_with_its_line() {
    let file =
        scratch("large", &HEAP.replace("H 300 V 120 H 0", "H 120 V 70 H 0").replace("[150, 20]", "[12, 20]"));
    let (code, said, _) = run(&["arrange", file.to_str().unwrap()]);
    assert!(code == 2 && said.contains("one has no room on its sheet"), "{said}");
    assert!(said.contains("heap.json:6:") || said.contains("heap.json\", line 6"), "{said}");
}
