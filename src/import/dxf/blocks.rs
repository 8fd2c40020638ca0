//! Entities in their places: blocks laid out wherever they are inserted, each with the way to it.

use super::entity::{self, Read};
use super::record::{Desk, Record};
use crate::geom::{Point, Vec2};
use crate::import::{Item, MOST_MM, MOST_PIECES, Mark, Shape, Spot, affine};
use kurbo::Affine;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Deepest nesting of blocks.
const MOST_DEPTH: usize = 16;

/// A block of the file.
pub struct Block<'a, 'b> {
    /// Base point.
    pub base: Point,
    /// Its entities.
    pub records: Vec<Record<'a, 'b>>,
    /// It stands in another file.
    pub outside: bool,
}

/// Lays out a list of entities.
pub struct Layout<'a, 'b, 'l, 'p> {
    /// All blocks by name in capitals.
    pub blocks: &'l BTreeMap<String, Block<'a, 'b>>,
    /// Faults and places.
    pub desk: Desk<'l, 'p>,
    /// Index of a layer by its name, new ones added.
    pub layers: Layers,
    /// Where the items go.
    pub items: Vec<Item>,
    /// Pieces and insertions so far.
    pub spent: usize,
    /// Whether the limit was told.
    pub full: bool,
}

/// Layer names in the order of the file. Names are the same whatever their case.
#[derive(Default)]
pub struct Layers {
    /// The layers.
    pub list: Vec<crate::import::Layer>,
    by_name: BTreeMap<String, usize>,
}

impl Layers {
    /// Index of a name.
    pub fn index(&mut self, name: &str) -> usize {
        let list = &mut self.list;
        *self.by_name.entry(name.to_uppercase()).or_insert_with(|| {
            list.push(crate::import::Layer { name: name.to_owned(), hidden: None, says_cut: None });
            list.len() - 1
        })
    }
}

/// The way down to an entity.
#[derive(Clone)]
pub struct Way {
    map: Affine,
    layer: Option<usize>,
    via: Option<(Arc<str>, u32)>,
    hidden: Option<&'static str>,
    names: Vec<String>,
}

impl Way {
    /// The drawing itself, one unit of which is so many millimetres.
    pub fn root(mm: f64) -> Way {
        Way { map: Affine::scale(mm), layer: None, via: None, hidden: None, names: vec![] }
    }
}

impl<'a, 'b> Layout<'a, 'b, '_, '_> {
    /// Lays out entities.
    pub fn run(&mut self, records: &[Record<'a, 'b>], way: &Way) {
        let mut k = 0;
        while let Some(r) = records.get(k) {
            k += 1;
            if self.full {
                return;
            }
            let followers = match r.kind {
                "POLYLINE" => {
                    records.get(k..).unwrap_or(&[]).iter().take_while(|v| v.kind == "VERTEX").count()
                }
                _ => 0,
            };
            let vertices = records.get(k..k + followers).unwrap_or(&[]);
            k += followers;
            match r.kind {
                "INSERT" => self.insert(r, way),
                "SEQEND" | "VIEWPORT" => {}
                // what a block only asks for, it does not draw
                "ATTDEF" if way.via.is_some() => {}
                _ => self.entity(r, vertices, way),
            }
        }
    }

    fn layer(&mut self, r: &Record<'_, '_>, way: &Way) -> usize {
        let name = super::unicode(r.text(8).unwrap_or("0"));
        match way.layer {
            // layer 0 in a block means: where it is inserted
            Some(outer) if name == "0" => outer,
            _ => self.layers.index(&name),
        }
    }

    fn spot(&self, r: &Record<'_, '_>, way: &Way) -> Spot {
        let place = r.head.place(self.desk.lines);
        Spot { id: r.text(5).map(Arc::from), via: way.via.clone(), ..crate::import::spot(&place) }
    }

    fn hidden(&mut self, r: &Record<'_, '_>, way: &Way) -> Option<&'static str> {
        if way.hidden.is_some() {
            return way.hidden;
        }
        if r.int(67, &mut self.desk) == 1 {
            return Some("paper space");
        }
        (r.int(60, &mut self.desk) == 1).then_some("invisible")
    }

    fn spend(&mut self, r: &Record<'_, '_>, pieces: usize) -> bool {
        self.spent += pieces.max(1);
        if self.spent > MOST_PIECES && !self.full {
            self.full = true;
            let place = r.head.place(self.desk.lines);
            let message = format!("the file draws more than {MOST_PIECES} pieces, repeated blocks counted");
            self.desk.fault("too-many-pieces", &place, message, "leave out what is not to be cut");
        }
        !self.full
    }

    fn entity(&mut self, r: &Record<'a, 'b>, vertices: &[Record<'a, 'b>], way: &Way) {
        let Some(Read { shape, z, mirrored }) = entity::read(r, vertices, &mut self.desk) else { return };
        let pieces = if let Shape::Chain { pieces, .. } = &shape { pieces.len() } else { 1 };
        if !self.spend(r, pieces) {
            return;
        }
        let shape = affine::shape(&way.map, shape);
        if !within_reach(&shape) {
            let place = r.head.place(self.desk.lines);
            let message = format!("{} lies more than {} km from the origin", r.kind, MOST_MM / 1e6);
            self.desk.fault(
                "out-of-reach",
                &place,
                message,
                "move the drawing to the origin, or delete the entity",
            );
            return;
        }
        let scale = affine::similar(&way.map).unwrap_or(1.0);
        let layer = self.layer(r, way);
        let item = Item {
            kind: r.kind.into(),
            layer,
            spot: self.spot(r, way),
            shape,
            hidden: self.hidden(r, way),
            mirrored: mirrored != affine::mirrors(&way.map),
            z: z.map(|v| v * scale),
        };
        self.items.push(item);
    }

    fn insert(&mut self, r: &Record<'a, 'b>, way: &Way) {
        let name = r.text(2).unwrap_or("");
        let key = name.to_uppercase();
        let nested = way.names.contains(&key) || way.names.len() >= MOST_DEPTH;
        let plane = [210, 220].iter().all(|c| r.number(*c, &mut self.desk).unwrap_or(0.0).abs() <= 1e-9);
        let why = match self.blocks.get(&key) {
            None => Some("a block that is not in the file"),
            Some(b) if b.outside => Some("a block that stands in another file"),
            Some(_) if nested => Some("a block inside itself, or nested too deep"),
            Some(_) if !plane => Some("not in the plane of the drawing"),
            Some(_) => None,
        };
        if let Some(why) = why {
            let layer = self.layer(r, way);
            let (spot, hidden) = (self.spot(r, way), self.hidden(r, way));
            self.items.push(Item {
                kind: format!("INSERT {name}").into(),
                layer,
                spot,
                shape: Shape::NotRead(why),
                hidden,
                mirrored: false,
                z: [0.0; 2],
            });
            return;
        }
        let Some(block) = self.blocks.get(&key) else { return };
        let desk = &mut self.desk;
        let Some(at) = r.point(10, "place", desk) else { return };
        let z = r.z(30, desk);
        let scale_x = r.number(41, desk).unwrap_or(1.0);
        let scale_y = r.number(42, desk).unwrap_or(1.0);
        let turn = r.number(50, desk).unwrap_or(0.0);
        let over = r.number(230, desk).unwrap_or(1.0) < 0.0;
        let columns = r.int(70, desk).clamp(1, MOST_PIECES as i64);
        let rows = r.int(71, desk).clamp(1, MOST_PIECES as i64);
        let step = Vec2::new(r.number(44, desk).unwrap_or(0.0), r.number(45, desk).unwrap_or(0.0));
        let (s, c) = crate::geom::angle::sin_cos_deg(turn);
        let rotate = Affine::new([c, s, -s, c, 0.0, 0.0]);
        let mut inner = way.clone();
        inner.names.push(key);
        inner.layer = Some(self.layer(r, way));
        inner.hidden = self.hidden(r, way);
        let line = r.head.place(self.desk.lines).line;
        inner.via = Some((name.into(), line));
        let flip = if over { Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]) } else { Affine::IDENTITY };
        let own = Affine::scale_non_uniform(scale_x, scale_y) * Affine::translate(-block.base.to_vec2());
        let first = self.items.len();
        for row in 0..rows {
            for column in 0..columns {
                if !self.spend(r, 1) {
                    return;
                }
                let shift = Vec2::new(step.x * column as f64, step.y * row as f64);
                inner.map = way.map
                    * flip
                    * Affine::translate(at.to_vec2())
                    * rotate
                    * Affine::translate(shift)
                    * own;
                self.run(&block.records, &inner);
            }
        }
        let lift = z * affine::similar(&way.map).unwrap_or(1.0);
        for item in self.items.iter_mut().skip(first) {
            item.z = item.z.map(|v| v + lift);
        }
    }
}

/// Whether every number of a shape is finite and not absurdly far out.
fn within_reach(s: &Shape) -> bool {
    let near = |p: Point| p.x.abs() <= MOST_MM && p.y.abs() <= MOST_MM;
    match s {
        Shape::Chain { pieces, curves, .. } => {
            pieces.iter().all(|s| {
                let b = s.bounds();
                near(b.origin()) && near(Point::new(b.x1, b.y1))
            }) && curves.iter().all(|c| near(c.bounds.origin()) && near(Point::new(c.bounds.x1, c.bounds.y1)))
        }
        // a mark far out is no contour; it only has no place to be told
        Shape::Mark { what: Mark::Words | Mark::Point | Mark::Dimension | Mark::Fill, .. }
        | Shape::NotRead(_) => true,
    }
}
