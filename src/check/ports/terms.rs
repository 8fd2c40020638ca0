//! What the terms of a port mean: which of them are straight, and which hold the turn.

/// What one term is, by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// Length straight out: plug, backshell, straight fitting.
    Straight,
    /// The room of the bend alone: radius and diameter.
    Bend,
    /// A fitting that turns the line by itself.
    Elbow,
    /// Straight and bend in one number.
    Both,
}

/// Reads a term's name.
pub(super) fn holds(name: &str) -> Holds {
    let name = name.to_lowercase();
    let has = |word: &str| name.split(|c: char| !c.is_alphanumeric()).any(|w| w == word);
    // "straight run before the bend" is straight
    let bends = (has("bend") || has("bends")) && !has("before");
    if ["elbow", "angled", "angle", "sideways"].iter().any(|w| has(w)) || name.contains("side-exit") {
        Holds::Elbow
    } else if !bends {
        Holds::Straight
    } else if has("and") || has("with") {
        Holds::Both
    } else {
        Holds::Bend
    }
}

/// The terms of a port added up by what they hold.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Sums {
    /// Straight out, mm.
    pub straight: f64,
    /// Room in which it turns, as the definition states it, mm; `None`: no term says.
    pub turns_in: Option<f64>,
    /// Whether a fitting does the turn.
    pub elbow: bool,
    /// Straight terms without a length.
    pub open: Vec<String>,
    /// Turning terms without a length.
    pub open_turn: Vec<String>,
}

/// Adds the terms up.
pub(super) fn sums(terms: &[(String, Option<f64>)]) -> Sums {
    let mut s = Sums::default();
    for (name, length) in terms {
        let what = holds(name);
        s.elbow |= what == Holds::Elbow;
        match (what, length) {
            (Holds::Straight, Some(l)) => s.straight += l,
            (Holds::Straight, None) => s.open.push(name.clone()),
            (_, Some(l)) => s.turns_in = Some(s.turns_in.unwrap_or(0.0) + l),
            (_, None) => s.open_turn.push(name.clone()),
        }
    }
    if s.elbow {
        // what comes behind an elbow bends on from there: the quarter turn itself is the elbow's
        let elbow = |(name, l): &(String, Option<f64>)| (holds(name) == Holds::Elbow).then_some(*l).flatten();
        s.turns_in = terms.iter().filter_map(elbow).reduce(f64::max);
    }
    s
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_as_the_catalogue_writes_them() {
        for (name, want) in [
            ("plug and backshell", Holds::Straight),
            ("straight run before the bend", Holds::Straight),
            ("straight fitting", Holds::Straight),
            ("bend of the loom", Holds::Bend),
            ("bend", Holds::Bend),
            ("wire bend", Holds::Bend),
            ("hose and its bend", Holds::Both),
            ("ring terminals and wire bend", Holds::Both),
            ("elbow fitting for the 1/8 in pipe thread", Holds::Elbow),
            ("angled data plug", Holds::Elbow),
        ] {
            assert_eq!(holds(name), want, "{name}");
        }
    }

    #[test]
    fn terms_add_up_by_what_they_hold() {
        let t = |n: &str, l: Option<f64>| (n.to_string(), l);
        let s = sums(&[t("plug", Some(30.0)), t("backshell", Some(12.0)), t("bend of the loom", Some(25.0))]);
        assert_eq!((s.straight, s.turns_in, s.elbow), (42.0, Some(25.0), false));
        let s = sums(&[t("elbow fitting", Some(28.0)), t("bend", Some(29.0))]);
        assert_eq!((s.straight, s.turns_in, s.elbow), (0.0, Some(28.0), true));
        let s = sums(&[t("plug", None), t("bend of the hose", None)]);
        assert_eq!(
            (s.open, s.open_turn, s.turns_in),
            (vec!["plug".to_string()], vec!["bend of the hose".into()], None)
        );
    }
}
