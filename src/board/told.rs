//! What a page was told of the findings while it holds something: each answer then holds only what is otherwise.

use crate::check::{Finding, Rule};
use crate::panel::Panel;
use std::cmp::Ordering;

/// The findings as a page has them, in the order of their keys.
pub struct Told {
    list: Vec<Finding>,
}

/// What a page must be told to have the findings as they are now.
#[derive(Default)]
pub struct Differences<'a> {
    /// Findings that it does not have.
    pub fresh: Vec<&'a Finding>,
    /// Findings that it has by the same id, and that say something else now.
    pub again: Vec<&'a Finding>,
    /// Ids of those that are no more.
    pub gone: Vec<String>,
}

impl Told {
    /// It has these.
    pub fn all(list: Vec<Finding>) -> Told {
        Told { list }
    }

    /// What is otherwise now, and is taken to be told. Rules that were not asked (`but`) have said nothing: a page keeps
    /// what it has of them.
    pub fn news<'a>(&mut self, panel: &Panel, now: &'a [Finding], but: &[&'static Rule]) -> Differences<'a> {
        let asked = |f: &Finding| !but.iter().any(|r| std::ptr::eq(*r, f.rule));
        let mut old = std::mem::take(&mut self.list).into_iter().peekable();
        let mut now = now.iter().filter(|f| asked(f)).peekable();
        let mut news = Differences::default();
        let mut list = Vec::with_capacity(old.len() + 64);
        let mut orders = Orders::default();
        loop {
            let order = match (old.peek(), now.peek()) {
                (Some(a), Some(b)) => orders.compare(a, b),
                (Some(_), None) => Ordering::Less,
                (None, Some(_)) => Ordering::Greater,
                (None, None) => break,
            };
            let a = if order.is_le() { old.next() } else { None };
            let b = if order.is_ge() { now.next() } else { None };
            match (a, b) {
                (Some(a), Some(b)) if a == *b => list.push(a),
                (Some(_), Some(b)) => {
                    news.again.push(b);
                    list.push(b.clone());
                }
                (None, Some(b)) => {
                    news.fresh.push(b);
                    list.push(b.clone());
                }
                (Some(a), None) if asked(&a) => news.gone.push(a.id(panel)),
                (Some(a), None) => list.push(a),
                (None, None) => {}
            }
        }
        self.list = list;
        news
    }
}

/// Compares findings by their keys. A rule's place in the list of rules is looked up once for a run of its findings.
#[derive(Default)]
struct Orders {
    last: [Option<(*const Rule, u16)>; 2],
}

impl Orders {
    fn compare(&mut self, a: &Finding, b: &Finding) -> Ordering {
        if std::ptr::eq(a.rule, b.rule) {
            return (a.a, a.b).cmp(&(b.a, b.b));
        }
        self.of(0, a.rule).cmp(&self.of(1, b.rule))
    }

    fn of(&mut self, side: usize, rule: &'static Rule) -> u16 {
        match self.last[side] {
            Some((known, order)) if std::ptr::eq(known, rule) => order,
            _ => {
                let order = rule.order();
                self.last[side] = Some((rule, order));
                order
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::board::Session;
    use crate::board::answer::{Answer, answer};
    use crate::board::aside::{Aside, Tell};
    use crate::board::drag::Drag;
    use crate::board::say;
    use crate::check::{self, Findings, Options};
    use crate::panel::Panel;
    use crate::resolve::Catalogue;
    use serde_json::{Map, Value, json};
    use std::collections::{BTreeMap, BTreeSet};
    use std::path::{Path, PathBuf};

    /// Findings by their ids, as a page has them.
    type Shown = BTreeMap<String, Map<String, Value>>;

    fn shown(panel: &Panel, findings: &Findings) -> Shown {
        let one = |v: Value| (v["id"].as_str().unwrap().to_owned(), v.as_object().unwrap().clone());
        let all: Shown = findings.list.iter().map(|f| one(say::finding(panel, f))).collect();
        assert_eq!(all.len(), findings.list.len(), "an id is that of one finding");
        all
    }

    /// What the page does with an answer.
    fn apply(page: &mut Shown, answer: &Value) {
        let all = |key: &str| answer[key].as_array().into_iter().flatten();
        for f in all("again") {
            let known = page.get_mut(f["id"].as_str().unwrap()).expect("what says something else is known");
            known.extend(f.as_object().unwrap().clone());
        }
        for id in all("gone") {
            page.remove(id.as_str().unwrap()).expect("what is gone was there");
        }
        for f in all("findings") {
            page.insert(f["id"].as_str().unwrap().to_owned(), f.as_object().unwrap().clone());
        }
    }

    fn ask(s: &mut Session, drag: &mut Option<Drag>, text: &str) -> Answer {
        let (to, _) = tokio::sync::mpsc::channel(1);
        let (news, _) = tokio::sync::broadcast::channel(1);
        answer(s, drag, &mut Aside::new(Tell::new(to), news, Default::default()), text)
    }

    fn copied(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("panelwright-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("panels/corncrake");
        for file in std::fs::read_dir(from).unwrap() {
            let file = file.unwrap().path();
            std::fs::copy(&file, folder.join(file.file_name().unwrap())).unwrap();
        }
        folder
    }

    /// Numbers that look random and are the same at every run (xorshift; Marsaglia, Journal of Statistical Software 8,
    /// 2003).
    struct Random(u64);

    impl Random {
        fn next(&mut self) -> u64 {
            self.0 ^= self.0 << 13;
            self.0 ^= self.0 >> 7;
            self.0 ^= self.0 << 17;
            self.0
        }

        fn below(&mut self, n: usize) -> usize {
            (self.next() % n as u64) as usize
        }

        fn mm(&mut self, most: f64) -> f64 {
            (self.below(2001) as f64 / 1000.0 - 1.0) * most
        }
    }

    #[test]
    fn what_the_page_has_after_any_steps_is_what_a_whole_answer_would_tell() {
        let folder = copied("told");
        let path = folder.join("fixed-proposed.json").to_str().unwrap().to_owned();
        let mut s = Session::open(&path, Catalogue::builtin()).unwrap();
        let items: Vec<String> =
            s.panel.subjects.iter().filter(|i| !i.locked).map(|i| i.id.clone()).collect();
        let mut random = Random(20_240_611);
        let (mut holds, mut left) = (0, 0);
        while holds < 8 {
            let id = &items[random.below(items.len())];
            let mut drag = None;
            let mut page = shown(&s.panel, &s.findings);
            let grab = ask(&mut s, &mut drag, &json!({ "do": "grab", "ids": [id], "n": 1 }).to_string());
            if drag.is_none() {
                continue;
            }
            holds += 1;
            drag = drag.map(|d| d.asking(false));
            apply(&mut page, &grab.own.unwrap());
            let open: BTreeSet<&str> = drag.as_ref().unwrap().open().iter().map(|r| r.id).collect();
            assert!(!open.is_empty());
            let mut waiting: Option<Answer> = None;
            for n in 0..12 {
                let drag = &mut drag;
                let by = [random.mm(40.0), random.mm(40.0)];
                let step = ask(&mut s, drag, &json!({ "do": "drag", "by": by, "n": n }).to_string());
                apply(&mut page, &step.own.unwrap());
                let whole = whole(drag);
                for (id, f) in &whole {
                    let asked = !open.contains(f["rule"].as_str().unwrap());
                    assert!(!asked || page.get(id) == Some(f), "{id}: {:?} and not {f:?}", page.get(id));
                }
                for (id, f) in &page {
                    assert!(open.contains(f["rule"].as_str().unwrap()) || whole.contains_key(id), "{id}");
                }
                // what was asked at an earlier place and comes now says nothing
                if let Some(late) = waiting.take() {
                    let asked = late.later.unwrap()();
                    let told = ask(&mut s, drag, &asked.to_string());
                    assert_eq!(told.own, None, "what was worked out for another place is not told");
                    left += 1;
                }
                if random.below(2) == 0 {
                    let rest = ask(&mut s, drag, &json!({ "do": "rest", "n": n }).to_string());
                    if random.below(2) == 0 {
                        waiting = Some(rest);
                        continue;
                    }
                    let asked = rest.later.unwrap()();
                    let told = ask(&mut s, drag, &asked.to_string()).own.unwrap();
                    assert_eq!(told["open"], json!([]));
                    apply(&mut page, &told);
                    assert_eq!(page, whole, "after the hand rested");
                }
            }
        }
        assert!(left > 5, "{left}");
        drop(s);
        std::fs::remove_dir_all(folder).unwrap();
    }

    /// What a check of the panel as the hand has it says.
    fn whole(drag: &Option<Drag>) -> Shown {
        let panel = drag.as_ref().unwrap().panel();
        shown(panel, &check::check(panel, &Options::default()))
    }

    #[test]
    fn an_item_is_not_taken_from_a_panel_that_the_page_does_not_show() {
        let folder = copied("other");
        let path = folder.join("fixed-proposed.json").to_str().unwrap().to_owned();
        let mut s = Session::open(&path, Catalogue::builtin()).unwrap();
        let id = s.panel.subjects.iter().find(|i| !i.locked).map(|i| i.id.clone()).unwrap();
        let mut drag = None;
        let grab =
            |revision: u64| json!({ "do": "grab", "ids": [id], "n": 1, "revision": revision }).to_string();
        let other = ask(&mut s, &mut drag, &grab(7)).own.unwrap();
        assert_eq!(other["kind"], "refused");
        assert!(drag.is_none());
        // and what was on its way is not answered
        let late = ask(&mut s, &mut drag, &json!({ "do": "drag", "by": [1, 1], "n": 1 }).to_string());
        assert_eq!((late.own, late.changed), (None, false));
        drop(s);
        std::fs::remove_dir_all(folder).unwrap();
    }
}
