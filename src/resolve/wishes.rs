//! What the user wishes of an arrangement: names to subjects, and wishes that contradict themselves.

use super::scene::Scene;
use super::shape;
use crate::define::Text;
use crate::define::panel::{Arrange, Sequence, Side};
use crate::diag::{Problem, Where, Written, did_you_mean};
use crate::geom::Vec2;
use crate::panel::{InOrder, InZone, KeptApart, SubjectKind, Wishes};
use crate::solid::Vec3;
use std::collections::BTreeMap;

/// Where the user's own orders come from.
const OWN: &str = "the panel's own file";

/// Where the order of the engine controls comes from.
const ENGINE: &str = "14 CFR 23.777(d), text before amendment 23-64, from memory";

impl Scene<'_, '_> {
    /// What the outermost file that says it wishes.
    pub fn wishes(&mut self) -> Wishes {
        let m = self.merged;
        let Some((file, def)) =
            m.files.iter().enumerate().rev().find_map(|(k, f)| Some((k, f.def.arrange.as_ref()?)))
        else {
            return Wishes::default();
        };
        let mut w = Wishes {
            free: def.free.as_ref().map(|f| self.named(f)),
            fixed: self.named(&def.fixed),
            primary: self.named(&def.primary),
            flight_breakers: self.named(&def.flight_breakers),
            groups: def.groups.iter().map(|g| self.named(g)).collect(),
            eye: def.eye.as_ref().map(shape::point),
            shoulder: def.shoulder.as_ref().map(|p| Vec3::new(p.x.mm(), p.y.mm(), p.d.mm())),
            reach: def.reach.as_ref().map(|r| r.value.mm()),
            place: Some(def.place.clone()),
            weights: def.weights.iter().map(|(k, v)| (k.to_string(), *v)).collect(),
            ..Wishes::default()
        };
        self.both(def, &w);
        w.orders = def.orders.iter().map(|o| self.sequence(o)).collect();
        w.rows = def.rows.iter().map(|o| self.sequence(o)).collect();
        for a in &def.apart {
            let items = self.several(&a.items);
            w.apart.push(KeptApart { items, by: a.by.value.mm(), place: a.place.clone() });
        }
        for s in &def.symmetric {
            if let [a, b] = self.several(&s.items)[..] {
                w.symmetric.push(([a, b], s.about.value.mm()));
            }
        }
        for z in &def.zones {
            let items = self.named(&z.items);
            if let Some(flat) = shape::flat(&z.shape, m.unit(file), self.problems) {
                let turn = z.turn.as_ref().map(|t| t.value.degrees());
                let area = shape::placed(&flat.contour, z.at.as_ref(), turn);
                w.zones.push(InZone { items, area, place: z.place.clone() });
            }
        }
        self.roles(def, &mut w);
        self.rings(&w);
        w
    }

    /// The subjects of some ids, each once; a unit's is its stack.
    fn named(&mut self, ids: &[Written<Text>]) -> Vec<usize> {
        let mut all = Vec::new();
        for id in ids {
            if let Some(k) = self.one(id)
                && !all.contains(&k)
            {
                all.push(k);
            }
        }
        all
    }

    /// The same of what is asked of two or more: one item alone, or units of one stack, would ask nothing.
    fn several(&mut self, ids: &[Written<Text>]) -> Vec<usize> {
        let before = self.problems.len();
        let all = self.named(ids);
        if let ([_], Some(last)) = (&all[..], ids.last())
            && self.problems.len() == before
            && !ids.iter().any(|id| self.merged.unsure(&id.value))
        {
            let message =
                format!("{}: this list names one item only; units of a stack count as the stack", last.value);
            self.problems
                .push(Problem::new("contradiction", &last.place, message).help("name two different items"));
        }
        all
    }

    fn one(&mut self, id: &Written<Text>) -> Option<usize> {
        let placed = |k: SubjectKind| matches!(k, SubjectKind::Placement | SubjectKind::Unit);
        let found = self.subjects.iter().position(|s| s.id == id.value.as_ref());
        match found.and_then(|k| Some((k, self.subjects.get(k)?))) {
            Some((k, s)) if placed(s.kind) => {
                let carrier = s.carrier.filter(|_| s.kind == SubjectKind::Unit);
                Some(carrier.map_or(k, |c| c as usize))
            }
            Some((_, s)) => {
                let message = format!("{} is no instrument: it cannot be arranged", s.id);
                self.problems
                    .push(Problem::new("no-item", &id.place, message).help("name a placed instrument"));
                None
            }
            None if self.merged.unsure(&id.value) => None,
            None => {
                let known = self.subjects.iter().filter(|s| placed(s.kind)).map(|s| s.id.as_str());
                let help = match did_you_mean(&id.value, known) {
                    Some(near) => format!("did you mean \"{near}\"?"),
                    None => "name an item that is placed on this panel".to_string(),
                };
                let message = format!("there is no `{}` on this panel to arrange", id.value);
                self.problems.push(Problem::new("unknown-id", &id.place, message).help(help));
                None
            }
        }
    }

    /// Refuses what is to stay and to move.
    fn both(&mut self, def: &Arrange, w: &Wishes) {
        let Some(free) = &w.free else { return };
        for id in &def.fixed {
            let k = self.subjects.iter().position(|s| s.id == id.value.as_ref());
            if k.is_some_and(|k| free.contains(&k)) {
                let message = format!("{} is listed as free and as fixed", id.value);
                self.problems.push(
                    Problem::new("contradiction", &id.place, message).help("take it out of one of the two"),
                );
            }
        }
        for id in def.free.iter().flatten().filter(|id| id.value.contains(':')) {
            let message =
                format!("{} stands on a floating panel: its place is in that panel's own file", id.value);
            self.problems
                .push(Problem::new("no-item", &id.place, message).help("arrange that file by itself"));
        }
    }

    fn sequence(&mut self, s: &Sequence) -> InOrder {
        let along = match s.along {
            Side::Right => Vec2::new(1.0, 0.0),
            Side::Left => Vec2::new(-1.0, 0.0),
            Side::Up => Vec2::new(0.0, 1.0),
            Side::Down => Vec2::new(0.0, -1.0),
        };
        for (k, id) in s.items.iter().enumerate() {
            if s.items.iter().take(k).any(|other| other.value == id.value) {
                let message = format!("{} stands twice in this order", id.value);
                self.problems.push(Problem::new("contradiction", &id.place, message).help("name it once"));
            }
        }
        InOrder { items: self.named(&s.items), along, place: s.place.clone(), source: OWN }
    }

    /// The basic T, and the order of the engine controls.
    fn roles(&mut self, def: &Arrange, w: &mut Wishes) {
        let mut of: BTreeMap<&str, usize> = BTreeMap::new();
        for (role, id) in &def.roles {
            if let Some(k) = self.one(id) {
                if let Some(other) = of.iter().find(|(_, o)| **o == k).map(|(r, _)| r.to_string()) {
                    // one display may show all that the T asks for; a control works one thing
                    let works = |r: &str| matches!(r, "power" | "propeller" | "mixture" | "carburettor-heat");
                    if works(role) || works(&other) {
                        let message = format!("{} is {role} and {other} at once", id.value);
                        let help = "name the item of each role; leave a role out that nothing has";
                        self.problems.push(Problem::new("contradiction", &id.place, message).help(help));
                        continue;
                    }
                }
                of.insert(role.as_ref(), k);
            }
        }
        let get = |r: &str| of.get(r).copied();
        w.basic_t = [get("attitude"), get("airspeed"), get("altitude"), get("direction")];
        let mut order = |items: Vec<usize>, place: &Where| {
            if items.len() >= 2 {
                let along = Vec2::new(1.0, 0.0);
                w.orders.push(InOrder { items, along, place: place.clone(), source: ENGINE });
            }
        };
        order(["power", "propeller", "mixture"].iter().filter_map(|r| get(r)).collect(), &def.place);
        let apart = get("carburettor-heat").zip(get("mixture")).is_some_and(|(heat, mixture)| {
            w.apart.iter().any(|a| a.items.contains(&heat) && a.items.contains(&mixture))
        });
        if !apart {
            order(["carburettor-heat", "power"].iter().filter_map(|r| get(r)).collect(), &def.place);
        }
    }

    /// Refuses orders by which something stands before itself.
    fn rings(&mut self, w: &Wishes) {
        for across in [true, false] {
            let mut before: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
            for o in w.orders.iter().filter(|o| (o.along.x != 0.0) == across) {
                for pair in o.items.windows(2) {
                    let [a, b] = pair else { continue };
                    let (a, b) = if o.along.x + o.along.y > 0.0 { (*a, *b) } else { (*b, *a) };
                    if let Some(path) = path(&before, b, a) {
                        let names: Vec<&str> = path
                            .iter()
                            .chain([&b])
                            .filter_map(|k| self.subjects.get(*k))
                            .map(|s| s.id.as_str())
                            .collect();
                        let way = if across { "from left to right" } else { "from below upwards" };
                        let message = format!("the orders contradict each other: {way} {}", names.join(", "));
                        let help = "take one of them out, or turn it round; engine controls stand in the order of their roles";
                        self.problems.push(Problem::new("contradiction", &o.place, message).help(help));
                        continue;
                    }
                    before.entry(a).or_default().push(b);
                }
            }
        }
    }
}

/// A way along what stands before what, both ends in it.
fn path(before: &BTreeMap<usize, Vec<usize>>, from: usize, to: usize) -> Option<Vec<usize>> {
    let mut came: BTreeMap<usize, usize> = BTreeMap::new();
    let mut open = vec![from];
    while let Some(k) = open.pop() {
        if k == to {
            let mut way = vec![to];
            let mut at = to;
            while at != from {
                at = *came.get(&at)?;
                way.push(at);
            }
            way.reverse();
            return Some(way);
        }
        for next in before.get(&k).into_iter().flatten() {
            if *next != from && !came.contains_key(next) {
                came.insert(*next, k);
                open.push(*next);
            }
        }
    }
    None
}
