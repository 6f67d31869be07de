//! Steel for the place, and the order of work.

use super::kinds::{Kind, Principle};
use crate::elevation::Environment;
use crate::source::{Source, Sureness};

/// Stainless steel for a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stainless {
    /// Material reference of EN 845-1, with the steel meant.
    pub reference: String,
    /// Why.
    pub why: String,
    /// Where it comes from.
    pub source: Source,
}

/// The steel for an environment.
#[must_use]
pub fn stainless(environment: Environment) -> Stainless {
    let one = "reference 1 (1.4401, \"316\")";
    let three = "reference 3 (1.4301, \"304\") or reference 1 (1.4401, \"316\")";
    let (reference, why) = match environment {
        Environment::Inland => (three, "inland, neither coastal nor aggressive"),
        Environment::Coastal => (one, "coastal"),
        Environment::Aggressive => (one, "aggressive air or mortar"),
        Environment::Unknown => (one, "the place is not known, so the better steel is taken"),
    };
    Stainless {
        reference: reference.to_owned(),
        why: why.to_owned(),
        source: Source::new("EN 845-1, NHBC Standards", Sureness::SecondHand),
    }
}

/// The order of work with a kind of fixing. Common practice, no source.
#[must_use]
pub fn order_of_work(kind: Kind) -> Vec<String> {
    let d = kind.data();
    let mut all: Vec<&str> = vec![
        "Secure a loose or bulging leaf before drilling; look for services, asbestos and what is behind the wall.",
        "Prove trial ties in both leaves before work starts.",
    ];
    if kind == Kind::Starter {
        all.extend([
            "Take the outer leaf down course by course, no further than can be held.",
            "Fix the ties to the inner leaf and test a sample.",
            "Build the new outer leaf and bed each tie in its joint as the work rises.",
        ]);
        return all.into_iter().map(str::to_owned).collect();
    }
    all.push("Drill through the outer leaf and into the inner one, level or falling slightly outwards, and blow the holes clean.");
    all.push(match d.principle {
        Principle::Expansion => "Set the inner end first and tighten it to the maker's torque.",
        Principle::Thread => {
            "Drive the tie through the outer leaf into the inner one until its outer end is below the face."
        }
        Principle::Filling => {
            "Insert the sock and inflate it with grout from the inner end outwards; let it set."
        }
        _ if kind == Kind::MechanicalResin => "Set the inner end first and tighten it.",
        _ => "Fix the inner end first and let it set: about an hour for resin, longer for grout.",
    });
    if d.testable {
        all.push("Pull-test the ties ringed on the drawing, each in the leaf its line names.");
        all.push(match (d.principle, kind) {
            (_, Kind::MechanicalResin) => "Then bond the outer end with resin.",
            (Principle::Expansion, _) => "Then set the outer end.",
            _ => "Then bond the outer end.",
        });
    }
    all.push("Deal with the old ties, make holes good to match, and record what was done.");
    all.into_iter().map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_inner_leaf_comes_first_then_the_test_then_the_outer() {
        for kind in Kind::ALL.into_iter().filter(|k| k.data().testable && *k != Kind::Starter) {
            let order = order_of_work(kind);
            let at = |word: &str| order.iter().position(|s| s.contains(word));
            let (test, outer) = (at("Pull-test"), at("Then "));
            assert!(test.is_some() && test < outer, "{kind:?}");
        }
    }

    #[test]
    fn coasts_and_black_mortar_ask_for_reference_1() {
        for e in [Environment::Coastal, Environment::Aggressive, Environment::Unknown] {
            assert!(stainless(e).reference.starts_with("reference 1"));
        }
        assert!(stainless(Environment::Inland).reference.contains("reference 3"));
    }
}
