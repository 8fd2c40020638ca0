//! Photographs as a phone writes them: JPEG, upright as its viewer shows it.

use super::{MOST_PIXELS, Picture, PictureFault};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

/// Longest side that the decoder is let at, pixels.
const MOST_SIDE: usize = 40_000;

/// Reads a JPEG to its end.
pub fn read(bytes: &[u8]) -> Result<Picture, PictureFault> {
    let short = |why: String| PictureFault::CutShort("JPEG", why);
    // plain arithmetic: the same pixels on every machine
    let options = DecoderOptions::default()
        .jpeg_set_out_colorspace(ColorSpace::RGB)
        .set_max_width(MOST_SIDE)
        .set_max_height(MOST_SIDE)
        .set_use_unsafe(false);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(|e| short(e.to_string()))?;
    let Some((width, height)) = decoder.dimensions() else { return Err(short("it states no size".into())) };
    if (width * height) as u64 > MOST_PIXELS {
        return Err(PictureFault::TooLarge(width as u32, height as u32));
    }
    if !ends(bytes) {
        return Err(short("its last rows are missing".into()));
    }
    let turned = decoder.exif().map_or(1, |e| orientation(e));
    let pixels = decoder.decode().map_err(|e| short(e.to_string()))?;
    if pixels.len() != 3 * width * height {
        return Err(short("its pixels are not red, green and blue".into()));
    }
    Ok(upright(Picture { width, height, pixels }, turned))
}

/// Whether the end of the picture is there: within its data no other byte than 0 or a restart follows 0xff, so that the
/// first end marker behind the first scan is its end (ITU-T T.81, B.1.1.2 and B.1.1.5).
fn ends(bytes: &[u8]) -> bool {
    let mut at = 2;
    while let Some([0xff, marker, high, low]) = bytes.get(at..at + 4) {
        if *marker == 0xda {
            return bytes.get(at..).is_some_and(|rest| rest.windows(2).any(|w| w == [0xff, 0xd9]));
        }
        // fill bytes before a marker
        at += if *marker == 0xff { 1 } else { 2 + usize::from(u16::from_be_bytes([*high, *low])) };
    }
    false
}

/// How the camera was held: the tag 0x0112 of the first directory, 1 to 8 (Exif 2.3, table 4); 1 where nothing says it.
fn orientation(exif: &[u8]) -> u16 {
    let exif = exif.strip_prefix(b"Exif\0\0").unwrap_or(exif);
    let little = exif.starts_with(b"II");
    let short = |at: usize| -> Option<u16> {
        let two: [u8; 2] = exif.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if little { u16::from_le_bytes(two) } else { u16::from_be_bytes(two) })
    };
    let long = |at: usize| -> Option<usize> {
        let (a, b) = (usize::from(short(at)?), usize::from(short(at + 2)?));
        Some(if little { a | b << 16 } else { a << 16 | b })
    };
    let found = || -> Option<u16> {
        let first = long(4)?;
        let entries = usize::from(short(first)?);
        let at = (0..entries).map(|k| first + 2 + 12 * k).find(|at| short(*at) == Some(0x0112))?;
        short(at + 8)
    };
    found().filter(|o| (1..=8).contains(o)).unwrap_or(1)
}

/// The picture as a viewer shows it.
fn upright(p: Picture, turned: u16) -> Picture {
    if turned == 1 {
        return p;
    }
    let (w, h) = (p.width, p.height);
    let (width, height) = if turned > 4 { (h, w) } else { (w, h) };
    let mut pixels = Vec::with_capacity(p.pixels.len());
    for y in 0..height {
        for x in 0..width {
            let (u, v) = match turned {
                2 => (w - 1 - x, y),
                3 => (w - 1 - x, h - 1 - y),
                4 => (x, h - 1 - y),
                5 => (y, x),
                6 => (y, h - 1 - x),
                7 => (w - 1 - y, h - 1 - x),
                _ => (w - 1 - y, x),
            };
            let at = 3 * (v * w + u);
            pixels.extend_from_slice(p.pixels.get(at..at + 3).unwrap_or(&[255; 3]));
        }
    }
    Picture { width, height, pixels }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_to_hold_a_camera() {
        // Exif 2.3, table 4: where row 0 and column 0 of the stored picture lie in the scene
        // stored: 1 2 3 / 4 5 6
        let stored = Picture { width: 3, height: 2, pixels: (1..=6).flat_map(|v| [v; 3]).collect() };
        let rows = |p: &Picture| -> Vec<Vec<u8>> {
            p.pixels.chunks(3 * p.width).map(|r| r.iter().step_by(3).copied().collect()).collect()
        };
        let cases: [(u16, &[&[u8]]); 8] = [
            (1, &[&[1, 2, 3], &[4, 5, 6]]),
            (2, &[&[3, 2, 1], &[6, 5, 4]]),
            (3, &[&[6, 5, 4], &[3, 2, 1]]),
            (4, &[&[4, 5, 6], &[1, 2, 3]]),
            (5, &[&[1, 4], &[2, 5], &[3, 6]]),
            (6, &[&[4, 1], &[5, 2], &[6, 3]]),
            (7, &[&[6, 3], &[5, 2], &[4, 1]]),
            (8, &[&[3, 6], &[2, 5], &[1, 4]]),
        ];
        for (turned, want) in cases {
            assert_eq!(rows(&upright(stored.clone(), turned)), want, "{turned}");
        }
    }

    #[test]
    fn the_tag_is_found_in_both_byte_orders() {
        let little = b"II*\0\x08\0\0\0\x02\0\x0f\x01\x02\0\x01\0\0\0aa\0\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0";
        let big = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x08\0\0";
        assert_eq!((orientation(little), orientation(big)), (6, 8));
        assert_eq!(orientation(b"II*\0\xff\xff\xff\xff"), 1);
        assert_eq!(orientation(b""), 1);
    }
}
