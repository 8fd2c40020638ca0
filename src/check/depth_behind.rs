//! Room behind the sheet for bodies, plugs, hoses and their bends.

use super::own::{Reading, Teller, grows, length, number, withhold_absent};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::distance::{self, Relation as Lie};
use crate::geom::{Contour, SLACK, contains};
use crate::panel::{Class, DepthMap, Detail, Panel, Part, Subject, TermKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "depth-behind",
    asks: "What an instrument needs behind the sheet, plug, hose and bend included, keeps off what is fixed there.",
    why: "The commonest re-cut: a box that meets a rib, because the manual quotes the case without connector, \
          backshell and bend. Measured: depth available at the item less the depth it needs; of the areas of the \
          depth map that the item's outline meets the shallowest holds, for a plug to the side those along its whole \
          run. Beyond the sheet's edge only an area of the map tells. 6 mm to fixed parts is common practice; \
          what the file tells of ribs and of controls is asked by obstacle-clear and control-clear.",
    limit: Limit::AtLeast(6.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    for (k, part) in s.parts.iter().enumerate() {
        if matches!(part.class, Class::Body | Class::Port) {
            part_behind(&mut t, s, k, part);
        }
    }
    withhold_absent(&mut t, s, &[Class::Body, Class::Port]);
    let Some(facts) = &s.facts else { return };
    if facts.open_terms.is_empty() {
        return;
    }
    let Some((k, at)) = super::own::anchor(s, &[Class::Cutout, Class::Hole, Class::Bezel]) else { return };
    let terms = facts.open_terms.join(", ");
    t.withhold(t.part(k), at, format!("depth behind, terms left open by the definition: {terms}"));
}

fn part_behind(t: &mut Teller<'_>, s: &Subject, k: usize, part: &Part) {
    let a = t.part(k);
    let panel = t.panel;
    let Some((_, deep)) = part.depth else {
        t.withhold(a, part.centre, missing_depth(s, part));
        return;
    };
    if deep <= 0.0 {
        return;
    }
    let own = panel.space.groups.get(s.group as usize).filter(|_| s.group > 0);
    let Some(forward) = own.map_or(Some(0.0), |g| g.sway.map(|s| s.forward)) else {
        let waits = format!("how far {} sways forward on its mounts (sway)", own.map_or("", |g| &g.id));
        t.withhold(a, part.centre, waits);
        return;
    };
    let needed = deep + forward;
    let room = Room::of_group(panel, s.group, &part.contour, 0.0);
    let asked = t.asked(6.0);
    if let (Some((available, area)), true) =
        (room.shallowest, room.unknown.is_none() || room.short(needed + asked))
    {
        // what a shift or a larger size may bring within reach
        let off: f64 = part.terms.iter().map(|t| t.shift).sum::<f64>() + grows(part);
        let worst =
            Room::of_group(panel, s.group, &part.contour, off).shallowest.map_or(available, |(d, _)| d);
        let size: f64 = part.terms.iter().filter(|t| t.kind == TermKind::Size).map(|t| t.grow).sum();
        let reading =
            Reading { measured: available - needed, asked, loss: (available - worst).max(0.0) + size };
        t.reading(a, None, [part.centre; 2], reading, |v| match v {
            Verdict::Fail | Verdict::Tight => {
                let mm = |v: f64| length(panel, v);
                let sum = sum_of(panel, part);
                let short = asked - reading.measured;
                let room = if reading.measured < 0.0 {
                    format!("it reaches {} into what is there", mm(-reading.measured))
                } else {
                    format!("{} of room is left, {} asked", mm(reading.measured), mm(asked))
                };
                let cure = if v == Verdict::Fail {
                    format!(
                        " It wants {} more: move it, or take a side-exit plug, an elbow or a shorter unit.",
                        mm(short)
                    )
                } else {
                    " Measure again behind the sheet.".into()
                };
                format!(
                    "Needs {}{sum} of the {} available ({area}): {room}.{cure}",
                    mm(needed),
                    mm(available)
                )
            }
            _ => String::new(),
        });
        return;
    }
    let waits = room.unknown.unwrap_or_else(|| "the depth available behind this spot".into());
    t.withhold(a, part.centre, format!("{waits}; {} needed there", length(panel, needed)));
}

/// The terms of a port, when it has any: ` (behind the body: connector 30 + bend 20)`.
pub(super) fn sum_of(panel: &Panel, part: &Part) -> String {
    let Detail::Port { terms, .. } = &part.detail else { return String::new() };
    let lengths: Vec<f64> = terms.iter().filter_map(|(_, v)| *v).collect();
    let terms: Vec<String> =
        terms.iter().filter_map(|(n, v)| Some(format!("{n} {}", length(panel, (*v)?)))).collect();
    if terms.is_empty() {
        return String::new();
    }
    // a run to the side is as deep as it is wide, not as its terms are long
    let long: f64 = lengths.iter().sum();
    let side = part.depth.is_some_and(|(from, to)| (to - from - long).abs() > SLACK);
    let way = if side { "to the side" } else { "behind the body" };
    format!(" ({way}: {})", terms.join(" + "))
}

pub(super) fn missing_depth(s: &Subject, part: &Part) -> String {
    if let Detail::Port { terms, .. } = &part.detail {
        let open: Vec<&str> = terms.iter().filter(|(_, v)| v.is_none()).map(|(n, _)| n.as_str()).collect();
        if !open.is_empty() {
            return format!("the length behind of {}: {}", part.name, open.join(", "));
        }
    }
    let told = s.missing.iter().find(|(name, _)| *name == part.name);
    told.map_or_else(|| format!("the depth of {}", part.name), |(name, what)| format!("{what} of {name}"))
}

/// Whether a contour lies in an outline; quick for one well within.
fn lies_in(outline: &Contour, contour: &Contour) -> bool {
    match distance::outlines_within(contour, outline, 0.0) {
        Some(gap) => matches!(gap.relation, Lie::Inside | Lie::Coincident),
        None => contour.segments().first().is_some_and(|s| outline.holds(s.start())),
    }
}

/// The room behind a contour.
struct Room<'a> {
    /// Least known depth of the areas that the contour meets, and the area's name.
    shallowest: Option<(f64, &'a str)>,
    /// A depth that is not known there, in words.
    unknown: Option<String>,
}

impl<'a> Room<'a> {
    /// What a group's own file says holds; where the carrier's says less, that does. A file that says nothing of depth
    /// leaves it to the carrier's.
    fn of_group(panel: &'a Panel, group: u32, contour: &Contour, off: f64) -> Room<'a> {
        let carrier = Room::at(panel, &panel.depth, contour, off);
        let Some(own) = panel.depth_maps(group).nth(1) else { return carrier };
        let mut room = Room::at(panel, own, contour, off);
        if let Some((depth, name)) = carrier.shallowest {
            room.see(Some(depth), name, String::new);
        }
        room
    }

    /// Areas within `off` of the contour count.
    fn at(panel: &'a Panel, map: &'a DepthMap, contour: &Contour, off: f64) -> Room<'a> {
        let mut room = Room { shallowest: None, unknown: None };
        let mut whole = false;
        for area in &map.areas {
            let Some(gap) = distance::within(&area.contour, contour, off) else { continue };
            if off == 0.0 && !gap.relation.overlaps() {
                continue;
            }
            whole |= contains(&area.contour, contour)
                && (off == 0.0 || matches!(gap.relation, Lie::Outside) && gap.distance >= off);
            room.see(area.available, &area.id, || format!("the depth of {}", area.id));
        }
        if !whole {
            let on_sheet = panel.sheets.iter().any(|s| lies_in(&s.outline, contour));
            // what is told for everywhere else is told of what lies behind the sheet
            let elsewhere = map.elsewhere.filter(|_| on_sheet || off > 0.0);
            room.see(elsewhere, "elsewhere", || {
                let b = contour.bounds();
                let at = |v: f64| number(v, 0);
                format!(
                    "the depth {} from x {} to {} and y {} to {} mm, where no single area of the depth map holds it",
                    if on_sheet { "behind the sheet" } else { "beyond the sheet's edge," },
                    at(b.x0), at(b.x1), at(b.y0), at(b.y1)
                )
            });
        }
        room
    }

    fn see(&mut self, depth: Option<f64>, name: &'a str, unknown: impl FnOnce() -> String) {
        match depth {
            Some(d) if self.shallowest.is_none_or(|(least, _)| d < least) => {
                self.shallowest = Some((d, name))
            }
            Some(_) => {}
            None => {
                self.unknown.get_or_insert_with(unknown);
            }
        }
    }

    /// Whether what is known decides already.
    fn short(&self, needed: f64) -> bool {
        self.shallowest.is_some_and(|(d, _)| d < needed - SLACK)
    }
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::DepthArea;

    fn area(id: &str, contour: Contour, available: Option<f64>) -> DepthArea {
        DepthArea { id: id.into(), contour, available, place: place() }
    }

    fn one(depth: Option<f64>, elsewhere: Option<f64>, areas: Vec<DepthArea>) -> (Scene, usize) {
        let mut s = Scene::new();
        s.panel.depth.elsewhere = elsewhere;
        s.panel.depth.areas = areas;
        let k = s.placement("alt", |_| ());
        s.part(k, "body", Class::Body, circle(60.0, 60.0, 80.0), Detail::Plain);
        s.last(k).depth = depth.map(|d| (0.0, d));
        (s, k)
    }

    #[test]
    fn passes_with_the_margin_and_exactly_on_it() {
        assert_eq!(one(Some(150.0), Some(156.0), vec![]).0.line(&RULE), "pass depth-behind/alt.body");
        // an area that only touches the body's outline does not count
        let touching = area("rib", rect(130.0, 60.0, 60.0, 60.0), Some(40.0));
        assert_eq!(one(Some(150.0), Some(156.0), vec![touching]).0.verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn the_shallowest_area_that_it_meets_holds() {
        let rib = area("rib", rect(98.0, 60.0, 4.0, 200.0), Some(120.0));
        let deep = area("bay", rect(60.0, 60.0, 300.0, 300.0), Some(300.0));
        assert_eq!(
            one(Some(118.0), None, vec![deep.clone(), rib.clone()]).0.line(&RULE),
            "fail depth-behind/alt.body: Needs 118 mm of the 120 mm available (rib): 2 mm of room is left, 6 mm asked. It \
             wants 4 mm more: move it, or take a side-exit plug, an elbow or a shorter unit."
        );
        let line = one(Some(130.0), None, vec![deep.clone(), rib]).0.line(&RULE);
        assert!(line.contains("it reaches 10 mm into what is there. It wants 16 mm more"), "{line}");
        assert_eq!(one(Some(118.0), None, vec![deep]).0.verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn tight_when_the_tolerance_reaches_a_shallow_area() {
        let rib = area("rib", rect(102.5, 60.0, 4.0, 200.0), Some(120.0));
        let (mut s, k) = one(Some(118.0), Some(300.0), vec![rib]);
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
        s.tolerance(k, TermKind::Size, 1.0, 1.0);
        assert_eq!(s.verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn ports_show_their_terms() {
        let (mut s, k) = one(Some(100.0), Some(150.0), vec![]);
        let terms = vec![("connector".into(), Some(30.0)), ("bend".into(), Some(20.0))];
        s.part(k, "plug", Class::Port, circle(60.0, 60.0, 20.0), Detail::Port { carries: None, terms });
        s.last(k).depth = Some((100.0, 150.0));
        let line = &s.lines(&RULE)[1];
        assert!(
            line.starts_with(
                "fail depth-behind/alt.plug: Needs 150 mm (behind the body: connector 30 mm + bend 20 mm) of"
            ),
            "{line}"
        );
    }

    #[test]
    fn withheld_names_the_very_number() {
        let (mut s, k) = one(None, Some(150.0), vec![]);
        let terms = vec![("connector".into(), None), ("bend".into(), Some(20.0))];
        s.part(k, "plug", Class::Port, circle(60.0, 60.0, 20.0), Detail::Port { carries: None, terms });
        assert_eq!(
            s.lines(&RULE),
            [
                "withheld depth-behind/alt.body: the depth of body",
                "withheld depth-behind/alt.plug: the length behind of plug: connector"
            ]
        );
        let (s, _) = one(Some(100.0), None, vec![]);
        assert_eq!(s.findings(&RULE)[0].verdict, Verdict::Withheld);
        let (s, _) = one(Some(100.0), None, vec![area("bay", rect(60.0, 60.0, 300.0, 300.0), None)]);
        assert_eq!(s.line(&RULE), "withheld depth-behind/alt.body: the depth of bay; 100 mm needed there");
    }

    #[test]
    fn a_known_shortfall_needs_no_further_number() {
        let rib = area("rib", rect(98.0, 60.0, 4.0, 200.0), Some(90.0));
        assert_eq!(one(Some(100.0), None, vec![rib]).0.verdicts(&RULE), [Verdict::Fail]);
    }

    #[test]
    fn a_body_that_is_not_there_for_want_of_a_size_withholds() {
        let mut s = Scene::new();
        s.panel.depth.elsewhere = Some(300.0);
        let k = s.placement("gps", |_| ());
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, 57.0), CUTOUT);
        s.panel.subjects[k].missing.push(("body".into(), "its shape and depth".into()));
        assert_eq!(s.line(&RULE), "withheld depth-behind/gps.cutout: body of gps: its shape and depth");
    }

    #[test]
    fn open_terms_of_the_definition_withhold() {
        let mut s = Scene::new();
        s.panel.depth.elsewhere = Some(300.0);
        let k = s.placement("gps", |f| f.open_terms = vec!["backshell".into(), "bend of the harness".into()]);
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, 57.0), CUTOUT);
        assert_eq!(
            s.line(&RULE),
            "withheld depth-behind/gps.cutout: depth behind, terms left open by the definition: backshell, bend of the \
             harness"
        );
    }

    /// A body of 80 mm in the middle of the left, and a plug out of its right side at 40 mm of depth.
    fn side_exit(elsewhere: Option<f64>, areas: Vec<DepthArea>, long: f64) -> Vec<String> {
        let (mut s, k) = one(Some(100.0), elsewhere, areas);
        let terms = vec![("elbow".into(), Some(long))];
        let run = rect(100.0 + long / 2.0, 60.0, long, 20.0);
        s.part(k, "plug", Class::Port, run, Detail::Port { carries: None, terms });
        s.last(k).depth = Some((30.0, 50.0));
        s.lines(&RULE)
    }

    #[test]
    fn a_side_exit_needs_its_room_along_the_whole_run() {
        let rib = |x: f64| vec![area("rib", rect(x, 60.0, 4.0, 200.0), Some(40.0))];
        assert_eq!(side_exit(Some(200.0), vec![], 30.0)[1], "pass depth-behind/alt.plug");
        let line = &side_exit(Some(200.0), rib(120.0), 30.0)[1];
        assert!(
            line.starts_with(
                "fail depth-behind/alt.plug: Needs 50 mm (to the side: elbow 30 mm) of the 40 mm available"
            ),
            "{line}"
        );
        assert_eq!(side_exit(Some(200.0), rib(140.0), 30.0)[1], "pass depth-behind/alt.plug");
        // the map knows the bay of the body and nothing beside it
        let bay = || vec![area("bay", rect(60.0, 60.0, 100.0, 100.0), Some(200.0))];
        assert_eq!(
            side_exit(None, bay(), 30.0)[1],
            "withheld depth-behind/alt.plug: the depth behind the sheet from x 100 to 130 and y 50 to 70 mm, where no \
             single area of the depth map holds it; 50 mm needed there"
        );
        // a rib that is met decides, whatever is not known
        assert!(side_exit(None, [bay(), rib(120.0)].concat(), 30.0)[1].starts_with("fail"));
    }

    #[test]
    fn beyond_the_edge_of_the_sheet_only_an_area_tells() {
        let far = side_exit(Some(200.0), vec![], 320.0);
        assert_eq!(far[0], "pass depth-behind/alt.body");
        assert_eq!(
            far[1],
            "withheld depth-behind/alt.plug: the depth beyond the sheet's edge, from x 100 to 420 and y 50 to 70 mm, where \
             no single area of the depth map holds it; 50 mm needed there"
        );
        let side = || vec![area("side", rect(300.0, 60.0, 500.0, 100.0), Some(150.0))];
        assert_eq!(side_exit(Some(200.0), side(), 320.0)[1], "pass depth-behind/alt.plug");
    }
}
