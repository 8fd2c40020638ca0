//! Small panels in memory and the whole program in a folder of its own.

use panelwright::check::{Finding, Findings, Note, Options, Verdict, check};
use panelwright::files::{Files, Memory};
use panelwright::panel::Panel;
use panelwright::report::{TextOptions, text};
use panelwright::resolve::{Catalogue, resolve};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A panel with its findings.
pub struct Case {
    pub panel: Panel,
    pub findings: Findings,
}

/// One verdict with words of its own: verdict, id, words.
pub type Said = (&'static str, String, String);

impl Case {
    /// Reads `panel.json` and the instruments beside it, which must be valid.
    pub fn new(panel: &str, instruments: &[(&str, &str)]) -> Case {
        let mut files = Memory::new().with("panel.json", panel);
        for (name, text) in instruments {
            files = files.with(*name, text);
        }
        let panel = resolve("panel.json", &files as &dyn Files, &Catalogue::builtin())
            .unwrap_or_else(|p| panic!("{}", p.render(false)));
        let findings = check(&panel, &Options::default());
        Case { panel, findings }
    }

    /// What one rule says and is no plain pass.
    pub fn said(&self, rule: &str) -> Vec<Said> {
        let words = |f: &Finding| match &f.note {
            Note::Says(w) | Note::Waits(w) => w.clone(),
            _ => String::new(),
        };
        let list = self.findings.list.iter().filter(|f| f.rule.id == rule && f.verdict != Verdict::Pass);
        list.map(|f| (f.verdict.word(), f.id(&self.panel), words(f))).collect()
    }

    /// The report for people, unwrapped: every run of blanks is one.
    pub fn report(&self) -> String {
        let text = text(&self.panel, &self.findings, &TextOptions::default());
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Holds that a message stands in the report once, and before every other verdict.
    #[track_caller]
    pub fn comes_first(&self, message: &str) {
        let report = self.report();
        assert_eq!(report.matches(message).count(), 1, "{report}");
        let before = report.split(message).next().unwrap_or("");
        let others = self.findings.list.iter().filter(|f| f.verdict == Verdict::Fail);
        for f in others.filter(|f| f.rule.id != "plausible") {
            assert!(!before.contains(&f.id(&self.panel)), "{} stands before: {message}", f.id(&self.panel));
        }
    }
}

/// A sheet of 610 x 235 mm with `rest` behind it; line 4 on is the rest.
pub fn panel(rest: &str) -> String {
    format!(
        "{{ \"format\": 1, \"panel\": \"Trap\", \"unit\": \"mm\",\n\
         \"sheet\": {{ \"outline\": \"M 0 0 H 610 V 235 H 0 Z\", \"material\": \"6061-T6\", \"thickness\": 2, \"new\": true }},\n\
         \"process\": {{ \"kind\": \"hand\", \"tolerance\": 0 }}, \"tolerances\": {{ \"position\": 0, \"size\": 0 }},\n{rest} }}"
    )
}

/// A dial put in from the front: opening on line 2, four screws on line 3, bezel on line 4.
pub fn dial(unit: &str, opening: &str, screws: &str, bezel: &str) -> String {
    format!(
        "{{ \"format\": 1, \"instrument\": \"Dial\", \"kind\": \"gauge\", \"unit\": \"{unit}\", \"mounting\": \"front\",\n\
         \"openings\": [{{ \"id\": \"main\", \"shape\": {{ \"circle\": {opening} }} }}],\n\
         \"holes\": [{{ \"id\": \"screw\", {screws} }}],\n\
         \"bezel\": {{ \"shape\": {{ \"rectangle\": [{bezel}, {bezel}] }}, \"thickness\": {thick} }} }}",
        thick = if unit == "in" { "0.1" } else { "3" }
    )
}

/// A folder of its own for one test, gone when dropped.
pub struct Scratch(PathBuf);

impl Scratch {
    pub fn new(name: &str) -> Scratch {
        let p = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("traps-{name}"));
        let _ = fs::remove_dir_all(&p);
        fs::create_dir_all(&p).unwrap();
        Scratch(p)
    }

    pub fn write(&self, name: &str, text: &str) {
        fs::write(self.0.join(name), text).unwrap();
    }

    pub fn read(&self, name: &str) -> String {
        String::from_utf8_lossy(&fs::read(self.0.join(name)).unwrap()).into_owned()
    }

    /// Names in a folder below, sorted; none when it is not there.
    pub fn names(&self, folder: &str) -> Vec<String> {
        let Ok(entries) = fs::read_dir(self.0.join(folder)) else { return Vec::new() };
        let mut names: Vec<String> =
            entries.map(|e| e.unwrap().file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    /// The words of a PDF, as poppler reads them.
    pub fn pdf_text(&self, name: &str) -> String {
        let o = Command::new("pdftotext").arg("-layout").arg(self.0.join(name)).arg("-").output().unwrap();
        String::from_utf8_lossy(&o.stdout).into_owned()
    }

    /// Runs the program in the folder: exit code, standard output, standard error.
    pub fn run(&self, args: &[&str]) -> (i32, String, String) {
        let o: Output = Command::new(env!("CARGO_BIN_EXE_panelwright"))
            .args(args)
            .current_dir(&self.0)
            .env_remove("RUST_BACKTRACE")
            .output()
            .unwrap();
        let text = |b: &[u8]| String::from_utf8_lossy(b).into_owned();
        (o.status.code().unwrap_or(-1), text(&o.stdout), text(&o.stderr))
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}
