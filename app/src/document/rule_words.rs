//! The fields of a file of rules in words: what belongs at each.

use super::field_words::{LENGTH, SCOPE, TEXT, names, one_of};
use super::locate::{Look, Tree};
use layout_core::source::Sureness;

/// A value that says where it comes from.
const SOURCED: &str = "(value: …, document: \"…\", edition: \"…\", clause: \"…\", sure: …, note: \"…\")";
const DENSITY: &str = "Equivalent(…), Minimum(…) or MinimumPlusEdges(…), ties per m²";

/// What belongs at a value of a file of rules.
pub(super) fn belongs(tree: &Tree, text: &str, node: usize) -> String {
    let parent = tree.nodes.get(node).and_then(|n| n.parent);
    let Some(parent) = parent else { return "rules in ( )".to_owned() };
    if let Some(key) = tree.key(text, node) {
        return belongs_at(tree.key(text, parent), key);
    }
    if tree.nodes[parent].look == Look::Bracket('[') {
        return TEXT.to_owned();
    }
    match tree.head(text, parent) {
        Some("Equivalent" | "Minimum" | "MinimumPlusEdges") => "a number of ties per m²".to_owned(),
        _ => "a field as name: value".to_owned(),
    }
}

/// What belongs at a field of this name inside the field `holder`.
pub(super) fn belongs_at(holder: Option<&str>, key: &str) -> String {
    match (key, holder) {
        ("format", _) => "a whole number: 1",
        ("name" | "title" | "document" | "edition" | "clause" | "note", _) => TEXT,
        ("notes", _) => "a list of texts in [ ]",
        ("value", Some("per_m2")) => DENSITY,
        ("value", Some("scope")) => SCOPE,
        ("value" | "exempt", _) => LENGTH,
        ("corners", _) => "true or false",
        ("edges", _) => "(within: …, spacing: …, top: …, scope: …) or None",
        ("sure", _) => return format!("how sure it is: {}", one_of(&names(&Sureness::ALL))),
        _ => SOURCED,
    }
    .to_owned()
}
