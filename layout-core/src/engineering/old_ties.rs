//! What to do with an old tie, by its kind and its corrosion grade.
//!
//! Kinds: expanding strip and vertical-twist ties lift the wall as they rust, so they are removed or isolated in the
//! outer leaf; thin wire ties are normally left (BRE Digest 401; the difference of strip and wire from memory).
//! Grades: nine, from 1 (bright: look again in 10 years) to 9 (very rusty and laminating: replace at once), Digest
//! 401, Tables 2 and 4. Where between them a strip is cut out rather than isolated is our own reading.

use crate::elevation::{ExistingTie, TieForm, Treatment};
use crate::source::{Source, Sureness};

/// From this grade on a strip is cut out rather than isolated: our own reading.
const CUT_OUT: u8 = 7;

/// What is proposed for an old tie, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The treatment: the user's own where one was chosen. [`Treatment::AsProposed`]: none can be proposed yet.
    pub treatment: Treatment,
    /// Why.
    pub reason: String,
    /// Whether the user chose it.
    pub chosen: bool,
    /// Where it comes from.
    pub source: Source,
}

/// The treatment of an old tie.
#[must_use]
pub fn proposal(tie: &ExistingTie) -> Proposal {
    let digest = |sureness| Source::new("BRE Digest 401", sureness);
    if tie.treatment != Treatment::AsProposed {
        let source = Source::new("the user", Sureness::Stated);
        return Proposal {
            treatment: tie.treatment,
            reason: "chosen by hand".to_owned(),
            chosen: true,
            source,
        };
    }
    let grade = match tie.grade {
        0 => "not graded".to_owned(),
        g @ 1..=9 => format!("grade {g}"),
        g => format!("grade {g}, which there is not: grades run from 1 to 9"),
    };
    let (treatment, reason, source) = match (tie.form, tie.grade) {
        (TieForm::Unknown | TieForm::Other, _) => (
            Treatment::AsProposed,
            format!("{grade}; find out what kind it is first"),
            digest(Sureness::SecondHand),
        ),
        (TieForm::WireButterfly | TieForm::WireDoubleTriangle, 9) => (
            Treatment::Leave,
            "grade 9, replace at once: new ties take its place; thin wire does not lift the wall".to_owned(),
            digest(Sureness::FromMemory),
        ),
        (TieForm::WireButterfly | TieForm::WireDoubleTriangle, _) => (
            Treatment::Leave,
            format!("{grade}; thin wire does not lift the wall as it rusts"),
            digest(Sureness::FromMemory),
        ),
        (TieForm::VerticalTwist | TieForm::FlatStrip, 1) => (
            Treatment::Leave,
            "grade 1, bright: leave and look again in 10 years".to_owned(),
            digest(Sureness::Published),
        ),
        (TieForm::VerticalTwist | TieForm::FlatStrip, g) if g >= CUT_OUT => (
            Treatment::Remove,
            format!(
                "{grade}; thick strip this far gone lifts the wall: cut it out (from grade {CUT_OUT}: our own reading)"
            ),
            digest(Sureness::SecondHand),
        ),
        (TieForm::VerticalTwist | TieForm::FlatStrip, _) => (
            Treatment::Isolate,
            format!("{grade}; thick strip lifts the wall as it rusts: free it in the outer leaf"),
            digest(Sureness::SecondHand),
        ),
    };
    Proposal { treatment, reason, chosen: false, source }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(form: TieForm, grade: u8, expect: Treatment) {
        let p = proposal(&ExistingTie { form, grade, ..ExistingTie::default() });
        assert_eq!(p.treatment, expect, "{form:?} {grade}: {}", p.reason);
        assert!(!p.reason.is_empty());
    }

    #[test]
    fn by_kind_and_grade() {
        // Digest 401: strips removed or isolated, wire left; grade 1 is left and looked at again in 10 years.
        case(TieForm::VerticalTwist, 1, Treatment::Leave);
        case(TieForm::VerticalTwist, 5, Treatment::Isolate);
        case(TieForm::VerticalTwist, 0, Treatment::Isolate);
        case(TieForm::FlatStrip, 9, Treatment::Remove);
        case(TieForm::WireButterfly, 6, Treatment::Leave);
        case(TieForm::WireDoubleTriangle, 9, Treatment::Leave);
        case(TieForm::Unknown, 9, Treatment::AsProposed);
    }

    #[test]
    fn the_users_choice_stands() {
        let t = ExistingTie { treatment: Treatment::Remove, ..ExistingTie::default() };
        let p = proposal(&t);
        assert!(p.chosen && p.treatment == Treatment::Remove);
    }
}
