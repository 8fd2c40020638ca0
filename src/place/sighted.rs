//! The best spot by sight and reach: what it costs, term by term, and what is seen there.
//!
//! The cost of a spot is the weighted sum of stated terms. The candidates lie all over the region, and where a row or a
//! column of the neighbours is near, on it too; the cheapest are asked again by the real rules.

use super::arrange::{Costs, Piece, pieces};
use super::border::Border;
use super::region::Region;
use super::sight::Sight;
use super::spots::{MOST, Spots, all_over, asked_at};
use crate::geom::{Point, Vec2, length};
use crate::panel::Panel;

/// A row or column farther than this is not tried, mm.
const SNAP: f64 = 20.0;

const PRACTICE: &str = "common practice, no source";

/// What degrees from the line of sight count.
const ANGLE: f64 = 0.2;

/// What millimetres from the primary display count.
const PRIMARY: f64 = 0.02;

/// Terms of an arrangement that say something of a single spot.
const SHARED: [&str; 3] = ["field-of-view", "reach", "alignment"];

/// A term of the cost as it came out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counted {
    /// Its id.
    pub id: &'static str,
    /// What is measured.
    pub asks: &'static str,
    /// Who says so.
    pub source: &'static str,
    /// What it counts.
    pub weight: f64,
    /// Unit of what is measured.
    pub unit: &'static str,
    /// What was measured; `None`: it says nothing of such an item, or the file lacks what it needs.
    pub measured: Option<f64>,
    /// What it lacks from the file; `None` where nothing was measured: it asks nothing of such an item.
    pub lacks: Option<&'static str>,
}

impl Counted {
    /// What it adds.
    pub fn cost(&self) -> f64 {
        self.measured.map_or(0.0, |m| m * self.weight)
    }
}

/// The best spot by sight and reach.
#[derive(Clone, Debug)]
pub struct Sighted {
    /// The spot, asked by the rules; none where nothing is seen of a standby anywhere.
    pub spots: Spots,
    /// Its cost, term by term; empty without a spot.
    pub terms: Vec<Counted>,
    /// How many spots were compared.
    pub compared: usize,
    /// How many of them were left out because a standby is not seen there.
    pub unseen: usize,
}

/// The answer by sight and reach.
#[derive(Clone, Debug)]
pub enum BySight {
    /// Not told: what would settle it.
    Withheld(Vec<&'static str>),
    /// Told.
    Told(Sighted),
}

/// What a spot costs.
struct Cost<'p> {
    shared: Costs<'p>,
    sight: &'p Sight,
    subject: usize,
    primary: Vec<Point>,
}

impl<'p> Cost<'p> {
    fn new(panel: &'p Panel, own: &[Piece], sight: &'p Sight, subject: usize) -> Cost<'p> {
        let shared = Costs::new(panel, own);
        let w = &panel.wishes;
        let [attitude, ..] = w.basic_t;
        // the attitude display is the first of the primary ones; where it is not named, any of them will do
        let named: Vec<usize> = attitude.map_or(w.primary.clone(), |a| vec![a]);
        let others = named.into_iter().filter(|k| *k != subject);
        let primary = others.map(|k| shared.face(k, &[Vec2::ZERO]).center()).collect();
        Cost { shared, sight, subject, primary }
    }

    fn face(&self, shift: Vec2) -> Point {
        self.shared.face(self.subject, &[shift]).center()
    }

    fn each(&self, shift: Vec2) -> Vec<Counted> {
        let middle = self.face(shift);
        let far = self.primary.iter().map(|p| length(*p - middle)).reduce(f64::min);
        let own = [
            Counted {
                id: "angle",
                asks: "the middle of the face near the line of sight, 15 degrees below level",
                source: "AC 23.1311-1C 15.2 as quoted by others, not seen; its weight common practice, no source",
                weight: ANGLE,
                unit: "deg",
                measured: Some(self.sight.angle(shift)),
                lacks: None,
            },
            Counted {
                id: "primary-display",
                asks: "near the primary display",
                source: PRACTICE,
                weight: PRIMARY,
                unit: "mm",
                measured: far,
                lacks: far.is_none().then_some("`attitude` in `roles`, or `primary`"),
            },
        ];
        let shared = self.shared.each(&[shift]).into_iter().filter(|c| SHARED.contains(&c.term.id));
        let no_shoulder = self.shared.wishes().shoulder.is_none();
        let shared = shared.map(|c| Counted {
            id: c.term.id,
            asks: c.term.asks,
            source: c.term.source,
            weight: c.weight,
            unit: c.term.unit,
            measured: c.measured,
            lacks: match c.term.id {
                "reach" => no_shoulder.then_some("`shoulder`"),
                "alignment" => c.measured.is_none().then_some("a second item"),
                _ => None,
            },
        });
        own.into_iter().chain(shared).collect()
    }

    fn total(&self, shift: Vec2) -> f64 {
        self.each(shift).iter().map(Counted::cost).sum()
    }
}

impl Sighted {
    /// The best spot of a region; the subject must be one that is placed.
    pub fn of(panel: &Panel, subject: usize, region: &Region, sight: &Sight) -> Sighted {
        let own = pieces(panel, &[subject]);
        let cost = Cost::new(panel, &own, sight, subject);
        let all = candidates(&cost, region);
        let compared = all.len();
        let kept = all.into_iter().filter(|(p, _)| !sight.standby || sight.clear(p.to_vec2()));
        let mut kept: Vec<(f64, (Point, f64))> =
            kept.map(|(p, room)| (cost.total(p.to_vec2()), (p, room))).collect();
        let unseen = compared - kept.len();
        kept.sort_by(|(a, (p, _)), (b, (q, _))| {
            a.total_cmp(b).then(p.x.total_cmp(&q.x)).then(p.y.total_cmp(&q.y))
        });
        let spots = asked_at(panel, subject, kept.into_iter().take(MOST).map(|(_, s)| s), region.tight);
        let terms = spots.best.as_ref().map(|s| cost.each(s.shift)).unwrap_or_default();
        Sighted { spots, terms, compared, unseen }
    }

    /// What the spot costs.
    pub fn cost(&self) -> f64 {
        self.terms.iter().map(Counted::cost).sum()
    }
}

/// Shifts all over the region, and the same moved onto the nearest column and row of the neighbours.
fn candidates(cost: &Cost<'_>, region: &Region) -> Vec<(Point, f64)> {
    let border = Border::of(&region.area);
    let mut all = all_over(&border);
    let others: Vec<Point> = cost.shared.others(cost.subject).collect();
    let nearest = |at: f64, lines: &mut dyn Iterator<Item = f64>| {
        let off = lines.map(|l| l - at).reduce(|a, b| if b.abs() < a.abs() { b } else { a });
        off.filter(|o| o.abs() <= SNAP)
    };
    let mut on = Vec::new();
    for (p, _) in &all {
        let middle = cost.face(p.to_vec2());
        let x = nearest(middle.x, &mut others.iter().map(|o| o.x));
        let y = nearest(middle.y, &mut others.iter().map(|o| o.y));
        let by = [(x, None), (None, y), (x, y)];
        let by = by.iter().filter(|(x, y)| x.is_some() || y.is_some());
        on.extend(by.map(|(x, y)| *p + Vec2::new(x.unwrap_or(0.0), y.unwrap_or(0.0))));
    }
    all.extend(on.into_iter().map(|p| (p, border.room(p))).filter(|(_, room)| *room > 0.0));
    all.sort_by(|(p, _), (q, _)| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)));
    all.dedup_by(|(p, _), (q, _)| p == q);
    all
}
