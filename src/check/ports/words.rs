//! Free directions in words: by the clock where a line leaves along the depth, by names where it leaves sideways.

use super::exit::Exit;
use super::tube::{Frame, along_depth};
use crate::calc::clock::{Directions, Seen, clock_words};
use crate::solid::Vec3;

/// `free from 4 to 9 o'clock, seen from the seat`; of a line that leaves sideways `free forward and up, not down`.
pub fn said(exit: &Exit, set: &Directions, seen: Seen) -> String {
    if set.is_empty() || set.is_all() || along_depth(exit.axis) {
        return clock_words(set, seen);
    }
    let frame = Frame::of(exit);
    let ways = [0.0, 90.0, 180.0, 270.0].map(|a| (name(frame.way(a), seen), set.has(a)));
    let list = |free: bool| {
        let names: Vec<&str> = ways.iter().filter(|(_, is)| *is == free).map(|(n, _)| *n).collect();
        match names.split_last() {
            Some((last, [])) => (*last).to_string(),
            Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
            None => String::new(),
        }
    };
    let (free, not) = (list(true), list(false));
    match (free.is_empty(), not.is_empty()) {
        (true, _) => format!("free only between the ways {not}"),
        (false, true) => format!("free {free}, not everywhere between"),
        (false, false) => format!("free {free}, not {not}"),
    }
}

/// The name of a direction, the nearest of six.
fn name(v: Vec3, seen: Seen) -> &'static str {
    let right = if seen == Seen::FromSeat { v.x } else { -v.x };
    if v.d.abs() >= v.x.abs().max(v.y.abs()) {
        return if v.d > 0.0 { "forward" } else { "towards the pilot" };
    }
    if v.y.abs() >= v.x.abs() {
        return if v.y > 0.0 { "up" } else { "down" };
    }
    if right > 0.0 { "right" } else { "left" }
}

#[cfg(test)]
mod tests {
    use super::super::exit::Turn;
    use super::*;
    use crate::panel::PartRef;

    #[test]
    fn a_line_to_the_side_is_said_by_names() {
        let exit = Exit {
            port: PartRef { subject: 0, part: 0 },
            at: Vec3::ZERO,
            axis: Vec3::new(1.0, 0.0, 0.0),
            straight: 0.0,
            turn: Turn::Room { deep: 1.0, elbow: false },
            wide: None,
            line: None,
            side_exit: None,
        };
        // from forward (0) over down (90) to the pilot (180) and up (270)
        let set = Directions::of([(0.0, 100.0), (260.0, 360.0)]);
        assert_eq!(said(&exit, &set, Seen::FromSeat), "free forward, down and up, not towards the pilot");
        assert_eq!(
            said(&exit, &Directions::of([(30.0, 60.0)]), Seen::FromSeat).find("only between"),
            Some(5)
        );
        assert_eq!(said(&exit, &Directions::all(), Seen::FromSeat), "free all round");
        let up = Exit { axis: Vec3::new(0.0, 1.0, 0.0), ..exit };
        let right = Directions::of([(80.0, 100.0)]);
        assert!(said(&up, &right, Seen::FromSeat).starts_with("free right, not forward"));
        assert!(said(&up, &right, Seen::FromBehind).starts_with("free left, not forward"));
    }
}
