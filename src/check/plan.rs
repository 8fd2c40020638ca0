//! The pair rules laid out for one panel: one row a relation, its limit settled, and for each class
//! of part the set of rows that speak of it, so that each near pair of parts is looked at once.

use super::{Exempt, From, Limit, Need, RULES, Relation, Rule, Select};
use crate::panel::{Class, Panel, PartRef, Subject};
use std::sync::LazyLock;

/// Pass findings are listed up to this far beyond the limit, mm; also what `all_pairs` calls near.
pub const REACH: f64 = 25.0;

/// Number of classes a part can have.
const CLASSES: usize = 19;

/// Rows as bits; a test holds the number of rows below 64.
pub(super) type Rows = u64;

/// One relation of one rule.
#[derive(Clone)]
pub(super) struct Row {
    pub rule: &'static Rule,
    /// Place of the rule in the list of rules.
    pub order: u16,
    pub relation: &'static Relation,
    /// The user's own limit by rigid group, in the rule's unit; one where nothing floats.
    users: Vec<Option<f64>>,
    /// The rule's own limit in millimetres where all parts are asked alike.
    even: f64,
    /// The most that the rule asks of any part of this panel, mm.
    pub most: f64,
}

/// A rule with its own measurer, and its place in the list of rules.
pub(super) type Measurer = (&'static Rule, u16, super::Own);

/// All rows, with tables by class.
#[derive(Clone)]
pub(super) struct Plan {
    pub rows: Vec<Row>,
    /// Rules with their own measurer.
    pub own: Vec<Measurer>,
    /// The same for those that look around.
    pub around: Vec<Measurer>,
    /// The same for those that look at what is cut.
    pub metal: Vec<(&'static Rule, u16, super::rule::InMetal)>,
    /// Rules with a measurer of a subject in the airframe.
    pub room: Vec<(&'static Rule, u16, super::InRoom)>,
    /// Rules with a measurer of a subject among what is near it.
    pub near: Vec<(&'static Rule, u16, super::Near)>,
    /// Rules with a measurer of two subjects.
    pub two: Vec<(&'static Rule, u16, super::Two)>,
    of: [Rows; CLASSES],
    from: [Rows; CLASSES],
    inside: [Rows; CLASSES],
    /// Rows that look closer at a part than its class.
    closer: Rows,
    /// Rows about parts of different subjects.
    pub between: Rows,
    /// Rows about parts of different subjects even within a stack.
    pub in_stack: Rows,
    /// Rows about parts of one subject.
    pub within: Rows,
    /// Of those, the ones that exempt placements.
    pub not_makers: Rows,
    /// Rows of covers over what the same subject has.
    pub hides_own: Rows,
    /// Rows whose two parts play different roles: both ways round are two questions.
    pub directed: Rows,
}

/// What a part is to the rows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Roles {
    pub of: Rows,
    pub from: Rows,
    pub inside: Rows,
}

impl Roles {
    pub fn none(self) -> bool {
        self.of | self.from | self.inside == 0
    }
}

impl Row {
    /// Select of the first and of the second part.
    fn selects(&self) -> (&'static Select, Option<&'static Select>) {
        match self.relation {
            Relation::Apart { of, from, .. } => (of, Some(from)),
            Relation::Covers { cover, what, .. } => (cover, Some(what)),
            Relation::Inside { what, .. } => (what, None),
            // flattened away or kept elsewhere: never in a row
            Relation::All(_)
            | Relation::Own(_)
            | Relation::Around(_)
            | Relation::Metal(_)
            | Relation::Near(_)
            | Relation::Between(_)
            | Relation::Room(_) => (&NO_PART, None),
        }
    }

    /// What one part asks.
    fn need(&self, panel: &Panel, r: PartRef) -> Need {
        let user = match self.users.as_slice() {
            [] => None,
            [one] => *one,
            by_group => by_group.get(panel.group(r) as usize).copied().flatten(),
        };
        match self.rule.asked {
            Some(asked) => asked(panel, r, user),
            None => Need::Asks(user.unwrap_or(self.even)),
        }
    }

    /// Whether it measures how far the outlines of two parts are apart.
    pub fn is_of_outlines(&self) -> bool {
        matches!(self.relation, Relation::Apart { measure: From::Boundary, .. })
    }

    /// What is asked of a part alone, or of two: millimetres, and what it waits for where it rests on
    /// a missing size. `None`: the rule does not speak of them.
    pub fn asked(
        &self,
        panel: &Panel,
        a: PartRef,
        b: Option<PartRef>,
    ) -> Option<(f64, Option<&'static str>)> {
        let first = self.need(panel, a);
        let second = b.map_or(Need::Nothing, |b| self.need(panel, b));
        let (mut most, mut waits) = (None, None);
        for need in [first, second] {
            if let Need::Asks(v) | Need::AtMost(v, _) = need
                && most.is_none_or(|m| v > m)
            {
                most = Some(v);
                waits = if let Need::AtMost(_, words) = need { Some(words) } else { None };
            }
        }
        most.map(|m| (m, waits))
    }
}

/// Whether any relation looks at other subjects by its own measurer.
fn looks_around(relation: &Relation) -> bool {
    match relation {
        Relation::All(all) => all.iter().any(looks_around),
        other => matches!(other, Relation::Around(_) | Relation::Metal(_)),
    }
}

static NO_PART: Select = Select { classes: crate::panel::Classes(0), when: None };

impl Plan {
    /// Lays the rules out for a panel.
    pub fn new(panel: &Panel) -> Plan {
        let mut plan = Plan::limited(panel);
        plan.reach(panel, &mut panel.subjects.iter().enumerate());
        plan
    }

    /// The same where only some subjects differ from those of a plan that asked `most` of any part.
    pub fn again(panel: &Panel, most: &[f64], changed: impl Iterator<Item = usize>) -> Plan {
        let mut plan = Plan::limited(panel);
        plan.reach(panel, &mut changed.filter_map(|s| Some((s, panel.subjects.get(s)?))));
        for (row, most) in plan.rows.iter_mut().zip(most) {
            row.most = row.most.max(*most);
        }
        plan
    }

    /// Leaves out the measurers of some rules.
    pub fn leave(&mut self, rules: &[&'static Rule]) {
        let stays = |rule: &'static Rule| !rules.iter().any(|r| std::ptr::eq(*r, rule));
        self.own.retain(|(r, ..)| stays(r));
        self.around.retain(|(r, ..)| stays(r));
        self.metal.retain(|(r, ..)| stays(r));
        self.room.retain(|(r, ..)| stays(r));
        self.near.retain(|(r, ..)| stays(r));
        self.two.retain(|(r, ..)| stays(r));
    }

    /// The rules with the panel's own limits.
    fn limited(panel: &Panel) -> Plan {
        // what does not depend on the panel is laid out once
        static RULED: LazyLock<Plan> = LazyLock::new(Plan::of_rules);
        let mut plan = RULED.clone();
        let groups = panel.space.groups.len().max(1);
        if !panel.limits.is_empty() || groups > 1 {
            for row in &mut plan.rows {
                let own = |g: usize| panel.limit(row.rule.id, g as u32).map(|l| l.value);
                row.users = (0..groups).map(own).collect();
                row.most = row.users.iter().map(|u| u.unwrap_or(row.even)).fold(0.0, f64::max);
            }
        }
        plan
    }

    /// The rules with their own limits.
    fn of_rules() -> Plan {
        let mut plan = Plan {
            rows: Vec::new(),
            own: Vec::new(),
            around: Vec::new(),
            metal: Vec::new(),
            room: Vec::new(),
            near: Vec::new(),
            two: Vec::new(),
            of: [0; CLASSES],
            from: [0; CLASSES],
            inside: [0; CLASSES],
            closer: 0,
            between: 0,
            in_stack: 0,
            within: 0,
            not_makers: 0,
            hides_own: 0,
            directed: 0,
        };
        for (order, rule) in RULES.iter().enumerate() {
            plan.take(rule, order as u16, &rule.relation, looks_around(&rule.relation));
        }
        plan.tables();
        plan
    }

    /// `around`: whether any relation of the rule looks around; then all of its own measurers are run
    /// again after a change, since findings know their rule and not which measurer wrote them.
    fn take(&mut self, rule: &'static Rule, order: u16, relation: &'static Relation, around: bool) {
        match relation {
            Relation::All(all) => all.iter().for_each(|r| self.take(rule, order, r, around)),
            Relation::Own(own) | Relation::Around(own) if around => self.around.push((rule, order, *own)),
            Relation::Own(own) | Relation::Around(own) => self.own.push((rule, order, *own)),
            Relation::Metal(metal) => self.metal.push((rule, order, *metal)),
            Relation::Room(room) => self.room.push((rule, order, *room)),
            Relation::Near(near) => self.near.push((rule, order, *near)),
            Relation::Between(two) => self.two.push((rule, order, *two)),
            Relation::Apart { .. } | Relation::Inside { .. } | Relation::Covers { .. } => {
                let even = if let Limit::AtLeast(v) = rule.limit { v } else { 0.0 };
                self.rows.push(Row { rule, order, relation, users: Vec::new(), even, most: even });
            }
        }
    }

    fn tables(&mut self) {
        for (k, row) in self.rows.iter().enumerate() {
            let bit = 1 << k;
            let (of, from) = row.selects();
            let mut closer = of.when.is_some();
            let single = from.is_none();
            for (slot, class) in classes() {
                if of.classes.has(class) {
                    if single { self.inside[slot] |= bit } else { self.of[slot] |= bit }
                }
                if from.is_some_and(|f| f.classes.has(class)) {
                    self.from[slot] |= bit;
                }
            }
            closer |= from.is_some_and(|f| f.when.is_some());
            if closer {
                self.closer |= bit;
            }
            if matches!(row.relation, Relation::Apart { measure: From::Centre, .. } | Relation::Covers { .. })
            {
                self.directed |= bit;
            }
            match row.relation {
                Relation::Apart { exempt, .. } => match exempt {
                    Exempt::Nothing | Exempt::Behind => {
                        self.between |= bit;
                        self.in_stack |= bit;
                        self.within |= bit;
                    }
                    Exempt::SameSubject | Exempt::OnIt => self.between |= bit,
                    Exempt::MakersOwn => {
                        self.between |= bit;
                        self.within |= bit;
                        self.not_makers |= bit;
                    }
                    Exempt::Others => self.within |= bit,
                },
                Relation::Covers { own: false, .. } => self.between |= bit,
                Relation::Covers { own: true, .. } => self.hides_own |= bit,
                _ => {}
            }
        }
    }

    /// Finds the most that each row can ask where it depends on the parts.
    fn reach(&mut self, panel: &Panel, subjects: &mut dyn Iterator<Item = (usize, &Subject)>) {
        let by_part: Rows =
            self.rows.iter().enumerate().filter(|(_, r)| r.rule.asked.is_some()).map(|(k, _)| 1 << k).sum();
        if by_part == 0 {
            return;
        }
        let speaks = |c: usize| (self.of[c] | self.from[c] | self.inside[c]) & by_part;
        let depends: u32 = (0..CLASSES).filter(|c| speaks(*c) != 0).map(|c| 1 << c).sum();
        let mut most = vec![0.0_f64; self.rows.len()];
        for (s, subject) in subjects {
            // most parts are of classes that are asked alike
            let parts = subject.parts.iter().enumerate().filter(|(_, p)| p.class as u32 & depends != 0);
            for (p, part) in parts {
                let r = PartRef { subject: s as u32, part: p as u32 };
                for k in bits(speaks(slot(part.class))) {
                    if let Need::Asks(v) | Need::AtMost(v, _) = self.rows[k].need(panel, r) {
                        most[k] = most[k].max(v);
                    }
                }
            }
        }
        for k in bits(by_part) {
            self.rows[k].most = most[k];
        }
    }

    /// Whether a row asks of one part in its sheet.
    pub fn is_inside(&self, row: usize) -> bool {
        matches!(self.rows[row].relation, Relation::Inside { .. })
    }

    /// Rows in which a class of part can stand: first of two, second of two, in its sheet.
    pub fn rows_of(&self, class: Class) -> (Rows, Rows, Rows) {
        let c = slot(class);
        (self.of[c], self.from[c], self.inside[c])
    }

    /// What a part is to the rows.
    pub fn roles(&self, panel: &Panel, r: PartRef, class: Class) -> Roles {
        let c = slot(class);
        let mut roles = Roles { of: self.of[c], from: self.from[c], inside: self.inside[c] };
        for k in bits((roles.of | roles.from | roles.inside) & self.closer) {
            let bit = 1 << k;
            let (first, second) = self.rows[k].selects();
            if first.when.is_some_and(|when| !when(panel, r)) {
                roles.of &= !bit;
                roles.inside &= !bit;
            }
            if second.and_then(|s| s.when).is_some_and(|when| !when(panel, r)) {
                roles.from &= !bit;
            }
        }
        roles
    }
}

/// The numbers of the rows in a set.
pub(super) fn bits(mut rows: Rows) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        (rows != 0).then(|| {
            let k = rows.trailing_zeros() as usize;
            rows &= rows - 1;
            k
        })
    })
}

#[inline]
fn slot(class: Class) -> usize {
    (class as u32).trailing_zeros() as usize % CLASSES
}

fn classes() -> impl Iterator<Item = (usize, Class)> {
    use Class::*;
    let all = [
        Edge, Cutout, Hole, OldOpening, Bezel, Flange, Case, Body, Port, Front, Hand, Head, Nut, Zone, Label,
        Provision, Obstacle, Moving, Line,
    ];
    all.into_iter().map(|c| (slot(c), c))
}
