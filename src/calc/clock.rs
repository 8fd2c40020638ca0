//! Directions round an axis as sets of intervals of angle, and how they are said by the clock. Exact to rounding.
//!
//! Angles are degrees clockwise from 12 o'clock, as seen from the seat; seen from behind the dial is mirrored: 3 o'clock
//! reads 9. Half an hour is 15 degrees; an interval is said by the half hours that lie within it, never by more.

/// From where the dial is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// From the pilot's seat.
    FromSeat,
    /// From behind the panel: mirrored.
    FromBehind,
}

/// A set of directions: intervals `(from, to)` in degrees, `0 <= from < 360`, `from <= to <= from + 360`, ascending, apart.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Directions {
    arcs: Vec<(f64, f64)>,
}

/// Ends nearer than this are one, degrees.
const JOIN: f64 = 1e-9;

impl Directions {
    /// All round.
    pub fn all() -> Directions {
        Directions { arcs: vec![(0.0, 360.0)] }
    }

    /// What `pieces`, ascending within 0 to 360, cover; neighbours are joined, also over 12 o'clock.
    pub fn of(pieces: impl IntoIterator<Item = (f64, f64)>) -> Directions {
        let mut arcs: Vec<(f64, f64)> = Vec::new();
        for (from, to) in pieces {
            match arcs.last_mut() {
                Some(last) if from <= last.1 + JOIN => last.1 = last.1.max(to),
                _ => arcs.push((from, to)),
            }
        }
        if let (true, Some(first), Some(last)) = (arcs.len() > 1, arcs.first().copied(), arcs.last_mut())
            && first.0 <= JOIN
            && last.1 >= 360.0 - JOIN
        {
            last.1 = 360.0 + first.1;
            arcs.remove(0);
        }
        Directions { arcs }
    }

    /// The intervals.
    pub fn arcs(&self) -> &[(f64, f64)] {
        &self.arcs
    }

    /// None at all.
    pub fn is_empty(&self) -> bool {
        self.arcs.is_empty()
    }

    /// All of them.
    pub fn is_all(&self) -> bool {
        self.width() >= 360.0 - JOIN
    }

    /// Degrees in all.
    pub fn width(&self) -> f64 {
        self.arcs.iter().map(|(a, b)| b - a).sum()
    }

    /// Whether a direction is in the set.
    pub fn has(&self, degrees: f64) -> bool {
        let turn = degrees - 360.0 * (degrees / 360.0).floor();
        let within =
            |(a, b): &(f64, f64)| (*a <= turn && turn <= *b) || (*a <= turn + 360.0 && turn + 360.0 <= *b);
        self.arcs.iter().any(within)
    }

    /// The mirror image, left for right.
    pub fn mirrored(&self) -> Directions {
        let turn = |(a, b): &(f64, f64)| {
            let from = -b - 360.0 * (-b / 360.0).floor();
            (from, from + (b - a))
        };
        let mut arcs: Vec<(f64, f64)> = self.arcs.iter().map(turn).collect();
        arcs.sort_by(|a, b| a.0.total_cmp(&b.0));
        Directions { arcs }
    }
}

/// A set in words: `free all round`, `free from 4 to 9 o'clock, seen from the seat`, `free nowhere`.
pub fn clock_words(set: &Directions, seen: Seen) -> String {
    if set.is_empty() {
        return "free nowhere".into();
    }
    if set.is_all() {
        return "free all round".into();
    }
    let (dial, whence) = match seen {
        Seen::FromSeat => (set.clone(), "seen from the seat"),
        Seen::FromBehind => (set.mirrored(), "seen from behind"),
    };
    let said: Vec<String> = dial.arcs.iter().map(|(a, b)| arc_words(*a, *b)).collect();
    let said = match said.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => said.concat(),
    };
    format!("free {said}, {whence}")
}

/// Degrees of half an hour.
const HALF_HOUR: f64 = 15.0;

fn arc_words(from: f64, to: f64) -> String {
    let first = ((from - JOIN) / HALF_HOUR).ceil();
    let last = ((to + JOIN) / HALF_HOUR).floor();
    if first < last {
        return format!("from {} to {} o'clock", hour(first), hour(last));
    }
    if first == last {
        return format!("at {} o'clock", hour(first));
    }
    // between two half hours: the nearest is named, with how narrow it is
    let near = ((from + to) / 2.0 / HALF_HOUR).round();
    format!("near {} o'clock ({:.0} degrees wide)", hour(near), (to - from).max(1.0))
}

/// The name of a half hour, counted from 12 o'clock.
fn hour(halves: f64) -> String {
    let n = halves.rem_euclid(24.0) as u32;
    let hour = if n / 2 == 0 { 12 } else { n / 2 };
    if n.is_multiple_of(2) { hour.to_string() } else { format!("half past {hour}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn said_by_the_clock_and_mirrored_from_behind() {
        // 4 o'clock is 120 degrees, 9 o'clock 270; from behind 4 reads 8 and 9 reads 3
        let set = Directions::of([(120.0, 270.0)]);
        assert_eq!(clock_words(&set, Seen::FromSeat), "free from 4 to 9 o'clock, seen from the seat");
        assert_eq!(clock_words(&set, Seen::FromBehind), "free from 3 to 8 o'clock, seen from behind");
    }

    #[test]
    fn rounded_inwards_only() {
        let set = Directions::of([(121.0, 269.0)]);
        assert_eq!(
            clock_words(&set, Seen::FromSeat),
            "free from half past 4 to half past 8 o'clock, seen from the seat"
        );
        assert_eq!(
            clock_words(&Directions::of([(170.0, 190.0)]), Seen::FromSeat),
            "free at 6 o'clock, seen from the seat"
        );
        assert_eq!(
            clock_words(&Directions::of([(182.0, 188.0)]), Seen::FromSeat),
            "free near 6 o'clock (6 degrees wide), seen from the seat"
        );
    }

    #[test]
    fn over_twelve_all_and_nothing() {
        let set = Directions::of([(0.0, 30.0), (300.0, 360.0)]);
        assert_eq!(set.arcs(), [(300.0, 390.0)]);
        assert_eq!(clock_words(&set, Seen::FromSeat), "free from 10 to 1 o'clock, seen from the seat");
        assert_eq!(clock_words(&set, Seen::FromBehind), "free from 11 to 2 o'clock, seen from behind");
        assert!(set.has(0.0) && set.has(-60.0) && set.has(390.0) && !set.has(31.0) && !set.has(180.0));
        assert_eq!(clock_words(&Directions::all(), Seen::FromBehind), "free all round");
        assert_eq!(clock_words(&Directions::default(), Seen::FromSeat), "free nowhere");
        assert!(Directions::of([(0.0, 180.0), (180.0, 360.0)]).is_all());
    }

    #[test]
    fn mirrored_twice_is_the_same() {
        let set = Directions::of([(10.0, 40.0), (100.0, 200.0), (350.0, 355.0)]);
        assert_eq!(set.mirrored().mirrored(), set);
        assert!((set.mirrored().width() - set.width()).abs() < 1e-9);
    }

    #[test]
    fn several_intervals_are_all_said() {
        let set = Directions::of([(30.0, 60.0), (180.0, 240.0)]);
        assert_eq!(
            clock_words(&set, Seen::FromSeat),
            "free from 1 to 2 o'clock and from 6 to 8 o'clock, seen from the seat"
        );
    }
}
