//! The whole way: places at which nothing bars anything, every rule asked, numbers made round.

use super::bar::Why;
use super::dice::Dice;
use super::ground::Ground;
use super::judged::Judged;
use super::separate::Search;
use super::watch::Watch;
use crate::check::Finding;
use crate::geom::Vec2;
use crate::panel::Panel;

/// An arrangement.
pub struct Arranged {
    /// The panel, everything in its new place.
    pub panel: Panel,
    /// Shift of each piece.
    pub at: Vec<Vec2>,
    /// What rules still object to, that another place might cure.
    pub bad: Vec<Finding>,
    /// What else is no pass: no place settles it.
    pub beside: Vec<Finding>,
}

/// Why none was found.
#[derive(Clone, Debug)]
pub struct Conflict {
    /// By how much the two overlap what the rules ask, mm, where all overlap is least.
    pub by: f64,
    /// Pieces that overlap there.
    pub overlapping: usize,
    /// The two, and what keeps them apart; `None`: not known.
    pub why: Option<Why>,
    /// It fits nowhere on its sheet, whatever else stands there.
    pub alone: bool,
}

/// What came of it.
pub enum Outcome {
    /// An arrangement in which nothing bars anything.
    Found(Box<Arranged>),
    /// None within the moves.
    None(Conflict),
}

/// Looks for an arrangement of the pieces of a panel.
pub fn arrange(panel: &Panel, mut ground: Ground, seed: u64, watch: &mut Watch<'_>) -> Outcome {
    if let Some(k) = ground.inner.iter().position(|c| c.len() < 3) {
        return Outcome::None(Conflict { by: 0.0, overlapping: 1, why: ground.too_large[k], alone: true });
    }
    let mut judged = Judged::new(panel, &ground);
    ground.trust(|i, j| judged.objects(i, j));
    let ground = &ground;
    let mut dice = Dice::new(seed);
    let mut search = Search::new(ground, vec![Vec2::ZERO; ground.pieces.len()]);
    watch.phase("looking for room");
    if !search.run(&mut dice, watch) {
        return Outcome::None(conflict(ground, &search.best.1));
    }
    judged.to(ground, &search.at);
    judged.mend(ground, &mut dice, watch);
    round(ground, &mut judged);
    let (bad, beside) = (judged.bad(), judged.beside());
    Outcome::Found(Box::new(Arranged { at: judged.at, panel: judged.panel, bad, beside }))
}

/// The deepest overlap.
fn conflict(ground: &Ground, at: &[Vec2]) -> Conflict {
    let n = at.len();
    let walls = (0..n).filter_map(|i| ground.why_wall(i, at[i]));
    let pairs = (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j)));
    let pairs: Vec<(f64, Why)> = pairs.filter_map(|(i, j)| ground.why(i, at[i], j, at[j])).collect();
    let all: Vec<(f64, Why)> = walls.chain(pairs).collect();
    let worst = all.iter().max_by(|a, b| a.0.total_cmp(&b.0));
    Conflict { by: worst.map_or(0.0, |w| w.0), overlapping: all.len(), why: worst.map(|w| w.1), alone: false }
}

/// Brings places to round numbers where every rule still holds: millimetres, then halves, then tenths, hundredths.
fn round(ground: &Ground, judged: &mut Judged) {
    let bad = judged.bad().len();
    let moved = (0..ground.pieces.len()).filter(|k| judged.at[*k] != Vec2::ZERO);
    for k in moved.collect::<Vec<_>>() {
        let lead = judged.panel.subjects[ground.pieces[k].lead].at;
        let search = Search::new(ground, judged.at.clone());
        for grid in [1.0, 2.0, 10.0, 100.0] {
            let near = |v: f64| (v * grid).round() / grid;
            let cells = [
                (0.0, 0.0),
                (1.0, 0.0),
                (-1.0, 0.0),
                (0.0, 1.0),
                (0.0, -1.0),
                (1.0, 1.0),
                (-1.0, -1.0),
                (1.0, -1.0),
                (-1.0, 1.0),
            ];
            let tried = cells
                .iter()
                .map(|(x, y)| Vec2::new(near(lead.x) + x / grid - lead.x, near(lead.y) + y / grid - lead.y));
            let fits: Vec<Vec2> = tried.filter(|by| search.free(k, judged.at[k] + *by)).take(2).collect();
            let mut done = false;
            for by in fits {
                let mut trial = judged.clone();
                let mut at = trial.at.clone();
                at[k] += by;
                trial.to(ground, &at);
                if trial.bad().len() <= bad {
                    *judged = trial;
                    done = true;
                    break;
                }
            }
            if done {
                break;
            }
        }
    }
}
