//! The text of a project file as it is saved: tidy, one thing a line, so that changes show as such.
//!
//! Lists that are empty and flags at their default are left out. Every struct is taken apart field
//! by field: a field added to the model does not compile until it is saved too.

use layout_core::elevation::{
    Coursing, CustomEdges, CustomRules, Elevation, ExistingTie, KeepOut, Locked, MovementJoint, Opening,
    Pattern, Point, Project, RuleChoice, Shape, Style, Treatment, USUAL_BRICK,
};
use layout_core::rules::EdgeScope;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::Serialize;
use std::fmt::Write;

/// Most points of a ring on one line.
const POINTS_A_LINE: usize = 6;

pub(super) fn project_text(project: &Project) -> String {
    let Project { format, title, reference, site, client, drawn_by, revision, notes, rates, elevations } =
        project;
    let mut out = format!("(\n    format: {format},\n");
    let texts = [
        ("title", title),
        ("reference", reference),
        ("site", site),
        ("client", client),
        ("drawn_by", drawn_by),
        ("revision", revision),
    ];
    for (key, value) in texts {
        line(&mut out, 1, &format!("{key}: {}", quoted(value)));
    }
    list(&mut out, 1, "notes", notes, |n| quoted(n));
    whole(&mut out, 1, "rates", rates.as_ref());
    out.push_str("    elevations: [\n");
    for e in elevations {
        elevation_text(&mut out, e);
    }
    out.push_str("    ],\n)\n");
    out
}

fn elevation_text(out: &mut String, elevation: &Elevation) {
    let Elevation {
        name,
        outline,
        sides,
        openings,
        keep_outs,
        movement_joints,
        existing_ties,
        pinned,
        locked,
        automatic,
        coursing,
        rules,
        style,
        pattern,
        exposure,
        substrate,
        tests,
    } = elevation;
    out.push_str("        (\n");
    line(out, 3, &format!("name: {}", quoted(name)));
    line(out, 3, &format!("outline: {}", ring(outline, 3)));
    if !sides.is_empty() {
        let sides: Vec<String> = sides.iter().map(|s| format!("{s:?}")).collect();
        line(out, 3, &format!("sides: [{}]", sides.join(", ")));
    }
    list(out, 3, "openings", openings, |Opening { name, shape }| {
        format!("(name: {}, shape: {})", quoted(name), shape_text(shape))
    });
    list(out, 3, "keep_outs", keep_outs, |KeepOut { name, shape, clearance }| {
        format!("(name: {}, shape: {}, clearance: {clearance})", quoted(name), shape_text(shape))
    });
    list(out, 3, "movement_joints", movement_joints, |MovementJoint { x, from, to }| {
        format!("(x: {x}, from: {from}, to: {to})")
    });
    list(out, 3, "existing_ties", existing_ties, |ExistingTie { at, form, grade, treatment }| {
        let grade = if *grade == 0 { String::new() } else { format!(", grade: {grade}") };
        let treated = *treatment != Treatment::AsProposed;
        let treatment = if treated { format!(", treatment: {treatment:?}") } else { String::new() };
        format!("(at: {}, form: {form:?}{grade}{treatment})", point(at))
    });
    if !pinned.is_empty() {
        line(out, 3, &format!("pinned: {}", ring(pinned, 3)));
    }
    list(out, 3, "locked", locked, |Locked { name, shape, ties }| {
        format!("(name: {}, shape: {}, ties: {})", quoted(name), shape_text(shape), ring(ties, 4))
    });
    if !automatic {
        line(out, 3, "automatic: false");
    }
    let Coursing { gauge, first_bed, fix, brick } = coursing;
    let brick =
        if brick.to_bits() == USUAL_BRICK.to_bits() { String::new() } else { format!(", brick: {brick}") };
    line(out, 3, &format!("coursing: (gauge: {gauge}, first_bed: {first_bed}, fix: {fix:?}{brick})"));
    line(out, 3, &format!("rules: {}", rules_text(rules)));
    if *style != Style::default() {
        line(out, 3, &format!("style: {style:?}"));
    }
    if *pattern != Pattern::default() {
        line(out, 3, &format!("pattern: {pattern:?}"));
    }
    whole(out, 3, "exposure", exposure.as_ref());
    whole(out, 3, "substrate", substrate.as_ref());
    whole(out, 3, "tests", tests.as_ref());
    out.push_str("        ),\n");
}

/// A field with everything below it as the file format's own writer has it; nothing if it is not there.
fn whole<T: Serialize>(out: &mut String, depth: usize, key: &str, value: Option<&T>) {
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    // Fields one a line, and items of their lists.
    let config = PrettyConfig::new().depth_limit(2).new_line("\n").indentor("    ");
    let Some(Ok(text)) = value.map(|v| options.to_string_pretty(v, config)) else { return };
    let break_ = format!("\n{}", indent(depth));
    line(out, depth, &format!("{key}: {}", text.replace('\n', &break_)));
}

fn rules_text(rules: &RuleChoice) -> String {
    let custom = match rules {
        RuleChoice::Named(id) => return format!("Named({})", quoted(id)),
        RuleChoice::File(file) => return format!("File({})", quoted(&file.path)),
        RuleChoice::Custom(custom) => custom,
    };
    let CustomRules {
        name,
        source,
        horizontal,
        vertical,
        per_m2,
        edges_on_top,
        edges,
        edge_distance,
        between,
        existing_clearance,
    } = custom;
    let edges = edges.map_or_else(|| "None".to_owned(), |e| edges_text(&e));
    let mut out = "Custom(\n".to_owned();
    line(&mut out, 4, &format!("name: {}", quoted(name)));
    line(&mut out, 4, &format!("source: {}", quoted(source)));
    line(&mut out, 4, &format!("horizontal: {horizontal}, vertical: {vertical}, per_m2: {per_m2}"));
    if *edges_on_top {
        line(&mut out, 4, "edges_on_top: true");
    }
    line(&mut out, 4, &format!("edges: {edges}"));
    line(
        &mut out,
        4,
        &format!(
            "edge_distance: {edge_distance}, between: {between}, existing_clearance: {existing_clearance}"
        ),
    );
    out.push_str(&indent(3));
    out.push(')');
    out
}

/// What is as by default is left out.
fn edges_text(CustomEdges { within, spacing, top, scope }: &CustomEdges) -> String {
    let mut out = format!("(within: {within}, spacing: {spacing}");
    if let Some(top) = top {
        out.push_str(&format!(", top: Some({top})"));
    }
    if *scope != EdgeScope::default() {
        out.push_str(&format!(", scope: {}", scope_text(*scope)));
    }
    out.push(')');
    out
}

/// Which edges, as files have it.
pub(super) fn scope_text(scope: EdgeScope) -> String {
    match scope {
        EdgeScope::Upright => "Upright".to_owned(),
        EdgeScope::OpeningPerimeter { exempt } => format!("OpeningPerimeter(exempt: {exempt})"),
        EdgeScope::EveryFreeEdge { corners } => format!("EveryFreeEdge(corners: {corners})"),
    }
}

fn shape_text(shape: &Shape) -> String {
    match shape {
        Shape::Rect { x, y, w, h } => format!("Rect(x: {x}, y: {y}, w: {w}, h: {h})"),
        Shape::Arched { x, y, w, h, rise } => format!("Arched(x: {x}, y: {y}, w: {w}, h: {h}, rise: {rise})"),
        Shape::Circle { x, y, r } => format!("Circle(x: {x}, y: {y}, r: {r})"),
        Shape::Polygon(points) => format!("Polygon({})", ring(points, 4)),
    }
}

/// Points as a list; long ones over several lines.
fn ring(points: &[Point], depth: usize) -> String {
    let lines: Vec<String> = points
        .chunks(POINTS_A_LINE)
        .map(|chunk| chunk.iter().map(point).collect::<Vec<_>>().join(", "))
        .collect();
    if lines.len() < 2 {
        return format!("[{}]", lines.concat());
    }
    let inner = indent(depth + 1);
    let body: String = lines.iter().map(|l| format!("{inner}{l},\n")).collect();
    format!("[\n{body}{}]", indent(depth))
}

fn point(&(x, y): &Point) -> String {
    format!("({x}, {y})")
}

/// A field that is a list, one item a line; nothing if it is empty.
fn list<T>(out: &mut String, depth: usize, key: &str, items: &[T], text: impl Fn(&T) -> String) {
    if items.is_empty() {
        return;
    }
    out.push_str(&format!("{}{key}: [\n", indent(depth)));
    for item in items {
        line(out, depth + 1, &text(item));
    }
    line(out, depth, "]");
}

fn line(out: &mut String, depth: usize, text: &str) {
    out.push_str(&indent(depth));
    out.push_str(text);
    out.push_str(",\n");
}

fn indent(depth: usize) -> String {
    "    ".repeat(depth)
}

/// Text in quotes; what would break the line is escaped.
pub(super) fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{feff}') => {
                // Writing to a String cannot fail.
                let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
