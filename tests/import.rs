//! A panel from the drawing of another program: our own files back again, other programs' files against other readers,
//! ugly files made here, and damaged ones.

#[path = "import/commands.rs"]
mod commands;
#[path = "import/doubt.rs"]
mod doubt;
#[path = "import/fuzz.rs"]
mod fuzz;
#[path = "import/make.rs"]
mod make;
#[path = "import/other_readers.rs"]
mod other_readers;
#[path = "import/ours.rs"]
mod ours;
#[path = "support/panels.rs"]
mod panels;
#[path = "import/patterns.rs"]
mod patterns;
#[path = "import/points.rs"]
mod points;
#[path = "import/proposals.rs"]
mod proposals;
#[path = "import/ugly_dxf.rs"]
mod ugly_dxf;
#[path = "import/ugly_svg.rs"]
mod ugly_svg;
#[path = "support/written.rs"]
mod written;

use panelwright::cli::survey_drawing;
use panelwright::diag::Problems;
use panelwright::files::Memory;
use panelwright::found::{self, About, Found, Options, Pattern};
use panelwright::import::{self, CutFile, ReadOptions};
use panelwright::panel::Panel;
use panelwright::resolve::{self, Catalogue};
use std::sync::OnceLock;

fn catalogue() -> &'static [Pattern] {
    static LIST: OnceLock<Vec<Pattern>> = OnceLock::new();
    LIST.get_or_init(survey_drawing::patterns)
}

fn find(
    name: &str,
    bytes: &[u8],
    unit_mm: Option<f64>,
    options: &Options,
) -> Result<(CutFile, Found), Problems> {
    let mut file = import::read(name, bytes, &ReadOptions { unit_mm })?;
    import::look_again(&mut file, bytes);
    let found = found::find(&file, catalogue(), options)?;
    Ok((file, found))
}

/// The panel file, read and resolved; None where a question is open.
fn panel(file: &CutFile, found: &Found) -> Option<Panel> {
    let text = found::panel_file(file, found, "found")?;
    let files = Memory::new().with("found.json", &*text);
    Some(
        resolve::resolve_bare("found.json", &files, &Catalogue::builtin())
            .unwrap_or_else(|p| panic!("{p}\n{text}")),
    )
}

/// What must come of a file.
enum Expect {
    /// A panel of this width and height with so many openings, and these things told (of notes only those named).
    Panel([f64; 2], usize, &'static [&'static str]),
    /// No panel, for this question.
    Asks(&'static str),
    /// The file is refused with this code.
    Refused(&'static str),
}

struct Case {
    name: &'static str,
    bytes: Vec<u8>,
    unit: Option<f64>,
    options: Options,
    expect: Expect,
}

impl Case {
    fn new(name: &'static str, text: impl Into<Vec<u8>>, expect: Expect) -> Case {
        Case { name, bytes: text.into(), unit: None, options: Options::default(), expect }
    }

    fn unit(mut self, mm: f64) -> Case {
        self.unit = Some(mm);
        self
    }

    fn with(mut self, change: impl FnOnce(&mut Options)) -> Case {
        change(&mut self.options);
        self
    }
}

/// Runs every case; all that fail are told together.
fn run(cases: &[Case]) {
    let mut wrong = Vec::new();
    for c in cases {
        let told =
            |f: &Found| -> Vec<String> { f.told.iter().map(|t| format!("{}: {}", t.code, t.says)).collect() };
        let mut fail = |why: String| wrong.push(format!("{}: {why}", c.name));
        match (find("drawing", &c.bytes, c.unit, &c.options), &c.expect) {
            (Err(p), Expect::Refused(code)) => {
                if !p.sorted().iter().any(|p| p.code == *code) {
                    fail(format!("refused otherwise: {p}"));
                }
            }
            (Err(p), _) => fail(format!("refused: {p}")),
            (Ok((_, f)), Expect::Refused(_)) => fail(format!("not refused: {:?}", told(&f))),
            (Ok((file, f)), Expect::Asks(code)) => {
                if !f.questions().any(|t| t.code == *code) || panel(&file, &f).is_some() {
                    fail(format!("does not ask: {:?}", told(&f)));
                }
            }
            (Ok((file, f)), Expect::Panel([w, h], openings, codes)) => {
                let Some(p) = panel(&file, &f) else {
                    fail(format!("no panel: {:?}", told(&f)));
                    continue;
                };
                let b = f.outline.as_ref().unwrap().contour.bounds();
                if (b.width() - w).abs() > 2e-3 || (b.height() - h).abs() > 2e-3 {
                    fail(format!("{} x {}", b.width(), b.height()));
                }
                let made = p.subjects.iter().filter(|s| s.id != "sheet").count();
                if f.openings.len() != *openings || made != *openings {
                    fail(format!("{} openings, {made} in the panel: {:?}", f.openings.len(), told(&f)));
                }
                let notes = ["curves", "layers", "remark"];
                let seen: Vec<&str> = f
                    .told
                    .iter()
                    .map(|t| t.code)
                    .filter(|t| !notes.contains(t) || codes.contains(t))
                    .collect();
                if seen.len() != codes.len() || !codes.iter().all(|c| seen.contains(c)) {
                    fail(format!("told {:?}", told(&f)));
                }
                let lost = f.told.iter().any(|t| t.about == About::LeftOut);
                if f.clean() == lost {
                    fail("clean although something was left out".to_owned());
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}
