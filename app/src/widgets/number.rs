//! Numbers that a person types: lengths as the trade writes them, shown in mm or in feet and inches.

use egui::{Context, Id, Ui};
use layout_core::elevation::{Coursing, Elevation};
use layout_core::units::{Bricks, LARGEST_COORDINATE, feet_and_inches, in_bricks, read_length};

use super::field;
pub use super::field::Look;

/// How lengths are read and shown just now.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Habits {
    /// Courses and bricks of the elevation that is shown.
    pub bricks: Bricks,
    /// The bed joint that heights in courses count from, mm.
    pub first_bed: f64,
    /// Whether lengths are shown in feet and inches.
    pub feet: bool,
}

impl Habits {
    /// Those for an elevation.
    #[must_use]
    pub fn of(elevation: Option<&Elevation>, feet: bool) -> Self {
        let c = elevation.map_or_else(Coursing::default, |e| e.coursing);
        let first_bed = if c.first_bed.is_finite() { c.first_bed } else { 0.0 };
        Self { bricks: Bricks { gauge: c.gauge, length: c.brick }, first_bed, feet }
    }

    /// Those in force in a context.
    #[must_use]
    pub fn in_force(ctx: &Context) -> Self {
        ctx.data(|d| d.get_temp(Id::NULL)).unwrap_or_default()
    }

    /// Puts them in force.
    pub fn put_in_force(self, ctx: &Context) {
        ctx.data_mut(|d| d.insert_temp(Id::NULL, self));
    }

    /// A length as it is shown.
    #[must_use]
    pub fn show(&self, v: f64) -> String {
        if self.feet { feet_and_inches(v) } else { show(v) }
    }

    /// A length as it is shown, with its unit.
    #[must_use]
    pub fn with_unit(&self, v: f64) -> String {
        if self.feet { feet_and_inches(v) } else { format!("{} mm", show(v)) }
    }

    /// What a length comes to: in mm, in feet where they are shown, in courses and bricks.
    #[must_use]
    pub fn meaning(&self, v: f64) -> String {
        let feet = if self.feet { format!(" · {}", feet_and_inches(v)) } else { String::new() };
        let bricks = in_bricks(v, self.bricks);
        let dot = if bricks.is_empty() { "" } else { " · " };
        format!("= {} mm{feet}{dot}{bricks}", show(v))
    }
}

/// What a number has to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Must {
    /// Any place.
    BePlace,
    /// Any height: courses in it count from the bed joint that the coursing gives.
    BeHeight,
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

/// Reads a length and sees that it is what it must be.
///
/// # Errors
///
/// What is wrong, in words.
pub fn checked(text: &str, must: Must, habits: Habits) -> Result<f64, String> {
    let read = read_length(text, habits.bricks)?;
    let from_bed = if must == Must::BeHeight && read.in_courses { habits.first_bed } else { 0.0 };
    let v = layout_core::units::tidy_mm(read.mm + from_bed);
    if v.abs() > LARGEST_COORDINATE {
        return Err("that is more than 10 km".to_owned());
    }
    match must {
        Must::BeSize if v <= 0.0 => Err("it must be more than 0".to_owned()),
        Must::BeDistance if v < 0.0 => Err("it must be 0 or more".to_owned()),
        _ => Ok(v),
    }
}

/// What can be typed into a field for a length.
pub const WAYS: &str =
    "mm: 2100 · metres: 2.1 m · feet: 6'10\" · courses: 28c · bricks: 3.5b · sums: 900 + 2c - 10";

/// Width of a field for a length in feet, inches and sixteenths, points.
pub const FEET_WIDTH: f32 = 92.0;

/// A field for a length. Gives the new length, mm, once it is committed.
pub fn field(ui: &mut Ui, id: Id, name: &str, value: f64, must: Must) -> Option<f64> {
    let feet = Habits::in_force(ui.ctx()).feet;
    let (unit, width) = if feet { ("", FEET_WIDTH) } else { ("mm", 76.0) };
    length(ui, id, Look { name, width, unit, right: true, tip: WAYS, ..Look::default() }, value, must)
}

/// A field for a length without its unit beside it.
pub fn bare(ui: &mut Ui, id: Id, name: &str, value: f64, must: Must) -> Option<f64> {
    let width = if Habits::in_force(ui.ctx()).feet { 76.0 } else { 58.0 };
    length(
        ui,
        id,
        Look { name, width, hint: "", unit: "", right: true, tip: WAYS, ..Look::default() },
        value,
        must,
    )
}

/// A field for a length that looks as told.
pub fn length(ui: &mut Ui, id: Id, look: Look<'_>, value: f64, must: Must) -> Option<f64> {
    let habits = Habits::in_force(ui.ctx());
    let read = |text: &str| checked(text, must, habits);
    let meaning = |text: &str| read(text).map(|v| habits.meaning(v));
    field::explained(ui, id, look, &habits.show(value), read, &meaning).filter(|v| *v != value)
}

/// A field for a count, 1 to 1000.
pub fn count(ui: &mut Ui, id: Id, look: Look<'_>, value: u32) -> Option<u32> {
    field::show(ui, id, look, &value.to_string(), |text| match text.trim().parse::<u32>() {
        Ok(n) if (1..=1000).contains(&n) => Ok(n),
        _ => Err("it must be a whole number, 1 to 1000".to_owned()),
    })
    .filter(|n| *n != value)
}

/// A field for ties per m2.
pub fn density(ui: &mut Ui, id: Id, name: &str, value: f64) -> Option<f64> {
    let look = Look { name, width: 76.0, hint: "", unit: "per m²", right: true, tip: "", ..Look::default() };
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
    fn a_length_has_to_be_what_it_is_for() {
        let said = |text: &str, must| checked(text, must, Habits::default());
        assert!(said("0", Must::BeSize).is_err());
        assert!(said("-1", Must::BeDistance).is_err());
        assert!(said("20000 m", Must::BePlace).is_err());
        assert_eq!(said("-1", Must::BePlace), Ok(-1.0));
    }

    #[test]
    fn heights_in_courses_count_from_the_bed_joint() {
        let habits = Habits { first_bed: 10.0, ..Habits::default() };
        // Twelve courses of 75 are 900, from the bed joint at 10.
        assert_eq!(checked("12c", Must::BeHeight, habits), Ok(910.0));
        assert_eq!(checked("900", Must::BeHeight, habits), Ok(900.0));
        assert_eq!(checked("12c", Must::BeSize, habits), Ok(900.0));
    }

    #[test]
    fn numbers_are_shown_short() {
        assert_eq!(show(1200.0), "1200");
        assert_eq!(show(76.2), "76.2");
        assert_eq!(show(-0.0001), "0");
        let habits = Habits::default();
        assert_eq!(habits.meaning(2100.0), "= 2100 mm · 28 courses, 9.33 bricks");
        let feet = Habits { feet: true, ..habits };
        assert_eq!(feet.meaning(2082.8), "= 2082.8 mm · 6'10\" · 27.77 courses, 9.26 bricks");
    }
}
