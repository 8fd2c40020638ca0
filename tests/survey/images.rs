//! The pictures that a survey names: every fault is told apart, by its code, with the line of the survey file.

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
    let cases: [(&str, Option<Vec<u8>>, &str, &str); 7] = [
        ("missing", None, "no-image", "there is no picture wheatear-photo.png"),
        ("empty", Some(vec![]), "image-kind", "is no PNG picture"),
        ("words", Some(b"not a picture".to_vec()), "image-kind", "is no PNG picture"),
        ("jpeg", Some(b"\xff\xd8\xff\xe0\0\x10JFIF".to_vec()), "image-kind", "is a JPEG picture"),
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
