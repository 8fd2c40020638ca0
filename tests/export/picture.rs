//! Pictures measured: our own PNG, and the PDF rasterised by poppler.

use crate::outside::{folder, run};
use crate::scene;
use panelwright::draw::{Drawing, Entry, Shape, Units};
use panelwright::export::{pdf, png};
use panelwright::geom::Point;

/// Grey pixels, rows from the top.
struct Picture {
    width: usize,
    height: usize,
    grey: Vec<u8>,
    /// Pixels in a millimetre.
    scale: f64,
    /// Paper height, mm.
    paper: f64,
}

impl Picture {
    fn dark(&self, x: usize, y: usize) -> bool {
        self.grey[y * self.width + x] < 128
    }

    /// First and last dark pixel edge along a row or column through `at`, within `room` mm of it, in mm.
    fn extent(&self, at: Point, room: f64, level: bool) -> (f64, f64) {
        let (cx, cy) = (at.x * self.scale, (self.paper - at.y) * self.scale);
        let (c, most) = if level { (cx, self.width) } else { (cy, self.height) };
        let from = (c - room * self.scale).max(0.0) as usize;
        let to = ((c + room * self.scale) as usize).min(most - 1);
        let hits: Vec<usize> = (from..=to)
            .filter(|k| if level { self.dark(*k, cy as usize) } else { self.dark(cx as usize, *k) })
            .collect();
        let (first, last) = (hits[0] as f64 / self.scale, (hits[hits.len() - 1] + 1) as f64 / self.scale);
        if level { (first, last) } else { (self.paper - last, self.paper - first) }
    }
}

fn own(drawing: &Drawing, page: usize, dpi: f64) -> Picture {
    let bytes = png::write(drawing, page, dpi).expect("written");
    let mut reader = ::png::Decoder::new(std::io::Cursor::new(bytes)).read_info().expect("a PNG");
    let mut grey = vec![0; reader.output_buffer_size().expect("a size")];
    reader.next_frame(&mut grey).expect("pixels");
    let info = reader.info();
    assert_eq!(info.color_type, ::png::ColorType::Grayscale);
    let dims = info.pixel_dims.expect("a resolution");
    assert_eq!((dims.xppu, dims.yppu), ((dpi / 0.0254).round() as u32, (dpi / 0.0254).round() as u32));
    let paper = &drawing.pages[page];
    assert_eq!(info.width, (paper.width / 25.4 * dpi).ceil() as u32);
    assert_eq!(info.height, (paper.height / 25.4 * dpi).ceil() as u32);
    Picture {
        width: info.width as usize,
        height: info.height as usize,
        grey,
        scale: dpi / 25.4,
        paper: paper.height,
    }
}

fn poppler(drawing: &Drawing, page: usize, dpi: u32) -> Picture {
    let dir = folder(&format!("poppler-{page}"));
    let (file, stem) = (dir.join("plate.pdf"), dir.join("plate"));
    std::fs::write(&file, pdf::write(drawing).expect("written")).expect("saved");
    let number = (page + 1).to_string();
    let args = ["-r", &dpi.to_string(), "-gray", "-singlefile", "-f", &number, "-l", &number];
    let paths = [file.to_str().expect("a plain path"), stem.to_str().expect("a plain path")];
    run("pdftoppm", &[&args[..], &paths[..]].concat(), "install poppler-utils");
    let bytes = std::fs::read(stem.with_extension("pgm")).expect("a picture");
    // P5, width, height, 255, one white space, pixels
    let mut at = 0;
    let mut word = || {
        let start = at;
        while !bytes[at].is_ascii_whitespace() {
            at += 1;
        }
        at += 1;
        (String::from_utf8_lossy(&bytes[start..at - 1]).into_owned(), at)
    };
    assert_eq!(word().0, "P5");
    let (width, height) = (word().0.parse().expect("width"), word().0.parse().expect("height"));
    let (_, start) = word();
    let grey = bytes[start..].to_vec();
    Picture { width, height, grey, scale: f64::from(dpi) / 25.4, paper: drawing.pages[page].height }
}

/// Both bars end, and both round holes reach, where they should, to one pixel; `place` says where a point
/// of the plate lands on the page and `seen` whether it can be seen there.
fn measure(picture: &Picture, place: impl Fn(Point) -> Point, seen: impl Fn(Point) -> bool) -> usize {
    let pixel = 1.0 / picture.scale;
    let mut measured = 0;
    let mut close = |what: &str, found: (f64, f64), want: (f64, f64)| {
        measured += 1;
        assert!(
            (found.0 - want.0).abs() <= pixel && (found.1 - want.1).abs() <= pixel,
            "{what}: {found:?} mm, should be {want:?}, a pixel is {pixel}"
        );
    };
    let at = |p: &Point| place(*p);
    let (a, b) = (at(&scene::BAR.0), at(&scene::BAR.1));
    if seen(a) && seen(b) {
        close("level bar", picture.extent(a.midpoint(b), 60.0, true), (a.x, b.x));
    }
    let (a, b) = (at(&scene::UPRIGHT.0), at(&scene::UPRIGHT.1));
    if seen(a) && seen(b) {
        close("upright bar", picture.extent(a.midpoint(b), 52.0, false), (a.y, b.y));
    }
    for item in scene::plate_items() {
        if let (Shape::Circle { centre, radius }, Some(stroke)) = (&item.shape, item.stroke) {
            // 10 degrees off the axes would need more: the row through the centre, to the line's outer edge
            let reach = radius + stroke.width / 2.0;
            let (west, east) = (*centre - (reach, 0.0), *centre + (reach, 0.0));
            let (south, north) = (*centre - (0.0, reach), *centre + (0.0, reach));
            let all = [west, east, south, north].map(&place);
            if all.iter().all(|p| seen(*p)) {
                close(
                    "hole across",
                    picture.extent(place(*centre), radius + 1.5, true),
                    (all[0].x, all[1].x),
                );
                close("hole up", picture.extent(place(*centre), radius + 1.5, false), (all[2].y, all[3].y));
            }
        }
    }
    measured
}

#[test]
fn bars_and_holes_measure_right_in_both_pictures() {
    let plate = scene::plate(Units::Millimetre);
    for dpi in [150, 300] {
        for picture in [own(&plate, 0, f64::from(dpi)), poppler(&plate, 0, dpi)] {
            assert_eq!(measure(&picture, |p| p, |_| true), 6);
        }
    }
    // the corrected tile: bars are stretched with everything else
    let Some(Entry::Group(g)) = plate.pages[1].items.first() else { panic!("a tile shows a group") };
    let clip = g.clip.expect("a window");
    for picture in [own(&plate, 1, 300.0), poppler(&plate, 1, 300)] {
        let seen = |p: Point| clip.contains(p);
        assert_eq!(measure(&picture, |p| g.point(p), seen), 4);
        let outside =
            |x: f64, y: f64| picture.dark((x * picture.scale) as usize, (y * picture.scale) as usize);
        for k in 0..290 {
            assert!(!outside(205.0, f64::from(k)), "ink beyond the window at {k}");
        }
    }
}

/// Black pixels of one picture that have no inked pixel of the other within one pixel.
fn alone(a: &Picture, b: &Picture) -> usize {
    let near = |x: usize, y: usize| {
        (y.saturating_sub(1)..=(y + 1).min(b.height - 1))
            .any(|v| (x.saturating_sub(1)..=(x + 1).min(b.width - 1)).any(|u| b.grey[v * b.width + u] < 192))
    };
    (0..a.grey.len()).filter(|k| a.grey[*k] < 64 && !near(k % a.width, k / a.width)).count()
}

/// Two unrelated rasterisers paint the same page alike to a pixel (poppler sets letters on whole pixels):
/// letters, dashes, hatching, fills, windows.
#[test]
fn our_picture_and_poppler_agree() {
    let plate = scene::plate(Units::Millimetre);
    for page in [0, 2] {
        let (a, b) = (own(&plate, page, 200.0), poppler(&plate, page, 200));
        assert_eq!((a.width, a.height), (b.width, b.height));
        let ink = b.grey.iter().filter(|v| **v < 128).count();
        let (ours, theirs) = (alone(&a, &b), alone(&b, &a));
        println!("page {page}: of {ink} inked pixels {ours} are ours alone, {theirs} theirs alone");
        assert!(ink > 10_000 && ours + theirs < 10, "{ours} and {theirs} pixels stand alone");
    }
}
