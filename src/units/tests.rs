//! Lengths by table: what is read, to which nanometre, what is refused and at which characters.

use super::*;

#[test]
fn lengths_are_read_to_the_nanometre_and_printed_as_written() {
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
    let cases: &[(&str, Option<Unit>, i64, &str)] = &[
        ("3 1/8 in", None, 79_375_000, "3 1/8 in"),
        ("3-1/8\"", None, 79_375_000, "3-1/8\""),
        ("3.125in", None, 79_375_000, "3.125in"),
        (".5 in", None, 12_700_000, ".5 in"),
        ("1' 2 1/2\"", None, 368_300_000, "1' 2 1/2\""),
        ("1 ft 2 in", None, 355_600_000, "1 ft 2 in"),
        ("1'-2\"", None, 355_600_000, "1'-2\""),
        ("62 mil", None, 1_574_800, "62 mil"),
        ("79.4 mm", None, 79_400_000, "79.4 mm"),
        ("1/16 in", None, 1_587_500, "1/16 in"),
        ("1/64 in", None, 396_875, "1/64 in"),
        ("8 cm", None, 80_000_000, "8 cm"),
        ("1.2 m", None, 1_200_000_000, "1.2 m"),
        ("25 \u{b5}m", None, 25_000, "25 \u{b5}m"),
        ("  6 mm ", None, 6_000_000, "6 mm"),
        ("79.4", Some(Unit::Millimetre), 79_400_000, "79.4 mm"),
        ("3 1/8", Some(Unit::Inch), 79_375_000, "3 1/8 in"),
        ("3 1/8 in", Some(Unit::Millimetre), 79_375_000, "3 1/8 in"),
        ("-0.75", Some(Unit::Inch), -19_050_000, "-0.75 in"),
        ("-3 1/8 in", None, -79_375_000, "-3 1/8 in"),
        ("1e1", Some(Unit::Millimetre), 10_000_000, "1e1 mm"),
        ("2.5E-1", Some(Unit::Millimetre), 250_000, "2.5E-1 mm"),
        ("0", Some(Unit::Millimetre), 0, "0 mm"),
        ("0e500", Some(Unit::Millimetre), 0, "0e500 mm"),
        ("5. mm", None, 5_000_000, "5. mm"),
        ("3 in.", None, 76_200_000, "3 in."),
        ("100 m", None, 100_000_000_000, "100 m"),
    ];
    for (text, unit, nm, printed) in cases {
        let read = Length::parse(text, *unit).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert_eq!(read.nm(), *nm, "{text}");
        assert_eq!(read.to_string(), *printed, "{text}");
        assert!(read.is_exact(), "{text}");
        // Printed with its unit, it reads back as the same length.
        assert_eq!(Length::parse(&read.to_string(), None).map(|l| l.nm()), Ok(*nm), "{text}");
    }
}

#[test]
fn what_is_not_a_length_is_refused_by_name_under_its_own_characters() {
    let cases: &[(&str, Option<Unit>, &str, &str)] = &[
        ("", Some(Unit::Millimetre), "empty-value", ""),
        ("   ", Some(Unit::Millimetre), "empty-value", "   "),
        ("79,4", Some(Unit::Millimetre), "comma-decimal", ","),
        ("1,250.5 mm", None, "comma-decimal", ","),
        ("nan", Some(Unit::Millimetre), "not-finite", "nan"),
        ("NaN mm", None, "not-finite", "NaN mm"),
        ("-Infinity", Some(Unit::Millimetre), "not-finite", "-Infinity"),
        ("inf", Some(Unit::Millimetre), "not-finite", "inf"),
        ("79.4", None, "no-unit", "79.4"),
        ("3 1/8", Some(Unit::Millimetre), "bare-fraction", "3 1/8"),
        ("-1/16", Some(Unit::Centimetre), "bare-fraction", "-1/16"),
        ("3 1/8 inn", None, "unknown-unit", "inn"),
        ("3 MM", None, "unknown-unit", "MM"),
        ("3 parsec", None, "unknown-unit", "parsec"),
        ("3 1/0 in", None, "zero-division", "1/0"),
        ("1/0 in", None, "zero-division", "1/0"),
        ("101 m", None, "absurd-value", "101 m"),
        ("1e9 mm", None, "absurd-value", "1e9 mm"),
        ("1e-9 mm", None, "too-fine", "1e-9 mm"),
        ("1e-300", Some(Unit::Millimetre), "too-fine", "1e-300"),
        ("1e999", Some(Unit::Millimetre), "bad-number", "1e999"),
        ("1e99999999999", Some(Unit::Millimetre), "bad-number", "1e99999999999"),
        ("1234567890123456789012345 mm", None, "bad-number", "1234567890123456789012345 "),
        ("3 9/8 in", None, "bad-number", "9/8 "),
        ("3 1/ in", None, "bad-number", "3 1/ "),
        ("mm", None, "bad-number", "m"),
        ("-", Some(Unit::Millimetre), "bad-number", ""),
        ("+3 mm", None, "bad-number", "+"),
        ("--3 mm", None, "bad-number", "-"),
        ("3 4 mm", None, "bad-number", "4"),
        ("3 mm mm", None, "bad-number", "m"),
        ("1' 2", Some(Unit::Inch), "bad-number", ""),
        ("1' 2 mm", None, "bad-number", "mm"),
        ("3.5 1/8 in", None, "bad-number", "1"),
        ("\u{2212}3 mm", None, "bad-number", "\u{2212}"),
        ("3 \u{bd} in", None, "bad-number", "\u{bd}"),
        ("0x10 mm", None, "unknown-unit", "x"),
    ];
    for (text, unit, code, part) in cases {
        match Length::parse(text, *unit) {
            Ok(read) => panic!("{text} was read as {read:?}"),
            Err(e) => {
                assert_eq!(e.code(), *code, "{text}: {e}");
                assert_eq!(&text[e.start..e.end], *part, "{text}: {e}");
                assert!(!e.help().is_empty());
            }
        }
    }
    let inn = Length::parse("3 1/8 inn", None).unwrap_err();
    assert!(inn.help().contains("did you mean `in`"), "{}", inn.help());
    let upper = Length::parse("3 MM", None).unwrap_err();
    assert!(upper.help().contains("did you mean `mm`"), "{}", upper.help());
    let told = |text| {
        let e = Length::parse(text, None).unwrap_err();
        (e.to_string(), e.help().rsplit(": ").next().unwrap_or("").to_string())
    };
    assert_eq!(
        told("12,75 mm"),
        ("`12,75 mm` has a comma: 12,75 could mean 12.75 or 1275".into(), "\"12.75 mm\"".into())
    );
    let (words, help) = told("1,250.5 mm");
    assert!(words.contains("a mark of thousands to others") && !words.contains("could mean"), "{words}");
    assert_eq!(help, "\"1250.5 mm\"");
}

#[test]
fn signs_are_checked_where_a_size_is_asked() {
    let length = |text| Length::parse(text, None).unwrap();
    assert!(length("-3 mm").check(Sign::Any).is_ok());
    assert_eq!(length("-3 mm").check(Sign::NotNegative).unwrap_err().code(), "negative-size");
    assert_eq!(length("-3 mm").check(Sign::Positive).unwrap_err().code(), "negative-size");
    assert!(length("0 mm").check(Sign::NotNegative).is_ok());
    assert_eq!(length("0 mm").check(Sign::Positive).unwrap_err().code(), "zero-size");
}

#[test]
fn what_lies_between_two_nanometres_is_rounded_and_says_so() {
    let third = Length::parse("1/3 in", None).unwrap();
    assert_eq!((third.nm(), third.is_exact()), (8_466_667, false));
    let half = Length::parse("-1/128 in", None).unwrap();
    assert_eq!((half.nm(), half.is_exact()), (-198_438, false));
}

#[test]
fn lengths_print_shortest() {
    assert_eq!(fmt_mm(79.375), "79.375 mm");
    assert_eq!(fmt_mm(6.0), "6 mm");
    assert_eq!(fmt_mm(-1e-9), "0 mm");
    assert_eq!(fmt_mm(6.349_999_999_9), "6.35 mm");
    assert_eq!(fmt_in(79.375), "3 1/8 in");
    assert_eq!(fmt_in(-79.375), "-3 1/8 in");
    assert_eq!(fmt_in(79.375 + 0.9e-6), "3 1/8 in");
    assert_eq!(fmt_in(79.375 + 3e-6), "3.125 in");
    assert_eq!(fmt_in(0.396_875), "1/64 in");
    assert_eq!(fmt_in(50.8), "2 in");
    assert_eq!(fmt_in(0.0), "0 in");
    assert_eq!(fmt_in(62.865), "2.475 in");
    assert_eq!(print_length(1.5748, Unit::Mil), "62 mil");
    assert_eq!(print_against(5.9999, 6.0, Unit::Millimetre), "5.9999 mm");
    assert_eq!(print_against(6.0, 6.0, Unit::Millimetre), "6 mm");
    assert_eq!(print_against(6.35 - 2e-6, 6.35, Unit::Inch), "0.2499999 in");
    assert_eq!(print_length(f64::INFINITY, Unit::Inch), "inf in");
}

#[test]
fn lengths_set_by_the_program_read_back_the_same() {
    for unit in
        [Unit::Millimetre, Unit::Centimetre, Unit::Metre, Unit::Micrometre, Unit::Inch, Unit::Foot, Unit::Mil]
    {
        for nm in [0i64, 1, -1, 396_875, 79_375_000, 12_345_678, -98_765_432_101] {
            let made = Length::from_mm(nm as f64 / 1e6, unit).unwrap();
            let read = Length::parse(&made.to_string(), None).unwrap();
            assert_eq!((made.nm(), read.nm()), (nm, nm), "{made}");
        }
    }
    assert!(Length::from_mm(f64::NAN, Unit::Millimetre).is_none());
    assert!(Length::from_mm(1e9, Unit::Millimetre).is_none());
}

#[test]
fn angles_masses_and_currents() {
    assert_eq!(Angle::parse("8").unwrap().degrees(), 8.0);
    assert_eq!(Angle::parse("-8 deg").unwrap().degrees(), -8.0);
    assert_eq!(Angle::parse("45\u{b0}").unwrap().to_string(), "45\u{b0}");
    assert_eq!(Angle::parse("400").unwrap_err().code(), "absurd-value");
    assert_eq!(Mass::parse("2 lb").unwrap().kg(), 0.907_184_74);
    assert_eq!(Mass::parse("500 g").unwrap().kg(), 0.5);
    assert_eq!(Mass::parse("0.5").unwrap_err().code(), "no-unit");
    assert_eq!(Mass::parse("-1 kg").unwrap_err().code(), "negative-size");
    assert_eq!(Mass::parse("1 kgs").unwrap_err().code(), "unknown-unit");
    assert_eq!(Current::parse("250 mA").unwrap().amperes(), 0.25);
    assert_eq!(Current::parse("2,5 A").unwrap_err().code(), "comma-decimal");
}
