//! Lengths as the trade writes them: mm, metres, feet and inches, courses, brick lengths, and sums.
//!
//! `2100`, `2.1 m`, `6'10"`, `28c`, `3.5b`, `900 + 2c - 10`, `3 x 440`. A bare number is mm; after feet it
//! is inches.

use super::{FOOT, INCH, tidy_mm};

/// What the bricks of a wall measure, for lengths that are counted in them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bricks {
    /// Height of a course with its joint, mm.
    pub gauge: f64,
    /// Length of a brick with its joint, mm.
    pub length: f64,
}

impl Default for Bricks {
    fn default() -> Self {
        let c = crate::elevation::Coursing::default();
        Self { gauge: c.gauge, length: c.brick }
    }
}

/// A length that was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Length {
    /// How long, mm, to a thousandth.
    pub mm: f64,
    /// Whether any part of it was counted in courses.
    pub in_courses: bool,
}

/// Lengths to follow, for messages.
const SUCH_AS: &str = "2100, 2.1 m, 6'10\", 28c or 3.5b";

/// Reads a length.
///
/// # Errors
///
/// What is wrong, in words for the person who typed it.
pub fn read_length(text: &str, bricks: Bricks) -> Result<Length, String> {
    let plain: String = text.trim().to_lowercase().chars().map(plain).collect();
    if plain.is_empty() {
        return Err(format!("type a length: {SUCH_AS}"));
    }
    let mut reader = Reader { text: plain.chars().collect(), at: 0, bricks, in_courses: false };
    let mm = tidy_mm(reader.sum()?);
    if !mm.is_finite() {
        return Err("that is too long".to_owned());
    }
    Ok(Length { mm, in_courses: reader.in_courses })
}

/// One way of writing for signs that have several.
fn plain(c: char) -> char {
    match c {
        '−' | '–' => '-',
        '×' | '*' => 'x',
        '’' | '′' | '‘' => '\'',
        '”' | '″' | '“' => '"',
        c if c.is_whitespace() => ' ',
        c => c,
    }
}

fn fraction(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

/// A unit of length.
#[derive(Clone, Copy, PartialEq)]
enum Unit {
    Mm,
    Centimetres,
    Metres,
    Feet,
    Inches,
    Courses,
    Bricks,
}

fn unit(word: &str) -> Option<Unit> {
    Some(match word {
        "mm" => Unit::Mm,
        "cm" => Unit::Centimetres,
        "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metres,
        "'" | "ft" | "foot" | "feet" => Unit::Feet,
        "\"" | "''" | "in" | "inch" | "inches" => Unit::Inches,
        "c" | "crs" | "course" | "courses" => Unit::Courses,
        "b" | "brick" | "bricks" => Unit::Bricks,
        _ => return None,
    })
}

struct Reader {
    text: Vec<char>,
    at: usize,
    bricks: Bricks,
    in_courses: bool,
}

impl Reader {
    fn peek(&self) -> Option<char> {
        self.text.get(self.at).copied()
    }

    fn skip(&mut self) {
        while self.peek() == Some(' ') {
            self.at += 1;
        }
    }

    /// What is left, for a message.
    fn rest(&self) -> String {
        self.text[self.at.min(self.text.len())..].iter().take(24).collect()
    }

    fn sum(&mut self) -> Result<f64, String> {
        let mut sum = 0.0;
        let mut first = true;
        loop {
            self.skip();
            let mut sign = 1.0;
            let mut signs = 0;
            while let Some(c @ ('+' | '-')) = self.peek() {
                sign = if c == '-' { -sign } else { sign };
                signs += 1;
                self.at += 1;
                self.skip();
            }
            match self.peek() {
                None if first || signs > 0 => return Err("a length is missing after the sign".to_owned()),
                None => return Ok(sum),
                Some(_) if !first && signs == 0 => {
                    return Err(format!("'{}': put + or - between two lengths", self.rest()));
                }
                Some(_) => sum += sign * self.term()?,
            }
            first = false;
        }
    }

    /// A number with its unit, or so many times another.
    fn term(&mut self) -> Result<f64, String> {
        let begun = self.at;
        let number = self.number()?;
        self.skip();
        if self.peek() == Some('x') {
            self.at += 1;
            self.skip();
            if self.peek().is_none() {
                return Err("a length is missing after ×".to_owned());
            }
            return Ok(number * self.term()?);
        }
        let unit = self.unit()?;
        if unit.is_none_or(|u| u == Unit::Mm) && self.has_thousands_comma(begun) {
            return Err("leave the comma out: is it 2100 or 2.1?".to_owned());
        }
        Ok(match unit.unwrap_or(Unit::Mm) {
            Unit::Mm => number,
            Unit::Centimetres => number * 10.0,
            Unit::Metres => number * 1000.0,
            Unit::Inches => number * INCH,
            Unit::Feet => number * FOOT + self.inches_after_feet()?,
            Unit::Courses => {
                self.in_courses = true;
                number * self.counted(self.bricks.gauge, "gauge")?
            }
            Unit::Bricks => number * self.counted(self.bricks.length, "brick length")?,
        })
    }

    fn counted(&self, of: f64, what: &str) -> Result<f64, String> {
        if of.is_finite() && of > 0.0 {
            Ok(of)
        } else {
            Err(format!("the {what} of this elevation has to be set first"))
        }
    }

    /// Inches that follow feet without a sign between: `6'10"`, `6 ft 10`.
    fn inches_after_feet(&mut self) -> Result<f64, String> {
        self.skip();
        if !self.peek().is_some_and(|c| c.is_ascii_digit() || c == '.' || fraction(c).is_some()) {
            return Ok(0.0);
        }
        let inches = self.number()?;
        self.skip();
        match self.unit()? {
            None | Some(Unit::Inches) => Ok(inches * INCH),
            Some(_) => Err("after feet come inches; put + before anything else".to_owned()),
        }
    }

    /// Whether the number that began there has a comma with exactly three figures behind it.
    fn has_thousands_comma(&self, begun: usize) -> bool {
        let number: String = self.text[begun..self.at].iter().collect();
        number.split_once(',').is_some_and(|(_, behind)| {
            let figures = behind.chars().take_while(char::is_ascii_digit).count();
            figures == 3
        })
    }

    /// A number: `12`, `2.1`, `2,1`, `10 1/2`, `3½`, `1/2`.
    fn number(&mut self) -> Result<f64, String> {
        let mut value = self.decimal();
        let back = self.at;
        self.skip();
        if let Some(part) = self.peek().and_then(fraction) {
            self.at += 1;
            return Ok(value.unwrap_or(0.0) + part);
        }
        if let Some(top) = self.slashed() {
            return top.map(|part| value.unwrap_or(0.0) + part);
        }
        self.at = back;
        if self.peek() == Some('/') {
            self.at += 1;
            let over = self.decimal().filter(|v| *v > 0.0).ok_or("a number is missing after /")?;
            value = value.map(|v| v / over);
        }
        value.filter(|v| v.is_finite()).ok_or_else(|| {
            let word: String = self.rest().chars().take_while(|c| !" +-".contains(*c)).collect();
            format!("'{word}' is not a number; type {SUCH_AS}")
        })
    }

    fn decimal(&mut self) -> Option<f64> {
        let begun = self.at;
        while self.peek().is_some_and(|c| c.is_ascii_digit() || c == '.' || c == ',') {
            self.at += 1;
        }
        let text: String = self.text[begun..self.at].iter().collect();
        let read = text.replace(',', ".").parse::<f64>().ok();
        if read.is_none() {
            self.at = begun;
        }
        read
    }

    /// `1/2` behind a whole number; puts the place back where there is none.
    fn slashed(&mut self) -> Option<Result<f64, String>> {
        let back = self.at;
        // Without a space there was no whole number before it.
        let apart = back > 0 && self.text.get(back - 1) == Some(&' ');
        let top = if apart { self.decimal() } else { None };
        if top.is_none() || self.peek() != Some('/') {
            self.at = back;
            return None;
        }
        self.at += 1;
        let over = self.decimal().filter(|v| *v > 0.0);
        Some(top.zip(over).map(|(t, o)| t / o).ok_or_else(|| "a number is missing after /".to_owned()))
    }

    fn unit(&mut self) -> Result<Option<Unit>, String> {
        let begun = self.at;
        let letter = |c: char| c.is_alphabetic() && c != 'x';
        if self.peek() == Some('\'') {
            self.at += 1;
            if self.peek() == Some('\'') {
                self.at += 1;
            }
        } else if self.peek() == Some('"') {
            self.at += 1;
        } else {
            while self.peek().is_some_and(letter) {
                self.at += 1;
            }
        }
        if begun == self.at {
            return match self.peek() {
                None | Some('+' | '-') => Ok(None),
                Some(c) if c.is_ascii_digit() => Ok(None),
                Some(_) => Err(format!("'{}' is not understood; type {SUCH_AS}", self.rest())),
            };
        }
        let word: String = self.text[begun..self.at].iter().collect();
        match unit(&word) {
            Some(found) => Ok(Some(found)),
            None => Err(format!("'{word}' is no unit: use mm, m, ft, in, c for courses or b for bricks")),
        }
    }
}

/// A length in feet and inches, to the nearest sixteenth of an inch: `6' 10 1/2"`.
#[must_use]
pub fn feet_and_inches(mm: f64) -> String {
    if !mm.is_finite() || mm.abs() > 1e12 {
        return mm.to_string();
    }
    let sixteenths = (mm.abs() / INCH * 16.0).round() as u64;
    let sign = if mm < 0.0 && sixteenths > 0 { "-" } else { "" };
    let (feet, left) = (sixteenths / 192, sixteenths % 192);
    let (inches, part) = (left / 16, left % 16);
    let mut small = String::new();
    // After feet a fraction alone would be read as a third part of them.
    if inches > 0 || part == 0 || feet > 0 {
        small = inches.to_string();
    }
    if part > 0 {
        let shared = 1 << part.trailing_zeros();
        let space = if small.is_empty() { "" } else { " " };
        small = format!("{small}{space}{}/{}", part / shared, 16 / shared);
    }
    if feet == 0 { format!("{sign}{small}\"") } else { format!("{sign}{feet}'{small}\"") }
}

/// How many courses and bricks a length makes, in words: `28 courses, 9.33 bricks`.
#[must_use]
pub fn in_bricks(mm: f64, bricks: Bricks) -> String {
    let count = |of: f64, one: &str| {
        let n = (mm / of * 100.0).round() / 100.0;
        let n = if n == 0.0 { 0.0 } else { n };
        (of.is_finite() && of > 0.0 && n.is_finite())
            .then(|| format!("{n} {one}{}", if n.abs() == 1.0 { "" } else { "s" }))
    };
    let both = [count(bricks.gauge, "course"), count(bricks.length, "brick")];
    both.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, mm: f64) {
        let got = read_length(text, Bricks::default()).map(|l| l.mm);
        assert_eq!(got, Ok(mm), "{text}");
    }

    #[test]
    fn each_way_of_writing() {
        case("2100", 2100.0);
        case(" 2.1 m", 2100.0);
        case("2,1m", 2100.0);
        case("210 cm", 2100.0);
        // 6 x 304.8 + 10 x 25.4 = 1828.8 + 254
        case("6'10\"", 2082.8);
        case("6 ft 10 in", 2082.8);
        case("6’10", 2082.8);
        // Half an inch more: 12.7.
        case("6' 10 1/2\"", 2095.5);
        case("6'10½″", 2095.5);
        case("1/2 in", 12.7);
        case("48 in", 1219.2);
        // 28 courses of 75, 3.5 bricks of 225.
        case("28c", 2100.0);
        case("28 courses", 2100.0);
        case("3.5b", 787.5);
        case("3½ bricks", 787.5);
    }

    #[test]
    fn sums_differences_and_multiples() {
        case("1200+75-10", 1265.0);
        case("900 + 2c − 10", 1040.0);
        case("4b+10", 910.0);
        case("-150", -150.0);
        case("3 x 440 + 1m", 2320.0);
        case("2*6'", 3657.6);
        case("6'10\" + 28c", 4182.8);
        case("9000/2", 4500.0);
    }

    #[test]
    fn what_is_wrong_is_said() {
        let said = |text: &str| read_length(text, Bricks::default()).map(|l| l.mm).unwrap_err();
        assert!(said("wide").contains("'wide' is not a number"));
        assert!(said("12 furlongs").contains("'furlongs' is no unit"));
        assert!(said("1200+").contains("missing after the sign"));
        assert!(said("1 2").contains("put + or -"));
        assert!(said("2,100").contains("leave the comma out"));
        assert!(said("6'10b").contains("after feet come inches"));
        for text in ["", "12x", "inf", "nan", "1e400", "--", "1/0", "\"", "3 x", "12%", "1..2", "½½"] {
            assert!(!said(text).is_empty(), "{text}");
        }
        let none = Bricks { gauge: f64::NAN, length: 0.0 };
        assert!(read_length("2c", none).is_err() && read_length("2b", none).is_err());
        assert_eq!(read_length("900 mm", none).map(|l| l.mm), Ok(900.0));
    }

    #[test]
    fn courses_are_noticed() {
        let b = Bricks { gauge: 76.2, length: 203.2 };
        assert_eq!(read_length("12c+10", b), Ok(Length { mm: 924.4, in_courses: true }));
        assert_eq!(read_length("2b", b), Ok(Length { mm: 406.4, in_courses: false }));
    }

    #[test]
    fn feet_are_shown_to_a_sixteenth() {
        for (mm, text) in [
            (2082.8, "6'10\""),
            (2095.5, "6'10 1/2\""),
            (12.7, "1/2\""),
            (0.0, "0\""),
            (304.8, "1'0\""),
            // 22 ft of 304.8 are 6705.6, 3/4 in of 25.4 are 19.05.
            (6724.65, "22'0 3/4\""),
            (-1219.2, "-4'0\""),
            // 100 mm are 3.937 in, 63 sixteenths.
            (100.0, "3 15/16\""),
        ] {
            assert_eq!(feet_and_inches(mm), text);
        }
    }

    #[test]
    fn a_length_reads_as_courses_and_bricks() {
        assert_eq!(in_bricks(2100.0, Bricks::default()), "28 courses, 9.33 bricks");
        assert_eq!(in_bricks(75.0, Bricks { gauge: 75.0, length: 0.0 }), "1 course");
    }
}
