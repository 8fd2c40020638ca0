//! NOT FOR CUTTING, NOT TO SCALE, TRIAL: on every page that needs it, and only there.

use crate::build::{self, dunlin, finding};
use crate::cuts::cut;
use panelwright::check::{Finding, Verdict};
use panelwright::draw::template::{Paper, Purpose, Standing, TemplateOptions, shop, template};
use panelwright::draw::{Entry, Item, Layer, Page, Shape};
use panelwright::panel::Panel;

/// All texts of a page.
pub fn words(page: &Page) -> Vec<String> {
    let text = |i: &Item| if let Shape::Text(t) = &i.shape { Some(t.text.clone()) } else { None };
    page.items
        .iter()
        .flat_map(|e| match e {
            Entry::Item(i) => text(i).into_iter().collect::<Vec<_>>(),
            Entry::Group(g) => g.items.iter().filter_map(text).collect(),
        })
        .collect()
}

fn stamped(p: &Panel, findings: &[Finding], opts: &TemplateOptions, stamp: &str) -> bool {
    let d = template(p, 0, findings, opts).expect("template");
    let with = d.pages.iter().filter(|p| words(p).iter().any(|w| w.starts_with(stamp))).count();
    assert!(with == 0 || with == d.pages.len(), "{stamp} on {with} of {} pages", d.pages.len());
    with > 0
}

#[test]
fn what_stands_against_cutting() {
    let pass = finding(Verdict::Pass, 1);
    let cases: [(Vec<Finding>, Option<&str>, Option<&str>); 6] = [
        (vec![pass.clone(), finding(Verdict::Tight, 1)], None, None),
        (vec![pass.clone(), finding(Verdict::Fail, 1)], None, Some("1 fail")),
        (vec![finding(Verdict::Withheld, 1), finding(Verdict::Withheld, 2)], None, Some("2 withheld")),
        (vec![finding(Verdict::Fail, 1), finding(Verdict::Withheld, 2)], None, Some("1 fail, 1 withheld")),
        (vec![], None, Some("nothing was checked")),
        (vec![pass], Some("panel file changed"), Some("out of date: panel file changed")),
    ];
    for (findings, stale, against) in cases {
        for paper in [Paper::Whole, Paper::A4] {
            let opts = TemplateOptions { paper, stale: stale.map(str::to_owned), ..Default::default() };
            let mut p = dunlin();
            assert_eq!(stamped(&p, &findings, &opts, "NOT FOR CUTTING"), against.is_some(), "{against:?}");
            let standing = Standing::of(&p, &findings, &opts);
            assert_eq!(standing.notice(), against.map(|a| format!("NOT FOR CUTTING: {a}")));
            let file = shop(&p, 0, &findings, &opts).expect("shop file");
            let notice = |i: &Item| i.layer == Layer::Notice;
            let noted = file.pages[0].items.iter().any(|e| matches!(e, Entry::Item(i) if notice(i)));
            assert_eq!(noted, against.is_some());
            let said = words(&file.pages[0]).concat();
            assert!(said.contains("approves nothing") && said.contains("check every number"), "{said}");
            // only a recorded reason lifts it, and then it is printed
            p.cut_anyway = Some(("card trial agreed".into(), "owner".into()));
            assert!(!stamped(&p, &findings, &opts, "NOT FOR CUTTING"));
            let d = template(&p, 0, &findings, &opts).expect("template");
            for page in d.pages.iter().filter(|p| !p.name.starts_with("cover ")) {
                let printed = words(page).concat().contains("card trial agreed");
                assert_eq!(printed, against.is_some(), "{}", page.name);
            }
        }
    }
}

#[test]
fn a_copy_cuts_nothing_and_says_so() {
    let pass = [finding(Verdict::Pass, 1)];
    for paper in [Paper::Whole, Paper::A4, Paper::Letter] {
        let opts = TemplateOptions { paper, purpose: Purpose::Copy, ..Default::default() };
        assert!(stamped(&dunlin(), &pass, &opts, "NOT TO SCALE"));
        let d = template(&dunlin(), 0, &pass, &opts).expect("copy");
        assert_eq!((cut(&d).len(), d.pages.len()), (0, 1));
        let other = TemplateOptions { paper, ..Default::default() };
        assert!(!stamped(&dunlin(), &pass, &other, "NOT TO SCALE"));
    }
}

#[test]
fn a_trial_shows_depths_and_claims_nothing() {
    let opts = TemplateOptions { purpose: Purpose::Trial, ..Default::default() };
    let d = template(&dunlin(), 0, &[finding(Verdict::Pass, 1)], &opts).expect("trial");
    let all = words(&d.pages[0]).join("\n");
    assert!(all.contains("TRIAL") && all.contains("152 deep") && all.contains("74 deep"));
    for field in ["D-100", "A. Reader", "2031-04-02"] {
        assert!(!all.contains(field), "a trial has no title block: {field}");
    }
    assert_eq!(cut(&d).len(), 24);
}

#[test]
fn every_page_says_face_revision_inputs_counts() {
    for paper in [Paper::Whole, Paper::A4, Paper::Tabloid] {
        let d = template(
            &dunlin(),
            0,
            &[finding(Verdict::Pass, 1)],
            &TemplateOptions { paper, ..Default::default() },
        )
        .expect("template");
        for page in &d.pages {
            let all = words(page).join(" ");
            for said in ["FRONT, seen by the pilot", "0123456789ab", "0 fail, 0 withheld, 0 tight, 1 pass"] {
                assert!(all.contains(said), "{} lacks {said:?}", page.name);
            }
            assert!(all.contains("revision C") || all.contains("revision: C"), "{}", page.name);
            assert!(!all.contains("0123456789abc"), "the hash is short");
        }
    }
}

#[test]
fn the_same_panel_gives_the_same_drawing() {
    for seed in [1, 2, 3] {
        let opts = TemplateOptions { paper: Paper::A4, ..Default::default() };
        let make = || template(&build::random(seed), 0, &[], &opts).expect("template");
        assert_eq!(make(), make());
    }
}
