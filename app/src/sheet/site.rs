//! What is known of pull tests and old ties, as lines of their sheets.

use super::elevation::name_of;
use super::view::Wall;
use super::words::{Style, fill};
use layout_core::elevation::{ExistingTie, Leaf, LeafName, Point, TestResult, Treatment};
use layout_core::engineering::proposal;
use layout_core::testing::{AreaPlan, TestPlan, tie_of};

/// A pull test on its sheet; empty text leaves a box to fill in by hand.
#[derive(Clone, Debug, Default)]
pub(super) struct TestLine {
    /// Elevation, and area where it has several.
    pub elevation: String,
    /// Mark of the tie, or which trial.
    pub mark: String,
    /// Leaf and base material.
    pub base: String,
    /// Load to reach, kN.
    pub load: String,
    /// Load reached, kN.
    pub reached: String,
    /// Whether it held.
    pub verdict: String,
    /// Where it is: distance from the left end of the wall, and height.
    pub place: [String; 2],
    /// Anything seen.
    pub remarks: String,
}

/// Load, kN.
fn kn(load: f64, style: Style) -> String {
    if load > 0.0 { style.two(load / 1000.0) } else { String::new() }
}

/// The tests of an elevation: trials first, then the ties drawn by lot, then any others made.
pub(super) fn tests(wall: &Wall<'_>) -> Vec<TestLine> {
    let (Some(plan), Some(entered)) = (&wall.plan.engineering.tests, &wall.elevation.tests) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for area in &plan.areas {
        let made: Vec<&TestResult> = area.results.iter().filter_map(|&i| entered.results.get(i)).collect();
        let lines = Lines { wall, plan, area };
        if area.leaf.is_some() {
            lines.trials(&made, &mut out);
        }
        lines.ties(&made, &mut out);
    }
    out
}

/// The lines of one area.
struct Lines<'a> {
    wall: &'a Wall<'a>,
    plan: &'a TestPlan,
    area: &'a AreaPlan,
}

impl Lines<'_> {
    fn trials(&self, made: &[&TestResult], out: &mut Vec<TestLine>) {
        let w = &self.wall.style.words.engineering;
        for leaf in LeafName::ALL {
            let made: Vec<&TestResult> =
                made.iter().copied().filter(|r| r.before_work && r.leaf == leaf).collect();
            for k in 0..self.area.before.max(made.len()) {
                let mark = fill(w.trial, &[&(k + 1).to_string()]);
                let at = made.get(k).map(|r| r.at);
                out.push(self.line(mark, Some(leaf), made.get(k).copied(), at));
            }
        }
    }

    fn ties(&self, made: &[&TestResult], out: &mut Vec<TestLine>) {
        let ties = &self.wall.plan.ties;
        let during = made.iter().copied().filter(|r| self.area.leaf.is_none() || !r.before_work);
        let mut during: Vec<(Option<usize>, &TestResult)> = during.map(|r| (tie_of(r, ties), r)).collect();
        for &i in &self.area.chosen {
            let Some(tie) = ties.get(i) else { continue };
            let result = during.iter().position(|(t, _)| *t == Some(i)).map(|k| during.remove(k).1);
            out.push(self.line(tie.mark.clone(), self.area.leaf, result, Some(tie.at)));
        }
        for (tie, r) in during {
            let mark = tie.and_then(|i| ties.get(i)).map_or_else(String::new, |t| t.mark.clone());
            out.push(self.line(mark, Some(r.leaf), Some(r), Some(r.at)));
        }
    }

    fn line(
        &self,
        mark: String,
        leaf: Option<LeafName>,
        r: Option<&TestResult>,
        at: Option<Point>,
    ) -> TestLine {
        let (wall, style) = (self.wall, self.wall.style);
        let w = &style.words.engineering;
        let name = name_of(&wall.elevation.name, wall.index, style);
        let mut line = TestLine {
            elevation: if self.plan.areas.len() > 1 { format!("{name}, {}", self.area.name) } else { name },
            mark,
            base: leaf.map_or_else(String::new, |l| base(wall, l)),
            load: self.plan.load.map_or_else(String::new, |l| kn(l, style)),
            place: at.map_or_else(Default::default, |p| {
                [style.mm((p.0 - wall.bounds.left).round()), style.mm(p.1)]
            }),
            ..TestLine::default()
        };
        if let Some(r) = r {
            let low = self.plan.load.is_none_or(|l| r.load < l - 1e-9);
            line.reached = kn(r.load, style);
            line.verdict = if !r.held {
                w.failed
            } else if low {
                w.held_low
            } else {
                w.held
            }
            .to_owned();
            line.remarks = r.note.trim().to_owned();
        }
        line
    }
}

/// A leaf with its units, as far as they are known.
fn base(wall: &Wall<'_>, leaf: LeafName) -> String {
    let Some(s) = &wall.elevation.substrate else { return leaf.words().to_owned() };
    let l: &Leaf = match leaf {
        LeafName::Outer => &s.outer,
        LeafName::Inner => &s.inner,
    };
    fill(wall.style.words.engineering.leaf_of, &[leaf.words(), l.material.words(), l.voids.words()])
}

/// What is said of the tests above their list: scheme, load, and each area with what its results mean.
pub(super) fn test_notes(wall: &Wall<'_>) -> Vec<String> {
    let Some(plan) = &wall.plan.engineering.tests else { return Vec::new() };
    let style = wall.style;
    let w = &style.words.engineering;
    let load = plan.load.map_or_else(|| "–".to_owned(), |l| kn(l, style));
    let name = name_of(&wall.elevation.name, wall.index, style);
    let (seed, source) = (plan.seed.to_string(), plan.source.to_string());
    let mut out =
        vec![fill(w.scheme_of, &[&name, plan.scheme.words(), &seed, &load, &plan.load_how, &source])];
    out.extend(fixing(wall).into_iter().flat_map(|f| f.sentences(style)).take(1));
    for a in &plan.areas {
        let (ties, before, chosen) = (a.ties.to_string(), a.before.to_string(), a.chosen.len().to_string());
        out.push(fill(w.area_of, &[&a.name, &ties, &before, &chosen, &a.verdict.words()]));
    }
    out
}

/// What is to be done with an old tie.
#[derive(Clone, Debug, Default)]
pub(super) struct OldTieLine {
    /// Corrosion grade; empty if not known.
    pub grade: String,
    /// What is to be done; `None` if not decided.
    pub treatment: Option<Treatment>,
    /// Why, with its source.
    pub reason: String,
}

/// What is proposed for an old tie: nothing before it is graded or its treatment chosen.
pub(super) fn old_tie(t: &ExistingTie) -> OldTieLine {
    if t.grade == 0 && t.treatment == Treatment::AsProposed {
        return OldTieLine::default();
    }
    let p = proposal(t);
    OldTieLine {
        grade: if t.grade > 0 { t.grade.to_string() } else { String::new() },
        treatment: Some(p.treatment).filter(|t| *t != Treatment::AsProposed),
        reason: format!("{} [{}]", p.reason, p.source),
    }
}

/// The chosen fixing with its lengths, for the notes and the section.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fixed {
    name: String,
    in_face: bool,
    hole: f64,
    bar: f64,
    /// Least embedment in outer and inner leaf, mm.
    pub embed: (f64, f64),
    source: String,
    stainless: String,
    /// How much lower the outer end lies, mm.
    pub fall: f64,
    /// Lengths: mm, narrowest and widest cavity, ties.
    pub lengths: Vec<(f64, (f64, f64), usize)>,
}

/// The chosen fixing of an elevation, where its wall is known.
pub(super) fn fixing(wall: &Wall<'_>) -> Option<Fixed> {
    let e = &wall.plan.engineering;
    let choice = e.fixing.as_ref()?;
    let f = choice.fixing()?;
    let groups = e.lengths.iter().flat_map(|l| &l.groups);
    let lengths = groups.filter_map(|g| Some((g.length?, g.cavity, g.ties.len()))).collect();
    let fall = wall.elevation.substrate.as_ref().map_or(0.0, |s| s.fall);
    Some(Fixed {
        name: f.name.clone(),
        in_face: f.kind.data().in_face,
        hole: f.hole,
        bar: f.bar,
        embed: (f.embed_outer, f.embed_inner),
        source: f.source.to_string(),
        stainless: choice.stainless.reference.clone(),
        fall: if fall.is_finite() && fall > 0.0 { fall } else { 0.0 },
        lengths,
    })
}

/// A width or a range of widths, mm.
pub(super) fn span((from, to): (f64, f64), style: Style) -> String {
    let (from, to) = (style.mm(from), style.mm(to));
    if from == to { from } else { format!("{from}–{to}") }
}

impl Fixed {
    /// It in sentences: what, how deep, how long, how it slopes, of what steel.
    pub fn sentences(&self, style: Style) -> Vec<String> {
        let w = &style.words.engineering;
        let mm = |v: f64| style.figure(v);
        let place = if self.in_face { w.brick_face } else { w.bed_joint };
        let name = super::words::capital(&self.name);
        let mut out = vec![
            fill(w.fixing_into, &[&name, place, &mm(self.hole), &mm(self.bar)]),
            fill(w.embed, &[&mm(self.embed.0), &mm(self.embed.1), &self.source]),
        ];
        match self.lengths.as_slice() {
            [] => {}
            [(length, cavity, _)] => out.push(fill(w.one_length, &[&mm(*length), &span(*cavity, style)])),
            many => {
                let each = many.iter().map(|(length, cavity, n)| {
                    fill(w.length_of, &[&mm(*length), &span(*cavity, style), &n.to_string()])
                });
                out.push(fill(w.many_lengths, &[&each.collect::<Vec<_>>().join("; ")]));
            }
        }
        let slope = if self.fall > 0.0 { fill(w.falls, &[&mm(self.fall)]) } else { w.level.to_owned() };
        out.push(slope);
        out.push(fill(w.stainless, &[&self.stainless]));
        out
    }
}

/// The length of each tie, by its number in the layout, where ties differ; empty where all are alike or nothing
/// is known.
pub(super) fn lengths_of_ties(wall: &Wall<'_>) -> Vec<String> {
    let Some(l) = &wall.plan.engineering.lengths else { return Vec::new() };
    let mut out = vec![String::new(); wall.plan.ties.len()];
    for g in &l.groups {
        let said = g.length.map_or_else(|| "?".to_owned(), |v| wall.style.figure(v));
        for &i in &g.ties {
            if let Some(cell) = out.get_mut(i) {
                cell.clone_from(&said);
            }
        }
    }
    if out.windows(2).all(|p| p[0] == p[1]) { Vec::new() } else { out }
}
