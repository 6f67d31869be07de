//! A rule set as the text of a file of rules, for a firm to begin its own from.

use super::rule_file::FORMAT;
use super::save_text::{quoted, scope_text};
use layout_core::rules::{Density, RuleSet};
use layout_core::source::{Source, Sourced};

const HEAD: &str = "\
// Rules of the firm's own. A project names this file: rules: File(\"this-file.ron\"), its path from the project's folder.
// Lengths in mm. Each value says where it comes from: document, edition, clause; and how sure that is:
//   Published, SecondHand, FromMemory, Recomputed, Stated (by an engineer, say), Assumed or CommonPractice.
// Only Assumed and CommonPractice need no document. A note may stand beside any value: note: \"…\".
";

/// The text of a file that holds the values of a set, under a name of its own.
#[must_use]
pub fn template(set: &RuleSet) -> String {
    let mut out = format!("{HEAD}(\n    format: {FORMAT},\n");
    line(&mut out, 1, &format!("name: {}", quoted(&format!("Own rules after {}", set.id))));
    line(&mut out, 1, &format!("title: {}", quoted(&set.title)));
    if set.remarks.is_empty() {
        line(&mut out, 1, "notes: []");
    } else {
        line_open(&mut out, 1, "notes: [");
        set.remarks.iter().for_each(|r| line(&mut out, 2, &quoted(r)));
        line(&mut out, 1, "]");
    }
    length(&mut out, 1, "horizontal", &set.horizontal);
    length(&mut out, 1, "vertical", &set.vertical);
    remark(&mut out, 1, "Equivalent: only restates the spacing. Minimum: so many at least.");
    remark(&mut out, 1, "MinimumPlusEdges: so many at least, and the edge ties on top.");
    line(&mut out, 1, &format!("per_m2: {}", given(&density(set.density.value), &set.density.source)));
    edges(&mut out, set);
    remark(
        &mut out,
        1,
        "Least distances: from any boundary of the masonry, between new ties, from old ties.",
    );
    length(&mut out, 1, "edge_distance", &set.edge_distance);
    length(&mut out, 1, "between", &set.between);
    length(&mut out, 1, "existing_clearance", &set.existing_clearance);
    out.push_str(")\n");
    out
}

fn edges(out: &mut String, set: &RuleSet) {
    let Some(e) = &set.edges else {
        line(out, 1, "edges: None");
        return;
    };
    line_open(out, 1, "edges: (");
    length(out, 2, "within", &e.within);
    length(out, 2, "spacing", &e.spacing);
    if let Some(top) = &e.top {
        length(out, 2, "top", top);
    }
    remark(
        out,
        2,
        "Upright: jambs, free ends, joints, verges. OpeningPerimeter(exempt: …): all round openings that are",
    );
    remark(
        out,
        2,
        "larger either way. EveryFreeEdge(corners: …): openings all round, ends, joints, verges, the top.",
    );
    line(out, 2, &format!("scope: {}", given(&scope_text(e.scope), &e.spacing.source)));
    line(out, 1, ")");
}

fn density(density: Density) -> String {
    let v = density.per_m2();
    match density {
        Density::Equivalent(_) => format!("Equivalent({v})"),
        Density::Minimum(_) => format!("Minimum({v})"),
        Density::MinimumPlusEdges(_) => format!("MinimumPlusEdges({v})"),
    }
}

fn length(out: &mut String, depth: usize, key: &str, v: &Sourced<f64>) {
    line(out, depth, &format!("{key}: {}", given(&v.value.to_string(), &v.source)));
}

fn given(value: &str, source: &Source) -> String {
    let sure = source.sureness;
    if source.document.is_empty() {
        return format!("(value: {value}, sure: {sure:?})");
    }
    format!("(value: {value}, document: {}, sure: {sure:?})", quoted(&source.document))
}

fn line(out: &mut String, depth: usize, text: &str) {
    line_open(out, depth, &format!("{text},"));
}

fn line_open(out: &mut String, depth: usize, text: &str) {
    out.push_str(&format!("{}{text}\n", "    ".repeat(depth)));
}

fn remark(out: &mut String, depth: usize, text: &str) {
    line_open(out, depth, &format!("// {text}"));
}
