//! The fields of a project file in words: what they are called and what belongs there.

use super::holds::Holds;
use super::locate::{Look, Tree};
use super::rule_words;
use layout_core::elevation::{
    Condition, Environment, Fix, Insulation, InternalPressure, LeafName, Material, SideCondition, Terrain,
    TestScheme, TieForm, Treatment, Voids,
};
use std::fmt::Debug;

/// Longest piece of a file that a message quotes, characters.
const LONGEST_QUOTE: usize = 40;

/// The field path of a value: `elevation 'Front', opening 'W2', w`. Empty for the whole project.
pub(super) fn path(tree: &Tree, text: &str, node: usize) -> String {
    steps(tree, text, node, true).join(", ")
}

/// The path of a field that a value lacks.
pub(super) fn path_of_missing(tree: &Tree, text: &str, node: usize, field: &str) -> String {
    let mut steps = steps(tree, text, node, false);
    steps.push(field.to_owned());
    steps.join(", ")
}

/// The steps of a path; `ends` says whether the value itself is the last of them.
fn steps(tree: &Tree, text: &str, node: usize, ends: bool) -> Vec<String> {
    let mut chain = vec![node];
    while let Some(parent) = chain.last().and_then(|&n| tree.nodes.get(n)).and_then(|n| n.parent) {
        chain.push(parent);
    }
    chain.reverse();
    let last = chain.len() - 1;
    (1..chain.len()).filter_map(|i| step(tree, text, chain[i], ends && i == last)).collect()
}

/// One step of a path; nothing for a step that says nothing new.
fn step(tree: &Tree, text: &str, node: usize, last: bool) -> Option<String> {
    if let Some(key) = tree.key(text, node) {
        let says_nothing = key == "shape" || (item_of(key).is_some() && key != "outline");
        return (last || !says_nothing).then(|| key.to_owned());
    }
    let n = &tree.nodes[node];
    let parent = n.parent?;
    if tree.nodes[parent].look == Look::Bracket('[') {
        let item = tree.key(text, parent).and_then(item_of).unwrap_or("point");
        return Some(match name_of(tree, text, node) {
            Some(name) => format!("{item} '{name}'"),
            None => format!("{item} {}", n.index + 1),
        });
    }
    if is_point(tree, text, parent) {
        return ["x", "y"].get(n.index).map(|&s| s.to_owned());
    }
    None
}

/// What the items of a list field are called.
fn item_of(key: &str) -> Option<&'static str> {
    Some(match key {
        "elevations" => "elevation",
        "openings" => "opening",
        "keep_outs" => "keep-out",
        "movement_joints" => "movement joint",
        "existing_ties" => "existing tie",
        "pinned" => "pinned tie",
        "locked" => "locked area",
        "ties" => "tie",
        "sides" => "side",
        "notes" => "note",
        "outline" => "point",
        "cavities" => "cavity reading",
        "declared" => "fixing",
        "areas" => "test area",
        "results" => "test result",
        "lengths" => "length",
        _ => return None,
    })
}

/// The text of a value's `name` field, if it has one.
fn name_of(tree: &Tree, text: &str, node: usize) -> Option<String> {
    let name = tree.field(text, node, "name").filter(|&n| tree.nodes[n].look == Look::Text)?;
    let quoted = tree.text_of(text, name);
    let inner = quoted.trim_start_matches(['b', 'r']).trim_matches('#').trim_matches('"');
    (!inner.is_empty()).then(|| shorten(inner))
}

/// Whether a group is a point `(x, y)`: unnamed, in a list or at `at`.
pub(super) fn is_point(tree: &Tree, text: &str, node: usize) -> bool {
    let n = &tree.nodes[node];
    let listed = n.parent.is_some_and(|p| {
        tree.nodes[p].look == Look::Bracket('[')
            && tree.key(text, p).is_none_or(|k| matches!(k, "outline" | "pinned" | "ties"))
    });
    n.look == Look::Bracket('(')
        && tree.head(text, node).is_none()
        && (listed || tree.key(text, node) == Some("at"))
}

/// What belongs at a value.
pub(super) fn belongs(tree: &Tree, text: &str, node: usize) -> String {
    if tree.holds == Holds::Rules {
        return rule_words::belongs(tree, text, node);
    }
    if let Some(key) = tree.key(text, node) {
        return belongs_at(key);
    }
    let Some(parent) = tree.nodes.get(node).and_then(|n| n.parent) else {
        return "a project in ( )".to_owned();
    };
    if tree.nodes[parent].look == Look::Bracket('[') {
        return match tree.key(text, parent) {
            Some("elevations") => "an elevation in ( )".to_owned(),
            Some("openings") => "an opening (name: …, shape: …)".to_owned(),
            Some("keep_outs") => "a keep-out (name: …, shape: …, clearance: …)".to_owned(),
            Some("movement_joints") => "a movement joint (x: …, from: …, to: …)".to_owned(),
            Some("existing_ties") => "an existing tie (at: (x, y), form: …)".to_owned(),
            Some("locked") => "a locked area (name: …, shape: …, ties: …)".to_owned(),
            Some("notes") => TEXT.to_owned(),
            Some("cavities") => "a cavity reading (at: (x, y), cavity: …)".to_owned(),
            Some("declared") => "a fixing (name: …, kind: …)".to_owned(),
            Some("areas") => "a test area (name: …, x: …, y: …, w: …, h: …)".to_owned(),
            Some("results") => "a test result (at: (x, y), leaf: …, load: …, held: …)".to_owned(),
            Some("lengths") => LENGTH.to_owned(),
            Some("sides") => format!("a side condition: {}", one_of(&names(&SideCondition::ALL))),
            _ => POINT.to_owned(),
        };
    }
    if is_point(tree, text, parent) {
        return LENGTH.to_owned();
    }
    match tree.head(text, parent) {
        Some("Named" | "File") => TEXT.to_owned(),
        Some("Polygon") => POINTS.to_owned(),
        _ => "a field as name: value".to_owned(),
    }
}

pub(super) const TEXT: &str = "text in quotes";
pub(super) const LENGTH: &str = "a number, in mm";
const POINT: &str = "a point (x, y)";
/// Which edges a rule is about.
pub(super) const SCOPE: &str = "Upright, OpeningPerimeter(exempt: …) or EveryFreeEdge(corners: …)";
const POINTS: &str = "a list of points [(x, y), …]";

/// What belongs at a field of this name; names mean the same wherever they stand.
pub(super) fn belongs_at(key: &str) -> String {
    match key {
        "format" => "a whole number: 1",
        "title" | "reference" | "site" | "client" | "drawn_by" | "revision" | "name" | "source" | "kind"
        | "fixing" | "note" | "currency" => TEXT,
        "notes" => "a list of texts in [ ]",
        "elevations" => "a list of elevations in [ ]",
        "outline" => POINTS,
        "sides" => "a list of side conditions in [ ]",
        "openings" => "a list of openings in [ ]",
        "keep_outs" => "a list of keep-outs in [ ]",
        "movement_joints" => "a list of movement joints in [ ]",
        "existing_ties" => "a list of existing ties in [ ]",
        "pinned" | "ties" => POINTS,
        "locked" => "a list of locked areas in [ ]",
        "automatic" | "rebuilt" | "spans_vertically" | "held" | "before_work" | "edges_on_top"
        | "corners" => "true or false",
        "exposure" => "exposure (basic_wind: …, terrain: …, height: …, depth: …, …)",
        "substrate" => "substrate (outer: (…), inner: (…), cavities: […], …)",
        "tests" => "tests (scheme: …, seed: …, …)",
        "rates" => "rates (currency: …, tie: …, …)",
        "outer" | "inner" => "a leaf (material: …, condition: …, voids: …, thickness: …, render: …)",
        "cavities" => "a list of cavity readings in [ ]",
        "declared" => "a list of fixings in [ ]",
        "areas" => "a list of test areas in [ ]",
        "results" => "a list of test results in [ ]",
        "lengths" => "a list of lengths in [ ], in mm",
        "given" => "pressures (outward: …, inward: …, source: …)",
        "resistance" => "a resistance (tension: …, compression: …, source: …)",
        "basic_wind" => "a velocity, in m/s",
        "altitude" => "an altitude, in m",
        "outward" | "inward" => "a pressure, in kN/m²",
        "tension" | "compression" | "action" | "proof" | "load" => "a force, in N",
        "gamma_m" | "load_factor" | "direction" | "season" | "orography" => "a factor",
        "grade" => "a corrosion grade, 1 to 9",
        "seed" | "trials" => "a whole number, 0 or more",
        "tie" | "test" | "isolate" | "remove" | "resin_ml" | "access" | "preliminaries" => {
            "an amount of money"
        }
        "spare" | "overheads" | "profit" => "per cent",
        "at" => POINT,
        "shape" => {
            "a shape: Rect(x, y, w, h), Arched(x, y, w, h, rise), Circle(x, y, r) or Polygon([(x, y), …]), \
             numbers by name"
        }
        "coursing" => "coursing (gauge: …, first_bed: …, fix: …, brick: …)",
        "rules" => "rules: Named(\"…\"), Custom(…) or File(\"…\")",
        "edges" => "(within: …, spacing: …) or None",
        "scope" => SCOPE,
        "style" => "a style: Even or Fewest",
        "pattern" => "a pattern: Staggered or Stacked",
        "per_m2" => "a number of ties per m²",
        "terrain" => return format!("a terrain: {}", one_of(&names(&Terrain::ALL))),
        "internal" => {
            return format!("a place of internal pressure: {}", one_of(&names(&InternalPressure::ALL)));
        }
        "material" => return format!("a material: {}", one_of(&names(Material::ALL))),
        "condition" => return format!("a condition: {}", one_of(&names(Condition::ALL))),
        "voids" => return format!("voids: {}", one_of(&names(Voids::ALL))),
        "insulation" => return format!("insulation: {}", one_of(&names(Insulation::ALL))),
        "environment" => return format!("an environment: {}", one_of(&names(Environment::ALL))),
        "treatment" => return format!("a treatment: {}", one_of(&names(Treatment::ALL))),
        "scheme" => return format!("a scheme of tests: {}", one_of(&names(&TestScheme::ALL))),
        "leaf" | "weaker" => return format!("a leaf: {}", one_of(&names(&LeafName::ALL))),
        "form" => return format!("a form of tie: {}", one_of(&names(&TieForm::ALL))),
        "fix" => return format!("a place for ties: {}", one_of(&names(&Fix::ALL))),
        _ => LENGTH,
    }
    .to_owned()
}

/// What stands at a value, short enough for a message.
pub(super) fn found(tree: &Tree, text: &str, node: usize) -> String {
    let Some(n) = tree.nodes.get(node) else { return "nothing".to_owned() };
    let whole = shorten(tree.text_of(text, node));
    match n.look {
        _ if whole.is_empty() => "nothing".to_owned(),
        Look::Text => format!("text {whole}"),
        Look::Character => format!("the character {whole}; text stands in double quotes"),
        Look::Bracket('[') => "a list in [ ]".to_owned(),
        Look::Bracket('{') => "a map in { }".to_owned(),
        Look::Bracket(_) => match tree.head(text, node) {
            Some(head) => format!("{}(…)", shorten(head)),
            None => "a group in ( )".to_owned(),
        },
        Look::Bare => match whole.as_str() {
            "true" | "false" | "None" => whole,
            _ if whole.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) => whole,
            _ => format!("the word {whole}"),
        },
    }
}

/// A piece of the file for a message: on one line, and not too long.
pub(super) fn shorten(piece: &str) -> String {
    let mut out: String =
        piece.chars().take(LONGEST_QUOTE).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if piece.chars().nth(LONGEST_QUOTE).is_some() {
        out.push('…');
    }
    out
}

pub(super) fn names<T: Debug>(all: &[T]) -> Vec<String> {
    all.iter().map(|t| format!("{t:?}")).collect()
}

/// Names as "A, B or C".
pub(super) fn one_of<S: AsRef<str>>(names: &[S]) -> String {
    match names {
        [] => "nothing".to_owned(),
        [only] => only.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} or {}", first.join(", "), last.as_ref())
        }
    }
}
