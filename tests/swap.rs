//! `compare PANEL --swap`: what is kept, what is cut, what is refused; by hand on a panel of two dials.

use panelwright::files::Disk;
use panelwright::panel::{Class, Panel};
use panelwright::resolve::{Catalogue, resolve};
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    let mut c = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    c.args(args).current_dir(env!("CARGO_MANIFEST_DIR")).output().unwrap()
}

fn json(args: &[&str]) -> serde_json::Value {
    serde_json::from_slice(&run(&[args, &["--format", "json"]].concat()).stdout).unwrap()
}

fn folder(name: &str) -> std::path::PathBuf {
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&path);
    std::fs::create_dir_all(&path).unwrap();
    path
}

/// Two dials side by side, the second placed by the first, in a sheet that is there.
fn pair(folder: &std::path::Path) -> String {
    let text = r#"{ "format": 1, "panel": "Pair", "unit": "mm", "as-found": true,
      "sheet": { "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 400 V 200 H 0 Z" },
      "depth": { "default": 300 },
      "place": [{ "id": "a", "instrument": "round/2-1-4in-front", "at": [100, 100], "checked": "calipers, the builder, 2 April 2024" },
                { "id": "b", "instrument": "round/2-1-4in-front", "right-of": "a", "pitch": 150 }] }"#;
    let file = folder.join("pair.json");
    std::fs::write(&file, text).unwrap();
    file.to_str().unwrap().to_string()
}

#[test]
fn a_swap_keeps_place_and_relations_and_cuts_what_is_larger() {
    let folder = folder("swap-kept");
    let (file, target) = (pair(&folder), folder.join("swapped.json"));
    let target = target.to_str().unwrap();
    let swap = ["compare", &file, "--swap", "a=round/3-1-8in-front"];
    let told = json(&swap);
    assert_eq!(told["changed"].as_array().unwrap().len(), 1, "{told}");
    let c = &told["changed"][0];
    assert_eq!(c["instrument"], serde_json::json!(["round/2-1-4in-front", "round/3-1-8in-front"]));
    assert_eq!((&c["id"], &c["moved"]), (&"a".into(), &serde_json::json!([0.0, 0.0])));
    // the ring between the two cutouts, by hand from the sizes of both definitions
    let panel = read_at(&file);
    let radius = |p: &Panel, id: &str| {
        let s = &p.subjects[p.find(id).unwrap()];
        let cut = s.parts.iter().find(|p| p.class == Class::Cutout).unwrap();
        cut.contour.bounds().width() / 2.0
    };
    let written = run(&[&swap[..], &["--write", target]].concat());
    assert_eq!(String::from_utf8_lossy(&written.stderr), format!("written: {target}\n"));
    let now = read_at(target);
    let [r, s] = [radius(&panel, "a"), radius(&now, "a")];
    let cut = told["cut"].as_array().unwrap().iter().find(|c| c["opening"] == "a.cutout");
    let cut = cut.unwrap()["area"].as_f64().unwrap();
    // the four old screw holes lie in the ring and are no metal
    let old = &panel.subjects[panel.find("a").unwrap()];
    let holes: Vec<f64> =
        old.parts.iter().filter(|p| p.class == Class::Hole).map(|p| p.contour.area()).collect();
    assert_eq!(holes.len(), 4);
    let metal = std::f64::consts::PI * (s * s - r * r) - holes.iter().sum::<f64>();
    assert!((cut - metal).abs() < 0.5, "{cut} for {metal}: {told}");
    // what stands beside it stays by its relation; who confirmed the old part says nothing of the new one
    let of = |p: &Panel, id: &str| p.subjects[p.find(id).unwrap()].clone();
    assert_eq!((of(&now, "b").at, of(&now, "a").at), (of(&panel, "b").at, of(&panel, "a").at));
    assert!(of(&panel, "a").checked.is_some() && of(&now, "a").checked.is_none());
    // two files say the same as the swap, bytes and exit code too
    let both = run(&["compare", &file, target]);
    let one = run(&swap);
    assert_eq!((&one.stdout, one.status.code()), (&both.stdout, both.status.code()));
    // and again over its own file, with the same bytes
    let bytes = std::fs::read(target).unwrap();
    assert!(run(&[&swap[..], &["--write", target]].concat()).status.code().unwrap() < 2);
    assert_eq!(std::fs::read(target).unwrap(), bytes);
}

fn read_at(file: &str) -> Panel {
    resolve(file, &Disk::new(""), &Catalogue::builtin()).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn a_swap_that_cannot_be_made_is_told_and_writes_nothing() {
    let folder = folder("swap-refused");
    let file = pair(&folder);
    let before = std::fs::read(&file).unwrap();
    let at = |name: &str| folder.join(name).to_str().unwrap().to_string();
    std::fs::write(at("mine.json"), "{}").unwrap();
    std::fs::write(
        at("bare.json"),
        r#"{ "format": 1, "instrument": "Bare", "kind": "gauge", "unit": "mm", "mounting": "front",
             "service": "front", "sources": { "own": { "basis": "measured", "who": "A", "when": "2 April" } },
             "source": "own", "case": { "circle": 50 },
             "holes": [{ "square": 40, "diameter": 4, "fastener": "M4", "head": { "kind": "raised" }, "nut": {} }],
             "bodies": [{ "id": "can", "shape": { "circle": 50 }, "from": 0, "to": 48 }], "ports": [],
             "sheet": { "least": 1, "most": 3 } }"#,
    )
    .unwrap();
    let fine = "a=round/3-1-8in-front";
    for (args, says) in [
        (vec!["--swap", "aa=round/3-1-8in-front"], "did you mean \"a\"?"),
        (vec!["--swap", "a=round/3-1-8in-frnt"], "round/3-1-8in-front"),
        (vec!["--swap", "a"], "write ID=INSTRUMENT"),
        (vec!["--swap", "a=round/2-1-4in-front"], "already"),
        (vec!["--swap", fine, "--swap", "a=round/80mm-front"], "swapped twice"),
        (vec!["--swap", "sheet=round/80mm-front"], "is no instrument"),
        (vec!["--swap", "a=bare.json"], "states no cutout"),
        (vec!["--swap", "a=none.json"], "none.json"),
        (vec!["--swap", fine, "--write", &file], "is the panel itself"),
        (vec!["--swap", fine, "--write", &at("mine.json")], "is there, and this program did not write it"),
        (vec!["--swap", fine, "--write", "/swapped.json"], "belongs into its folder"),
        (vec!["--swap", fine, &file], "cannot be used with"),
        (vec!["--write", &at("x.json")], "required"),
    ] {
        let o = run(&[&["compare", &file], &args[..]].concat());
        let told = String::from_utf8_lossy(&o.stderr);
        assert_eq!(o.status.code(), Some(2), "{args:?}: {told}");
        assert!(told.contains(says) && !told.contains("with-another-instrument"), "{args:?}: {told}");
    }
    assert_eq!(run(&["compare", "-", "--swap", fine]).status.code(), Some(2));
    assert_eq!(std::fs::read(&file).unwrap(), before);
    assert_eq!(std::fs::read(at("mine.json")).unwrap(), b"{}");
    assert!(!folder.join("x.json").exists() && !folder.join("swapped.json").exists());
}

#[test]
fn mass_that_goes_and_comes_is_told_or_withheld_by_name() {
    let folder = folder("swap-mass");
    let file = pair(&folder);
    let [old, new] = ["round/2-1-4in-front", "round/3-1-8in-front"];
    // the sizes of the definitions, read as plain text
    let kg = |name: &str| -> f64 {
        let file = format!("{}/instruments/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let v: serde_json::Value = serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap();
        v["mass"]["of"].as_str().unwrap().strip_suffix(" kg").unwrap().parse().unwrap()
    };
    let told = json(&["compare", &file, "--swap", &format!("a={new}")]);
    let m = &told["mass"];
    let near = |v: &serde_json::Value, want: f64| (v.as_f64().unwrap() - want).abs() < 1e-9;
    assert!(near(&m["removed"], kg(old)) && near(&m["added"], kg(new)), "{m}");
    assert!(near(&m["difference"], kg(new) - kg(old)) && kg(new) != kg(old), "{m}");
    assert_eq!(m["missing"], serde_json::json!([]));
    let text = String::from_utf8(run(&["compare", &file, "--swap", &format!("a={new}")]).stdout).unwrap();
    assert!(text.contains("Mass of the instruments") && text.contains("no weight and balance"), "{text}");
    // one of one's own that states none, for both
    let path = format!("{}/instruments/{new}.json", env!("CARGO_MANIFEST_DIR"));
    let mut own: serde_json::Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    own.as_object_mut().unwrap().remove("mass").unwrap();
    std::fs::write(folder.join("own.json"), own.to_string()).unwrap();
    let told = json(&["compare", &file, "--swap", "b=own.json", "--swap", &format!("a={new}")]);
    let m = &told["mass"];
    assert_eq!((&m["difference"], &m["missing"]), (&serde_json::Value::Null, &serde_json::json!(["b"])));
    assert!(near(&m["removed"], 2.0 * kg(old)) && near(&m["added"], kg(new)), "{m}");
}

#[test]
fn another_material_or_coat_is_a_sheet_that_differs() {
    let folder = folder("swap-sheet");
    let file = pair(&folder);
    let other = folder.join("other.json");
    let text = std::fs::read_to_string(&file).unwrap();
    let text = text.replace("\"6061-T6\"", "\"2024-T3\", \"coat\": 0.08");
    std::fs::write(&other, text).unwrap();
    let told = json(&["compare", &file, other.to_str().unwrap()]);
    let s = &told["sheets"][0];
    assert_eq!(s["material"], serde_json::json!(["6061-T6", "2024-T3"]), "{told}");
    assert_eq!(
        (&s["coat"], &s["thickness"]),
        (&serde_json::json!([null, 0.08]), &serde_json::json!([2.0, 2.0]))
    );
    let text = run(&["compare", &file, other.to_str().unwrap()]).stdout;
    assert!(String::from_utf8_lossy(&text).contains("material 6061-T6 to 2024-T3"));
}
