//! Whether a kind of fixing suits a wall: what speaks for it, against it, and what rules it out.

use super::choice::Reason;
use super::kinds::Kind;
use crate::elevation::{Condition, Insulation, Leaf, Material, Substrate, Voids};

/// Thickness from which a leaf counts as thick, mm.
const THICK: f64 = 200.0;

/// What is said of one kind.
#[derive(Default)]
pub(super) struct Opinion {
    pub excluded: Vec<String>,
    pub reasons: Vec<Reason>,
}

impl Opinion {
    fn not(&mut self, yes: bool, why: &str) {
        if yes {
            self.excluded.push(why.to_owned());
        }
    }
    fn weigh(&mut self, yes: bool, weight: i32, why: &str) {
        if yes {
            self.reasons.push(Reason { weight, text: why.to_owned() });
        }
    }
}

fn soft(l: &Leaf) -> bool {
    l.condition == Condition::Weak || l.material == Material::LightBlock
}

fn voided(l: &Leaf) -> bool {
    l.voids == Voids::Hollow || l.material == Material::Rubble
}

fn hard(l: &Leaf) -> bool {
    matches!(
        l.material,
        Material::DenseBlock | Material::Concrete | Material::Stone | Material::ConcreteBrick
    )
}

fn rubble(l: &Leaf) -> bool {
    l.material == Material::Rubble
}

fn sound(l: &Leaf) -> bool {
    l.condition == Condition::Sound && l.voids == Voids::Solid
}

fn unsure(l: &Leaf) -> bool {
    l.material == Material::Unknown || l.condition == Condition::Unknown || l.voids == Voids::Unknown
}

fn thick(l: &Leaf) -> bool {
    l.thickness >= THICK
}

/// What speaks for and against a kind on a wall.
pub(super) fn opinion(kind: Kind, s: &Substrate) -> Opinion {
    let mut o = Opinion::default();
    let (outer, inner) = (&s.outer, &s.inner);
    let both = |f: fn(&Leaf) -> bool| f(outer) && f(inner);
    let either = |f: fn(&Leaf) -> bool| f(outer) || f(inner);
    let frame = inner.material == Material::TimberFrame;
    o.not(kind != Kind::Starter && s.rebuilt, "the outer leaf is built again: ties are built into it");
    o.not(
        frame && !matches!(kind, Kind::DrivenHelical | Kind::Starter),
        "the inner leaf is a timber frame: nothing to expand or bond in; fix into studs",
    );
    match kind {
        Kind::MechanicalExpansion => expansion(&mut o, s),
        Kind::ResinBonded => {
            o.not(either(rubble), "resin runs into the voids of rubble");
            o.weigh(both(sound), 2, "bonds well in sound, solid units");
            o.weigh(either(soft), 3, "puts no pressure on soft units");
            o.weigh(
                outer.voids == Voids::Perforated || inner.voids == Voids::Perforated,
                2,
                "a sleeve holds it in perforated units",
            );
            o.weigh(either(voided), -2, "hollow units need mesh sleeves, and more resin");
            o.weigh(
                s.insulation == Insulation::Full,
                -1,
                "fill in the cavity makes it hard to get clean resin into the inner leaf",
            );
            o.weigh(
                outer.condition == Condition::Cracked || inner.condition == Condition::Cracked,
                1,
                "puts no pressure on cracked units",
            );
        }
        Kind::HelicalGrouted => {
            o.not(either(rubble), "grout runs into the voids of rubble");
            o.weigh(both(sound), 2, "grout fills its hole in sound, solid units");
            o.weigh(either(soft), 2, "puts no pressure on soft units");
            o.weigh(either(voided), -3, "grout runs away in hollow units");
            o.weigh(outer.condition == Condition::Cracked, 1, "gives with a leaf that moves");
            o.weigh(
                s.insulation == Insulation::Full,
                -1,
                "fill in the cavity makes it hard to grout the inner leaf",
            );
        }
        Kind::DrivenHelical => {
            o.not(either(hard), "hard, dense units cannot be driven into");
            o.not(either(rubble), "nothing to cut a thread in");
            o.weigh(inner.material == Material::LightBlock, 3, "cuts its own thread in light block");
            o.weigh(frame, 2, "screws into studs: find and mark them");
            o.weigh(true, -2, "cannot be pull-tested once driven: trial ties only");
            o.weigh(outer.condition == Condition::Cracked, -2, "driving may open cracks further");
            o.weigh(s.insulation == Insulation::Full, 1, "nothing to inject through the fill");
            o.weigh(either(voided), -2, "holds little in hollow units");
        }
        Kind::MechanicalResin => {
            o.not(
                soft(inner) || voided(inner) || inner.voids == Voids::Perforated,
                "the inner end needs a sound, solid inner leaf to expand in",
            );
            o.not(inner.condition == Condition::Cracked, "expanding would open cracks in the inner leaf");
            o.not(rubble(outer), "resin runs into the voids of rubble");
            o.weigh(sound(inner), 3, "expands in a sound inner leaf and can be tested there at once");
            o.weigh(
                soft(outer) || outer.voids == Voids::Perforated,
                2,
                "resin spares a soft or perforated outer leaf",
            );
            o.weigh(s.insulation == Insulation::Full, 2, "no resin has to pass the fill");
            o.weigh(unsure(inner), -2, "the inner leaf is not known to be sound");
        }
        Kind::GroutedSock => {
            o.not(
                outer.thickness < 90.0 || inner.thickness < 90.0,
                "its large hole weakens a leaf thinner than 90 mm",
            );
            o.weigh(either(rubble), 5, "fills what is there, rubble too");
            o.weigh(
                outer.voids == Voids::Hollow || inner.voids == Voids::Hollow,
                4,
                "swells in hollow units",
            );
            o.weigh(either(soft), 2, "spreads its load in weak units");
            o.weigh(true, -2, "the largest hole and the most work");
            o.weigh(s.insulation == Insulation::Full, -1, "the sock has to pass the fill");
        }
        Kind::Starter => {
            o.not(!s.rebuilt, "the outer leaf stays: there is nothing to build it into");
            o.weigh(true, 3, "fixed to the inner leaf and built into the new outer one");
            o.weigh(voided(inner) || soft(inner), -1, "the inner end needs resin or a sock in this leaf");
        }
        Kind::LongStone => {
            o.not(!either(thick), "no leaf is 200 mm thick or more");
            o.weigh(outer.material == Material::Stone || rubble(outer), 3, "reaches through thick stone");
            o.weigh(either(rubble), -2, "a core of rubble takes resin: sleeves or a sock");
            o.weigh(thick(outer), 2, "long enough for a thick leaf");
        }
    }
    o
}

fn expansion(o: &mut Opinion, s: &Substrate) {
    let leaves = [("outer", &s.outer), ("inner", &s.inner)];
    for (name, l) in leaves {
        o.not(rubble(l), &format!("{name} leaf of rubble: nothing sound to expand in"));
        o.not(soft(l) && !rubble(l), &format!("{name} leaf is soft or light: expansion crushes it"));
        o.not(
            l.condition == Condition::Cracked,
            &format!("{name} leaf is cracked: expansion opens it further"),
        );
        o.not(
            matches!(l.voids, Voids::Hollow | Voids::Perforated),
            &format!("{name} leaf has voids: expansion breaks their webs"),
        );
        o.weigh(unsure(l), -2, &format!("{name} leaf is not known to be sound and solid"));
    }
    o.not(s.outer.render > 0.0, "render hides the units: the hole may hit a joint or a frog");
    o.weigh(sound(&s.outer) && sound(&s.inner), 4, "sound, solid units on both sides: quick, loads at once");
    o.weigh(s.insulation == Insulation::Full, 2, "nothing to inject through the fill");
    o.weigh(s.bulge > 0.0, -1, "a bulging leaf should not be drawn in or pushed");
}
