//! What makes a mechanism impossible, told at the driver or link of the file.

use super::controls::Loose;
use crate::define::Text;
use crate::define::panel::space::{Driver, Joint};
use crate::diag::{Problem, Problems, Where};
use crate::solid::travel::{DriverFault, DriverKind, LinkFault, LinkRef, MechanismFault};
use crate::units::fmt_mm;

/// A driver's number with its unit.
pub(super) fn said(value: f64, kind: DriverKind) -> String {
    match kind {
        DriverKind::Slide => fmt_mm(value),
        DriverKind::Turn => format!("{value} degrees"),
    }
}

/// Tells one fault.
pub(super) fn tell(
    fault: MechanismFault,
    drivers: &[&Driver],
    links: &[Loose<'_>],
    on: &[Option<LinkRef>],
    problems: &mut Problems,
) {
    let problem = match fault {
        MechanismFault::Driver(n, fault) => drivers.get(n).map(|d| of_driver(d, fault)),
        MechanismFault::Link(n, fault) => links.get(n).and_then(|l| of_link(l, fault, || ring(n, links, on))),
    };
    problem.into_iter().for_each(|p| problems.push(p));
}

fn of_driver(d: &Driver, fault: DriverFault) -> Problem {
    let id = &d.id.value;
    match fault {
        DriverFault::NotFinite => {
            Problem::new("bad-number", &d.from.place, format!("the driver `{id}` has a number without end"))
                .help("write a number")
        }
        DriverFault::StopsReversed { .. } => {
            let message = format!(
                "the stops of the driver `{id}` are the wrong way round: from {} to {}",
                d.from.written, d.to.written
            );
            Problem::new("wrong-order", &d.from.place, message).help("give the lower one as \"from\"")
        }
        DriverFault::NeutralOutside { .. } => {
            let (neutral, place) = match &d.neutral {
                Some(n) => (n.written.clone(), &n.place),
                None => (Text::from("0"), &d.place),
            };
            let message = format!(
                "the driver `{id}` rests at {neutral}, beyond its stops from {} to {}",
                d.from.written, d.to.written
            );
            Problem::new("beyond-stops", place, message)
                .help("add or correct \"neutral\": where it rests, from stop to stop")
        }
        DriverFault::OverNegative(_) => {
            let [a, b] = match &d.over {
                Some([a, b]) => [Some(a), Some(b)],
                None => [None, None],
            };
            let negative = |a: &&crate::define::Amount| a.written.trim().starts_with('-');
            let one = a.filter(negative).or(b);
            let message = format!("the driver `{id}` cannot be forced past its stop by less than nothing");
            Problem::new("negative-size", one.map_or(&d.place, |o| &o.place), message)
                .help("give how far past each stop, without a sign; 0 where it cannot")
        }
    }
}

fn of_link(l: &Loose<'_>, fault: LinkFault, ring: impl Fn() -> String) -> Option<Problem> {
    let def = l.def;
    let id = &def.id.value;
    let hangs = def.on.as_ref().map_or(&def.place, |o| &o.place);
    let axis: &Where = match &def.joint {
        Joint::Slide(along) => &along.place,
        Joint::Pivot { axis, .. } => &axis.place,
        Joint::Fixed => &def.place,
    };
    let problem = match fault {
        LinkFault::NotFinite => {
            Problem::new("bad-number", &def.place, format!("the link `{id}` has a number without end"))
                .help("write a number")
        }
        LinkFault::OnNothing(_) => {
            Problem::new("unknown-id", hangs, format!("the link `{id}` hangs on a link that is not there"))
                .help("name a link of this control, or \"control.link\"")
        }
        LinkFault::Loop => {
            let message = format!("these links hang on each other in a loop: {}", ring());
            Problem::new("ring", hangs, message)
                .help("one of them hangs on the airframe: take its \"on\" away")
        }
        // it hangs on a loop, which is told
        LinkFault::BeforeItsParent(_) => return None,
        LinkFault::ZeroAxis => {
            let message = format!("the axis or direction of the link `{id}` has no length");
            Problem::new("no-direction", axis, message)
                .help("give a direction such as [0, 0, 1]; its length does not matter")
        }
        LinkFault::NoSuchDriver(..) => Problem::new(
            "unknown-id",
            &def.place,
            format!("the link `{id}` follows a driver that is not there"),
        )
        .help("add it to \"drivers\", with its stops"),
        LinkFault::FixedFollows => {
            let message = format!("the link `{id}` follows a driver, and has no joint to move by");
            Problem::new("missing-beside", &def.place, message).help("add \"slide\" or \"pivot\"")
        }
        LinkFault::AllowanceNegative(_) => {
            let place = def.allowance.as_ref().map_or(&def.place, |a| &a.place);
            Problem::new("negative-size", place, format!("the allowance of the link `{id}` is negative"))
                .help("give it without a sign")
        }
    };
    Some(problem)
}

/// The ids of a loop, the first one again at the end.
fn ring(start: LinkRef, links: &[Loose<'_>], on: &[Option<LinkRef>]) -> String {
    let mut names: Vec<&str> = Vec::new();
    let mut at = Some(start);
    while let Some(k) = at.filter(|_| names.len() <= links.len()) {
        names.extend(links.get(k).map(|l| l.def.id.value.as_ref()));
        at = on.get(k).copied().flatten().filter(|_| names.len() == 1 || k != start);
    }
    names.join(", ")
}
