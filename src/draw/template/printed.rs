//! What the scale bars of a print, once measured, say about cutting by it.

use super::words::{mm, trimmed};
use super::{Measured, TemplateOptions};

/// How far a print may be off over the whole sheet and still be cut by, mm: about what a rule reads and a
/// scriber follows. Common practice, no source.
pub const TRUE_WITHIN: f64 = 0.5;

/// The words about a print whose bars were measured; `None` when neither was. `width` and `height` are
/// the sheet's, mm.
///
/// `x 0.970, y 1.000: do not cut; 10.8 mm short over 360 mm.`
pub fn printed(opts: &TemplateOptions, width: f64, height: f64) -> Option<String> {
    let ratio = |m: Option<Measured>| m.map(|m| m.read / m.nominal);
    let (x, y) = (ratio(opts.measured_x), ratio(opts.measured_y));
    if x.is_none() && y.is_none() {
        return None;
    }
    let said = |r: Option<f64>| r.map_or("not measured".to_string(), |r| format!("{r:.3}"));
    let head = format!("x {}, y {}", said(x), said(y));
    let over = |r: Option<f64>, size: f64| r.map(|r| ((r - 1.0) * size, size));
    let errors = [over(x, width), over(y, height)];
    let worst = errors.into_iter().flatten().reduce(|a, b| if b.0.abs() > a.0.abs() { b } else { a });
    let (off, size) = worst.unwrap_or((0.0, width));
    if off.abs() <= TRUE_WITHIN {
        let more = if x.is_some() && y.is_some() { "" } else { " Measure the other bar too." };
        return Some(format!("{head}: true to {} mm over {} mm.{more}", tenth(off.abs()), mm(size)));
    }
    let which = if off < 0.0 { "short" } else { "long" };
    let mut words = format!("{head}: do not cut; {} mm {which} over {} mm.", tenth(off.abs()), mm(size));
    if let (Some(x), Some(y)) = (x, y) {
        let apart = (x - y).abs();
        if apart * width.max(height) > TRUE_WITHIN {
            words += &format!(" Axes differ {} %: printer or copier stretch.", trimmed(100.0 * apart, 1));
        } else {
            words += " Both axes alike: the page was fitted to the paper. Print at 100 %.";
        }
    }
    Some(words)
}

fn tenth(v: f64) -> String {
    trimmed(v, 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(x: Option<f64>, y: Option<f64>) -> Option<String> {
        let m = |r: Option<f64>| r.map(|r| Measured { nominal: 250.0, read: 250.0 * r });
        let opts = TemplateOptions { measured_x: m(x), measured_y: m(y), ..TemplateOptions::default() };
        printed(&opts, 360.0, 120.0)
    }

    #[test]
    fn what_a_measured_print_says() {
        for (x, y, words) in [
            (None, None, None),
            (
                Some(0.97),
                Some(1.0),
                Some(
                    "x 0.970, y 1.000: do not cut; 10.8 mm short over 360 mm. Axes differ 3 %: printer or copier stretch.",
                ),
            ),
            (
                Some(0.97),
                Some(0.97),
                Some(
                    "x 0.970, y 0.970: do not cut; 10.8 mm short over 360 mm. Both axes alike: the page was fitted to the paper. Print at 100 %.",
                ),
            ),
            (
                Some(1.0),
                Some(1.02),
                Some(
                    "x 1.000, y 1.020: do not cut; 2.4 mm long over 120 mm. Axes differ 2 %: printer or copier stretch.",
                ),
            ),
            (Some(0.97), None, Some("x 0.970, y not measured: do not cut; 10.8 mm short over 360 mm.")),
            (Some(1.001), Some(1.0), Some("x 1.001, y 1.000: true to 0.4 mm over 360 mm.")),
            (
                None,
                Some(1.0),
                Some("x not measured, y 1.000: true to 0 mm over 120 mm. Measure the other bar too."),
            ),
        ] {
            assert_eq!(of(x, y).as_deref(), words);
        }
    }
}
