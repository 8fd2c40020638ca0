//! What the map of depth behind the sheet asks: the rule depth-behind in another form.

use super::super::depth_behind::{RULE, missing_depth};
use super::super::own::{absent, grows};
use super::{Asker, Ban, Bans, Broken, Shallow};
use crate::panel::{Class, PartRef, TermKind};

impl<'a> Asker<'a> {
    /// Depth behind each body and plug.
    pub(super) fn depth(&self, all: &mut Bans<'a>) {
        let panel = self.panel;
        let Some(s) = panel.subjects.get(self.subject) else { return };
        let group = panel.space.groups.get(s.group as usize).filter(|_| s.group > 0);
        let asked = self.limit(&RULE, self.subject, 6.0);
        for class in [Class::Body, Class::Port] {
            let lacks = absent(s, class).map(|(name, what)| format!("{name} of {}: {what}", s.id));
            all.withheld.extend(lacks);
        }
        let open = s.facts.as_ref().map(|f| f.open_terms.as_slice()).unwrap_or_default();
        if !open.is_empty() {
            let terms = open.join(", ");
            all.withheld.push(format!("depth behind, terms left open by the definition: {terms}"));
        }
        for (k, part) in s.parts.iter().enumerate() {
            if !matches!(part.class, Class::Body | Class::Port) {
                continue;
            }
            let Some((_, deep)) = part.depth else {
                all.withheld.push(missing_depth(s, part));
                continue;
            };
            if deep <= 0.0 {
                continue;
            }
            let Some(forward) = group.map_or(Some(0.0), |g| g.sway.map(|s| s.forward)) else {
                all.withheld
                    .push(format!("how far {} sways forward on its mounts", group.map_or("", |g| &g.id)));
                continue;
            };
            let size: f64 = part.terms.iter().filter(|t| t.kind == TermKind::Size).map(|t| t.grow).sum();
            let off: f64 = part.terms.iter().map(|t| t.shift).sum::<f64>() + grows(part);
            let (off, size) = (self.takes(off), self.takes(size));
            let needed = deep + forward + asked + size;
            let maps: Vec<_> = panel.depth_maps(s.group).collect();
            // where the group's own file has a map, that one speaks for what is not known
            let last = maps.len().saturating_sub(1);
            for (n, map) in maps.into_iter().enumerate() {
                let lenient = n < last;
                if !lenient && map.elsewhere.is_none() && map.areas.is_empty() {
                    all.withheld.push("the depth available behind the sheet (depth)".into());
                    continue;
                }
                let shallow =
                    Shallow { own: &part.contour, off, needed, map, sheets: &panel.sheets, lenient };
                let other = PartRef { subject: panel.sheets.first().map_or(0, |s| s.subject), part: 0 };
                let broken = Broken::Shallow(shallow);
                all.list.push(Ban { rule: &RULE, own: self.own(k), other, broken });
            }
        }
    }
}
