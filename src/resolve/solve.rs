//! Where things stand that are placed by what they stand beside.
//!
//! Every statement of a file ("9 mm to the right of", "level with") gives one coordinate of one item as
//! a sum over coordinates of others: an [`Equation`]. Items are worked out in the order in which they
//! depend on each other; a ring of items, an item with a coordinate too few, and two statements that
//! contradict each other are named. Exact to rounding.

use crate::diag::{Problem, Where};
use crate::geom::{Point, SLACK};

/// Across or up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// x, to the right.
    X,
    /// y, up.
    Y,
}

/// `item.axis = offset + sum of factor * other.axis`.
#[derive(Clone, Debug)]
pub struct Equation {
    /// Index of the item.
    pub item: usize,
    /// Coordinate that it gives.
    pub axis: Axis,
    /// Coordinates of others, each with its factor.
    pub on: Vec<(usize, Axis, f64)>,
    /// Constant part, mm.
    pub offset: f64,
    /// Words for messages, as the file says it (`right-of`).
    pub says: &'static str,
    /// Where it stands.
    pub place: Where,
}

/// One item to place.
#[derive(Clone, Debug)]
pub struct Item {
    /// Its name in messages.
    pub id: String,
    /// Where it stands in the file.
    pub place: Where,
    /// Set when its placement was refused already: it is left out, and so is what hangs on it.
    pub broken: bool,
}

/// Works out all items. Places come back for those that could be worked out; problems for the rest.
pub fn solve(items: &[Item], equations: &[Equation]) -> (Vec<Option<Point>>, Vec<Problem>) {
    let mut work = Work {
        items,
        equations,
        of: vec![[Vec::new(), Vec::new()]; items.len()],
        state: vec![[State::Fresh; 2]; items.len()],
        problems: Vec::new(),
    };
    for (k, e) in equations.iter().enumerate() {
        if let Some(axes) = work.of.get_mut(e.item) {
            axes[e.axis as usize].push(k);
        }
    }
    for item in 0..items.len() {
        work.item(item);
    }
    let places = work
        .state
        .iter()
        .map(|axes| match axes {
            [State::Known(x), State::Known(y)] => Some(Point::new(*x, *y)),
            _ => None,
        })
        .collect();
    (places, work.problems)
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum State {
    Fresh,
    /// Being worked out: meeting it again is a ring.
    Open,
    Known(f64),
    /// Cannot be worked out; somebody has been told.
    Lost,
}

struct Work<'a> {
    items: &'a [Item],
    equations: &'a [Equation],
    of: Vec<[Vec<usize>; 2]>,
    state: Vec<[State; 2]>,
    problems: Vec<Problem>,
}

impl Work<'_> {
    fn item(&mut self, item: usize) {
        if self.items[item].broken {
            self.state[item] = [State::Lost; 2];
            return;
        }
        for axis in [Axis::X, Axis::Y] {
            self.coordinate(item, axis);
        }
    }

    /// Depth first with a stack of its own, so that a chain of ten thousand items is no deep recursion.
    fn coordinate(&mut self, item: usize, axis: Axis) {
        let mut path = vec![(item, axis)];
        while let Some(&(item, axis)) = path.last() {
            let slot = self.state[item][axis as usize];
            if matches!(slot, State::Known(_) | State::Lost) {
                path.pop();
                continue;
            }
            if self.items[item].broken {
                self.state[item][axis as usize] = State::Lost;
                continue;
            }
            self.state[item][axis as usize] = State::Open;
            match self.needs(item, axis) {
                Some(next) if self.state[next.0][next.1 as usize] == State::Open => {
                    self.ring(&path, next);
                    for (i, a) in path.drain(..) {
                        self.state[i][a as usize] = State::Lost;
                    }
                }
                Some(next) => path.push(next),
                None => {
                    self.state[item][axis as usize] = self.evaluate(item, axis);
                    path.pop();
                }
            }
        }
    }

    /// A coordinate that must be known first.
    fn needs(&self, item: usize, axis: Axis) -> Option<(usize, Axis)> {
        let on = self.of[item][axis as usize].iter().flat_map(|k| &self.equations[*k].on);
        on.map(|(i, a, _)| (*i, *a))
            .find(|(i, a)| matches!(self.state[*i][*a as usize], State::Fresh | State::Open))
    }

    fn evaluate(&mut self, item: usize, axis: Axis) -> State {
        let mut found: Option<(f64, &Equation)> = None;
        for k in &self.of[item][axis as usize] {
            let e = &self.equations[*k];
            let mut value = e.offset;
            for (i, a, factor) in &e.on {
                match self.state[*i][*a as usize] {
                    State::Known(v) => value += factor * v,
                    _ => return State::Lost,
                }
            }
            match found {
                None => found = Some((value, e)),
                Some((first, by)) if (first - value).abs() > SLACK => {
                    let coordinate = if axis == Axis::X { "x" } else { "y" };
                    let message = format!(
                        "`{}` puts {} at {coordinate} {}, `{}` at {coordinate} {}",
                        by.says,
                        self.items[item].id,
                        show(first),
                        e.says,
                        show(value)
                    );
                    let problem = Problem::new("contradiction", &e.place, message)
                        .help("keep one of the two, or make them agree");
                    self.problems.push(problem);
                    return State::Lost;
                }
                Some(_) => {}
            }
        }
        match found {
            Some((value, _)) if value.is_finite() => State::Known(value),
            Some(_) => State::Lost,
            None => {
                let (which, help) = match axis {
                    Axis::X => {
                        ("how far across", "add \"in-line\" or \"right-of\", or place it by \"at\": [x, y]")
                    }
                    Axis::Y => ("how high", "add \"level\" or \"below\", or place it by \"at\": [x, y]"),
                };
                let message = format!("nothing says {which} {} stands", self.items[item].id);
                let problem = Problem::new("no-place", &self.items[item].place, message).help(help);
                self.problems.push(problem);
                State::Lost
            }
        }
    }

    fn ring(&mut self, path: &[(usize, Axis)], next: (usize, Axis)) {
        let from = path.iter().position(|p| *p == next).unwrap_or(0);
        let mut names: Vec<&str> = Vec::new();
        for (i, _) in path.iter().skip(from) {
            let name = self.items[*i].id.as_str();
            if names.last() != Some(&name) {
                names.push(name);
            }
        }
        if names.len() > 1 && names.first() == names.last() {
            names.pop();
        }
        let message = if names.len() == 1 {
            format!("{} is placed by itself", names[0])
        } else {
            let first = names.first().copied().unwrap_or_default();
            format!("these stand in a ring, each placed by the next: {}, {first}", names.join(", "))
        };
        let place = &self.items[next.0].place;
        self.problems
            .push(Problem::new("ring", place, message).help("give one of them its own \"at\": [x, y]"));
    }
}

/// Millimetres for people.
fn show(v: f64) -> String {
    crate::units::fmt_mm(v)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place() -> Where {
        Where { file: "p.json".into(), start: 0, end: 0, line: 1, column: 1 }
    }

    fn items(n: usize) -> Vec<Item> {
        (0..n).map(|k| Item { id: format!("i{k}"), place: place(), broken: false }).collect()
    }

    fn eq(item: usize, axis: Axis, on: &[(usize, Axis, f64)], offset: f64) -> Equation {
        Equation { item, axis, on: on.to_vec(), offset, says: "says", place: place() }
    }

    fn messages(items: &[Item], equations: &[Equation]) -> Vec<String> {
        solve(items, equations).1.into_iter().map(|p| p.message).collect()
    }

    #[test]
    fn a_chain_is_worked_out_whatever_its_order() {
        use Axis::{X, Y};
        let equations = [
            eq(2, X, &[(1, X, 1.0)], 5.0),
            eq(2, Y, &[(0, Y, 1.0)], 0.0),
            eq(1, X, &[(0, X, 1.0)], 9.0),
            eq(1, Y, &[(0, X, -1.0)], 100.0),
            eq(0, X, &[], 60.0),
            eq(0, Y, &[], 66.0),
        ];
        let (places, problems) = solve(&items(3), &equations);
        assert!(problems.is_empty());
        assert_eq!(
            places,
            [Some(Point::new(60.0, 66.0)), Some(Point::new(69.0, 40.0)), Some(Point::new(74.0, 66.0))]
        );
    }

    #[test]
    fn rings_gaps_and_contradictions_are_named_once() {
        use Axis::{X, Y};
        let y = |k| eq(k, Y, &[], 0.0);
        let ring = [
            eq(0, X, &[(1, X, 1.0)], 1.0),
            eq(1, X, &[(2, X, 1.0)], 1.0),
            eq(2, X, &[(0, X, 1.0)], 1.0),
            eq(3, X, &[(0, X, 1.0)], 1.0),
            y(0),
            y(1),
            y(2),
            y(3),
        ];
        assert_eq!(
            messages(&items(4), &ring),
            ["these stand in a ring, each placed by the next: i0, i1, i2, i0"]
        );
        let own = [eq(0, X, &[(0, X, 1.0)], 1.0), y(0)];
        assert_eq!(messages(&items(1), &own), ["i0 is placed by itself"]);
        assert_eq!(messages(&items(1), &[eq(0, X, &[], 1.0)]), ["nothing says how high i0 stands"]);
        let twice = [eq(0, X, &[], 1.0), eq(0, X, &[], 2.0), y(0)];
        assert_eq!(messages(&items(1), &twice), ["`says` puts i0 at x 1 mm, `says` at x 2 mm"]);
        let agree = [eq(0, X, &[], 1.0), eq(0, X, &[], 1.0), y(0)];
        assert!(messages(&items(1), &agree).is_empty());
        let mut broken = items(2);
        broken[0].broken = true;
        assert!(messages(&broken, &[eq(1, X, &[(0, X, 1.0)], 0.0), y(1)]).is_empty());
    }

    #[test]
    fn a_long_chain_needs_no_deep_stack() {
        use Axis::{X, Y};
        let n = 50_000;
        let mut equations = vec![eq(0, X, &[], 0.0)];
        equations.extend((1..n).map(|k| eq(k, X, &[(k - 1, X, 1.0)], 1.0)));
        equations.extend((0..n).map(|k| eq(k, Y, &[], 0.0)));
        let mut all = items(n);
        all.reverse();
        let (places, problems) = solve(&all, &equations);
        assert!(problems.is_empty());
        assert_eq!(places[n - 1], Some(Point::new(n as f64 - 1.0, 0.0)));
    }
}
