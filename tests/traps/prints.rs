//! Prints that are not true, and sheets seen from the other face.

use super::kit::{Scratch, panel};

const ONE: &str = "\"place\": [ { \"id\": \"lamp\", \"instrument\": \"lamp/warning\", \"at\": [150, 60] } ]";

fn scratch(name: &str) -> Scratch {
    let s = Scratch::new(name);
    s.write("p.json", &panel(ONE).replace("H 610 V 235", "H 360 V 120"));
    s
}

#[test]
fn a_print_at_97_percent_or_right_on_one_axis_only() {
    let s = scratch("print");
    let of = |x: &str, y: &str| {
        let (code, out, err) =
            s.run(&["template", "p.json", "--formats", "svg", "--measured-x", x, "--measured-y", y]);
        assert_eq!(code, 1, "{err}");
        out.lines().next().unwrap_or("").to_string()
    };
    assert_eq!(
        of("242.5/250", "250/250"),
        "The print that you measured: x 0.970, y 1.000: do not cut; 10.8 mm short over 360 mm. Axes differ 3 %: printer or copier stretch."
    );
    assert_eq!(
        of("242.5/250", "242.5/250"),
        "The print that you measured: x 0.970, y 0.970: do not cut; 10.8 mm short over 360 mm. Both axes alike: the page was fitted to the paper. Print at 100 %."
    );
    assert_eq!(
        of("250/250", "9.7 in/10 in"),
        "The print that you measured: x 1.000, y 0.970: do not cut; 3.6 mm short over 120 mm. Axes differ 3 %: printer or copier stretch."
    );
    assert_eq!(
        of("250/250", "250/250"),
        "The print that you measured: x 1.000, y 1.000: true to 0 mm over 360 mm."
    );
    // the print made next carries the words too; a drawing for screens is not corrected
    let (code, _, err) = s.run(&[
        "template",
        "p.json",
        "--formats",
        "pdf",
        "--measured-x",
        "242.5/250",
        "--measured-y",
        "250/250",
    ]);
    assert_eq!(code, 1, "{err}");
    let name = s.names("out").into_iter().find(|n| n.ends_with("p.pdf")).unwrap();
    let words = s.pdf_text(&format!("out/{name}"));
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("measured before this one: x 0.970, y 1.000: do not cut"), "{words}");
}

#[test]
fn a_bar_measured_in_nonsense_is_refused_by_name() {
    let s = scratch("nonsense");
    for (text, words) in [
        ("242,5/250", "`242,5` has a comma: 242,5 could mean 242.5 or 2425"),
        ("/250", "the value is empty"),
        ("nan/250", "`nan` is not a finite number"),
        ("-242.5/250", "`-242.5 mm` is negative, and a size is asked"),
        ("0/250", "`0 mm` is zero, and a size is asked"),
        ("242.5", "there is no stroke"),
        ("9.57/10", "no sheet has an x bar of 10 mm: a bar is 250, 200, 150, 100, 50, 20 mm or 10, 8, 6"),
        (
            "200/250",
            "the x bar of 250 mm measured as 200 mm: a printer is corrected between 0.9 and 1.1 only",
        ),
    ] {
        let (code, out, err) = s.run(&["template", "p.json", &format!("--measured-x={text}")]);
        assert_eq!(code, 2, "{text}: {out}");
        assert!(err.contains(words), "{text}: {err}");
        assert!(s.names("out").is_empty(), "nothing is drawn");
    }
}

#[test]
fn only_a_print_is_corrected_for_its_printer() {
    let s = scratch("corrected");
    let drawn = |args: &[&str]| {
        let (code, _, err) = s.run(&[&["template", "p.json", "--formats", "svg,pdf"], args].concat());
        assert_eq!(code, 1, "{err}");
        let names = s.names("out");
        let of =
            |end: &str| names.iter().filter(|n| n.ends_with(end) && !n.contains("view")).cloned().collect();
        let (svg, pdf): (Vec<String>, Vec<String>) = (of(".svg"), of(".pdf"));
        let read = |n: &String| s.read(&format!("out/{n}"));
        (svg.iter().map(read).collect::<Vec<_>>(), pdf.iter().map(read).collect::<Vec<_>>())
    };
    let plain = drawn(&[]);
    let corrected = drawn(&["--measured-x", "242.5/250"]);
    assert!(!plain.0.is_empty() && !plain.1.is_empty());
    assert_eq!(plain.0, corrected.0, "a drawing for screens stays true");
    assert_ne!(plain.1, corrected.1, "a print is corrected");
}

#[test]
fn a_template_says_which_face_it_is_and_where_the_mark_must_be() {
    let s = scratch("face");
    let (code, _, err) = s.run(&["template", "p.json", "--formats", "pdf"]);
    assert_eq!(code, 1, "{err}");
    let names = s.names("out");
    for (ending, words) in [
        ("p-back.pdf", "This sheet is BACK view; the asymmetric mark must be at your left."),
        ("p-back-tiles.pdf", "This sheet is BACK view; the asymmetric mark must be at your left."),
        ("p.pdf", "This sheet is FRONT view; the asymmetric mark must be at your right."),
        ("p-tiles.pdf", "This sheet is FRONT view; the asymmetric mark must be at your right."),
    ] {
        let name = names
            .iter()
            .find(|n| n.ends_with(&format!("CUTTING-{ending}")))
            .unwrap_or_else(|| panic!("{names:?}"));
        assert!(s.pdf_text(&format!("out/{name}")).contains(words), "{name}");
    }
}
