//! Any numbers whatever: a back end writes or refuses, and never panics.
//!
//! Every strategy is boxed: nested by value they outgrow the stack of a test's thread.

use panelwright::draw::{
    Across, Anchor, Dash, Drawing, Entry, Group, Ink, Item, Layer, Page, Shape, Stroke, Text, Units, Up,
    Weight,
};
use panelwright::export::{FORMATS, Options};
use panelwright::geom::{Arc, Contour, Line, Point, Rect, Segment, Vec2};
use proptest::collection::vec;
use proptest::prelude::{BoxedStrategy, Just, Strategy, any, prop_oneof};
use proptest::test_runner::{Config, TestRunner};
use std::cell::Cell;
use std::sync::Arc as Shared;

/// Mostly plain lengths, sometimes a number from the edge of what an f64 can be.
fn number() -> BoxedStrategy<f64> {
    prop_oneof![
        20 => -400.0..400.0,
        1 => Just(0.0),
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
        1 => Just(1e-300),
        1 => Just(-1e300),
        1 => any::<f64>(),
    ]
    .boxed()
}

fn point() -> BoxedStrategy<Point> {
    (number(), number()).prop_map(|(x, y)| Point::new(x, y)).boxed()
}

fn arc() -> BoxedStrategy<Arc> {
    (point(), number(), number(), number(), point())
        .prop_map(|(centre, radius, start, sweep, a)| Arc { centre, radius, start, sweep, a, b: a })
        .boxed()
}

fn segment() -> BoxedStrategy<Segment> {
    prop_oneof![(point(), point()).prop_map(|(a, b)| Segment::line(a, b)), arc().prop_map(Segment::Arc)]
        .boxed()
}

fn contour() -> BoxedStrategy<Contour> {
    prop_oneof![
        (point(), number(), number(), number()).prop_map(|(c, w, h, r)| Contour::rect(
            c,
            w.abs(),
            h.abs(),
            r.abs()
        )),
        (point(), number()).prop_map(|(c, r)| Contour::circle(c, r)),
        vec(point(), 3..6).prop_map(|p| Contour::polygon(&p)),
    ]
    .boxed()
}

fn shape() -> BoxedStrategy<Shape> {
    let text = (point(), number(), number(), any::<String>(), any::<(bool, bool)>()).prop_map(
        |(at, height, angle, text, (a, b))| {
            let anchor = Anchor {
                across: if a { Across::Right } else { Across::Middle },
                up: if b { Up::Top } else { Up::Middle },
            };
            let weight = if a { Weight::Bold } else { Weight::Regular };
            Shape::Text(Text { at, height, angle, anchor, text, weight })
        },
    );
    prop_oneof![
        (point(), point()).prop_map(|(a, b)| Shape::Line(Line { a, b })),
        arc().prop_map(Shape::Arc),
        (point(), number()).prop_map(|(centre, radius)| Shape::Circle { centre, radius }),
        contour().prop_map(Shape::Path),
        vec(segment(), 0..4).prop_map(Shape::Chain),
        text,
        (vec(contour(), 0..3), number(), number()).prop_map(|(contours, spacing, angle)| Shape::Hatch {
            contours,
            spacing,
            angle
        }),
    ]
    .boxed()
}

fn item() -> BoxedStrategy<Item> {
    (shape(), 0..Layer::ALL.len(), number(), any::<Option<u8>>(), any::<Option<String>>())
        .prop_map(|(shape, layer, width, fill, subject)| Item {
            layer: Layer::ALL[layer],
            subject,
            shape,
            stroke: (width > -100.0).then(|| Stroke::solid(width.abs()).dash(Dash::Chain)),
            fill: fill.map(Ink),
        })
        .boxed()
}

fn entry() -> BoxedStrategy<Entry> {
    let group = (vec(item(), 0..4), number(), number(), point(), (point(), point()), any::<bool>()).prop_map(
        |(items, scale_x, scale_y, shift, (a, b), clipped)| {
            Entry::Group(Group {
                clip: clipped.then(|| Rect::from_points(a, b)),
                scale_x,
                scale_y,
                shift: Vec2::new(shift.x, shift.y),
                items: Shared::from(items),
            })
        },
    );
    prop_oneof![3 => item().prop_map(Entry::Item), 1 => group].boxed()
}

/// A drawing of one page that is often lawful: faulty items come seldom.
fn drawing() -> BoxedStrategy<Drawing> {
    let size = prop_oneof![9 => 1.0..600.0, 1 => number()];
    (vec(entry(), 0..4), size.clone(), size, any::<String>(), any::<String>())
        .prop_map(|(items, width, height, title, name)| Drawing {
            meta: vec![(title.clone(), name.clone())],
            title,
            pages: vec![Page { name, width, height, items }],
            units: Units::Inch,
        })
        .boxed()
}

#[test]
fn any_drawing_is_written_or_refused() {
    let config = Config { cases: 300, failure_persistence: None, ..Config::default() };
    let (written, refused) = (Cell::new(0), Cell::new(0));
    let outcome = TestRunner::new(config).run(&drawing(), |drawing| {
        for f in &FORMATS {
            match (f.write)(&drawing, 0, &Options { dpi: 20.0 }) {
                Ok(bytes) => {
                    assert!(!bytes.is_empty());
                    written.set(written.get() + 1);
                }
                Err(e) => {
                    assert!(!e.faults.is_empty() && !e.to_string().is_empty());
                    refused.set(refused.get() + 1);
                }
            }
        }
        Ok(())
    });
    outcome.unwrap_or_else(|e| panic!("{e}"));
    // both ways are really taken
    println!("{} written, {} refused", written.get(), refused.get());
    assert!(written.get() > 50 && refused.get() > 50, "{} written, {} refused", written.get(), refused.get());
}
