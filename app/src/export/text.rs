//! What the commands print for a person: summaries, quantities, breaches, rule sets.

use super::rule_list::rules_used;
use crate::report::{CAUTION, Report, breaches, old_ties};
use layout_core::check::{Finding, Severity};
use layout_core::elevation::{Point, Project};
use layout_core::marking::Marking;
use layout_core::units::tidy_mm;
use layout_core::{Plan, Role};

/// Width that running text is broken at, characters.
const LINE: usize = 96;

/// Label column of the summaries, characters.
const LABEL: usize = 12;

/// What was set out: each elevation with its counts, areas, rows and findings.
#[must_use]
pub fn set_out(report: &Report) -> String {
    let mut out = heading(&report.project);
    for (elevation, plan) in report.elevations() {
        out.push_str(&format!("\n{}\n", one_line(&elevation.name)));
        item(&mut out, "rules", &format!("{}: {}", one_line(&plan.rules.id), plan.rules.title));
        let (gross, openings, net) = (plan.gross_area, plan.opening_area(), plan.net_area);
        item(
            &mut out,
            "area",
            &format!("{net:.2} m² of masonry ({gross:.2} less openings of {openings:.2})"),
        );
        item(&mut out, "ties", &format!("{} ({})", plan.ties.len(), by_role(plan)));
        item(&mut out, "bound", &bound(plan));
        item(&mut out, "density", &density(plan));
        item(&mut out, "rows", &rows(plan));
        item(&mut out, "marking out", &marking_out(&plan.marking));
        if let Some(wind) = &plan.engineering.demand {
            item(&mut out, "wind", &crate::engineering::in_short(wind));
        }
        if let Some(fixing) = plan.engineering.fixing.as_ref().and_then(|c| c.fixing()) {
            item(&mut out, "fixing", &one_line(&fixing.name));
        }
        item(&mut out, "findings", &count_findings(plan));
        for finding in &plan.findings {
            finding_lines(&mut out, finding);
        }
    }
    if report.plans.len() > 1 {
        let (ties, net) = (report.tie_count(), report.total(|_, p| p.net_area));
        out.push_str(&format!(
            "\nIn all: {ties} ties on {net:.2} m² of masonry, {} elevations.\n",
            report.plans.len()
        ));
    }
    out.push('\n');
    out.push_str(&wrapped(CAUTION, "", LINE));
    out
}

/// The breaches of the ties as they stand, with what was measured, what is required and its source.
#[must_use]
pub fn verify(report: &Report) -> String {
    let mut out = heading(&report.project);
    let mut total = 0;
    for (elevation, plan) in report.elevations() {
        let count = breaches(plan).count();
        total += count;
        let stand = if elevation.automatic { "set out by rule" } else { "as placed by hand" };
        let result = if count == 0 { "no breach".to_owned() } else { plural(count, "breach", "breaches") };
        out.push_str(&format!(
            "\n{}: {}, {stand}; {result} of {}\n",
            one_line(&elevation.name),
            plural(plan.ties.len(), "tie", "ties"),
            one_line(&plan.rules.id)
        ));
        for finding in breaches(plan) {
            finding_lines(&mut out, finding);
            if let (Some(measured), Some(required)) = (finding.measured, finding.required) {
                let unit = unit_of(finding);
                let text = format!("measured {}{unit}, required {}{unit}", plain(measured), plain(required));
                out.push_str(&wrapped(&text, "        ", LINE));
            }
            out.push_str(&wrapped(&format!("source: {}", finding.source), "        ", LINE));
        }
    }
    let result = if total == 0 {
        "No breach.".to_owned()
    } else {
        format!("{}.", plural(total, "breach", "breaches"))
    };
    out.push_str(&format!("\n{result}\n"));
    out
}

/// Quantities by elevation and in all, in columns.
#[must_use]
pub fn take_off(report: &Report, spare_per_cent: f64) -> String {
    let mut out = heading(&report.project);
    out.push('\n');
    let mut table = vec![vec!["".to_owned()]];
    table[0].extend(["gross m²", "openings m²", "net m²"].map(str::to_owned));
    table[0].extend(Role::ALL.map(|r| r.words().to_owned()));
    table[0].extend(["ties", "at least", "per m²"].map(str::to_owned));
    for (elevation, plan) in report.elevations() {
        let areas = [plan.gross_area, plan.opening_area(), plan.net_area];
        let ties = (plan.ties.len(), plan.lower_bound);
        table.push(quantities(&one_line(&elevation.name), areas, |r| plan.count(r), ties));
    }
    let areas = [
        report.total(|_, p| p.gross_area),
        report.total(|_, p| p.opening_area()),
        report.total(|_, p| p.net_area),
    ];
    let ties = (report.tie_count(), report.plans.iter().map(|p| p.lower_bound).sum());
    table.push(quantities("All elevations", areas, |r| report.role_count(r), ties));
    out.push_str(&columns(&table));
    out.push_str("At least: no layout that meets the rules has fewer ties than that.\n");
    out.push_str(&materials(report, spare_per_cent));
    out.push_str(&super::engineering::take_off(report));
    if !report.plans.is_empty() {
        out.push_str("\nMarking out\n");
        for (elevation, plan) in report.elevations() {
            let text = format!("{}: {}", one_line(&elevation.name), marking_out(&plan.marking));
            out.push_str(&wrapped(&text, "  ", LINE));
        }
        out.push_str("\nRules\n");
        out.push_str(&rules_used(report));
    }
    out
}

/// A row of the table; `ties` and how few any layout would have.
fn quantities(
    name: &str,
    areas: [f64; 3],
    role: impl Fn(Role) -> usize,
    (ties, least): (usize, usize),
) -> Vec<String> {
    let mut row = vec![name.to_owned()];
    row.extend(areas.map(|a| format!("{a:.2}")));
    row.extend(Role::ALL.map(|r| role(r).to_string()));
    row.extend([ties, least].map(|n| n.to_string()));
    row.push(if areas[2] > 0.0 { format!("{:.2}", ties as f64 / areas[2]) } else { "-".to_owned() });
    row
}

fn materials(report: &Report, spare_per_cent: f64) -> String {
    let ties = report.tie_count();
    let mut out = "\nMaterials\n".to_owned();
    item(&mut out, "ties", &format!("{ties}, each with its hole to drill and to make good"));
    if spare_per_cent > 0.0 {
        // A hair above a whole number is that number: 10 % of 110 is 11, not 12.
        let spare = (ties as f64 * spare_per_cent / 100.0 - 1e-9).ceil() as usize;
        item(&mut out, "to order", &format!("{} with {}% spare", ties + spare, plain(spare_per_cent)));
    }
    for elevation in &report.project.elevations {
        let old: Vec<String> =
            old_ties(elevation).iter().map(|(f, n)| format!("{n} {}", f.words())).collect();
        if !old.is_empty() {
            item(&mut out, "old ties", &format!("{}: {}", one_line(&elevation.name), old.join(", ")));
        }
    }
    out
}

pub(super) fn heading(project: &Project) -> String {
    let mut out = format!("{}\n", one_line(&project.title));
    let revision = format!("revision {}", project.revision);
    let parts = [&project.reference, &project.site, &revision];
    let parts: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).map(|p| one_line(p)).collect();
    out.push_str(&format!("{}\n", parts.join(" · ")));
    if project.elevations.is_empty() {
        out.push_str("\nThe project has no elevations yet.\n");
    }
    out
}

fn by_role(plan: &Plan) -> String {
    let mut parts: Vec<String> = Role::ALL
        .into_iter()
        .map(|r| (r, plan.count(r)))
        .filter(|&(_, n)| n > 0)
        .map(|(r, n)| format!("{n} {}", r.words()))
        .collect();
    let pinned = plan.ties.iter().filter(|t| t.pinned).count();
    if pinned > 0 {
        parts.push(format!("{pinned} of them pinned"));
    }
    let locked = plan.ties.iter().filter(|t| t.locked).count();
    if locked > 0 {
        parts.push(format!("{locked} of them in locked areas"));
    }
    if parts.is_empty() { "none".to_owned() } else { parts.join(", ") }
}

/// How few ties any layout would have, as far as that can be proved.
fn bound(plan: &Plan) -> String {
    if plan.has_breach() {
        return "not compared: the rules are not all met".to_owned();
    }
    format!("no layout that meets these rules has fewer than {}", plan.lower_bound)
}

fn density(plan: &Plan) -> String {
    let figure = plan.rules.density.value;
    let asks = match figure.minimum() {
        Some(least) if figure.edges_on_top() => format!("at least {} and the edge ties on top", plain(least)),
        Some(least) => format!("at least {}", plain(least)),
        None => format!("{} is the rules' equivalent of the spacing", plain(figure.per_m2())),
    };
    format!("{:.2} per m² ({asks})", plan.density())
}

fn rows(plan: &Plan) -> String {
    let heights = plan.row_heights();
    if heights.is_empty() {
        return "none".to_owned();
    }
    let list: Vec<String> = heights.iter().map(|&y| tidy_mm(y).to_string()).collect();
    format!("{} at {} mm", heights.len(), list.join(", "))
}

/// How easy the layout is to mark out, in a sentence.
pub(crate) fn marking_out(m: &Marking) -> String {
    let mut parts = vec![format!(
        "{}, {} of them full rows of the field; {} a row at most, {} in the mean; {}% of the ties on the regular grid",
        plural(m.rows, "row", "rows"),
        m.main_rows,
        plural(m.most_steps, "different step", "different steps"),
        plain(m.mean_steps),
        per_cent(m.grid_share())
    )];
    if m.jambs > 0 {
        parts.push(format!(
            "the ties of {} of {} on one plumb line",
            m.plumb_jambs,
            plural(m.jambs, "jamb", "jambs")
        ));
    }
    if m.repeated_openings > 0 {
        parts.push(format!("{} of {} repeated openings alike", m.alike_openings, m.repeated_openings));
    }
    if let Some(share) = m.mirrored_share() {
        parts.push(format!("{}% of the ties mirrored", per_cent(share)));
    }
    parts.join("; ")
}

pub(crate) fn per_cent(share: f64) -> String {
    // Rounded down: 100 means all of them.
    ((share * 100.0 + 1e-9).floor() + 0.0).to_string()
}

fn count_findings(plan: &Plan) -> String {
    let broken = breaches(plan).count();
    let notes = plan.findings.len() - broken;
    match (broken, notes) {
        (0, 0) => "none".to_owned(),
        (b, 0) => plural(b, "breach", "breaches"),
        (0, n) => format!("no breach, {}", plural(n, "note", "notes")),
        (b, n) => format!("{}, {}", plural(b, "breach", "breaches"), plural(n, "note", "notes")),
    }
}

fn finding_lines(out: &mut String, finding: &Finding) {
    let kind = match finding.severity {
        Severity::Breach => "breach",
        Severity::Note => "note",
    };
    let text =
        format!("{kind}: {} at {}: {}", finding.rule.words(), place(finding.at), one_line(&finding.message));
    out.push_str(&wrapped(&text, "    ", LINE));
}

fn place((x, y): Point) -> String {
    format!("({}, {})", x.round() + 0.0, y.round() + 0.0)
}

fn unit_of(finding: &Finding) -> &'static str {
    use layout_core::check::Rule;
    match finding.rule {
        Rule::Coverage => " m²",
        Rule::Density => " ties",
        _ => " mm",
    }
}

/// A figure to at most two decimals.
pub(crate) fn plain(v: f64) -> String {
    let r = (v * 100.0).round() / 100.0;
    (r + 0.0).to_string()
}

fn plural(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// A label and its text, broken at words and lined up.
fn item(out: &mut String, label: &str, text: &str) {
    let indent = " ".repeat(LABEL + 2);
    let lines = wrapped(text, &indent, LINE);
    out.push_str(&format!("  {label:<LABEL$}{}", lines.trim_start()));
}

/// Text broken at words, every line set in.
pub(crate) fn wrapped(text: &str, indent: &str, width: usize) -> String {
    let mut out = String::new();
    let mut line = indent.to_owned();
    let mut used = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if used > 0 && indent.chars().count() + used + 1 + length > width {
            out.push_str(&line);
            out.push('\n');
            line = indent.to_owned();
            used = 0;
        }
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += length;
    }
    out.push_str(&line);
    out.push('\n');
    out
}

/// The user's text on one line of a terminal: control characters give way to spaces.
pub(crate) fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// Rows in columns: the first to the left, figures to the right, with a rule under the heads.
pub(crate) fn columns(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |c: usize| rows.iter().filter_map(|r| r.get(c)).map(|s| s.chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..count).map(width).collect();
    let mut out = String::new();
    for (i, row) in rows.iter().enumerate() {
        let cells = row.iter().zip(&widths).enumerate();
        let cells = cells.map(|(c, (s, &w))| if c == 0 { format!("{s:<w$}") } else { format!("{s:>w$}") });
        out.push_str(cells.collect::<Vec<_>>().join("  ").trim_end());
        out.push('\n');
        if i == 0 {
            let dashes: Vec<String> = widths.iter().map(|&w| "-".repeat(w)).collect();
            out.push_str(&dashes.join("  "));
            out.push('\n');
        }
    }
    out
}
