//! The pictures that a survey names: every fault is told apart, by its code, with the line of the survey file.

use panelwright::import::{PictureFault, picture};
use std::path::{Path, PathBuf};
use std::process::Command;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

fn folder(name: &str) -> PathBuf {
    let at = Path::new(env!("CARGO_TARGET_TMPDIR")).join("survey-images").join(name);
    let _ = std::fs::remove_dir_all(&at);
    std::fs::create_dir_all(&at).unwrap();
    at
}

/// What the program says of the demo photograph's survey with such a picture beside it: exit code, problems.
fn says(name: &str, picture: Option<&[u8]>) -> (Option<i32>, serde_json::Value) {
    let at = folder(name);
    std::fs::copy(format!("{ROOT}/surveys/wheatear-photo.json"), at.join("s.json")).unwrap();
    if let Some(bytes) = picture {
        std::fs::write(at.join("wheatear-photo.png"), bytes).unwrap();
    }
    let o = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["survey", "s.json", "--format", "json"])
        .current_dir(&at)
        .output()
        .unwrap();
    (o.status.code(), serde_json::from_slice(&o.stdout).unwrap())
}

fn png(w: u32, h: u32) -> Vec<u8> {
    let mut out = Vec::new();
    let mut e = png::Encoder::new(&mut out, w, h);
    e.set_color(png::ColorType::Grayscale);
    let data = vec![128; (w * h) as usize];
    e.write_header().unwrap().write_image_data(&data).unwrap();
    out
}

/// A PNG header that claims such a size, its check sum right, and nothing behind it.
fn claims(w: u32, h: u32) -> Vec<u8> {
    let mut head = b"IHDR".to_vec();
    head.extend(w.to_be_bytes());
    head.extend(h.to_be_bytes());
    head.extend([8, 0, 0, 0, 0]);
    // ISO 3309, as the PNG specification's annex D spells it out
    let mut sum = u32::MAX;
    for b in &head {
        sum ^= u32::from(*b);
        for _ in 0..8 {
            sum = if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 };
        }
    }
    let mut out = vec![0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13];
    out.extend(head);
    out.extend((!sum).to_be_bytes());
    out
}

#[test]
fn every_fault_of_a_picture_is_told_apart() {
    let whole = std::fs::read(format!("{ROOT}/surveys/wheatear-photo.png")).unwrap();
    let half = &whole[..whole.len() / 2];
    let cases: [(&str, Option<Vec<u8>>, &str, &str); 8] = [
        ("missing", None, "no-image", "there is no picture wheatear-photo.png"),
        ("empty", Some(vec![]), "image-kind", "is no picture in PNG or JPEG"),
        ("words", Some(b"not a picture".to_vec()), "image-kind", "is no picture in PNG or JPEG"),
        ("gif", Some(b"GIF89a".to_vec()), "image-kind", "is a GIF picture, neither PNG nor JPEG"),
        ("jpeg", Some(b"\xff\xd8\xff\xe0\0\x10JFIF".to_vec()), "image-cut-short", "is a JPEG picture"),
        ("half", Some(half.to_vec()), "image-cut-short", "cannot be read to its end"),
        (
            "bomb",
            Some(claims(60_000, 60_000)),
            "image-too-large",
            "60000 by 60000 pixels, more than 100 million",
        ),
        ("other", Some(png(140, 80)), "image-size", "has 140 by 80 pixels, and 1400 by 800 are stated"),
    ];
    for (name, picture, code, words) in cases {
        let (exit, json) = says(name, picture.as_deref());
        assert_eq!(exit, Some(2), "{name}: {json}");
        let problem = &json["problems"][0];
        assert_eq!(problem["code"], code, "{name}: {json}");
        assert!(problem["message"].as_str().unwrap().contains(words), "{name}: {json}");
        assert!(problem["line"].as_u64().unwrap_or(0) > 1, "{name}: {json}");
        assert!(problem["help"].is_string(), "{name}: {json}");
    }
    let at = folder("folder");
    std::fs::create_dir(at.join("wheatear-photo.png")).unwrap();
    std::fs::copy(format!("{ROOT}/surveys/wheatear-photo.json"), at.join("s.json")).unwrap();
    let o = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["survey", "s.json", "--format", "json"])
        .current_dir(&at)
        .output()
        .unwrap();
    let json: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(json["problems"][0]["code"], "image-unreadable", "{json}");
    let (exit, _) = says("whole", Some(&whole));
    assert!(exit.is_some_and(|c| c < 2));
}

#[test]
fn a_straightened_photograph_is_what_scipy_makes_of_it() {
    let at = folder("straight");
    let o = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["survey", "wheatear-photo.json", "--straightened"])
        .arg(at.join("s.png"))
        .args(["--photograph", "front", "--drawing"])
        .arg(at.join("d.svg"))
        .current_dir(format!("{ROOT}/surveys"))
        .output()
        .unwrap();
    assert!(o.status.code().is_some_and(|c| c < 2), "{}", String::from_utf8_lossy(&o.stderr));
    let drawn = std::fs::read_to_string(at.join("d.svg")).unwrap();
    assert!(drawn.contains("href=\"data:image/png;base64,iVBORw0KGgo"));
    // the page as a picture shows it too: its middle is not paper
    let o = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["survey", "wheatear-photo.json", "--photograph", "front", "--drawing"])
        .arg(at.join("d.png"))
        .current_dir(format!("{ROOT}/surveys"))
        .output()
        .unwrap();
    assert!(o.status.code().is_some_and(|c| c < 2), "{}", String::from_utf8_lossy(&o.stderr));
    let page = picture(&std::fs::read(at.join("d.png")).unwrap()).unwrap();
    let grey = |x: usize, y: usize| page.pixels[3 * (y * page.width + x)];
    let dark = (0..page.width).filter(|x| grey(*x, page.height / 2) < 250).count();
    assert!(dark > page.width * 8 / 10, "{dark} of {}", page.width);
    // the same file again is replaced, a stranger's is not
    let again = |name: &str| {
        Command::new(env!("CARGO_BIN_EXE_panelwright"))
            .args(["survey", "wheatear-photo.json", "--straightened"])
            .arg(at.join(name))
            .current_dir(format!("{ROOT}/surveys"))
            .output()
            .unwrap()
    };
    let first = std::fs::read(at.join("s.png")).unwrap();
    assert!(again("s.png").status.code().is_some_and(|c| c < 2));
    assert!(first == std::fs::read(at.join("s.png")).unwrap());
    std::fs::write(at.join("theirs.png"), png(3, 3)).unwrap();
    let refused = again("theirs.png");
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("did not make it"));
    assert_eq!(again("s.jpg").status.code(), Some(2));
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".to_owned());
    let o = Command::new(python)
        .arg("tests/oracle/straightened.py")
        .arg(at.join("s.png"))
        .current_dir(ROOT)
        .output()
        .unwrap();
    assert!(o.status.success(), "{}", String::from_utf8_lossy(&o.stderr));
    let got: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    let n = |key: &str| got[key].as_f64().unwrap_or_else(|| panic!("{got}"));
    // 600 mm of sheet and 15 mm on each side of what is farthest out
    assert!((n("per-mm") - n("said")).abs() < 1e-3 * n("said") && n("wide") > 500.0, "{got}");
    // against the truth of the camera that drew the picture: targets and holes lie where they are
    assert!(n("holes") < 1.5, "{got}");
    // against another library's bilinear sampling through that camera: the difference of greys over the panel
    assert!(n("difference") < 6.0 && n("compared") > 50_000.0, "{got}");
}

#[test]
fn a_jpeg_is_read_upright() {
    let at = folder("jpegs");
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".to_owned());
    let o = Command::new(python).arg("tests/oracle/jpegs.py").arg(&at).current_dir(ROOT).output().unwrap();
    assert!(o.status.success(), "{}", String::from_utf8_lossy(&o.stderr));
    let facts: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    let facts = facts.as_array().unwrap();
    assert!(facts.len() >= 12);
    for f in facts {
        let name = f["file"].as_str().unwrap();
        let bytes = std::fs::read(at.join(name)).unwrap();
        let p = picture(&bytes).unwrap_or_else(|e| panic!("{name}: {e:?}"));
        let raw = std::fs::read(at.join(f["raw"].as_str().unwrap())).unwrap();
        assert_eq!(
            [p.width as u64, p.height as u64],
            [f["width"].as_u64().unwrap(), f["height"].as_u64().unwrap()],
            "{name}"
        );
        let off: u64 = p.pixels.iter().zip(&raw).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        let mean = off as f64 / raw.len() as f64;
        // decoders may round and smooth colour differently
        assert!(p.pixels.len() == raw.len() && mean < 2.5, "{name}: {mean}");
        for cut in [bytes.len() / 3, bytes.len() * 9 / 10, bytes.len() - 2] {
            assert!(
                matches!(picture(&bytes[..cut]), Err(PictureFault::CutShort("JPEG", _))),
                "{name} cut at {cut}"
            );
        }
    }
}
