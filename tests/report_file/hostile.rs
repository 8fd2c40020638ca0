//! Texts that try to leave their place: in the title, in labels, reasons, names, an instrument's own words.

use crate::{folder, oracle, run};

/// Tag, attribute, comment, style and entity, all in one.
const NASTY: &str =
    r#"</td></style><script>alert(1)</script><img src=x onerror=alert(2)> \" ' --> ]]> &lt;b&gt; &amp; {}"#;

#[test]
fn nothing_that_a_file_says_becomes_more_than_text() {
    let at = folder("hostile");
    let file = at.join("p.json");
    let text = format!(
        r#"{{ "format": 1, "panel": "P {NASTY}", "unit": "mm",
  "sheet": {{ "material": "M {NASTY}", "thickness": "2 mm", "coat": 0, "new": true, "outline": {{ "rectangle": ["600 mm", "300 mm"] }},
    "structure": {{ "is": "yes", "by": "S {NASTY}" }} }},
  "place": [
    {{ "id": "asi", "instrument": "round/3-1-8in-front", "at": ["-100 mm", 0], "title": "T {NASTY}", "checked": "Checked 2024 {NASTY}" }},
    {{ "id": "alt", "instrument": "round/3-1-8in-front", "right-of": "asi", "pitch": "82 mm", "checked": "the builder, 2024" }} ],
  "labels": [ {{ "id": "one", "text": "L {NASTY}", "of": "asi", "at": [0, 120], "height": 3, "process": "E {NASTY}" }} ],
  "limits": {{ "web": {{ "at-least": 7, "because": "W {NASTY}" }} }},
  "accepted": [
    {{ "finding": "web/asi.cutout/alt.cutout", "because": "A {NASTY}", "by": "B {NASTY}" }},
    {{ "finding": "gone {NASTY}", "because": "G", "by": "H" }} ],
  "title": {{ "owner": "O {NASTY}", "revision": "R {NASTY}", "aeroplane": "F {NASTY}", "approved-by": "V {NASTY}",
    "revisions": [ {{ "index": "I {NASTY}", "change": "N {NASTY}", "date": "D {NASTY}", "by": "Y {NASTY}" }} ] }} }}"#
    );
    std::fs::write(&file, text).unwrap();
    let made = run(&["report", file.to_str().unwrap(), "--out", at.to_str().unwrap()]);
    assert_eq!(made.status.code(), Some(1), "{}", String::from_utf8_lossy(&made.stderr));
    let html = at.join("hostile-p-report.html");
    let written = std::fs::read_to_string(&html).unwrap();
    for bad in ["<script", "<img", "</style><", "onerror=alert(2)>"] {
        assert!(!written.contains(bad), "{bad} stands in the file as it was typed");
    }
    let nasty = at.join("nasty.txt");
    std::fs::write(&nasty, NASTY.replace("\\\"", "\"")).unwrap();
    oracle("hostile_html.py", &[&html, &nasty]);
}
