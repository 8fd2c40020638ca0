//! What differs between two panels, told to people and to programs.

use crate::check::Verdict;
use crate::compare::{Changed, Cut, Difference, Fate, Masses, Setting, SheetChange, VerdictChange, Was};
use crate::geom::length;
use crate::report::sentence::trim;
use serde_json::{Value, json};

/// Version of the comparison's JSON.
pub const COMPARE_FORMAT: u32 = 1;

fn change(c: &Changed) -> String {
    let mut said = Vec::new();
    if let Some([was, now]) = &c.instrument {
        let word = |s: &str| if s.is_empty() { "no instrument".to_string() } else { s.to_string() };
        said.push(format!("{} becomes {}", word(was), word(now)));
    }
    if length(c.moved) > crate::geom::SLACK {
        said.push(format!("moved by {} mm, {} mm", trim(c.moved.x, 3), trim(c.moved.y, 3)));
    }
    if c.turned.abs() > crate::geom::SLACK {
        said.push(format!("turned by {} degrees", trim(c.turned, 3)));
    }
    if c.mirrored {
        said.push("mirrored".into());
    }
    if c.resized {
        said.push("other sizes".into());
    }
    if !c.numbers.is_empty() {
        said.push(format!("other numbers of its own: {}", c.numbers.join(", ")));
    }
    format!("{}: {}", c.id, said.join("; "))
}

fn verdict(c: &VerdictChange) -> String {
    let word = |v: Option<Verdict>| v.map_or("not asked", Verdict::word);
    let margin = match c.margin {
        [Some(a), Some(b)] => format!(" (margin {} to {})", trim(a, 3), trim(b, 3)),
        [None, Some(b)] => format!(" (margin {})", trim(b, 3)),
        _ => String::new(),
    };
    format!("{} to {}: {}{margin}", word(c.verdict[0]), word(c.verdict[1]), c.id)
}

fn fate(w: &Was) -> String {
    let mm2 = |v: f64| format!("{} mm2", trim(v, 1));
    let by = w.by.join(", ");
    let rest = match (w.under.is_empty(), w.open > 0.0) {
        (true, _) => format!("nothing covers it: fill or cover {}", mm2(w.open)),
        (false, true) => format!("partly covered by {}: fill or cover {}", w.under.join(", "), mm2(w.open)),
        (false, false) => format!("covered whole by {}", w.under.join(", ")),
    };
    match w.fate {
        Fate::Used => format!("used again by {by}"),
        Fate::Swallowed => format!("swallowed whole by {by}"),
        Fate::CutInto => format!("cut into by {by}; {} of it are left, {rest}", mm2(w.left)),
        Fate::Covered => rest,
        Fate::Open => format!("open, {rest}"),
    }
}

fn mass(m: &Masses) -> Vec<String> {
    let kg = |v: f64| format!("{} kg", trim(v, 3));
    let sum = match m.difference() {
        Some(d) if d < 0.0 => format!("{} less", kg(-d)),
        Some(d) => format!("{} more", kg(d)),
        None => format!("difference withheld: no mass is stated for {}", m.missing.join(", ")),
    };
    vec![
        format!("goes {}, comes {}: {sum}", kg(m.removed), kg(m.added)),
        "as stated, without sheets, fasteners and wiring: no weight and balance, which is for you to do"
            .into(),
    ]
}

/// For people: `names` are the titles of the two panels. Passes that appear or vanish are only counted.
pub fn compare_text(names: [&str; 2], d: &Difference) -> String {
    let mut out = format!("From: {}\nTo:   {}\n", names[0], names[1]);
    if d.is_empty() {
        out += "\nNothing differs.\n";
    }
    if let Some(by) = d.datum {
        let [x, y] = [by.x, by.y].map(|v| trim(v, 3));
        out += &format!(
            "\nThe datum is another one: the whole panel is written {x} mm, {y} mm from where it was. What follows is told from \
             the old datum.\n"
        );
    }
    let mut list = |head: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            out += &format!("\n{head} ({})\n", lines.len());
            lines.iter().for_each(|l| out += &format!("  {l}\n"));
        }
    };
    let (worse, rest): (Vec<_>, Vec<_>) = d.verdicts.iter().partition(|c| c.worse());
    let plain =
        |c: &VerdictChange| matches!(c.verdict, [None, Some(Verdict::Pass)] | [Some(Verdict::Pass), None]);
    let (quiet, rest): (Vec<_>, Vec<_>) = rest.into_iter().partition(|c| plain(c));
    let (gone, rest): (Vec<_>, Vec<_>) = rest.into_iter().partition(|c| c.verdict[1].is_none());
    let (better, margins): (Vec<_>, Vec<_>) = rest.into_iter().partition(|c| c.verdict[0] != c.verdict[1]);
    list("Verdicts that got worse", worse.into_iter().map(verdict).collect());
    list("Verdicts that got better", better.into_iter().map(verdict).collect());
    list("Not asked any more", gone.into_iter().map(verdict).collect());
    list("Same verdict, other margin", margins.into_iter().map(verdict).collect());
    list("Items added", d.added.clone());
    list("Items removed", d.removed.clone());
    list("Items changed", d.changed.iter().map(change).collect());
    let sheet = |s: &SheetChange| {
        let told =
            |v: Option<f64>, unit: &str| v.map_or("not there".into(), |v| format!("{} {unit}", trim(v, 3)));
        let [a, b] = s.area.map(|v| told(v, "mm2"));
        let [t, u] = s.thickness.map(|v| told(v, "mm"));
        let mut said = format!("{}: area {a} to {b}, thickness {t} to {u}", s.id);
        if s.coat[0] != s.coat[1] {
            let [c, d] = s.coat.map(|v| v.map_or("not given".into(), |v| format!("{} mm", trim(v, 3))));
            said += &format!(", coat {c} to {d}");
        }
        if s.material[0] != s.material[1] {
            let [m, n] = s.material.each_ref().map(|m| m.as_deref().unwrap_or("not given"));
            said += &format!(", material {m} to {n}");
        }
        said
    };
    let setting = |s: &Setting| {
        let [a, b] = s.said.each_ref().map(|v| v.as_deref().unwrap_or("not said"));
        format!("{}: {a} to {b}", s.what)
    };
    list("Said of the panel", d.settings.iter().map(setting).collect());
    list("Sheets that differ", d.sheets.iter().map(sheet).collect());
    if !d.is_empty() {
        let olds = d.openings.old.iter().map(|w| format!("{}: {}", w.name, fate(w)));
        list("Openings that are there", olds.collect());
    }
    let cut = d.openings.cut.iter();
    let cut =
        cut.map(|c| format!("{}: {} mm2 of metal, {} mm to cut", c.name, trim(c.area, 1), trim(c.length, 1)));
    list("To cut", cut.collect());
    if !d.masses.is_empty() {
        out += "\nMass of the instruments\n";
        mass(&d.masses).iter().for_each(|l| out += &format!("  {l}\n"));
    }
    if !quiet.is_empty() {
        out += &format!("\nPasses that appeared or vanished: {} (listed by --format json)\n", quiet.len());
    }
    out += if d.datum.is_none() { "\nBoth panels are compared from one and the same datum. " } else { "\n" };
    out += "The program advises, it approves nothing.\n";
    out
}

/// For programs.
pub fn compare_json(names: [&str; 2], d: &Difference) -> Value {
    let changed = |c: &Changed| {
        json!({ "id": c.id, "moved": [c.moved.x, c.moved.y], "turned": c.turned, "mirrored": c.mirrored,
            "instrument": c.instrument, "resized": c.resized, "numbers": c.numbers })
    };
    let verdict = |c: &VerdictChange| {
        let words = c.verdict.map(|v| v.map(Verdict::word));
        json!({ "id": c.id, "verdict": words, "margin": c.margin, "worse": c.worse() })
    };
    let old = |w: &Was| {
        let word = match w.fate {
            Fate::Used => "used",
            Fate::Swallowed => "swallowed",
            Fate::CutInto => "cut-into",
            Fate::Covered => "covered",
            Fate::Open => "open",
        };
        json!({ "opening": w.name, "fate": word, "by": w.by, "left": w.left, "under": w.under, "open": w.open })
    };
    let cut = |c: &Cut| json!({ "opening": c.name, "area": c.area, "length": c.length });
    let sheet = |s: &SheetChange| {
        json!({ "id": s.id, "area": s.area, "thickness": s.thickness, "coat": s.coat,
        "material": s.material })
    };
    let m = &d.masses;
    json!({
        "format": COMPARE_FORMAT, "unit": "mm", "from": names[0], "to": names[1], "worse": d.worse(),
        "added": d.added, "removed": d.removed,
        "datum": d.datum.map(|by| [by.x, by.y]),
        "settings": d.settings.iter().map(|s| json!({ "what": s.what, "said": s.said })).collect::<Vec<_>>(),
        "changed": d.changed.iter().map(changed).collect::<Vec<_>>(),
        "sheets": d.sheets.iter().map(sheet).collect::<Vec<_>>(),
        "verdicts": d.verdicts.iter().map(verdict).collect::<Vec<_>>(),
        "openings": d.openings.old.iter().map(old).collect::<Vec<_>>(),
        "cut": d.openings.cut.iter().map(cut).collect::<Vec<_>>(),
        "mass": { "unit": "kg", "removed": m.removed, "added": m.added, "difference": m.difference(),
            "missing": m.missing },
    })
}
