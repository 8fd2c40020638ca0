//! A line long enough that its item can be drawn out with the plug still in it.

use super::own::{Judged, Teller, length, of_class};
use super::ports::{Exit, Loop, Route, exit, loop_of, route_at};
use super::{Finding, Interval, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::{Class, Panel, SubjectKind};

/// Room for the hand behind the plug, mm.
const HAND: f64 = 100.0;

/// The rule.
pub static RULE: Rule = Rule {
    id: "service-loop",
    asks: "A line is as long as its route, and as the drawing out of its item, the hand behind it and two new ends ask.",
    why: "Plugs are behind and hands are in front: an item that comes out towards the pilot takes its lines along until a hand \
          reaches the plug, and who crimps a wire anew shortens it. Measured: the stated length less the route. Asked: how \
          far the plug has to come (body and connector), the hand's width, and of wires two new ends of 25 mm each (AC \
          43.13-1B 11-118 asks for two; the 25 mm are common practice). A drawn run has its own length; else the route is at \
          least the straight between the plugs, and is told as straights and two bends of the least radius: what it goes \
          round adds to it. Pipes are taken off before. 100 mm for the hand is common practice.",
    limit: Limit::AtLeast(HAND),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit)) else {
        return;
    };
    for (k, part) in of_class(s, Class::Port) {
        let port = t.part(k);
        let Some(need) = loop_of(panel, port, t.asked(HAND)) else { continue };
        match (need, exit(panel, port)) {
            (Err(waits), _) => t.withhold(port, part.centre, waits),
            (_, None) => {}
            (_, Some(Err(lacks))) => t.withhold(port, part.centre, lacks.join("; ")),
            (Ok(need), Some(Ok(e))) => one(&mut t, &e, &need),
        }
    }
}

fn one(t: &mut Teller<'_>, e: &Exit, need: &Loop) {
    let panel = t.panel;
    let at = panel.part(e.port).centre;
    let mm = |v: f64| length(panel, v);
    let Some(route) = route_at(panel, e) else {
        t.withhold(e.port, at, format!("where {} ends; {}", need.line, need.words(mm)));
        return;
    };
    let whole = route_words(&route, |v| rough(panel, v));
    let Some(long) = need.length else {
        t.withhold(e.port, at, format!("the length of {}: {whole}, and {}", need.line, need.words(mm)));
        return;
    };
    let asked = need.sum();
    let (most, least) = (long - route.lower, route.plain.map(|p| long - p));
    if most >= asked && least.is_none_or(|l| l < asked) {
        let words = format!(
            "the route of {} measured with a string: {whole}; of its {} {} are for {}",
            need.line,
            mm(long),
            mm(asked),
            need.words(mm)
        );
        t.withhold(e.port, at, words);
        return;
    }
    let measured = Interval { lower: least.unwrap_or(most).min(most), upper: most };
    let judged = Judged { measured, asked, loss: 0.0, at: [at; 2] };
    t.interval(e.port, None, judged, |v| match v {
        Verdict::Pass => format!("{whole}; {}", need.words(mm)),
        _ => format!("{} is {} long; {whole}, and {}.", need.line, mm(long), need.words(mm)),
    });
}

fn route_words(route: &Route, mm: impl Fn(f64) -> String) -> String {
    match route.plain {
        Some(plain) if plain - route.lower <= 0.5 => format!("route {}", mm(plain)),
        Some(plain) => {
            format!(
                "route about {}, not under {}, more where it goes round things",
                mm(plain),
                mm(route.lower)
            )
        }
        None => format!("route not under {}", mm(route.lower)),
    }
}

/// An estimate is told to whole millimetres or tenths of an inch.
fn rough(panel: &Panel, mm: f64) -> String {
    let step = if panel.unit.is_inch() { 2.54 } else { 1.0 };
    length(panel, (mm / step).round() * step)
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Detail, End, Leaves, Line, LineKind, Outlet, PartRef, Service};
    use crate::solid::Vec3;

    /// A display 70 deep with a plug of 40 that turns round 35 to the inside at 10 across (centre line 40), and a loom of
    /// this length to a point 440 further ahead: plug 40, straight 400.
    fn loom(length: Option<f64>, service: Option<Service>, kind: LineKind) -> Scene {
        let mut s = Scene::new();
        let outlet = Outlet {
            part: "port".into(),
            leaves: Some(Leaves::Plug),
            towards: Some(Vec3::FORWARD),
            diameter: Some(20.0),
            bend_radius: None,
            side_exit: Vec::new(),
        };
        let k = s.placement("display", |f| {
            f.ports = vec![outlet];
            f.service = service;
        });
        s.part(k, "body", Class::Body, circle(60.0, 60.0, 80.0), Detail::Plain);
        s.last(k).depth = Some((0.0, 70.0));
        let terms = vec![("plug".to_string(), Some(40.0)), ("bend".to_string(), Some(45.0))];
        s.part(k, "port", Class::Port, circle(60.0, 60.0, 20.0), Detail::Port { carries: None, terms });
        s.last(k).depth = Some((70.0, 155.0));
        let line = s.subject("loom", SubjectKind::Line);
        s.panel.space.lines.push(Line {
            subject: line as u32,
            kind,
            carries: None,
            from: Some(PartRef { subject: k as u32, part: 1 }),
            to: Some(End::Point(Vec3::new(60.0, 60.0, 510.0))),
            diameter: Some(10.0),
            bend_radius: Some((35.0, "the maker's sheet".into())),
            length,
            place: place(),
        });
        s
    }

    fn said(s: &Scene) -> String {
        let all = super::super::check(&s.panel, &Default::default());
        let of: Vec<String> = all
            .list
            .iter()
            .filter(|f| f.rule == &RULE)
            .map(|f| match &f.note {
                crate::check::Note::Says(w) | crate::check::Note::Waits(w) => {
                    format!("{} {w}", f.verdict.word())
                }
                other => format!("{} {other:?}", f.verdict.word()),
            })
            .collect();
        of.join("\n")
    }

    /// Route 40 + 400; out by 70 + 40 = 110, a hand of 100, two ends of 25: 260. In all 700.
    #[test]
    fn adds_up_openly() {
        let front = Some(Service::Front);
        let terms = "110 mm to draw it out + 100 mm for the hand + 50 mm for two new ends";
        assert_eq!(said(&loom(Some(700.0), front, LineKind::Wires)), format!("pass route 440 mm; {terms}"));
        assert_eq!(
            said(&loom(Some(699.0), front, LineKind::Wires)),
            format!("fail loom is 699 mm long; route 440 mm, and {terms}.")
        );
        assert_eq!(
            said(&loom(None, front, LineKind::Coax)),
            format!("withheld the length of loom: route 440 mm, and {terms}")
        );
        // a hose has no ends to crimp anew
        assert!(said(&loom(Some(650.0), front, LineKind::Hose)).starts_with("pass "));
        // from behind the plug is at hand
        assert_eq!(
            said(&loom(Some(490.0), Some(Service::Rear), LineKind::Wires)),
            "pass route 440 mm; 50 mm for two new ends"
        );
        assert_eq!(
            said(&loom(Some(700.0), None, LineKind::Wires)),
            "withheld the side from which display is served"
        );
        assert_eq!(said(&loom(Some(700.0), front, LineKind::Pipe)), "");
    }

    /// To the side the route is between the straight and straights with bends: what lies between withholds.
    #[test]
    fn between_the_bounds_a_string_decides() {
        let mut s = loom(Some(0.0), Some(Service::Front), LineKind::Wires);
        s.panel.space.lines[0].to = Some(End::Point(Vec3::new(460.0, 60.0, 110.0)));
        // straight 400 beside the plug's end: 40 + 400 at least; the plain route starts with an arc and is longer
        let at = |s: &mut Scene, length: f64| {
            s.panel.space.lines[0].length = Some(length);
            said(s)
        };
        assert!(at(&mut s, 440.0 + 259.0).starts_with("fail "), "{}", said(&s));
        assert!(
            at(&mut s, 440.0 + 261.0).starts_with("withheld the route of loom measured with a string"),
            "{}",
            said(&s)
        );
        assert!(at(&mut s, 440.0 + 400.0).starts_with("pass route about "), "{}", said(&s));
    }

    #[test]
    fn without_an_end_or_a_line_nothing_is_asked() {
        let mut s = loom(Some(700.0), Some(Service::Front), LineKind::Wires);
        s.panel.space.lines[0].to = None;
        assert_eq!(said(&s), "");
        s.panel.space.lines.clear();
        assert_eq!(said(&s), "");
    }
}
