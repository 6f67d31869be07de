//! The result of setting out as JSON, for other programs.
//!
//! Keys, their order and meaning are fixed by [`FORMAT`]. Coordinates are rounded to 0.001 mm, areas to 1 mm2, so that
//! the same input gives the same bytes.

use crate::report::Report;
use layout_core::elevation::Elevation;
use layout_core::marking::Marking;
use layout_core::units::tidy_mm;
use layout_core::{Plan, Tie};
use serde_json::{Number, Value};

/// Version of the JSON shape.
pub const FORMAT: u32 = 1;

/// The result of a project, one tie or finding a line.
#[must_use]
pub fn set_out(report: &Report) -> String {
    let elevations: Vec<String> = report.elevations().map(|(e, p)| elevation(e, p)).collect();
    format!(
        "{{\n  \"format\": {FORMAT},\n  \"title\": {},\n  \"elevations\": {}\n}}\n",
        text(&report.project.title),
        array(&elevations, 2)
    )
}

fn elevation(elevation: &Elevation, plan: &Plan) -> String {
    let ties: Vec<String> = plan.ties.iter().map(tie).collect();
    let findings: Vec<String> = plan
        .findings
        .iter()
        .map(|f| {
            object(&[
                ("rule", text(f.rule.id())),
                ("severity", text(f.severity.id())),
                ("message", text(&f.message)),
                ("x", number(tidy_mm(f.at.0))),
                ("y", number(tidy_mm(f.at.1))),
            ])
        })
        .collect();
    let fields = [
        ("name", text(&elevation.name)),
        ("rules", text(&plan.rules.id)),
        ("gross_area_m2", number(six_places(plan.gross_area))),
        ("net_area_m2", number(six_places(plan.net_area))),
        ("opening_area_m2", number(six_places(plan.opening_area()))),
        ("tie_count", plan.ties.len().to_string()),
        ("density_per_m2", number(six_places(plan.density()))),
        ("lower_bound", plan.lower_bound.to_string()),
        ("marking", marking(&plan.marking)),
        ("ties", array(&ties, 6)),
        ("findings", array(&findings, 6)),
    ];
    let fields = fields.into_iter().chain(super::engineering::members(elevation, plan));
    let body: Vec<String> = fields.map(|(key, value)| format!("      \"{key}\": {value}")).collect();
    format!("{{\n{}\n    }}", body.join(",\n"))
}

/// How easy the layout is to mark out; null for what the wall does not have.
fn marking(m: &Marking) -> String {
    let places = |v: f64| number((v * 1e4).round() / 1e4);
    let or_null = |v: Option<f64>| v.map_or_else(|| "null".to_owned(), places);
    object(&[
        ("rows", m.rows.to_string()),
        ("main_rows", m.main_rows.to_string()),
        ("steps_a_row_most", m.most_steps.to_string()),
        ("steps_a_row_mean", places(m.mean_steps)),
        ("on_grid", places(m.grid_share())),
        ("plumb_jambs", or_null(m.plumb_share())),
        ("repeated_openings", m.repeated_openings.to_string()),
        ("repeated_alike", or_null(m.alike_share())),
        ("mirrored", or_null(m.mirrored_share())),
    ])
}

fn tie(tie: &Tie) -> String {
    object(&[
        ("mark", text(&tie.mark)),
        ("x", number(tidy_mm(tie.at.0))),
        ("y", number(tidy_mm(tie.at.1))),
        ("role", text(tie.role.id())),
        ("pinned", tie.pinned.to_string()),
        ("locked", tie.locked.to_string()),
    ])
}

/// Members on one line.
pub(super) fn object(members: &[(&str, String)]) -> String {
    let members: Vec<String> = members.iter().map(|(key, value)| format!("\"{key}\": {value}")).collect();
    format!("{{ {} }}", members.join(", "))
}

/// Items one a line, set in by two more than the line the array begins on.
pub(super) fn array(items: &[String], indent: usize) -> String {
    if items.is_empty() {
        return "[]".to_owned();
    }
    let (inner, outer) = (" ".repeat(indent + 2), " ".repeat(indent));
    format!("[\n{inner}{}\n{outer}]", items.join(&format!(",\n{inner}")))
}

pub(super) fn text(s: &str) -> String {
    Value::from(s).to_string()
}

/// A plain JSON number; null, which no checked drawing gives, where there is none.
pub(super) fn number(v: f64) -> String {
    Number::from_f64(v).map_or(Value::Null, Value::Number).to_string()
}

fn six_places(v: f64) -> f64 {
    let r = (v * 1e6).round() / 1e6;
    if r == 0.0 { 0.0 } else { r }
}
