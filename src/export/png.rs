//! PNG: the SVG of a page, rasterised with the bundled font alone, in greys, with its resolution inside.

use super::{ExportError, mark, page, svg};
use crate::draw::{Drawing, text};
use miniz_oxide::deflate::compress_to_vec_zlib;
use resvg::tiny_skia::{Color, Pixmap, Transform};
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
    let greys: Vec<u8> = pixels.pixels().iter().map(|p| p.red()).collect();
    encode(w as u32, h as u32, dpi, &greys).map_err(|e| fault(format!("the picture cannot be packed: {e}")))
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
