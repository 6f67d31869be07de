//! Numbers that a person types: lengths in mm unless a unit is given, with sums.

use egui::{Id, Ui};
use layout_core::units::LARGEST_COORDINATE;

use super::field::{self, Look};

/// What a number has to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Must {
    /// Any place.
    BePlace,
    /// More than 0.
    BeSize,
    /// 0 or more.
    BeDistance,
}

/// A number as a person writes it: whole where it is whole, else up to three places.
#[must_use]
pub fn show(v: f64) -> String {
    if !v.is_finite() {
        return v.to_string();
    }
    let text = format!("{v:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Reads a length: "1200", "1.2 m", "120 cm", "1200+75-10", "4 ft", "3 in". Bare numbers are mm.
///
/// # Errors
///
/// What is wrong, in words.
pub fn length(text: &str) -> Result<f64, String> {
    let text = text.trim().to_lowercase().replace(',', ".").replace('−', "-");
    if text.is_empty() {
        return Err("type a number in mm".to_owned());
    }
    let mut sum = 0.0;
    let mut part = String::new();
    let mut sign = 1.0;
    for c in text.chars().chain(['+']) {
        let between = matches!(c, '+' | '-') && !part.trim().is_empty();
        if between {
            sum += sign * one(part.trim())?;
            part.clear();
            sign = if c == '-' { -1.0 } else { 1.0 };
        } else if matches!(c, '+' | '-') {
            sign = if c == '-' { -sign } else { sign };
        } else {
            part.push(c);
        }
    }
    if text.ends_with(['+', '-']) {
        return Err(format!("'{text}' ends in a sign"));
    }
    Ok(layout_core::units::tidy_mm(sum))
}

fn one(part: &str) -> Result<f64, String> {
    use layout_core::units::{FOOT, INCH};
    let units = [("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("ft", FOOT), ("in", INCH)];
    let (number, factor) = units
        .iter()
        .find_map(|(unit, factor)| part.strip_suffix(unit).map(|n| (n, *factor)))
        .unwrap_or((part, 1.0));
    number
        .trim()
        .parse::<f64>()
        .ok()
        .filter(|v| v.is_finite())
        .map(|v| v * factor)
        .ok_or_else(|| format!("'{part}' is not a number; give mm, or a unit: 1200, 1.2 m, 48 in"))
}

/// Reads a length and sees that it is what it must be.
///
/// # Errors
///
/// What is wrong, in words.
pub fn checked(text: &str, must: Must) -> Result<f64, String> {
    let v = length(text)?;
    if v.abs() > LARGEST_COORDINATE {
        return Err("that is more than 10 km".to_owned());
    }
    match must {
        Must::BeSize if v <= 0.0 => Err("it must be more than 0".to_owned()),
        Must::BeDistance if v < 0.0 => Err("it must be 0 or more".to_owned()),
        _ => Ok(v),
    }
}

/// A field for a length, mm. Gives the new length once it is committed.
pub fn field(ui: &mut Ui, id: Id, name: &str, value: f64, must: Must) -> Option<f64> {
    let look = Look { name, width: 76.0, hint: "", unit: "mm", right: true };
    field::show(ui, id, look, &show(value), |text| checked(text, must)).filter(|v| *v != value)
}

/// A field for a length without its unit beside it.
pub fn bare(ui: &mut Ui, id: Id, name: &str, value: f64, must: Must) -> Option<f64> {
    let look = Look { name, width: 58.0, hint: "", unit: "", right: true };
    field::show(ui, id, look, &show(value), |text| checked(text, must)).filter(|v| *v != value)
}

/// A field for ties per m2.
pub fn density(ui: &mut Ui, id: Id, name: &str, value: f64) -> Option<f64> {
    let look = Look { name, width: 76.0, hint: "", unit: "per m²", right: true };
    field::show(ui, id, look, &show(value), |text| match text.trim().replace(',', ".").parse::<f64>() {
        Ok(v) if (0.0..=10_000.0).contains(&v) => Ok(v),
        Ok(_) => Err("it must be 0 to 10000".to_owned()),
        Err(_) => Err(format!("'{}' is not a number", text.trim())),
    })
    .filter(|v| *v != value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_as_people_write_them() {
        for (text, mm) in [
            ("1200", 1200.0),
            (" 1.2 m", 1200.0),
            ("1,2m", 1200.0),
            ("120 cm", 1200.0),
            ("1200+75-10", 1265.0),
            ("-150", -150.0),
            ("3 ft", 914.4),
            ("1m + 10 mm", 1010.0),
            ("48 in", 1219.2),
        ] {
            assert_eq!(length(text), Ok(mm), "{text}");
        }
    }

    #[test]
    fn what_is_no_length_is_said() {
        for text in ["", "wide", "12x", "1200+", "inf", "nan", "1e400", "--", "1 2"] {
            assert!(length(text).is_err(), "{text}");
        }
        assert!(checked("0", Must::BeSize).is_err());
        assert!(checked("-1", Must::BeDistance).is_err());
        assert!(checked("20000 m", Must::BePlace).is_err());
    }

    #[test]
    fn numbers_are_shown_short() {
        assert_eq!(show(1200.0), "1200");
        assert_eq!(show(76.2), "76.2");
        assert_eq!(show(-0.0001), "0");
    }
}
