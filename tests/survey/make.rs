//! Random surveys with a known truth.

use panelwright::define;
use panelwright::diag::Problems;
use panelwright::survey::{Network, Solved, solve};
use serde_json::{Value, json};
use std::io::Write;
use std::process::{Command, Stdio};
use std::sync::Arc;

/// A small generator of numbers (splitmix64, Steele, Lea and Flood 2014): the same everywhere.
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 to 1.
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }

    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.unit()
    }

    /// Normal with deviation 1 (Box and Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let (u, v) = (self.unit().max(1e-300), self.unit());
        (-2.0 * libm::log(u)).sqrt() * libm::cos(std::f64::consts::TAU * v)
    }
}

/// What a reading of a made survey is.
#[derive(Clone, Debug)]
pub struct Read {
    pub key: &'static str,
    pub of: Vec<usize>,
    pub sigma: f64,
    pub tool: &'static str,
    /// What a faultless tool would read.
    pub truth: f64,
}

/// A made survey: points 0 and 1 are the datum.
#[derive(Clone, Debug)]
pub struct Made {
    pub at: Vec<(f64, f64)>,
    /// Radius, 0 for a point.
    pub radius: Vec<f64>,
    pub reads: Vec<Read>,
    /// True zero error of the tape, when it is to be found.
    pub zero: Option<f64>,
}

impl Made {
    pub fn id(&self, i: usize) -> String {
        if self.radius[i] > 0.0 { format!("h{i}") } else { format!("p{i}") }
    }

    fn far(&self, a: usize, b: usize) -> f64 {
        let ((ax, ay), (bx, by)) = (self.at[a], self.at[b]);
        ((bx - ax) * (bx - ax) + (by - ay) * (by - ay)).sqrt()
    }

    /// Offset (left positive) and distance along of p by the line a b.
    fn line(&self, p: usize, a: usize, b: usize) -> (f64, f64) {
        let ((ax, ay), (bx, by), (px, py)) = (self.at[a], self.at[b], self.at[p]);
        let long = self.far(a, b);
        let (ex, ey) = ((bx - ax) / long, (by - ay) / long);
        (ex * (py - ay) - ey * (px - ax), ex * (px - ax) + ey * (py - ay))
    }

    pub fn read(&mut self, key: &'static str, of: Vec<usize>) {
        let r = |i: usize| self.radius[of[i]];
        let (sigma, tool) = match key {
            "diameter" => (0.05, "calipers"),
            "offset" | "along" | "gap" => (0.25, "rule"),
            _ => (0.5, "tape"),
        };
        let truth = match key {
            "distance" => self.far(of[0], of[1]),
            "inside" => self.far(of[0], of[1]) - r(0) - r(1),
            "outside" => self.far(of[0], of[1]) + r(0) + r(1),
            "diameter" => 2.0 * r(0),
            "offset" => self.line(of[0], of[1], of[2]).0,
            "along" => self.line(of[0], of[1], of[2]).1,
            "gap" => self.line(of[0], of[1], of[2]).0.abs() - r(0),
            _ => panic!("{key}"),
        };
        self.reads.push(Read { key, of, sigma, tool, truth });
    }

    /// A random panel: `n` points and circles well apart, each tied to several before it; one more per tie than needed.
    pub fn random(dice: &mut Dice, n: usize, ties: usize) -> Made {
        let wide = 200.0 + 40.0 * n as f64;
        let mut made =
            Made { at: vec![(0.0, 0.0), (wide, 0.0)], radius: vec![0.0, 0.0], reads: Vec::new(), zero: None };
        while made.at.len() < n {
            let p = (dice.between(0.0, wide), dice.between(60.0, 0.6 * wide));
            if made.at.iter().all(|q| (q.0 - p.0).abs() + (q.1 - p.1).abs() > 70.0) {
                made.at.push(p);
                made.radius.push(if dice.below(3) == 0 { dice.between(5.0, 30.0) } else { 0.0 });
            }
        }
        made.read("distance", vec![0, 1]);
        for p in 2..n {
            if made.radius[p] > 0.0 {
                made.read("diameter", vec![p]);
            }
            let mut to: Vec<usize> = vec![0, 1];
            while to.len() < ties.min(p) {
                let q = dice.below(p);
                if !to.contains(&q) {
                    to.push(q);
                }
            }
            for q in to {
                let round = made.radius[p] > 0.0 || made.radius[q] > 0.0;
                let key = match dice.below(3) {
                    0 if round => "inside",
                    1 if round => "outside",
                    _ => "distance",
                };
                made.read(key, vec![p, q]);
            }
            match dice.below(4) {
                0 => made.read("offset", vec![p, 0, 1]),
                1 => made.read("along", vec![p, 0, 1]),
                2 if made.radius[p] > 0.0 => made.read("gap", vec![p, 0, 1]),
                _ => {}
            }
        }
        made
    }

    /// What the tools read: the truth, with noise of its deviation where dice are given.
    pub fn values(&self, mut dice: Option<&mut Dice>) -> Vec<f64> {
        let one = |r: &Read| {
            let noise = dice.as_mut().map_or(0.0, |d| d.normal() * r.sigma);
            let zero = if r.tool == "tape" { self.zero.unwrap_or(0.0) } else { 0.0 };
            r.truth + zero + noise
        };
        self.reads.iter().map(one).collect()
    }

    /// The survey file.
    pub fn file(&self, values: &[f64]) -> Value {
        let ids: Vec<String> = (0..self.at.len()).map(|i| self.id(i)).collect();
        let of_kind = |round: bool| -> Vec<&String> {
            ids.iter().zip(&self.radius).filter(|(_, r)| (**r > 0.0) == round).map(|(id, _)| id).collect()
        };
        let readings: Vec<Value> = self
            .reads
            .iter()
            .zip(values)
            .map(|(r, v)| {
                let of: Vec<&String> = r.of.iter().map(|i| &ids[*i]).collect();
                let of = if r.key == "diameter" { json!(of[0]) } else { json!(of) };
                json!({ r.key: of, "reads": format!("{v:.6} mm"), "tool": r.tool })
            })
            .collect();
        json!({
            "format": 1, "survey": "made", "unit": "mm",
            "datum": { "origin": ids[0], "along": ids[1] },
            "points": of_kind(false).iter().enumerate().map(|(k, id)| match k {
                2 => json!({ "id": id, "above": ids[0] }),
                _ => json!(id),
            }).collect::<Vec<_>>(),
            "circles": of_kind(true).iter().map(|id| json!({ "id": id, "above": ids[0] })).collect::<Vec<_>>(),
            "tools": {
                "tape": { "kind": "tape", "find-zero-error": self.zero.is_some() },
                "rule": { "kind": "rule" },
                "calipers": { "kind": "calipers" },
            },
            "readings": readings,
        })
    }
}

/// The network of a file's text.
pub fn network(text: &str) -> Result<Network, Problems> {
    let mut problems = Problems::new();
    let text: Arc<str> = text.into();
    let survey = define::read_survey("survey.json", &text, &mut problems);
    let network = survey.and_then(|s| Network::build(&s, &mut problems));
    network.ok_or(problems)
}

/// The solved survey of a file's text.
pub fn solved(text: &str) -> Result<Solved, Problems> {
    solve(network(text)?)
}

/// Coordinates of an id.
pub fn at(s: &Solved, id: &str) -> (f64, f64) {
    let p = s.network.find(id).unwrap_or_else(|| panic!("{id}"));
    (s.adjusted.state.at[p].x, s.adjusted.state.at[p].y)
}

/// What a script of `tests/oracle` makes of cases with scipy.
pub fn scipy(script: &str, cases: &[Value]) -> Vec<Value> {
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".to_owned());
    let mut child = Command::new(python)
        .arg(format!("tests/oracle/{script}"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("set PANELWRIGHT_PYTHON to a Python that has scipy");
    child.stdin.take().unwrap().write_all(json!(cases).to_string().as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "scipy is missing or failed");
    serde_json::from_slice(&output.stdout).unwrap()
}
