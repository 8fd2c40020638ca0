//! Swept clearance of 300 random mechanisms against a dense brute-force sampling by python-fcl (PyPI), with its own
//! forward kinematics: never above the least that it finds, never below it by more than the stated width and the
//! sampling error, and at the pose told exactly what was told. `PANELWRIGHT_LONG=1` draws 3,000.

use super::oracle::{agrees, cases};
use super::random::Case;
use panelwright::solid::Lie;
use panelwright::solid::travel::{bounds, clearance};
use serde_json::json;

#[test]
fn swept_clearance_is_never_above_a_dense_sampling_and_hardly_below() {
    let count = cases(300, 3000);
    let told = (0..count).map(|seed| {
        let case = Case::new(seed);
        let t = clearance(&case.mechanism, case.moved(0), case.moved(1), 12.0);
        let mut line = case.told();
        line["seed"] = json!(seed);
        line["lower"] = json!(t.lower);
        line["upper"] = if t.upper.is_finite() { json!(t.upper) } else { json!(null) };
        line["over"] = json!(t.over);
        line["wide"] = json!(t.wide);
        line["overlap"] = json!(t.relation == Lie::Overlap);
        line["depth"] = json!(t.depth);
        line["pose"] = json!(t.pose);
        line["boxes"] = json!(t.boxes);
        line["bounds"] = json!([0, 1].map(|n| {
            let b = bounds(&case.mechanism, case.moved(n));
            [[b.low.x, b.low.y, b.low.d], [b.high.x, b.high.y, b.high.d]]
        }));
        line
    });
    agrees("travel.py", told);
}
