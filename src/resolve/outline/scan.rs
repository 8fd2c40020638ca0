//! Numbers of SVG path data, in its grammar: signs and points end a number, flags need no blank.

use super::PathError;

/// Reads path data from left to right.
pub(super) struct Scan<'a> {
    /// The path data.
    pub text: &'a str,
    /// Next byte.
    pub at: usize,
}

impl Scan<'_> {
    /// The next character.
    pub fn peek(&self) -> Option<char> {
        self.text.get(self.at..).and_then(|t| t.chars().next())
    }

    /// Skips white space, and one comma where `comma` allows it.
    pub fn blank(&mut self, mut comma: bool) {
        while let Some(c) = self.peek() {
            match c {
                ' ' | '\t' | '\r' | '\n' | '\u{c}' => self.at += 1,
                ',' if comma => {
                    comma = false;
                    self.at += 1;
                }
                _ => break,
            }
        }
    }

    /// Whether another number follows (a command is then repeated).
    pub fn more(&mut self) -> bool {
        self.blank(false);
        let before = self.at;
        self.blank(true);
        let number = self.peek().is_some_and(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'));
        if !number {
            self.at = before;
        }
        number
    }

    /// A finite number; `begin` is where its command stands.
    pub fn number(&mut self, begin: usize) -> Result<f64, PathError> {
        self.blank(true);
        let from = self.at;
        let bytes = self.text.as_bytes();
        let digits = |mut k: usize| {
            while bytes.get(k).is_some_and(u8::is_ascii_digit) {
                k += 1;
            }
            k
        };
        let mut k = from;
        if matches!(bytes.get(k), Some(b'+' | b'-')) {
            k += 1;
        }
        let whole = digits(k);
        let mut end = whole;
        let mut any = whole > k;
        if bytes.get(end) == Some(&b'.') {
            let part = digits(end + 1);
            any |= part > end + 1;
            end = part;
        }
        if any && matches!(bytes.get(end), Some(b'e' | b'E')) {
            let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
            let power = digits(end + 1 + sign);
            if power > end + 1 + sign {
                end = power;
            }
        }
        if !any {
            let what = self.peek().map_or("the path ends".to_string(), |c| format!("`{c}` stands"));
            let command = self.text.get(begin..).and_then(|t| t.chars().next()).unwrap_or('M');
            let message = format!("{what} where the command {command} still wants a number");
            return Err(self.fail("bad-path", begin, message));
        }
        self.at = end;
        let value = self.text.get(from..end).and_then(|t| t.parse::<f64>().ok()).filter(|v| v.abs() <= MOST);
        value.ok_or_else(|| self.fail("bad-path", from, "this number is out of range".into()))
    }

    /// The number of a command that takes one: digits on both sides of a comma are a decimal comma, not two
    /// numbers. A comma in front of it ends the one before.
    pub fn single(&mut self, begin: usize) -> Result<f64, PathError> {
        self.blank(true);
        let from = self.at;
        let value = self.number(begin)?;
        let rest = self.text.get(self.at..).and_then(|t| t.strip_prefix(','));
        let digits = rest.map_or(0, |t| t.bytes().take_while(u8::is_ascii_digit).count());
        if digits == 0 {
            return Ok(value);
        }
        let whole = self.text.get(from..self.at).unwrap_or("");
        self.at += 1 + digits;
        let part = self.text.get(from + whole.len() + 1..self.at).unwrap_or("");
        let message =
            format!("`{whole},{part}` has a comma where one number stands: is it {whole}.{part}, or two?");
        let help = "use a point for decimals; two numbers after H or V stand apart by a blank";
        Err(PathError { help, ..self.fail("comma-decimal", from, message) })
    }

    /// `0` or `1`.
    pub fn flag(&mut self, begin: usize) -> Result<bool, PathError> {
        self.blank(true);
        match self.peek() {
            Some(c @ ('0' | '1')) => {
                self.at += 1;
                Ok(c == '1')
            }
            _ => Err(self.fail(
                "bad-path",
                begin,
                "an arc's two flags are 0 or 1: A rx ry turn large sweep x y".into(),
            )),
        }
    }

    /// An error from byte `from` to where the reader stands.
    pub fn fail(&self, code: &'static str, from: usize, message: String) -> PathError {
        let mut end = self.at.max(from.saturating_add(1)).min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end += 1;
        }
        PathError { code, message, help: COMMANDS, bytes: (from.min(end), end) }
    }
}

/// Largest number in path data: far beyond a sheet in any unit, far below what arithmetic loses.
const MOST: f64 = 1e6;

/// The advice that goes with most errors.
pub(super) const COMMANDS: &str =
    "commands are M L H V A C S Q T Z (small letters: relative), numbers in the file's unit, y up";
