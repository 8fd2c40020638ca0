//! Numbers as people write them, read exactly: `79.4`, `.5`, `1/16`, `3 1/8`, `3-1/8`, `1e-3`.

use super::error::{QuantityError, Reason};

/// Longest run of digits that is read; more is a slip of the keyboard, not a measurement.
const MOST_DIGITS: usize = 24;

/// An exact fraction; `den` is positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ratio {
    pub num: i128,
    pub den: i128,
}

impl Ratio {
    /// The nearest whole number to `self * scale`, halves away from zero, and whether it is exact.
    /// `None` when it leaves the range of `i128`.
    pub fn scaled(self, scale: i128) -> Option<(i128, bool)> {
        let n = self.num.checked_mul(scale)?;
        let twice = n.unsigned_abs().checked_mul(2)?;
        let den = self.den.unsigned_abs();
        let whole = twice.checked_add(den)? / den.checked_mul(2)?;
        let whole = i128::try_from(whole).ok()?;
        Some((if n < 0 { -whole } else { whole }, n % self.den == 0))
    }

    /// The nearest f64 (numerator and denominator are rounded once each).
    pub fn to_f64(self) -> f64 {
        self.num as f64 / self.den as f64
    }
}

/// Reads the text from left to right and remembers how far it came.
pub(super) struct Scan<'a> {
    text: &'a str,
    pub at: usize,
}

impl<'a> Scan<'a> {
    /// Starts at the first character that is not blank. Refuses at once what no quantity may hold.
    pub fn new(text: &'a str) -> Result<Self, QuantityError> {
        let lead = text.len() - text.trim_start().len();
        let trimmed = text.trim();
        let fail = |reason| Err(QuantityError::new(reason, text, lead, lead + trimmed.len()));
        if trimmed.is_empty() {
            return Err(QuantityError::new(Reason::Empty, text, 0, text.len()));
        }
        let bare = trimmed.trim_start_matches(['+', '-']).to_ascii_lowercase();
        let word: String = bare.chars().take_while(|c| c.is_ascii_alphabetic()).collect();
        if matches!(word.as_str(), "nan" | "inf" | "infinity" | "infinite") {
            return fail(Reason::NotFinite);
        }
        if let Some(at) = text.find(',') {
            return Err(QuantityError::new(Reason::Comma, text, at, at + 1));
        }
        Ok(Scan { text, at: lead })
    }

    pub fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub fn blank(&mut self) -> bool {
        let rest = self.rest();
        let n = rest.len() - rest.trim_start().len();
        self.at += n;
        n > 0
    }

    /// Takes `c` if it is next.
    pub fn take(&mut self, c: char) -> bool {
        let yes = self.peek() == Some(c);
        if yes {
            self.at += c.len_utf8();
        }
        yes
    }

    fn digits(&mut self) -> &'a str {
        let rest = self.rest();
        let n = rest.bytes().take_while(u8::is_ascii_digit).count();
        self.at += n;
        rest.get(..n).unwrap_or("")
    }

    pub fn bad<T>(&self, what: &'static str, start: usize) -> Result<T, QuantityError> {
        // The caret stands under at least one whole character.
        let end = self.at.max(start) + self.peek().map_or(0, char::len_utf8);
        let start = start.min(self.text.len());
        Err(QuantityError::new(Reason::BadNumber(what), self.text, start, end.min(self.text.len())))
    }

    /// One number: decimal, fraction, or whole number and fraction joined by a blank or a hyphen.
    pub fn number(&mut self) -> Result<Ratio, QuantityError> {
        let start = self.at;
        let first = self.digits();
        if !first.is_empty() && self.peek() == Some('/') {
            return self.over(whole(first), start, start);
        }
        let mut decimals = "";
        let mut point = false;
        if self.take('.') {
            point = true;
            decimals = self.digits();
        }
        if first.is_empty() && decimals.is_empty() {
            return self.bad("a number is expected here", start);
        }
        if first.len() + decimals.len() > MOST_DIGITS {
            return self.bad("it has too many digits", start);
        }
        let mark = self.at;
        let exponent = self.exponent(start)?;
        if !point
            && self.at == mark
            && let Some(ratio) = self.mixed(first, start)?
        {
            return Ok(ratio);
        }
        let digits: i128 = whole(first) * 10i128.pow(decimals.len() as u32) + whole(decimals);
        // 24 digits and 27 places keep every product below far inside i128.
        let places = decimals.len() as i32 - exponent;
        match places {
            _ if digits == 0 => Ok(Ratio { num: 0, den: 1 }),
            0..=27 => Ok(Ratio { num: digits, den: 10i128.pow(places as u32) }),
            -18..=-1 => match digits.checked_mul(10i128.pow(places.unsigned_abs())) {
                Some(num) => Ok(Ratio { num, den: 1 }),
                None => self.bad("it is too large", start),
            },
            28.. => Err(QuantityError::new(Reason::TooFine, self.text, start, self.at)),
            _ => self.bad("it is too large", start),
        }
    }

    /// The exponent of `1e-3`, zero when there is none.
    fn exponent(&mut self, start: usize) -> Result<i32, QuantityError> {
        let mark = self.at;
        if !(self.take('e') || self.take('E')) {
            return Ok(0);
        }
        let minus = self.take('-');
        if !minus {
            self.take('+');
        }
        let digits = self.digits();
        if digits.is_empty() {
            self.at = mark;
            return Ok(0);
        }
        match digits.parse::<i32>() {
            Ok(n) if n <= 999 => Ok(if minus { -n } else { n }),
            _ => self.bad("its exponent is too large", start),
        }
    }

    /// The fraction after a whole number, if one follows.
    fn mixed(&mut self, first: &str, start: usize) -> Result<Option<Ratio>, QuantityError> {
        let mark = self.at;
        let joined = if self.take('-') { true } else { self.blank() };
        let at = self.at;
        let top = self.digits();
        if !joined || top.is_empty() || self.peek() != Some('/') {
            self.at = mark;
            return Ok(None);
        }
        if top.len() > 9 || first.len() > 9 {
            return self.bad("it has too many digits", start);
        }
        let part = self.over(whole(top), at, start)?;
        if part.num >= part.den {
            self.at = self.at.max(at);
            return self.bad("the fraction after a whole number is one or more", at);
        }
        Ok(Some(Ratio { num: whole(first) * part.den + part.num, den: part.den }))
    }

    /// Reads `/ 8` after the numerator.
    fn over(&mut self, top: i128, at: usize, start: usize) -> Result<Ratio, QuantityError> {
        self.take('/');
        let bottom = self.digits();
        if bottom.is_empty() {
            return self.bad("a whole number is expected after `/`", start);
        }
        if self.at - at > 19 || top > 999_999_999 || bottom.len() > 9 {
            return self.bad("the fraction has too many digits", start);
        }
        match whole(bottom) {
            0 => Err(QuantityError::new(Reason::ZeroDivision, self.text, at, self.at)),
            den => Ok(Ratio { num: top, den }),
        }
    }

    /// The word of letters (or the single foot or inch mark) that comes next, with its place.
    pub fn word(&mut self) -> (&'a str, usize) {
        self.blank();
        let start = self.at;
        let rest = self.rest();
        let marks = ['\'', '"', '\u{2019}', '\u{2032}', '\u{201d}', '\u{2033}', '\u{b0}'];
        let n = match rest.chars().next() {
            Some(c) if marks.contains(&c) => c.len_utf8(),
            _ => {
                let n = rest.chars().take_while(|c| c.is_alphabetic()).map(char::len_utf8).sum::<usize>();
                // "in." is a usual spelling; the point belongs to the word.
                if n > 0 && rest.get(n..n + 1) == Some(".") { n + 1 } else { n }
            }
        };
        self.at += n;
        (rest.get(..n).unwrap_or(""), start)
    }
}

/// A run of at most 24 digits as a number; an empty run is 0, a longer one saturates.
fn whole(digits: &str) -> i128 {
    digits.bytes().take(MOST_DIGITS + 1).fold(0, |n, b| n * 10 + i128::from(b.wrapping_sub(b'0')))
}
