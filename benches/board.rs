//! What the board's server does for one step of a hand that drags on the largest demo panel.

use divan::{Bencher, black_box};
use panelwright::board::{Drag, Session};
use panelwright::geom::Vec2;
use panelwright::resolve::Catalogue;
use std::path::{Path, PathBuf};

fn main() {
    divan::main();
}

/// A panel's folder, copied: a session keeps its journal beside the file.
struct Folder(PathBuf);

impl Folder {
    fn of(aeroplane: &str) -> Folder {
        let folder = std::env::temp_dir().join(format!("panelwright-bench-board-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("panels").join(aeroplane);
        for file in std::fs::read_dir(from).unwrap() {
            let file = file.unwrap().path();
            std::fs::copy(&file, folder.join(file.file_name().unwrap())).unwrap();
        }
        Folder(folder)
    }

    fn open(&self, file: &str) -> Session {
        Session::open(self.0.join(file).to_str().unwrap(), Catalogue::builtin()).unwrap()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// Where the hand is at a step: it goes about its start in a figure that covers an area.
fn place(k: u32) -> Vec2 {
    // two triangle waves, whose periods share no step count
    let wave = |n: u32| f64::from(n.abs_diff(k % (2 * n))) / f64::from(n) * 2.0 - 1.0;
    Vec2::new(30.0 * wave(37), 15.0 * wave(29))
}

/// One step: the rules, and what the page is told.
#[divan::bench(args = ["vent-left", "transponder"], sample_count = 300)]
fn step(bencher: Bencher, id: &str) {
    let folder = Folder::of("corncrake");
    let session = folder.open("whole-proposed.json");
    let mut drag = Drag::of(&session, &[id.to_owned()]).unwrap();
    let mut k = 0;
    bencher.bench_local(|| {
        k += 1;
        drag.to(place(k));
        black_box(drag.news());
    });
}

/// Taking hold.
#[divan::bench(sample_count = 50)]
fn grab(bencher: Bencher) {
    let folder = Folder::of("corncrake");
    let session = folder.open("whole-proposed.json");
    bencher.bench_local(|| black_box(Drag::of(&session, &["vent-left".to_owned()]).is_ok()));
}
