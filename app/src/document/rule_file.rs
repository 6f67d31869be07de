//! A file of rules of a firm's own: every value with its source.
//!
//! RON, `format: 1`. [`super::rule_template`] writes one to begin from.

use super::file::{cannot_read, decode, from_ron};
use super::holds::Holds;
use super::read_error::{Places, ReadError, ReadErrors};
use layout_core::rules::{Density, EdgeRule, EdgeScope, RuleSet, sets};
use layout_core::source::{Source, Sourced, Sureness};
use layout_core::units::{EPSILON, LARGEST_COORDINATE};
use serde::{Deserialize, Deserializer};
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The format of files of rules this version reads and writes.
pub const FORMAT: u32 = 1;

/// The largest file of rules that is read, bytes.
const LARGEST: usize = 1 << 20;

/// Distances that may be left out, mm, as common practice has them: from a boundary, between ties, from old ties.
const PRACTICE: [f64; 3] = [75.0, 100.0, 100.0];

/// The file as it is written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    format: u32,
    name: String,
    #[serde(default)]
    title: String,
    #[serde(default)]
    notes: Vec<String>,
    horizontal: Given<f64>,
    vertical: Given<f64>,
    per_m2: Given<Density>,
    // Rules without edge ties have to say so.
    #[serde(deserialize_with = "said")]
    edges: Option<WrittenEdges>,
    #[serde(default)]
    edge_distance: Option<Given<f64>>,
    #[serde(default)]
    between: Option<Given<f64>>,
    #[serde(default)]
    existing_clearance: Option<Given<f64>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenEdges {
    within: Given<f64>,
    spacing: Given<f64>,
    #[serde(default)]
    top: Option<Given<f64>>,
    scope: Given<EdgeScope>,
}

/// A value with where it comes from.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Given<T> {
    value: T,
    #[serde(default)]
    document: String,
    #[serde(default)]
    edition: String,
    #[serde(default)]
    clause: String,
    sure: Sureness,
    #[serde(default)]
    note: String,
}

/// An optional value whose field may not be left out.
fn said<'de, D: Deserializer<'de>>(from: D) -> Result<Option<WrittenEdges>, D::Error> {
    Option::deserialize(from)
}

/// Rules from the text of a file; `name` is the file as messages name it.
///
/// # Errors
///
/// What is wrong with the text or its values, with line, column and field.
pub fn parse(text: &str, name: &str) -> Result<RuleSet, ReadErrors> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let read = from_ron::<Written>(text);
    let places = Places::of(Holds::Rules, text);
    let errors = match read {
        Ok(written) if written.format == FORMAT => {
            let mut errors = places.not_finite();
            if errors.is_empty() {
                Look { places: &places, errors: &mut errors }.at_all(&written);
            }
            if errors.is_empty() {
                return Ok(rule_set(written));
            }
            errors
        }
        Ok(written) => vec![places.other_format().unwrap_or_else(|| {
            places.at_field(&["format"], format!("there is no format {}", written.format))
        })],
        Err(_) if places.has("elevations") => vec![places.at_field(
            &["elevations"],
            "this file is a project; name a file of rules, as 'tiewright rules NAME --ron OUT' writes one",
        )],
        Err(e) => vec![places.other_format().unwrap_or_else(|| places.syntax(&e))],
    };
    Err(ReadErrors { file: name.to_owned(), errors })
}

/// Reads a file of rules.
///
/// # Errors
///
/// As [`parse`], and why the file could not be read.
pub fn read(path: &Path) -> Result<RuleSet, ReadErrors> {
    let name = path.display().to_string();
    let whole = |message: String| ReadErrors::whole(&name, message);
    let about = std::fs::metadata(path).map_err(|e| whole(cannot_read(&e)))?;
    // A pipe might never end.
    if !about.is_file() {
        return Err(whole("this is no file; name a file of rules (.ron)".to_owned()));
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|f| f.take(LARGEST as u64 + 1).read_to_end(&mut bytes))
        .map_err(|e| whole(cannot_read(&e)))?;
    if bytes.len() > LARGEST {
        return Err(whole(format!("the file is too large; no file of rules is over {} MB", LARGEST >> 20)));
    }
    parse(&decode(bytes, &name)?, &name)
}

/// Looks for values that cannot be.
struct Look<'a, 't> {
    places: &'a Places<'t>,
    errors: &'a mut Vec<ReadError>,
}

impl Look<'_, '_> {
    fn say(&mut self, path: &[&str], message: impl Into<String>) {
        self.errors.push(self.places.at_field(path, message));
    }

    fn at_all(&mut self, w: &Written) {
        match w.name.trim() {
            "" => self.say(&["name"], "it is empty; give the rules a name"),
            name if sets::by_id(name).is_some() => {
                self.say(
                    &["name"],
                    "this is the name of a published set; give the rules a name of their own",
                );
            }
            _ => {}
        }
        self.size(&["horizontal"], &w.horizontal);
        self.size(&["vertical"], &w.vertical);
        self.density(w);
        if let Some(e) = &w.edges {
            self.edges(e);
        }
        let rest = [
            ("edge_distance", &w.edge_distance),
            ("between", &w.between),
            ("existing_clearance", &w.existing_clearance),
        ];
        for (name, given) in rest {
            if let Some(g) = given {
                self.distance(&[name], g);
            }
        }
    }

    fn density(&mut self, w: &Written) {
        self.source(&["per_m2"], &w.per_m2);
        let v = w.per_m2.value.per_m2();
        if !(0.0..=10_000.0).contains(&v) {
            self.say(&["per_m2", "value"], format!("{v} ties per m² cannot be; it must be 0 to 10000"));
        }
        if w.per_m2.value.edges_on_top() && w.edges.is_none() {
            self.say(
                &["per_m2", "value"],
                "edge ties come on top, but edges is None; give the rule for edges",
            );
        }
    }

    fn edges(&mut self, e: &WrittenEdges) {
        self.size(&["edges", "within"], &e.within);
        self.size(&["edges", "spacing"], &e.spacing);
        self.source(&["edges", "scope"], &e.scope);
        if let EdgeScope::OpeningPerimeter { exempt } = e.scope.value
            && !(0.0..=LARGEST_COORDINATE).contains(&exempt)
        {
            let path = ["edges", "scope", "value", "exempt"];
            self.say(&path, format!("{exempt} mm cannot be; it must be 0 or more"));
        }
        if let Some(top) = &e.top {
            self.size(&["edges", "top"], top);
            if !matches!(e.scope.value, EdgeScope::EveryFreeEdge { .. }) {
                let message = "a spacing for the top of the leaf needs scope EveryFreeEdge(corners: …), which has the top";
                self.say(&["edges", "top"], message);
            }
        }
    }

    fn size(&mut self, path: &[&str], g: &Given<f64>) {
        self.source(path, g);
        if !(EPSILON..=LARGEST_COORDINATE).contains(&g.value) {
            let most = if g.value > 1.0 { " and at most 10 km" } else { "" };
            self.value(path, format!("{} mm cannot be; it must be more than 0{most}", g.value));
        }
    }

    fn distance(&mut self, path: &[&str], g: &Given<f64>) {
        self.source(path, g);
        if !(0.0..=LARGEST_COORDINATE).contains(&g.value) {
            let most = if g.value > 1.0 { " and at most 10 km" } else { "" };
            self.value(path, format!("{} mm cannot be; it must be 0 or more{most}", g.value));
        }
    }

    fn value(&mut self, path: &[&str], message: String) {
        let path: Vec<&str> = path.iter().copied().chain(["value"]).collect();
        self.say(&path, message);
    }

    /// A source that says less than it claims.
    fn source<T>(&mut self, path: &[&str], g: &Given<T>) {
        let named = !document(g).is_empty();
        let message = match g.sure {
            Sureness::CommonPractice if named => {
                "common practice has no document; leave the document out, or say how sure it is otherwise"
            }
            Sureness::CommonPractice | Sureness::Assumed => return,
            _ if named => return,
            _ => "no document is given; name it, or say sure: Assumed or CommonPractice",
        };
        let at = if named { "document" } else { "sure" };
        let path: Vec<&str> = path.iter().copied().chain([at]).collect();
        self.say(&path, message);
    }
}

/// Title, edition and clause in one.
fn document<T>(g: &Given<T>) -> String {
    let parts = [&g.document, &g.edition, &g.clause].map(|p| p.trim());
    parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(", ")
}

fn rule_set(w: Written) -> RuleSet {
    let mut remarks = w.notes;
    let horizontal = sourced(w.horizontal, "Spacing along the wall", &mut remarks);
    let vertical = sourced(w.vertical, "Spacing up the wall", &mut remarks);
    let density = sourced(w.per_m2, "Ties for the area", &mut remarks);
    let edges = w.edges.map(|e| edge_rule(e, &mut remarks));
    let [edge_distance, between, existing_clearance] = PRACTICE;
    let mut or = |g: Option<Given<f64>>, label: &str, practice: f64| {
        g.map_or_else(|| Sourced::common_practice(practice), |g| sourced(g, label, &mut remarks))
    };
    let edge_distance = or(w.edge_distance, "Distance from a boundary", edge_distance);
    let between = or(w.between, "Distance between ties", between);
    let existing_clearance = or(w.existing_clearance, "Distance from an old tie", existing_clearance);
    let title = w.title.trim();
    RuleSet {
        id: w.name.trim().to_owned(),
        title: if title.is_empty() { "Rules of the firm's own".to_owned() } else { title.to_owned() },
        horizontal,
        vertical,
        density,
        edges,
        edge_distance,
        between,
        existing_clearance,
        remarks,
    }
}

fn edge_rule(e: WrittenEdges, remarks: &mut Vec<String>) -> EdgeRule {
    let spacing = sourced(e.spacing, "Spacing along edges", remarks);
    let scope = sourced(e.scope, "Which edges", remarks);
    if scope.source != spacing.source {
        remarks.push(format!("Which edges have ties of their own: {}.", scope.source));
    }
    EdgeRule {
        within: sourced(e.within, "Distance of edge ties", remarks),
        spacing,
        top: e.top.map(|t| sourced(t, "Spacing along the top", remarks)),
        scope: scope.value,
    }
}

/// A value with its source; what is noted beside it becomes a remark.
fn sourced<T>(g: Given<T>, label: &str, remarks: &mut Vec<String>) -> Sourced<T> {
    let note = g.note.trim();
    if !note.is_empty() {
        remarks.push(format!("{label}: {note}"));
    }
    let source = Source::new(document(&g), g.sure);
    Sourced { value: g.value, source }
}
