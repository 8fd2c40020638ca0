//! Base64 (RFC 4648, section 4), by which a picture stands within an SVG.

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// The text of some bytes, padded.
pub fn encode(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |k: usize| three.get(k).copied().map_or(0, u32::from);
        let all = byte(0) << 16 | byte(1) << 8 | byte(2);
        for k in 0..4 {
            let letter = LETTERS.get((all >> (18 - 6 * k)) as usize & 63).copied().unwrap_or(b'=');
            out.push(if k > three.len() { '=' } else { char::from(letter) });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_vectors_of_the_standard() {
        // RFC 4648, section 10
        for (plain, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(super::encode(plain.as_bytes()), coded);
        }
    }
}
