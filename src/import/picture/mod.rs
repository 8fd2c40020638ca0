//! Pictures that picks were taken in: PNG and JPEG to coloured pixels. What is neither, cut short or too large is told apart.

mod jpeg;

use std::io::Cursor;

/// Largest picture that is read, pixels: a phone's has 12 to 50 million.
pub const MOST_PIXELS: u64 = 100_000_000;

/// A picture, row by row from the top, three bytes a pixel: red, green, blue.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Three bytes a pixel.
    pub pixels: Vec<u8>,
}

/// Why there is no picture.
#[derive(Clone, Debug, PartialEq)]
pub enum PictureFault {
    /// Another kind of file; its name where its first bytes tell it.
    WrongKind(Option<&'static str>),
    /// More pixels than are read: width and height.
    TooLarge(u32, u32),
    /// It begins as a picture of this kind and then ends early or contradicts itself.
    CutShort(&'static str, String),
}

impl PictureFault {
    /// A short stable name.
    pub fn code(&self) -> &'static str {
        match self {
            PictureFault::WrongKind(_) => "image-kind",
            PictureFault::TooLarge(..) => "image-too-large",
            PictureFault::CutShort(..) => "image-cut-short",
        }
    }

    /// What is wrong, after the file's name.
    pub fn says(&self) -> String {
        match self {
            PictureFault::WrongKind(Some(kind)) => format!("is {kind}, neither PNG nor JPEG"),
            PictureFault::WrongKind(None) => "is no picture in PNG or JPEG".into(),
            PictureFault::TooLarge(w, h) => {
                format!("has {w} by {h} pixels, more than {} million", MOST_PIXELS / 1_000_000)
            }
            PictureFault::CutShort(kind, why) => {
                format!("is a {kind} picture that cannot be read to its end ({why})")
            }
        }
    }

    /// What to do.
    pub fn help(&self) -> &'static str {
        match self {
            PictureFault::WrongKind(_) => {
                "save the picture as PNG or JPEG, uncropped and at its full size; a new ending alone changes nothing"
            }
            PictureFault::TooLarge(..) => "scan at fewer dots per inch, or save it smaller and pick in that",
            PictureFault::CutShort(..) => "copy the file again: it was damaged or cut off on its way",
        }
    }
}

/// Kinds of file by their first bytes: where the bytes stand, the bytes, the name.
const KINDS: &[(usize, &[u8], &str)] = &[
    (0, b"GIF8", "a GIF picture"),
    (8, b"WEBP", "a WebP picture"),
    (4, b"ftyp", "a HEIC picture or a film"),
    (0, b"II*\0", "a TIFF or raw picture"),
    (0, b"MM\0*", "a TIFF or raw picture"),
    (0, b"BM", "a BMP picture"),
    (0, b"%PDF", "a PDF"),
];
const PNG: &[u8] = &[0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a];

const JPEG: &[u8] = &[0xff, 0xd8, 0xff];

/// Reads a PNG or a JPEG to its last row; a JPEG upright, as its viewer shows it.
///
/// # Errors
/// Another kind of file, too many pixels, a file that ends early.
pub fn picture(bytes: &[u8]) -> Result<Picture, PictureFault> {
    if bytes.starts_with(JPEG) {
        return jpeg::read(bytes);
    }
    if !bytes.starts_with(PNG) {
        let is =
            |(at, head, _): &&(usize, &[u8], &str)| bytes.get(*at..).is_some_and(|b| b.starts_with(head));
        return Err(PictureFault::WrongKind(KINDS.iter().find(is).map(|k| k.2)));
    }
    let short = |e: png::DecodingError| PictureFault::CutShort("PNG", e.to_string());
    let mut decoder = png::Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let size = decoder.read_header_info().map_err(short)?;
    let (w, h) = (size.width, size.height);
    if u64::from(w) * u64::from(h) > MOST_PIXELS {
        return Err(PictureFault::TooLarge(w, h));
    }
    let mut reader = decoder.read_info().map_err(short)?;
    let channels = reader.output_color_type().0.samples();
    let long = reader.output_buffer_size().unwrap_or(0);
    let mut raw = vec![0u8; long];
    reader.next_frame(&mut raw).map_err(short)?;
    let mut pixels = Vec::with_capacity(3 * raw.len() / channels.max(1));
    for p in raw.chunks_exact(channels) {
        match *p {
            [grey] | [grey, _] => pixels.extend([grey; 3]),
            [r, g, b] | [r, g, b, _] => pixels.extend([r, g, b]),
            _ => {}
        }
    }
    Ok(Picture { width: w as usize, height: h as usize, pixels })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(color: png::ColorType, depth: png::BitDepth, data: &[u8]) -> Vec<u8> {
        let mut out = Vec::new();
        let mut e = png::Encoder::new(&mut out, 4, 2);
        e.set_color(color);
        e.set_depth(depth);
        e.write_header().unwrap().write_image_data(data).unwrap();
        out
    }

    #[test]
    fn every_kind_of_pixel_and_every_fault() {
        use png::{BitDepth, ColorType};
        let grey = drawn(ColorType::Grayscale, BitDepth::Eight, &[9; 8]);
        assert_eq!(picture(&grey), Ok(Picture { width: 4, height: 2, pixels: vec![9; 24] }));
        let deep = drawn(ColorType::GrayscaleAlpha, BitDepth::Sixteen, &[7; 32]);
        assert_eq!(picture(&deep).unwrap().pixels, [7; 24]);
        let colour = drawn(ColorType::Rgba, BitDepth::Eight, &[1, 2, 3, 255].repeat(8));
        assert_eq!(picture(&colour).unwrap().pixels, [1, 2, 3].repeat(8));
        let bits = drawn(ColorType::Grayscale, BitDepth::One, &[0b1010_0000, 0b0101_0000]);
        assert_eq!(picture(&bits).unwrap().pixels[..6], [255, 255, 255, 0, 0, 0]);
        // every cut tells that it is one
        for n in PNG.len()..grey.len() - 13 {
            assert!(matches!(picture(&grey[..n]), Err(PictureFault::CutShort(..))), "{n}");
        }
        assert_eq!(picture(b"GIF89a"), Err(PictureFault::WrongKind(Some("a GIF picture"))));
        assert_eq!(picture(b""), Err(PictureFault::WrongKind(None)));
        let mut large = grey.clone();
        large[16..24].copy_from_slice(&[0, 1, 0, 0, 0, 1, 0, 0]);
        // the header's check sum no longer holds: whichever is told first, it is no picture
        assert!(picture(&large).is_err());
    }
}
