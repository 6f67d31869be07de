//! The ranked choice: every fixing with its reasons, the excluded with theirs, a fallback.

use super::guidance::{self, Stainless};
use super::kinds::Kind;
use super::suits::opinion;
use super::{Fixing, Principle};
use crate::elevation::{Elevation, Environment, Fix, Material, Substrate};

/// Something that speaks for a fixing or against it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reason {
    /// How much: above 0 for it, below 0 against it. Our own weighing.
    pub weight: i32,
    /// Why.
    pub text: String,
}

/// A fixing that will do, with its place in the ranking.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranked {
    /// The fixing.
    pub fixing: Fixing,
    /// Sum of its reasons.
    pub score: i32,
    /// What speaks for it and against it, the weightiest first.
    pub reasons: Vec<Reason>,
}

/// A fixing that will not do.
#[derive(Clone, Debug, PartialEq)]
pub struct Excluded {
    /// The fixing.
    pub fixing: Fixing,
    /// Why not.
    pub why: Vec<String>,
}

/// What to fix the wall with.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// Fixings that will do, best first.
    pub ranked: Vec<Ranked>,
    /// Fixings that will not.
    pub excluded: Vec<Excluded>,
    /// Which of `ranked` is chosen: by the user, else the first.
    pub chosen: Option<usize>,
    /// Which of `ranked` to switch to if site tests disappoint: the best that holds in another way.
    pub fallback: Option<usize>,
    /// The fixing the user named is excluded or not known: why.
    pub objection: Option<String>,
    /// Steel for the place.
    pub stainless: Stainless,
    /// The order of work with the chosen fixing.
    pub order: Vec<String>,
    /// What to mind, and what to have confirmed.
    pub cautions: Vec<String>,
}

impl Choice {
    /// The fixing chosen.
    #[must_use]
    pub fn fixing(&self) -> Option<&Fixing> {
        self.chosen.and_then(|i| self.ranked.get(i)).map(|r| &r.fixing)
    }
}

/// Ranks the kinds and the firm's own fixings for an elevation; `None` where nothing is known of the wall.
#[must_use]
pub fn choose(elevation: &Elevation) -> Option<Choice> {
    let s = elevation.substrate.as_ref()?;
    let own = s.declared.iter().filter_map(Fixing::declared);
    let all = own.chain(Kind::ALL.into_iter().map(Fixing::of));
    let (mut ranked, mut excluded) = (Vec::new(), Vec::new());
    for fixing in all {
        let o = opinion(fixing.kind, s);
        if o.excluded.is_empty() {
            let mut reasons = o.reasons;
            if fixing.id != fixing.kind.id() {
                reasons.push(Reason { weight: 1, text: "declared values of the firm's own".to_owned() });
            }
            reasons.sort_by_key(|r| -r.weight.abs());
            let score = reasons.iter().map(|r| r.weight).sum();
            ranked.push(Ranked { fixing, score, reasons });
        } else {
            excluded.push(Excluded { fixing, why: o.excluded });
        }
    }
    ranked.sort_by_key(|r| -r.score);
    let named = ranked.iter().position(|r| r.fixing.id == s.fixing);
    let objection = objection(s, named.is_some(), &excluded);
    let chosen = named
        .or_else(|| (!ranked.is_empty()).then_some(0))
        .filter(|_| objection.is_none() || !ranked.is_empty());
    let principle = |i: usize| ranked[i].fixing.kind.data().principle;
    let fallback = chosen.and_then(|c| (0..ranked.len()).find(|&i| differs(principle(i), principle(c))));
    let kind = chosen.map(|c| ranked[c].fixing.kind);
    Some(Choice {
        cautions: cautions(elevation, s, kind),
        order: kind.map(guidance::order_of_work).unwrap_or_default(),
        stainless: guidance::stainless(s.environment),
        ranked,
        excluded,
        chosen,
        fallback,
        objection,
    })
}

fn differs(a: Principle, b: Principle) -> bool {
    a != b
}

fn objection(s: &Substrate, stands: bool, excluded: &[Excluded]) -> Option<String> {
    if s.fixing.is_empty() || stands {
        return None;
    }
    Some(match excluded.iter().find(|e| e.fixing.id == s.fixing) {
        Some(e) => format!("{} was chosen and does not suit this wall: {}", e.fixing.name, e.why.join("; ")),
        None => {
            format!("no fixing is called '{}'; give one of the firm's own, or the id of a kind", s.fixing)
        }
    })
}

fn cautions(elevation: &Elevation, s: &Substrate, kind: Option<Kind>) -> Vec<String> {
    let mut out = Vec::new();
    let mut say = |yes: bool, text: String| {
        if yes {
            out.push(text);
        }
    };
    say(
        kind.is_none(),
        "No kind of fixing suits the wall as surveyed: have a competent engineer decide.".to_owned(),
    );
    let unknown = [("outer", &s.outer), ("inner", &s.inner)];
    for (name, l) in unknown {
        say(
            l.material == Material::Unknown,
            format!("What the {name} leaf is built of is not known: open it up and look."),
        );
    }
    say(
        s.bulge > 0.0,
        format!(
            "The outer leaf bulges by {} mm. No published limit was found: have a competent engineer say whether it can be kept.",
            s.bulge
        ),
    );
    say(
        s.environment == Environment::Unknown,
        "How hard the place is on steel is not known: the better steel is taken.".to_owned(),
    );
    if let Some(kind) = kind {
        let d = kind.data();
        say(!d.testable, "Driven ties cannot be pull-tested afterwards (common practice, no source): prove trial ties first.".to_owned());
        let fix = elevation.coursing.fix;
        say(d.in_face && fix == Fix::BedJoint, "This fixing goes into the face of a brick, and the layout sets ties in bed joints: change where ties go, or the fixing.".to_owned());
        say(
            !d.in_face && fix == Fix::BrickFace && kind != Kind::LongStone,
            "This fixing usually goes into a bed joint, and the layout sets ties in the face of bricks."
                .to_owned(),
        );
    }
    say(true, "Sizes and suitability are common practice, no source, unless a declaration is named: the maker's instructions govern.".to_owned());
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elevation::{Condition, DeclaredFixing, Leaf, Voids};

    fn leaf(material: Material, condition: Condition, voids: Voids) -> Leaf {
        Leaf { material, condition, voids, ..Leaf::default() }
    }

    fn wall(s: Substrate) -> Choice {
        let mut e = Elevation::new("W", vec![(0.0, 0.0), (900.0, 0.0), (900.0, 900.0)]);
        e.substrate = Some(s);
        choose(&e).expect("a substrate")
    }

    #[test]
    fn sound_solid_brick_takes_expansion_and_falls_back_on_bond() {
        let sound = leaf(Material::ClayBrick, Condition::Sound, Voids::Solid);
        let c = wall(Substrate { outer: sound, inner: sound, ..Substrate::default() });
        assert_eq!(c.fixing().map(|f| f.kind), Some(Kind::MechanicalExpansion));
        let fallback = c.fallback.map(|i| c.ranked[i].fixing.kind.data().principle);
        assert_eq!(fallback, Some(Principle::Bond));
        assert!(
            c.excluded.iter().all(|e| !e.why.is_empty()) && c.ranked.iter().all(|r| !r.reasons.is_empty())
        );
    }

    #[test]
    fn rubble_takes_the_sock() {
        let rubble = Leaf { thickness: 300.0, ..leaf(Material::Rubble, Condition::Weak, Voids::Unknown) };
        let c = wall(Substrate { outer: rubble, inner: rubble, ..Substrate::default() });
        assert_eq!(c.fixing().map(|f| f.kind), Some(Kind::GroutedSock));
        let out: Vec<Kind> = c.excluded.iter().map(|e| e.fixing.kind).collect();
        assert!(out.contains(&Kind::MechanicalExpansion) && out.contains(&Kind::ResinBonded), "{out:?}");
    }

    #[test]
    fn a_rebuilt_leaf_takes_starter_ties_alone() {
        let c = wall(Substrate { rebuilt: true, ..Substrate::default() });
        assert_eq!(c.ranked.iter().map(|r| r.fixing.kind).collect::<Vec<_>>(), [Kind::Starter]);
        assert_eq!(c.fallback, None);
    }

    #[test]
    fn render_that_hides_the_units_rules_expansion_out() {
        let sound = leaf(Material::ClayBrick, Condition::Sound, Voids::Solid);
        let c =
            wall(Substrate { outer: Leaf { render: 18.0, ..sound }, inner: sound, ..Substrate::default() });
        assert!(c.excluded.iter().any(|e| e.fixing.kind == Kind::MechanicalExpansion));
    }

    #[test]
    fn an_unsuitable_choice_is_objected_to() {
        let block = leaf(Material::LightBlock, Condition::Sound, Voids::Solid);
        let s = Substrate { inner: block, fixing: "mechanical-expansion".to_owned(), ..Substrate::default() };
        let c = wall(s);
        assert!(c.objection.is_some_and(|o| o.contains("inner leaf is soft or light")));
    }

    #[test]
    fn a_firm_adds_its_own() {
        let own = DeclaredFixing {
            name: "Our 8 mm bar".to_owned(),
            kind: "resin-bonded".to_owned(),
            bar: 8.0,
            hole: 12.0,
            ..DeclaredFixing::default()
        };
        let c = wall(Substrate {
            declared: vec![own],
            fixing: "Our 8 mm bar".to_owned(),
            ..Substrate::default()
        });
        let f = c.fixing().expect("chosen");
        // What it does not declare is that of its kind.
        assert_eq!((f.hole, f.bar, f.embed_inner), (12.0, 8.0, Kind::ResinBonded.data().embed_inner));
    }
}
