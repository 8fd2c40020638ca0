//! PNG: the SVG of a page, rasterised with the bundled font alone, in greys, with its resolution inside.

use super::{ExportError, mark, page, svg};
use crate::draw::{Drawing, Entry, Greys, Shape, text};
use crate::geom::Rect;
use miniz_oxide::deflate::compress_to_vec_zlib;
use resvg::tiny_skia::{Color, Pixmap, PremultipliedColorU8, Transform};
use std::sync::{Arc as Shared, OnceLock};
use usvg::fontdb::Database;

/// Most pixels of a picture: 200 million grey bytes is what a viewer still opens.
const MOST_PIXELS: f64 = 2e8;
/// Filter type of a row that is as it is (PNG specification, 9.2).
const UNFILTERED: u8 = 0;
/// Compression level: drawings come out 6 % larger than at 9, in a tenth of the time.
const EFFORT: u8 = 4;
/// Resolution at which the SVG library turns millimetres into its own units.
const OWN_DPI: f64 = 96.0;

/// Writes one page at `dpi` pixels per inch.
///
/// # Errors
/// What the SVG back end refuses, a resolution outside 10 to 1200, or more than 200 million pixels.
pub fn write(drawing: &Drawing, index: usize, dpi: f64) -> Result<Vec<u8>, ExportError> {
    let paper = page(drawing, index)?;
    let fault = |says: String| ExportError::one(&paper.name, says);
    if !(10.0..=1200.0).contains(&dpi) {
        return Err(fault(format!("{dpi} pixels per inch is not between 10 and 1200")));
    }
    let source = svg::write(drawing, index)?;
    let (w, h) = ((paper.width / 25.4 * dpi).ceil().max(1.0), (paper.height / 25.4 * dpi).ceil().max(1.0));
    if w * h > MOST_PIXELS {
        return Err(fault(format!(
            "{w} x {h} pixels are more than {MOST_PIXELS}: ask for fewer pixels per inch"
        )));
    }
    let options = usvg::Options { fontdb: fonts(), dpi: OWN_DPI as f32, ..usvg::Options::default() };
    let tree = usvg::Tree::from_data(&source, &options)
        .map_err(|e| fault(format!("the drawing cannot be rasterised: {e}")))?;
    let mut pixels = Pixmap::new(w as u32, h as u32)
        .ok_or_else(|| fault(format!("no picture of {w} x {h} pixels is possible")))?;
    pixels.fill(Color::WHITE);
    let zoom = (dpi / OWN_DPI) as f32;
    resvg::render(&tree, Transform::from_scale(zoom, zoom), &mut pixels.as_mut());
    for item in paper.items.iter().filter_map(|e| if let Entry::Item(i) = e { Some(i) } else { None }) {
        if let Shape::Picture { at, picture } = &item.shape {
            lay(&mut pixels, *at, picture, paper.height, dpi / 25.4);
        }
    }
    let greys: Vec<u8> = pixels.pixels().iter().map(|p| p.red()).collect();
    encode(w as u32, h as u32, dpi, &greys).map_err(|e| fault(format!("the picture cannot be packed: {e}")))
}

/// Lays a picture under what was drawn, which the SVG library, built without pictures, left white: what is drawn darkens the
/// nearest of the picture's pixels, as ink on it does.
fn lay(to: &mut Pixmap, at: Rect, picture: &Greys, high: f64, per_mm: f64) {
    let wide = to.width() as usize;
    for (k, p) in to.pixels_mut().iter_mut().enumerate() {
        let middle = |n: usize| (n as f64 + 0.5) / per_mm;
        let (x, y) = (middle(k % wide), high - middle(k / wide));
        if !(at.x0 <= x && x < at.x1 && at.y0 < y && y <= at.y1) {
            continue;
        }
        let column = ((x - at.x0) / at.width() * picture.width as f64) as usize;
        let row = ((at.y1 - y) / at.height() * picture.height as f64) as usize;
        let Some(g) = picture.pixels.get(row * picture.width + column) else { continue };
        let both = (u32::from(*g) * u32::from(p.red()) / 255) as u8;
        if let Some(grey) = PremultipliedColorU8::from_rgba(both, both, both, 255) {
            *p = grey;
        }
    }
}

/// A grey picture packed, without a resolution.
pub fn greys(picture: &Greys) -> Result<Vec<u8>, ::png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, picture.width as u32, picture.height as u32);
    encoder.set_color(::png::ColorType::Grayscale);
    encoder.write_header()?.write_image_data(&picture.pixels)?;
    Ok(bytes)
}

/// A coloured picture packed, with its resolution and words on what it shows.
///
/// # Errors
/// Fewer or more bytes than three a pixel.
pub fn coloured(
    (width, height): (usize, usize),
    pixels: &[u8],
    per_mm: f64,
    words: &str,
) -> Result<Vec<u8>, ::png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, width as u32, height as u32);
    encoder.set_color(::png::ColorType::Rgb);
    let per_metre = (per_mm * 1000.0).round() as u32;
    encoder.set_pixel_dims(Some(::png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: ::png::Unit::Meter,
    }));
    encoder.add_text_chunk("Software".to_owned(), mark::PROGRAM.to_owned())?;
    encoder.add_text_chunk("Description".to_owned(), words.to_owned())?;
    encoder.write_header()?.write_image_data(pixels)?;
    Ok(bytes)
}

fn encode(w: u32, h: u32, dpi: f64, greys: &[u8]) -> Result<Vec<u8>, ::png::EncodingError> {
    let per_metre = (dpi / 0.0254).round() as u32;
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, w, h);
    encoder.set_color(::png::ColorType::Grayscale);
    encoder.set_depth(::png::BitDepth::Eight);
    encoder.set_pixel_dims(Some(::png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: ::png::Unit::Meter,
    }));
    encoder.add_text_chunk("Software".to_owned(), mark::PROGRAM.to_owned())?;
    let mut writer = encoder.write_header()?;
    // lines on white: unfiltered rows pack smaller than filtered ones. All rows at once: the encoder would clear
    // its buffer for each of them
    let mut rows = Vec::with_capacity(greys.len() + h as usize);
    for row in greys.chunks(w.max(1) as usize) {
        rows.push(UNFILTERED);
        rows.extend_from_slice(row);
    }
    writer.write_chunk(::png::chunk::IDAT, &compress_to_vec_zlib(&rows, EFFORT))?;
    writer.finish()?;
    Ok(bytes)
}

/// The bundled font under every family name that a drawing asks for; never the system's fonts.
fn fonts() -> Shared<Database> {
    static FONTS: OnceLock<Shared<Database>> = OnceLock::new();
    Shared::clone(FONTS.get_or_init(|| {
        let mut db = Database::new();
        db.load_font_data(text::REGULAR.to_vec());
        db.load_font_data(text::BOLD.to_vec());
        Shared::new(db)
    }))
}
