//! Wind, fixing, lengths, tests, old ties and price as text and as JSON.

use super::json::{array, number, object, text};
use super::text::{columns, heading, one_line, wrapped};
use crate::engineering::{Section, price, sections};
use crate::report::{CAUTION, Report};
use layout_core::Plan;
use layout_core::demand::Assessment;
use layout_core::elevation::Elevation;
use layout_core::engineering::proposal;
use layout_core::units::tidy_mm;

/// Width that running text is broken at, characters.
const LINE: usize = 96;

/// Everything worked out beyond the places of the ties, step by step.
#[must_use]
pub fn account(report: &Report) -> String {
    let mut out = heading(&report.project);
    for (elevation, plan) in report.elevations() {
        out.push_str(&format!("\n{}\n", one_line(&elevation.name)));
        let all = sections(elevation, plan);
        if all.is_empty() {
            out.push_str("  Nothing is entered of wind, wall, tests or old ties.\n");
        }
        for s in &all {
            section(&mut out, s);
        }
    }
    if let Some(p) = report.price() {
        section(&mut out, &price(&p));
    }
    out.push('\n');
    out.push_str(&wrapped(CAUTION, "", LINE));
    out
}

pub(super) fn section(out: &mut String, s: &Section) {
    out.push_str(&format!("\n  {}\n", s.title));
    for l in &s.lines {
        let head = format!("{}: {}", one_line(&l.label), one_line(&l.value));
        out.push_str(&wrapped(&head, "    ", LINE));
        if !l.how.is_empty() {
            out.push_str(&wrapped(&one_line(&l.how), "        ", LINE));
        }
    }
    for note in &s.notes {
        let lines = wrapped(&one_line(note), "      ", LINE);
        out.push_str(&format!("    - {}", lines.trim_start()));
    }
}

/// Lines of the take-off: ties by length, resin, old ties by treatment, tests, price.
#[must_use]
pub fn take_off(report: &Report) -> String {
    let mut rows = vec![["", "quantity", ""].map(str::to_owned).to_vec()];
    for (e, plan) in report.elevations() {
        let name = one_line(&e.name);
        let mut add = |what: String, quantity: String, unit: &str| {
            rows.push(vec![format!("{name}: {what}"), quantity, unit.to_owned()]);
        };
        if let Some(l) = &plan.engineering.lengths {
            for g in l.groups.iter().filter(|g| !g.ties.is_empty()) {
                let length =
                    g.length.map_or_else(|| "no length will do".to_owned(), |v| format!("{v} mm long"));
                add(format!("{}, {length}", l.fixing.name), g.ties.len().to_string(), "no.");
            }
            if l.resin_ml > 0.0 {
                add("resin with waste of a fifth".to_owned(), format!("{:.0}", l.resin_to_order()), "ml");
            }
        }
        if let Some(t) = &plan.engineering.tests {
            add("pull tests".to_owned(), t.count().to_string(), "no.");
        }
        if let Some(s) = crate::engineering::old_ties(e) {
            for l in s.lines {
                add(format!("old ties, {}", l.label), l.value, "no.");
            }
        }
    }
    let mut out = String::new();
    if rows.len() > 1 {
        out.push_str("\nFixings, tests, old ties\n");
        out.push_str(&columns(&rows));
    }
    if let Some(p) = report.price() {
        section(&mut out, &price(&p));
    }
    out
}

/// Members of an elevation's result, each only where there is something to tell.
pub(super) fn members(elevation: &Elevation, plan: &Plan) -> Vec<(&'static str, String)> {
    let e = &plan.engineering;
    let mut out = Vec::new();
    if let Some(demand) = &e.demand {
        out.push(("wind", wind(demand)));
    }
    if let Some(c) = &e.fixing {
        let names = |i: Option<usize>| {
            i.and_then(|i| c.ranked.get(i)).map_or_else(|| "null".to_owned(), |r| text(&r.fixing.id))
        };
        let ranked: Vec<String> = c.ranked.iter().map(|r| text(&r.fixing.id)).collect();
        let excluded = c
            .excluded
            .iter()
            .map(|x| object(&[("fixing", text(&x.fixing.id)), ("why", text(&x.why.join("; ")))]));
        out.push((
            "fixing",
            object(&[
                ("chosen", names(c.chosen)),
                ("fallback", names(c.fallback)),
                ("ranked", format!("[{}]", ranked.join(", "))),
                ("excluded", array(&excluded.collect::<Vec<_>>(), 6)),
                ("stainless", text(&c.stainless.reference)),
            ]),
        ));
    }
    if let Some(l) = &e.lengths {
        let groups = l.groups.iter().map(|g| {
            object(&[
                ("length", g.length.map_or_else(|| "null".to_owned(), number)),
                ("ties", g.ties.len().to_string()),
                ("cavity_from", number(g.cavity.0)),
                ("cavity_to", number(g.cavity.1)),
            ])
        });
        out.push(("lengths", array(&groups.collect::<Vec<_>>(), 6)));
        out.push(("resin_ml", number(two_places(l.resin_ml))));
    }
    if let Some(t) = &e.tests {
        let areas = t.areas.iter().map(|a| {
            let marks = a.chosen.iter().filter_map(|&i| plan.ties.get(i)).map(|t| text(&t.mark));
            object(&[
                ("area", text(&a.name)),
                ("ties", a.ties.to_string()),
                ("before_work", a.before.to_string()),
                ("test", format!("[{}]", marks.collect::<Vec<_>>().join(", "))),
                ("verdict", text(a.verdict.id())),
            ])
        });
        out.push((
            "tests",
            object(&[
                ("scheme", text(t.scheme.words())),
                ("seed", t.seed.to_string()),
                ("load_n", t.load.map_or_else(|| "null".to_owned(), |l| number(two_places(l)))),
                ("areas", array(&areas.collect::<Vec<_>>(), 6)),
            ]),
        ));
    }
    if crate::engineering::old_ties(elevation).is_some() {
        let old = elevation.existing_ties.iter().map(|t| {
            let p = proposal(t);
            object(&[
                ("x", number(tidy_mm(t.at.0))),
                ("y", number(tidy_mm(t.at.1))),
                ("form", text(t.form.words())),
                ("grade", t.grade.to_string()),
                ("treatment", text(p.treatment.words())),
                ("reason", text(&p.reason)),
            ])
        });
        out.push(("old_ties", array(&old.collect::<Vec<_>>(), 6)));
    }
    out
}

fn wind(assessment: &Assessment) -> String {
    let demand = match assessment {
        Assessment::Incomplete(missing) => {
            let missing: Vec<String> = missing.iter().map(|m| text(m)).collect();
            return object(&[("missing", format!("[{}]", missing.join(", ")))]);
        }
        Assessment::Done(d) => d,
    };
    let zones = demand.zones.iter().map(|z| {
        object(&[
            ("zone", text(&z.name)),
            ("x_from", number(tidy_mm(z.x.0))),
            ("x_to", number(tidy_mm(z.x.1))),
            ("y_from", number(tidy_mm(z.y.0))),
            ("y_to", number(tidy_mm(z.y.1))),
            ("outward_kn_m2", number(six_places(z.outward))),
            ("inward_kn_m2", number(six_places(z.inward))),
            ("per_m2", z.per_m2.map_or_else(|| "null".to_owned(), |v| number(six_places(v)))),
            ("horizontal", number(z.horizontal)),
            ("vertical", number(z.vertical)),
            ("governs", text(z.governs.id())),
        ])
    });
    let steps = demand.steps.iter().map(|s| {
        object(&[
            ("what", text(&s.what)),
            ("value", number(six_places(s.value))),
            ("unit", text(s.unit)),
            ("how", text(&s.how)),
            ("source", text(&s.source.document)),
            ("mark", text(&s.source.sureness.mark().to_string())),
        ])
    });
    let list = |all: &[String]| all.iter().map(|t| text(t)).collect::<Vec<_>>();
    object(&[
        ("method", text(&demand.method)),
        ("zones", array(&zones.collect::<Vec<_>>(), 6)),
        ("steps", array(&steps.collect::<Vec<_>>(), 6)),
        ("cautions", array(&list(&demand.cautions), 6)),
        ("not_checked", array(&list(&demand.not_checked), 6)),
    ])
}

fn six_places(v: f64) -> f64 {
    (v * 1e6).round() / 1e6
}

fn two_places(v: f64) -> f64 {
    (v * 100.0).round() / 100.0
}
