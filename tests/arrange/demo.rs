//! The demo trainer: sketched wherever there was room, and arranged by the command.

use panelwright::check::{Options, Verdict, check};
use panelwright::edit::is_untouched;
use panelwright::files::{Disk, Files};
use panelwright::panel::Panel;
use panelwright::place::arrange::{Costs, free, pieces, unmet};
use panelwright::resolve::{Catalogue, resolve};

fn read(name: &str) -> Panel {
    let disk = Disk::new(env!("CARGO_MANIFEST_DIR"));
    let path = format!("panels/whinchat/{name}.json");
    resolve(&path, &disk, &Catalogue::builtin()).unwrap_or_else(|p| panic!("{}", p.render(false)))
}

/// What it costs as it stands, without what moving it cost.
fn cost(panel: &Panel) -> f64 {
    let pieces = pieces(panel, &free(panel));
    let still = vec![Default::default(); pieces.len()];
    Costs::new(panel, &pieces).each(&still).iter().map(|c| c.cost()).sum()
}

#[test]
fn the_trainer_passes_as_arranged_and_costs_less_than_half_of_the_sketch() {
    let (sketched, arranged) = (read("sketched"), read("arranged"));
    let findings = check(&arranged, &Options::default());
    assert!(findings.list.iter().all(|f| f.verdict == Verdict::Pass));
    let (count, lacks) = unmet(&arranged);
    assert!(count >= 12 && lacks.is_empty(), "{count}: {lacks:?}");
    assert!(!unmet(&sketched).1.is_empty(), "the sketch lacks something that is asked");
    let (before, after) = (cost(&sketched), cost(&arranged));
    assert!(after < before / 2.0, "{before} {after}");
    // the command wrote it, and nobody has changed it since
    let bytes = Disk::new(env!("CARGO_MANIFEST_DIR")).bytes("panels/whinchat/arranged.json").unwrap();
    assert!(is_untouched(&bytes));
}
