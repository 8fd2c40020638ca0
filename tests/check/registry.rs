//! Every rule of the list is complete: a lawful name, words, a source or none and saying so, a file and
//! a page of its own, and a page that shows each verdict the rule can give.

use panelwright::check::{RULES, Relation, Rule, Standing};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn file_of(rule: &Rule) -> PathBuf {
    root().join(format!("src/check/{}.rs", rule.id.replace('-', "_")))
}

#[test]
fn names_are_lawful_and_unique() {
    let mut seen = BTreeSet::new();
    for rule in RULES {
        let words = rule.id.split('-').all(|w| !w.is_empty() && w.bytes().all(|b| b.is_ascii_lowercase()));
        assert!(words, "{}: words in small letters joined by hyphens", rule.id);
        assert!(seen.insert(rule.id), "{} twice", rule.id);
    }
}

#[test]
fn each_has_its_file_and_each_file_its_line_in_the_list() {
    for rule in RULES {
        let path = file_of(rule);
        let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        assert!(text.contains(&format!("id: \"{}\"", rule.id)), "{} is in another file", rule.id);
    }
    let mut files = BTreeSet::new();
    for entry in fs::read_dir(root().join("src/check")).expect("the folder").flatten() {
        let text = fs::read_to_string(entry.path()).unwrap_or_default();
        if text.contains("pub static RULE: Rule") {
            files.insert(entry.path());
        }
    }
    assert_eq!(files, RULES.iter().map(|r| file_of(r)).collect());
}

#[test]
fn each_says_what_it_asks_why_and_by_which_source() {
    for rule in RULES {
        assert!(rule.asks.ends_with('.') && rule.asks.len() > 20, "{}: {:?}", rule.id, rule.asks);
        assert!(rule.why.len() > 40, "{}: {:?}", rule.id, rule.why);
        assert!(!rule.why.contains("  "), "{}: two spaces in {:?}", rule.id, rule.why);
        let title = rule.source.title;
        match rule.source.standing {
            // what is said to be published names where
            Standing::Published | Standing::Quoted | Standing::Memory => {
                assert!(title.len() > 10, "{}: names no source", rule.id)
            }
            Standing::Practice | Standing::Nature => {
                assert!(title.is_empty(), "{}: has a source after all: {title:?}", rule.id)
            }
        }
    }
}

fn relations(r: &Relation) -> Vec<&Relation> {
    match r {
        Relation::All(all) => all.iter().flat_map(relations).collect(),
        one => vec![one],
    }
}

#[test]
fn relations_keep_what_the_engine_counts_on() {
    let (mut rows, mut near) = (0, 0);
    for rule in RULES {
        let all = relations(&rule.relation);
        use Relation::{Around, Between, Near, Own, Room};
        let own = |r: &&&Relation| matches!(r, Own(_) | Around(_) | Near(_) | Between(_) | Room(_));
        let pairs = all.iter().filter(|r| !own(r)).count();
        rows += pairs;
        // a finding knows its rule alone: the two kinds are brought up to date in different ways
        assert!(pairs == 0 || pairs == all.len(), "{}: own measurer beside a relation", rule.id);
        let is = |f: fn(&Relation) -> bool| all.iter().any(|r| f(r));
        let around = is(|r| matches!(r, Around(_)));
        let between = is(|r| matches!(r, Between(_)));
        near += all.iter().filter(|r| matches!(r, Near(_))).count();
        assert!(!(around && between), "{}: what looks around beside what looks at two", rule.id);
        assert!(pairs == 0 || !rule.limit.at_most(), "{}: a distance is asked for at least", rule.id);
    }
    assert!(rows < 64, "{rows} rows: they are kept as bits of 64");
    assert!(
        near <= 7,
        "{near} rules about what stands near: beside one more mark they are kept as bits of 8"
    );
}

/// Verdicts that a rule cannot give, and why; its page says so in these words. One that appears after all must be
/// struck off.
const NEVER: &[(&str, &[&str], &str)] = &[
    ("labelled", &["tight", "withheld"], "there is a label or there is none"),
    ("twins", &["tight"], "what is looked at is the size as drawn"),
    ("plausible", &["tight", "withheld"], "it names a number that looks mistyped or it does not"),
    ("duplicate-opening", &["tight"], "outlines are compared as drawn"),
    ("spare-hole", &["fail", "tight"], "it waits for what closes the hole"),
    ("typical", &["fail", "tight"], "it waits for the size on your own part"),
    ("corner-radius", &["tight"], "sizes are compared as drawn"),
    ("countersink-depth", &["tight"], "sizes are compared as drawn"),
    ("label-height", &["tight"], "sizes are compared as drawn"),
    ("sheet-thickness", &["tight"], "sizes are compared as drawn"),
    ("stack-set-back", &["tight"], "sizes are compared as drawn"),
    ("service-loop", &["tight"], "lengths are compared as stated"),
    ("control-run", &["tight"], "what is there already is measured and reported, and only a contact fails"),
    ("comes-out", &["tight"], "ways are compared as drawn"),
    ("tilt", &["tight"], "what an instrument bears is its tolerance"),
    ("droop", &["tight"], "the file states how far it drops, without a tolerance"),
];

#[test]
fn each_page_shows_every_verdict_the_rule_can_give() {
    for rule in RULES {
        let path = root().join(format!("tests/rules/{}.md", rule.id));
        let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        // findings stand in the fenced blocks headed `text`
        let blocks = text.split("```text\n").skip(1).filter_map(|b| b.split("```").next());
        let shown: BTreeSet<&str> = blocks
            .flat_map(str::lines)
            .filter(|l| !l.starts_with(' '))
            .filter_map(|l| l.split(' ').next())
            .collect();
        let (never, why) =
            NEVER.iter().find(|(id, ..)| *id == rule.id).map_or((&[][..], ""), |(_, v, why)| (*v, *why));
        for verdict in ["pass", "tight", "fail", "withheld"] {
            let (is, not) = (shown.contains(verdict), never.contains(&verdict));
            assert!(is || not, "tests/rules/{}.md shows no {verdict}", rule.id);
            assert!(!(is && not), "tests/rules/{}.md shows {verdict}: strike it off the list", rule.id);
            let said = format!("There is no {verdict} verdict: {why}.");
            assert!(!not || text.contains(&said), "tests/rules/{}.md does not say: {said}", rule.id);
        }
    }
    for (id, ..) in NEVER {
        assert!(RULES.iter().any(|r| r.id == *id), "{id} is no rule");
    }
}

#[test]
fn each_section_of_a_page_shows_the_verdict_in_its_heading() {
    let words = [("Passes", "pass"), ("Tight", "tight"), ("Fails", "fail"), ("Withheld", "withheld")];
    let mut sections = 0;
    for rule in RULES {
        let path = root().join(format!("tests/rules/{}.md", rule.id));
        let text = fs::read_to_string(&path).unwrap_or_default();
        for section in text.split("\n## ").skip(1) {
            let heading = section.lines().next().unwrap_or("");
            let Some((_, verdict)) = words.iter().find(|(w, _)| heading.starts_with(w)) else { continue };
            let Some(block) = section.split("```text\n").nth(1).and_then(|b| b.split("```").next()) else {
                continue;
            };
            let silent = heading.contains("without a word");
            let says = block.lines().any(|l| l.starts_with(verdict));
            assert!(says != silent, "tests/rules/{}.md, {heading}: {block:?}", rule.id);
            sections += 1;
        }
    }
    assert!(sections > 100, "only {sections} sections");
}
