//! Invented drawings: a plate with everything that a drawing can hold, and seeded random ones.

use panelwright::draw::{
    Anchor, Dash, Drawing, Entry, Group, Ink, Item, Layer, Page, Shape, Stroke, Text, Units, text,
};
use panelwright::geom::{Arc, Contour, Point, Rect, Segment, Transform, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};
use std::sync::Arc as Shared;

/// Words with every kind of character that a panel needs.
pub const WORDS: &str = "Ø79.4 ±0.1 µ 90° é <&> \"'";
/// Where the horizontal 100 mm bar of the plate runs.
pub const BAR: (Point, Point) = (Point::new(40.0, 20.0), Point::new(140.0, 20.0));
/// Where the vertical one runs.
pub const UPRIGHT: (Point, Point) = (Point::new(20.0, 40.0), Point::new(20.0, 140.0));

/// A slot: two straight sides and two half circles.
pub fn slot(at: Point, length: f64, width: f64, degrees: f64) -> Contour {
    let (l, r) = (length / 2.0, width / 2.0);
    let p = |x: f64, y: f64| Point::new(x, y);
    let c = Contour::new(vec![
        Segment::line(p(-l, -r), p(l, -r)),
        Segment::Arc(Arc::between(p(l, -r), p(l, r), p(l, 0.0), true)),
        Segment::line(p(l, r), p(-l, r)),
        Segment::Arc(Arc::between(p(-l, r), p(-l, -r), p(-l, 0.0), true)),
    ])
    .expect("a slot");
    Transform::place(at, degrees, false).contour(&c)
}

/// A circle with a flat: an arc of far over half a turn and its chord.
pub fn flatted(at: Point, radius: f64, half: f64, degrees: f64, mirror: bool) -> Contour {
    let arc = Arc::new(Point::ZERO, radius, half, 2.0 * (PI - half));
    let c = Contour::new(vec![Segment::Arc(arc), Segment::line(arc.b, arc.a)]).expect("a flatted circle");
    Transform::place(at, degrees, mirror).contour(&c)
}

fn thin() -> Stroke {
    Stroke::solid(0.18)
}

/// Everything that stands on the plate.
pub fn plate_items() -> Vec<Item> {
    let p = Point::new;
    let cut = Stroke::solid(0.35);
    let mut items = vec![
        Item::stroked(Layer::Cut, Shape::Path(Contour::rect(p(210.0, 150.0), 300.0, 180.0, 24.0)), cut)
            .of("sheet"),
        Item::stroked(Layer::Cut, Shape::contour(&Contour::circle(p(120.0, 160.0), 39.7)), cut)
            .of("asi & \"co\" <1>"),
        Item::stroked(Layer::Cut, Shape::Circle { centre: p(220.0, 160.0), radius: 40.1 }, cut).of("alt"),
        Item::stroked(Layer::Cut, Shape::Path(slot(p(310.0, 190.0), 30.0, 9.0, 30.0)), cut).of("slot"),
        Item::stroked(Layer::Cut, Shape::Path(flatted(p(310.0, 140.0), 6.2, 0.4, 77.0, false)), cut)
            .of("switch"),
        Item::stroked(Layer::Cut, Shape::Path(flatted(p(330.0, 110.0), 6.2, 0.1, 10.0, true)), cut)
            .of("switch2"),
        Item::stroked(Layer::Mark, Shape::line(p(118.0, 160.0), p(122.0, 160.0)), thin()),
        Item::stroked(Layer::Mark, Shape::line(p(120.0, 158.0), p(120.0, 162.0)), thin()),
        Item::stroked(
            Layer::Outline,
            Shape::Arc(Arc::new(p(220.0, 160.0), 44.0, 0.5, 4.0)),
            thin().dash(Dash::Dashed),
        ),
        Item::stroked(
            Layer::Outline,
            Shape::Arc(Arc::new(p(220.0, 160.0), 46.0, 1.0, -FRAC_PI_2)),
            thin().dash(Dash::Chain),
        ),
        Item::filled(Layer::Outline, Shape::Path(Contour::rect(p(120.0, 90.0), 12.0, 8.0, 1.0)), Ink::LIGHT),
        Item::stroked(
            Layer::Outline,
            Shape::Chain(vec![
                Segment::line(p(150.0, 80.0), p(170.0, 80.0)),
                Segment::Arc(Arc::between(p(170.0, 80.0), p(180.0, 90.0), p(170.0, 90.0), true)),
                Segment::line(p(180.0, 90.0), p(180.0, 100.0)),
            ]),
            thin().dash(Dash::DoubleChain),
        ),
        Item::stroked(
            Layer::Hatch,
            Shape::Hatch {
                contours: vec![
                    Contour::rect(p(260.0, 90.0), 40.0, 20.0, 4.0),
                    Contour::circle(p(260.0, 90.0), 6.0),
                ],
                spacing: 2.0,
                angle: 45.0,
            },
            thin(),
        ),
        Item::stroked(Layer::Scale, Shape::line(BAR.0, BAR.1), Stroke::solid(1.0)),
        Item::stroked(Layer::Scale, Shape::line(UPRIGHT.0, UPRIGHT.1), Stroke::solid(1.0)),
        Item::text(Layer::Text, Text::new(p(60.0, 225.0), 4.0, Anchor::LEFT, WORDS)).of("words"),
        Item::text(Layer::Text, Text::new(p(370.0, 75.0), 3.0, Anchor::MIDDLE, "turned 30°").turned(30.0)),
        Item::text(Layer::Notice, Text::new(p(210.0, 262.0), 6.0, Anchor::CENTRE, "NOT FOR CUTTING").bold()),
        Item::text(Layer::Text, Text::new(p(400.0, 20.0), 2.5, Anchor::RIGHT, "100% \\U+00B0 %%d  two  ")),
    ];
    let w = text::width("NOT FOR CUTTING", 6.0, panelwright::draw::Weight::Bold);
    let frame = Rect::from_center_size(p(210.0, 262.0), (w, 6.0)).inflate(2.0, 2.0);
    let corners =
        [p(frame.x0, frame.y0), p(frame.x1, frame.y0), p(frame.x1, frame.y1), p(frame.x0, frame.y1)];
    items.push(Item::stroked(Layer::Notice, Shape::Path(Contour::polygon(&corners)), Stroke::solid(0.5)));
    items
}

/// The plate on one page (A3, lying), then two corrected tiles of it (A4) that share its items.
pub fn plate(units: Units) -> Drawing {
    let items: Shared<[Item]> = plate_items().into();
    let tile = |name: &str, x: f64| Page {
        name: name.to_owned(),
        width: 210.0,
        height: 297.0,
        items: vec![
            Entry::Group(Group {
                clip: Some(Rect::new(10.0, 10.0, 200.0, 287.0)),
                scale_x: 1.002,
                scale_y: 0.999,
                shift: Vec2::new(x, 5.0),
                items: Shared::clone(&items),
            }),
            Entry::Item(Item::text(
                Layer::Register,
                Text::new(Point::new(15.0, 5.0), 2.5, Anchor::LEFT, name),
            )),
        ],
    };
    Drawing {
        title: "Plate é, invented".to_owned(),
        pages: vec![
            Page {
                name: "sheet 1".to_owned(),
                width: 420.0,
                height: 297.0,
                items: items.iter().cloned().map(Entry::Item).collect(),
            },
            tile("tile A1", 0.0),
            tile("tile A2", -180.0),
        ],
        meta: vec![
            ("revision".to_owned(), "3 é".to_owned()),
            ("verdicts".to_owned(), "1 fail\n2 pass".to_owned()),
        ],
        units,
    }
}

/// A seeded generator (splitmix64, public domain): the same numbers everywhere.
pub struct Dice(pub u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number in `from..to`.
    pub fn real(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A whole number below `n`.
    pub fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }
}

/// A random plate: circles, slots, rounded and flatted shapes, arcs, lines and words anywhere on a page.
pub fn random(seed: u64) -> Drawing {
    let mut dice = Dice(seed);
    let (width, height) = (dice.real(150.0, 950.0), dice.real(100.0, 600.0));
    let units = if dice.below(2) == 0 { Units::Millimetre } else { Units::Inch };
    let mut items = Vec::new();
    for k in 0..dice.below(40) + 5 {
        let at = Point::new(dice.real(0.0, width), dice.real(0.0, height));
        let turn = dice.real(0.0, 360.0);
        let stroke = Stroke::solid(dice.real(0.1, 0.7));
        let r = dice.real(0.5, 60.0);
        let item = match dice.below(9) {
            0 | 1 => Item::stroked(Layer::Cut, Shape::Circle { centre: at, radius: r }, stroke),
            2 => Item::stroked(
                Layer::Cut,
                Shape::Path(slot(at, 2.0 * r, dice.real(1.0, r + 1.0), turn)),
                stroke,
            ),
            3 => {
                let half = dice.real(0.02, 3.1);
                let shape = flatted(at, r, half, turn, dice.below(2) == 0);
                Item::stroked(Layer::Cut, Shape::Path(shape), stroke)
            }
            4 => {
                let c = Contour::rect(Point::ZERO, 2.0 * r, dice.real(1.0, 80.0), dice.real(0.0, 10.0));
                let mirror = dice.below(2) == 0;
                let moved = Transform::place(at, turn, mirror).contour(&c);
                Item::stroked(Layer::Cut, Shape::Path(if mirror { moved.reversed() } else { moved }), stroke)
            }
            5 => {
                let arc = Arc::new(at, r, dice.real(0.0, TAU), dice.real(0.05, 6.2));
                let arc = if dice.below(2) == 0 { arc } else { Arc::new(at, r, arc.start, -arc.sweep) };
                Item::stroked(Layer::Outline, Shape::Arc(arc), stroke.dash(Dash::Dashed))
            }
            6 => {
                let to = Point::new(dice.real(0.0, width), dice.real(0.0, height));
                Item::stroked(Layer::Dimension, Shape::line(at, to), stroke)
            }
            7 => Item::stroked(
                Layer::Hatch,
                Shape::Hatch {
                    contours: vec![flatted(at, r, 0.3, turn, false)],
                    spacing: r / 4.0,
                    angle: turn,
                },
                stroke,
            ),
            _ => {
                let anchors = [Anchor::LEFT, Anchor::MIDDLE, Anchor::RIGHT, Anchor::CENTRE, Anchor::TOP_LEFT];
                let anchor = anchors[dice.below(5) as usize];
                let t = Text::new(at, dice.real(1.5, 8.0), anchor, format!("item {k} Ø{r:.1} ±0.1°"));
                Item::text(Layer::Text, t.turned(turn))
            }
        };
        items.push(item.of(format!("item-{k}")));
    }
    let all: Shared<[Item]> = items.clone().into();
    let shift = Vec2::new(dice.real(-20.0, 20.0), dice.real(-20.0, 20.0));
    let scale = if dice.below(2) == 0 { 1.0 } else { 0.5 };
    let page = |name: &str, items| Page { name: name.to_owned(), width, height, items };
    Drawing {
        title: format!("Random {seed}"),
        pages: vec![
            page("all", items.into_iter().map(Entry::Item).collect()),
            page(
                "moved",
                vec![Entry::Group(Group { clip: None, scale_x: scale, scale_y: scale, shift, items: all })],
            ),
        ],
        meta: vec![("seed".to_owned(), seed.to_string())],
        units,
    }
}
