//! Wind, fixing, lengths, tests, old ties and price in words: one account, shown by commands, panels and sheets.

use layout_core::Plan;
use layout_core::demand::{Assessment, Demand, DemandZone, Governs};
use layout_core::elevation::{Elevation, Treatment};
use layout_core::engineering::{Price, proposal};
use layout_core::fixing::{Choice, Lengths};
use layout_core::testing::{TestPlan, Verdict, lowest_failed};

/// A part of the account.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// What it is about.
    pub title: String,
    /// Lines: a label, a value, and how the value was found; any may be empty.
    pub lines: Vec<Line>,
    /// Sentences below them.
    pub notes: Vec<String>,
}

/// A line of a section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// What it is.
    pub label: String,
    /// The value, with its unit.
    pub value: String,
    /// How it was found and where it comes from.
    pub how: String,
}

impl Section {
    fn new(title: &str) -> Self {
        Self { title: title.to_owned(), ..Self::default() }
    }

    fn line(&mut self, label: impl Into<String>, value: impl Into<String>, how: impl Into<String>) {
        self.lines.push(Line { label: label.into(), value: value.into(), how: how.into() });
    }
}

/// Everything worked out for an elevation beyond the places of its ties.
#[must_use]
pub fn sections(elevation: &Elevation, plan: &Plan) -> Vec<Section> {
    let e = &plan.engineering;
    let mut out = Vec::new();
    if let Some(demand) = &e.demand {
        out.push(wind(demand));
        out.extend(demand.demand().map(working));
    }
    out.extend(e.fixing.as_ref().map(fixing));
    out.extend(e.lengths.as_ref().map(lengths));
    out.extend(e.tests.as_ref().map(|t| tests(t, plan)));
    out.extend(old_ties(elevation));
    out
}

/// What a technician needs of it on the sheet: without the working and the fixings not chosen.
#[must_use]
pub fn for_sheet(elevation: &Elevation, plan: &Plan) -> Vec<Section> {
    let e = &plan.engineering;
    let mut out: Vec<Section> = e.demand.iter().map(wind).collect();
    if let Some(c) = &e.fixing {
        let mut s = fixing(c);
        let fallback = c.fallback.map(|i| format!("{}. {}", i + 1, c.ranked[i].fixing.name));
        let kept = |l: &Line| {
            l.value == CHOSEN
                || l.value == PROVISIONAL
                || Some(&l.label) == fallback.as_ref()
                || l.label.starts_with("Hole")
                || l.label.starts_with("Stainless")
        };
        s.lines.retain(kept);
        out.push(s);
    }
    out.extend(e.lengths.as_ref().map(lengths));
    out.extend(e.tests.as_ref().map(|t| tests(t, plan)));
    out.extend(old_ties(elevation));
    out
}

/// A figure as it is shown: three places, fewer for large ones.
#[must_use]
pub fn figure(v: f64) -> String {
    let text = if v.abs() >= 100.0 { format!("{v:.1}") } else { format!("{v:.3}") };
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// What a zone is called, with its place.
#[must_use]
pub fn zone_name(z: &DemandZone, many_heights: bool) -> String {
    let name = if z.name == "given" { "Whole elevation".to_owned() } else { format!("Zone {}", z.name) };
    let heights = if many_heights { format!(", y {:.0} to {:.0}", z.y.0, z.y.1) } else { String::new() };
    format!("{name}, x {:.0} to {:.0}{heights}", z.x.0, z.x.1)
}

/// The zones and what governs each.
#[must_use]
pub fn wind(assessment: &Assessment) -> Section {
    let mut s = Section::new("Wind");
    let demand = match assessment {
        Assessment::Incomplete(missing) => {
            s.notes.push(format!("Not worked out yet. Still to enter: {}.", missing.join("; ")));
            return s;
        }
        Assessment::Done(d) => d,
    };
    let many = demand.zones.iter().any(|z| z.y != demand.zones[0].y);
    for z in &demand.zones {
        let needs = z.per_m2.map_or_else(String::new, |n| format!("{n:.2} per m² needed; "));
        let governs = z.governs.words();
        let how = format!("{:.3} kN/m² outwards, {:.3} inwards; {needs}{governs}", z.outward, z.inward);
        s.line(zone_name(z, many), format!("{} x {} mm", figure(z.horizontal), figure(z.vertical)), how);
    }
    s.notes.push(format!("Method: {}.", demand.method));
    s.notes.extend(demand.cautions.iter().cloned());
    s.notes.push(format!("Not checked: {}.", demand.not_checked.join("; ")));
    s
}

/// Each step of the working.
#[must_use]
pub fn working(demand: &Demand) -> Section {
    let mut s = Section::new("Wind, step by step");
    for step in &demand.steps {
        let unit = if step.unit.is_empty() { String::new() } else { format!(" {}", step.unit) };
        s.line(
            &step.what,
            format!("{}{unit}", figure(step.value)),
            format!("{} [{}]", step.how, step.source),
        );
    }
    s
}

/// What the steps of the work are headed.
pub const ORDER: &str = "Order of work";

/// The place of the fixing that is taken, and of one that is taken until somebody has looked at the wall.
const CHOSEN: &str = "chosen";
const PROVISIONAL: &str = "provisional";

/// Why a fixing is provisional.
const NOT_KNOWN: &str = "only until it is known what both leaves are built of";

/// How the caution ends that a leaf is not known.
pub const OPEN_IT_UP: &str = "is not known: open it up and look.";

/// Whether it is known what both leaves are built of.
fn is_known(c: &Choice) -> bool {
    !c.cautions.iter().any(|caution| caution.ends_with(OPEN_IT_UP))
}

/// The ranked choice.
#[must_use]
pub fn fixing(c: &Choice) -> Section {
    let mut s = Section::new("Fixing");
    for (i, r) in c.ranked.iter().enumerate() {
        let place = if Some(i) == c.chosen {
            if is_known(c) { CHOSEN } else { PROVISIONAL }
        } else if Some(i) == c.fallback {
            "fallback"
        } else {
            "will do"
        };
        let reasons: Vec<String> = r
            .reasons
            .iter()
            .map(|x| format!("{} {}", if x.weight > 0 { "for it:" } else { "against it:" }, x.text))
            .collect();
        let reasons =
            if reasons.is_empty() { r.fixing.kind.data().suits.to_owned() } else { reasons.join("; ") };
        let reasons = if place == PROVISIONAL { format!("{NOT_KNOWN}; {reasons}") } else { reasons };
        s.line(format!("{}. {}", i + 1, r.fixing.name), place, reasons);
    }
    for e in &c.excluded {
        s.line(e.fixing.name.clone(), "excluded", e.why.join("; "));
    }
    if let Some(f) = c.fixing() {
        let d = f.kind.data();
        let place = if d.in_face { "brick face" } else { "bed joint" };
        s.line(
            "Hole and bar",
            format!("{} mm hole, {} mm bar", figure(f.hole), figure(f.bar)),
            format!(
                "into the {place}; embedment {} mm outer, {} mm inner leaf at least [{}]",
                figure(f.embed_outer),
                figure(f.embed_inner),
                f.source
            ),
        );
    }
    s.line(
        "Stainless steel",
        c.stainless.reference.clone(),
        format!("{} [{}]", c.stainless.why, c.stainless.source),
    );
    for (i, step) in c.order.iter().enumerate() {
        s.notes.push(format!("{ORDER} {}: {step}", i + 1));
    }
    s.notes.extend(c.objection.clone());
    s.notes.extend(c.cautions.iter().cloned());
    s
}

/// The lengths and the resin.
#[must_use]
pub fn lengths(l: &Lengths) -> Section {
    let mut s = Section::new("Lengths");
    let (least, mean, most) = l.cavity;
    s.line(
        "Cavity measured",
        format!("{} to {} mm", figure(least), figure(most)),
        format!("mean {} mm", figure((mean * 10.0).round() / 10.0)),
    );
    for g in &l.groups {
        let cavity = if g.cavity.0 == g.cavity.1 {
            figure(g.cavity.0)
        } else {
            format!("{} to {}", figure(g.cavity.0), figure(g.cavity.1))
        };
        let value = g.length.map_or_else(|| "none will do".to_owned(), |v| format!("{} mm", figure(v)));
        let how = g.fault.clone().unwrap_or_else(|| {
            format!("{} ties; {} to {} mm will do", g.ties.len(), figure(g.range.0), figure(g.range.1))
        });
        s.line(format!("Ties at a cavity of {cavity} mm"), value, how);
    }
    if l.resin_ml > 0.0 {
        s.line(
            "Resin",
            format!("{:.0} ml", l.resin_to_order()),
            format!(
                "{:.1} ml between bar and hole, and a fifth for waste (common practice, no source)",
                l.resin_ml
            ),
        );
    }
    s.notes.extend(l.faults.iter().cloned());
    s.notes.extend(l.cautions.iter().cloned());
    s
}

/// The plan of the pull tests and what their results mean.
#[must_use]
pub fn tests(t: &TestPlan, plan: &Plan) -> Section {
    let mut s = Section::new("Pull tests");
    s.line("Scheme", t.scheme.words(), t.source.to_string());
    let load = t.load.map_or_else(|| "not known".to_owned(), |l| format!("{:.2} kN", l / 1000.0));
    s.line("Test load", load, t.load_how.clone());
    s.line(
        "Drawn by lot",
        format!("seed {}", t.seed),
        "one tie from each patch of an area; the same seed draws the same ties",
    );
    for a in &t.areas {
        let marks: Vec<&str> =
            a.chosen.iter().filter_map(|&i| plan.ties.get(i)).map(|t| t.mark.as_str()).collect();
        let which = match marks.len() {
            0 => "none".to_owned(),
            n if n == a.ties => "every tie".to_owned(),
            _ => marks.join(", "),
        };
        let leaf = a.leaf.map_or_else(String::new, |l| format!(", {}", l.words()));
        let before = if a.before > 0 {
            format!("{} trial ties in each leaf before work starts; then ", a.before)
        } else {
            String::new()
        };
        s.line(
            format!("{}, {} ties", a.name, a.ties),
            format!("{} to test", a.chosen.len()),
            format!("{before}{which}{leaf}. {}", a.verdict.words()),
        );
    }
    s.notes.extend(t.cautions.iter().cloned());
    s
}

/// What the results of an area come to, in two or three words.
#[must_use]
pub fn in_brief(verdict: &Verdict) -> &'static str {
    match verdict {
        Verdict::Before { .. } => "Trial ties first",
        Verdict::TrialFailed { .. } => "Do not start",
        Verdict::Open { .. } => "Go on testing",
        Verdict::Passed { .. } => "Held",
        Verdict::OneFailure { .. } => "Test more",
        Verdict::MoreFailures { .. } => "Test every tie",
    }
}

/// What the lowest load at which a tie failed does to the spacing; nothing where none failed.
#[must_use]
pub fn after_failure(e: &Elevation, plan: &Plan) -> Option<String> {
    let load = lowest_failed(e)?;
    let next = match plan.engineering.demand.as_ref().map(Assessment::demand) {
        Some(Some(d)) if d.zones.iter().all(|z| z.per_m2.is_none()) => {
            "Enter what one tie is declared to carry, on the page Wind, and the spacing follows this load"
        }
        Some(Some(_)) => "Where it is below what one tie is declared to carry, the ties are set out by it",
        _ => "Enter the wind and what one tie is declared to carry, and the spacing follows this load",
    };
    Some(format!("The lowest load at which a tie failed is {} N. {next}.", figure(load)))
}

/// Old ties by what is done with them, with the reasons; nothing where there are none.
#[must_use]
pub fn old_ties(e: &Elevation) -> Option<Section> {
    let graded = e.existing_ties.iter().any(|t| t.grade > 0 || t.treatment != Treatment::AsProposed);
    if !graded {
        return None;
    }
    let mut s = Section::new("Old ties");
    for treatment in [Treatment::Leave, Treatment::Isolate, Treatment::Remove, Treatment::AsProposed] {
        let mut reasons: Vec<(String, usize)> = Vec::new();
        for t in &e.existing_ties {
            let p = proposal(t);
            if p.treatment == treatment {
                let text = format!("{}: {} [{}]", t.form.words(), p.reason, p.source);
                match reasons.iter_mut().find(|r| r.0 == text) {
                    Some(r) => r.1 += 1,
                    None => reasons.push((text, 1)),
                }
            }
        }
        let n: usize = reasons.iter().map(|r| r.1).sum();
        if n > 0 {
            let label = if treatment == Treatment::AsProposed { "not decided" } else { treatment.words() };
            let how: Vec<String> = reasons.into_iter().map(|(t, n)| format!("{n} {t}")).collect();
            s.line(label, n.to_string(), how.join("; "));
        }
    }
    s.notes.push(
        "Whether an old tie still holds anything is for a competent engineer; the layout counts on none."
            .to_owned(),
    );
    Some(s)
}

/// The price, line by line.
#[must_use]
pub fn price(p: &Price) -> Section {
    let mut s = Section::new("Price at a fixed sum");
    let money = |v: f64| format!("{}{v:.2}", p.currency);
    for l in &p.lines {
        let how = match l.unit {
            "" => "a sum".to_owned(),
            "%" => format!("{} % of {}", figure(l.quantity), money(l.rate * 100.0)),
            unit => format!("{} {unit} at {}", figure(l.quantity), money(l.rate)),
        };
        s.line(&l.what, money(l.amount), how);
    }
    if p.lines.is_empty() {
        s.notes.push("Nothing is priced yet: enter a rate.".to_owned());
    } else {
        s.line("In all", money(p.total), "");
    }
    s.notes.extend(p.open.iter().cloned());
    s
}

/// The zones in a line, for summaries.
#[must_use]
pub fn in_short(assessment: &Assessment) -> String {
    let Some(d) = assessment.demand() else { return "not worked out: values are missing".to_owned() };
    let mut told: Vec<String> = Vec::new();
    for z in &d.zones {
        let name = if z.name == "given" { "all".to_owned() } else { z.name.clone() };
        let text = match z.governs {
            Governs::NotKnown => format!("{name} {:.2} kN/m² (no resistance given)", z.outward.max(z.inward)),
            Governs::TooMuch => {
                format!("{name} {:.2} per m²: too much for these ties", z.per_m2.unwrap_or(0.0))
            }
            _ => format!(
                "{name} {:.2} per m²: {} x {}, {}",
                z.per_m2.unwrap_or(0.0),
                figure(z.horizontal),
                figure(z.vertical),
                z.governs.words()
            ),
        };
        if !told.contains(&text) {
            told.push(text);
        }
    }
    told.join("; ")
}
