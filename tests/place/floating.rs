//! Regions of what rides on a floating panel and of what stands beside one: the sway has its say.

use crate::panels::Dice;
use crate::rules::asked;
use panelwright::files::Disk;
use panelwright::panel::{Panel, State, SubjectKind};
use panelwright::place::{Region, region};
use panelwright::resolve::{Catalogue, resolve};

fn whole() -> Panel {
    let path = format!("{}/panels/corncrake/whole-proposed.json", env!("CARGO_MANIFEST_DIR"));
    resolve(&path, &Disk::new(""), &Catalogue::builtin()).unwrap_or_else(|p| panic!("{}", p.render(false)))
}

#[test]
fn the_sway_of_a_floating_panel_has_its_say() {
    let panel = whole();
    let mut dice = Dice::new(3);
    // of two that are there already the rules let pass what they would not let be made
    let new = |k: &usize| {
        panel.subjects[*k].kind == SubjectKind::Placement && panel.subjects[*k].state == State::New
    };
    let items = (0..panel.subjects.len()).filter(new);
    let (floats, stands): (Vec<usize>, Vec<usize>) = items.partition(|k| panel.subjects[*k].group > 0);
    assert!(floats.len() > 3 && stands.len() > 3, "{floats:?} {stands:?}");
    for (all, name) in [(&floats, "on it"), (&stands, "beside it")] {
        let mut count = [0, 0];
        let mut sways = 0;
        let mut regions: Vec<(usize, Region)> =
            all.iter().filter_map(|k| Some((*k, region(&panel, *k)?))).collect();
        // those with the most room: of the others hardly a point lies within
        regions.sort_by(|(_, a), (_, b)| b.area.size().total_cmp(&a.area.size()));
        for (k, found) in regions.into_iter().take(1) {
            sways += found.rules.get("sway").copied().unwrap_or_default();
            let [inside, out] = asked(&panel, k, &found, &mut dice, 28, k);
            count = [count[0] + inside, count[1] + out];
        }
        assert!(count[0] > 3 && count[1] > 8 && sways > 0, "{name}: {count:?} {sways}");
    }
}
