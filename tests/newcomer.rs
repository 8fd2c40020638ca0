//! The way of somebody who never saw the program: `new`, three lines edited, `check`, `template`, by the words of
//! the README alone. Commands, lines and files are taken from there.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// One section of the README.
fn section(title: &str) -> String {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    let (_, rest) = text.split_once(&format!("## {title}\n")).unwrap_or_else(|| panic!("no section {title}"));
    rest.split("\n## ").next().unwrap_or("").to_string()
}

/// The lines of a section that stand indented by four blanks.
fn code(section: &str) -> Vec<String> {
    section.lines().filter_map(|l| l.strip_prefix("    ")).map(str::to_string).collect()
}

struct Desk(PathBuf);

impl Desk {
    fn new(name: &str) -> Desk {
        let p = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("newcomer-{name}"));
        let _ = fs::remove_dir_all(&p);
        fs::create_dir_all(&p).unwrap();
        Desk(p)
    }

    /// Types a command of the README as it stands there: exit code, output, errors.
    fn types(&self, line: &str) -> (i32, String, String) {
        let line = line.split('#').next().unwrap_or("").trim();
        let args = line.strip_prefix("panelwright ").unwrap_or_else(|| panic!("{line} is another program"));
        let o = Command::new(env!("CARGO_BIN_EXE_panelwright"))
            .args(args.split_whitespace())
            .current_dir(&self.0)
            .output()
            .unwrap();
        let text = |b: &[u8]| String::from_utf8_lossy(b).into_owned();
        (o.status.code().unwrap_or(-1), text(&o.stdout), text(&o.stderr))
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.0.join(name)).unwrap()
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.0.join(name), text).unwrap();
    }

    fn has(&self, name: &str) -> bool {
        self.0.join(name).is_file()
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Puts a line of the README in the place of the file's line with the same id; keeps the blanks before it.
fn edit(text: &str, line: &str) -> String {
    let id = line.split("\"id\": ").nth(1).and_then(|l| l.split(',').next()).unwrap();
    let mut found = 0;
    let lines = text.lines().map(|old| {
        if !old.trim_start().starts_with(&format!("{{ \"id\": {id},")) {
            return old.to_string();
        }
        found += 1;
        let blanks = &old[..old.len() - old.trim_start().len()];
        format!("{blanks}{line}")
    });
    let text = lines.collect::<Vec<_>>().join("\n") + "\n";
    assert_eq!(found, 1, "{id} stands once in the starter, on a line of its own");
    text
}

/// The command among the lines that does something, such as `check`.
fn command<'a>(lines: &'a [String], verb: &str) -> &'a str {
    let start = format!("panelwright {verb} ");
    lines.iter().find(|l| l.starts_with(&start)).unwrap_or_else(|| panic!("no command {verb}"))
}

#[test]
fn from_nothing_to_a_template_by_three_lines() {
    let desk = Desk::new("mm");
    let own = section("Your own panel");
    let lines = code(&own);
    let (exit, out, err) = desk.types(command(&lines, "new"));
    assert_eq!(exit, 0, "{err}");
    assert!(out.contains("panelwright check my-panel.json"), "says what comes next: {out}");

    // what a newcomer sees first: nothing wrong, and four things that only they can know, each with what to do
    let (exit, out, err) = desk.types(command(&lines, "check"));
    assert_eq!(exit, 1, "{err}");
    assert!(out.contains("fail 0   tight 0   withheld 4"), "{out}");
    assert!(own.contains("four verdicts are withheld"), "{own}");
    let words = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for name in ["round/3-1-8in-front", "round/3-1-8in-knob", "switch/toggle"] {
        let show = format!("panelwright instruments show {name}");
        assert!(words.contains(&format!("`{show}` lists them")), "{words}");
        let (exit, out, err) = desk.types(&show);
        assert_eq!(exit, 0, "{err}");
        assert!(out.contains("typical"), "{out}");
    }
    assert!(words.contains("then write on the placement \"checked\": \"who, when\""), "{words}");
    let (exit, _, err) = desk.types(command(&lines, "template"));
    assert_eq!(exit, 1, "{err}");
    assert!(desk.has("out/NOT-FOR-CUTTING-my-panel.dxf"));

    // the three lines
    let edits: Vec<&String> = lines.iter().filter(|l| l.starts_with("{ \"id\"")).collect();
    assert_eq!(edits.len(), 3, "three lines to edit");
    let before = desk.read("my-panel.json");
    let after = edits.iter().fold(before.clone(), |text, line| edit(&text, line));
    let changed = before.lines().zip(after.lines()).filter(|(a, b)| a != b).count();
    assert_eq!(changed, 3);
    desk.write("my-panel.json", &after);

    let (exit, out, err) = desk.types(command(&lines, "check"));
    assert_eq!(exit, 0, "{out}{err}");
    assert!(out.contains("fail 0   tight 0   withheld 0"), "{out}");
    let (exit, out, err) = desk.types(command(&lines, "template"));
    assert_eq!(exit, 0, "{err}");
    assert!(!out.contains("NOT FOR CUTTING"), "{out}");
    // every file that the README names is there, and the sheets of before are gone
    let named: Vec<&str> = own.split('`').skip(1).step_by(2).filter(|w| w.starts_with("out/")).collect();
    assert!(named.len() >= 3, "{named:?}");
    for name in named {
        assert!(desk.has(name), "{name}");
    }
    assert!(desk.has("out/my-panel-back.pdf") && !desk.has("out/NOT-FOR-CUTTING-my-panel.dxf"));

    // the fit report of before is out of date once an item moves, as the README says
    let (exit, out, _) = desk.types("panelwright check my-panel.json --earlier out/my-panel-fit.json");
    assert_eq!(exit, 0, "{out}");
    desk.write("my-panel.json", &after.replace("[66, 84]", "[65, 84]"));
    let (exit, out, _) = desk.types("panelwright check my-panel.json --earlier out/my-panel-fit.json");
    assert_eq!(exit, 1);
    assert!(out.starts_with("Out of date: "), "{out}");
}

#[test]
fn all_other_commands_of_the_section_run() {
    let desk = Desk::new("others");
    let lines = code(&section("Your own panel"));
    desk.types(command(&lines, "new"));
    // the commands stand in the order of the job: the three lines have been edited when a file is cut
    let edits = lines.iter().filter(|l| l.starts_with("{ \"id\""));
    desk.write("my-panel.json", &edits.fold(desk.read("my-panel.json"), |text, line| edit(&text, line)));
    let mut ran = 0;
    // the board serves until somebody stops it: `tests/board.rs` and the browser's run have it
    let ends = |l: &&String| l.starts_with("panelwright ") && !l.starts_with("panelwright board ");
    for line in lines.iter().filter(ends).skip(1) {
        let (exit, _, err) = desk.types(line);
        // withheld: what no option says about the cut when a cutting file is read, and whether an instrument of
        // typical sizes fits before its own are measured
        let withheld = ["panelwright cut-check", "panelwright fits"];
        let most = i32::from(withheld.iter().any(|w| line.starts_with(w)));
        assert!((0..=most).contains(&exit), "{line}: {exit} {err}");
        ran += 1;
    }
    assert!(ran >= 7, "{ran} commands");
    let (exit, out, _) = desk.types("panelwright schema panel");
    assert_eq!(exit, 0);
    assert!(serde_json::from_str::<serde_json::Value>(&out).is_ok());
}

#[test]
fn in_inches_too() {
    let desk = Desk::new("in");
    let (exit, _, err) = desk.types("panelwright new my-panel.json --unit in");
    assert_eq!(exit, 0, "{err}");
    let text = desk.read("my-panel.json");
    let checked = |text: String, id: &str| {
        let line = text.lines().find(|l| l.contains(&format!("\"id\": \"{id}\""))).unwrap().to_string();
        let end = line.rfind(" }").unwrap();
        let with = format!("{}, \"checked\": \"A. Builder, 2 April\"{}", &line[..end], &line[end..]);
        text.replace(&line, &with)
    };
    desk.write("my-panel.json", &["airspeed", "altimeter", "switches"].into_iter().fold(text, checked));
    let (exit, out, err) = desk.types("panelwright check my-panel.json");
    assert_eq!(exit, 0, "{out}{err}");
    let (exit, _, err) = desk.types("panelwright template my-panel.json");
    assert_eq!(exit, 0, "{err}");
}

#[test]
fn an_instrument_of_ones_own_is_placed() {
    let desk = Desk::new("instrument");
    let text = section("What an instrument file looks like");
    let sample = code(&text).join("\n");
    let name = text.split('`').skip(1).step_by(2).find(|w| w.ends_with(".json") && !w.contains('/')).unwrap();
    desk.write(name, &sample);
    desk.types("panelwright new my-panel.json");
    let panel = desk.read("my-panel.json").replace("round/3-1-8in-front", name);
    desk.write("my-panel.json", &panel);
    let (exit, out, err) = desk.types("panelwright check my-panel.json --passes");
    assert_eq!(exit, 1, "{err}");
    // it is measured: nothing about it waits
    assert!(out.contains("fail 0   tight 0   withheld 3"), "{out}");
    assert!(out.contains("pass  plausible/airspeed.cutout"), "{out}");
    // from a folder of one's own, by its name there
    fs::create_dir_all(desk.0.join("mine/gauge")).unwrap();
    desk.write("mine/gauge/oil.json", &sample);
    desk.write("my-panel.json", &panel.replace(name, "gauge/oil"));
    let (exit, other, err) = desk.types("panelwright check my-panel.json --passes --instruments mine");
    assert_eq!(exit, 1, "{err}");
    assert!(other.contains("fail 0   tight 0   withheld 3"), "{other}");
}

/// What a newcomer types wrong first, and the word that helps.
#[test]
fn first_slips_are_told_with_what_to_do() {
    let desk = Desk::new("slips");
    desk.types("panelwright new my-panel.json");
    let text = desk.read("my-panel.json");
    for (right, wrong, words) in [
        ("\"at\": [70, 84]", "\"at\": [70, 84] \"checked\": \"me\"", "put a comma between two entries"),
        ("\"3 1/2 in\"", "\"3 1/2\"\"", "write \"3 1/8 in\", or the mark with a stroke"),
        ("\"3 1/2 in\"", "3 1/2", "write it as a text with its unit"),
        ("\"3 1/2 in\"", "90mm", "write the whole as a text: \"90 mm\""),
        ("\"3 1/2 in\"", "88,9", "use a point for decimals: 88.9"),
        ("\"3 1/2 in\"", "\"3 1/2\"", "write \"3 1/2 in\" if inches are meant, \"3 1/2 mm\" if not"),
        ("round/3-1-8in-knob", "round/3-1-8-knob", "did you mean \"round/3-1-8in-knob\"?"),
        ("\"right-of\"", "\"rigth-of\"", "did you mean `right-of`?"),
        ("\"right-of\": \"airspeed\"", "\"right-of\": \"asi\"", "there is no item `asi` on this panel"),
        ("\"6061-T6\"", "6061-T6", "put it in double quotes"),
        ("\"at\": [70, 84] }", "\"at\": [70, 84], \"checked\": true }", "write who and when"),
        ("\"tilt\": 0", "\"tilt\": 82", "8 if 82 was measured from the level"),
    ] {
        assert!(text.contains(right), "{right}");
        desk.write("my-panel.json", &text.replacen(right, wrong, 1));
        let (exit, out, err) = desk.types("panelwright check my-panel.json");
        assert_eq!((exit, out.as_str()), (2, ""), "{wrong}: {err}");
        let flat = err.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words), "{wrong}: {err}");
        assert!(err.contains("my-panel.json:"), "{wrong}: {err}");
        // one slip, one message
        assert_eq!(err.matches("help:").count(), 1, "{wrong}: {err}");
    }
    let (exit, _, err) = desk.types("panelwright check no-such.json");
    assert_eq!(exit, 2);
    assert!(err.contains("`panelwright new FILE` writes a starter"), "{err}");
}
