//! Pull tests: the scheme, the ties drawn, results as they come in, and what they mean.

use egui::Ui;
use layout_core::elevation::{Elevation, LeafName, SiteTests, Substrate, TestArea, TestResult, TestScheme};
use layout_core::testing::{Verdict, tie_of};
use layout_core::{Plan, Tie};

use super::form::{Form, each};
use super::{section, told};
use crate::document::Change;
use crate::engineering;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::number::Must;
use crate::widgets::{heading, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let i = cx.session.elevation;
    let Some(tests) = cx.elevation().map(|e| e.tests.clone()) else { return };
    heading(ui, "Pull tests");
    let Some(tests) = tests else {
        quiet(
            ui,
            "How many ties are tested, which (drawn by lot, spread over the wall, ringed on the drawing), at what load, \
             and what the results mean.",
        );
        if ui.button("Plan pull tests").clicked() {
            cx.change(Change::Tests(Some(Box::default())));
        }
        return;
    };
    let mut new = tests;
    let mut form = Form::new(ui, "Tests", i);
    plan_fields(&mut form, &mut new);
    let mut changed = form.changed;
    changed |= areas(ui, i, &mut new.areas);
    let out = Form::new(ui, "Tests", i).button("Take the tests out");
    let plan = cx.derived.plan(i);
    let mut switch = None;
    if let (Some(plan), Some(e)) = (plan, cx.elevation()) {
        verdicts(ui, e, plan);
        if let Some((name, id)) = fallback(plan) {
            let tip = "The results stay in the project and judge nothing until this fixing is chosen again";
            if ui.button(format!("Switch to the {name}")).on_hover_text(tip).clicked() {
                switch = Some(id);
            }
        }
    }
    heading(ui, "Results");
    if let Some(plan) = plan {
        changed |= enter(ui, plan, &mut new);
    }
    changed |= results(ui, i, plan.map_or(&[][..], |p| &p.ties), &mut new.results);
    if let Some(plan) = plan
        && let Some(t) = &plan.engineering.tests
    {
        let title = "Which ties, at what load, and why".to_owned();
        section(ui, &engineering::Section { title, ..engineering::tests(t, plan) });
    }
    if out {
        cx.change(Change::Tests(None));
    } else if changed {
        cx.change(Change::Tests(Some(Box::new(new))));
    }
    let substrate = cx.elevation().and_then(|e| e.substrate.clone());
    if let (Some(fixing), Some(s)) = (switch, substrate) {
        cx.change(Change::Substrate(Some(Box::new(Substrate { fixing, ..s }))));
    }
}

/// What the results of each area mean, and what to do now.
fn verdicts(ui: &mut Ui, e: &Elevation, plan: &Plan) {
    let Some(tests) = &plan.engineering.tests else { return };
    heading(ui, "What to do now");
    let p = Palette::of(ui.ctx());
    if tests.load.is_none() {
        told(ui, p.note, "No test load", "Until it is entered, no tie counts as held at the test load.");
    }
    for a in &tests.areas {
        let ink = match &a.verdict {
            v if v.failed() => p.breach,
            Verdict::Passed { .. } => p.good,
            _ => p.note,
        };
        let head = format!("{}: {}", a.name, engineering::in_brief(&a.verdict));
        told(ui, ink, &head, &a.verdict.words());
    }
    if let Some(words) = engineering::after_failure(e, plan) {
        quiet(ui, words);
    }
}

/// The fallback fixing, by its name and id, where tests of the one chosen failed.
fn fallback(plan: &Plan) -> Option<(String, String)> {
    let failed = plan.engineering.tests.as_ref()?.areas.iter().any(|a| a.verdict.failed());
    let choice = plan.engineering.fixing.as_ref()?;
    let f = &choice.ranked.get(choice.fallback?)?.fixing;
    failed.then(|| (f.name.clone(), f.id.clone()))
}

fn plan_fields(form: &mut Form<'_>, t: &mut SiteTests) {
    let schemes: Vec<(TestScheme, &str)> = TestScheme::ALL.into_iter().map(|s| (s, s.words())).collect();
    form.choice("Scheme", &mut t.scheme, &schemes);
    if t.scheme == TestScheme::RemedialTies {
        form.number("Test load", "N", &mut t.proof, 0.0..=1e6);
        let mut trials = f64::from(t.trials);
        form.number("Trial ties", "in each leaf", &mut trials, 0.0..=1000.0);
        t.trials = trials as u32;
        let leaves: Vec<(LeafName, &str)> = LeafName::ALL.into_iter().map(|l| (l, l.words())).collect();
        form.choice("Weaker leaf", &mut t.weaker, &leaves);
        form.flag("Spans vertically, no returns or edge ties", &mut t.spans_vertically);
    } else {
        form.number("Action", "N, 0: from wind", &mut t.action, 0.0..=1e6);
    }
    // Whole numbers up to 2^53 are exact in a field of numbers.
    let mut seed = t.seed.min(1 << 53) as f64;
    let before = seed;
    form.number("Seed", "", &mut seed, 0.0..=9e15);
    if seed != before {
        t.seed = seed as u64;
    }
    if form.button("Draw other ties") {
        t.seed = t.seed.wrapping_add(1);
        form.changed = true;
    }
}

/// Areas tested each for itself. Says whether any was changed.
fn areas(ui: &mut Ui, i: usize, all: &mut Vec<TestArea>) -> bool {
    let mut changed = each(ui, i, "Test area", all, |form, _, a| {
        form.words("Area", "its name", &mut a.name);
        form.length("Left", &mut a.x, Must::BePlace);
        form.length("Lower edge", &mut a.y, Must::BePlace);
        form.length("Width", &mut a.w, Must::BeDistance);
        form.length("Height", &mut a.h, Must::BeDistance);
    });
    if ui.button("Add an area tested for itself").clicked() {
        all.push(TestArea {
            name: format!("Area {}", all.len() + 1),
            w: 3000.0,
            h: 3000.0,
            ..TestArea::default()
        });
        changed = true;
    }
    changed
}

/// Buttons for the ringed ties that have no result yet. Says whether one was entered.
fn enter(ui: &mut Ui, plan: &Plan, t: &mut SiteTests) -> bool {
    let Some(tests) = &plan.engineering.tests else { return false };
    let has = |i: usize| t.results.iter().any(|r| tie_of(r, &plan.ties) == Some(i));
    let open: Vec<&Tie> =
        tests.rings().into_iter().filter(|&i| !has(i)).filter_map(|i| plan.ties.get(i)).collect();
    let mut new = None;
    if !open.is_empty() {
        quiet(ui, "Ringed ties without a result: press one to enter it.");
        ui.horizontal_wrapped(|ui| {
            for tie in open {
                if ui.button(&tie.mark).on_hover_text("Enter the result of this tie").clicked() {
                    new = Some((tie.at, false));
                }
            }
        });
    }
    let remedial = t.scheme == TestScheme::RemedialTies;
    if remedial && ui.button("Enter a trial tie").clicked() {
        new = Some(((0.0, 0.0), true));
    }
    let Some((at, before_work)) = new else { return false };
    let leaf = if remedial && !before_work { t.weaker } else { LeafName::Outer };
    let fixing = plan.engineering.fixing.as_ref().and_then(|c| c.fixing());
    let fixing = fixing.map(|f| f.id.clone()).unwrap_or_default();
    // No load until it is read off the gauge: without one a pull proves nothing.
    t.results.push(TestResult { at, leaf, load: 0.0, before_work, fixing, ..TestResult::default() });
    true
}

/// Results, each with its fields. Says whether any was changed.
fn results(ui: &mut Ui, i: usize, ties: &[Tie], all: &mut Vec<TestResult>) -> bool {
    if all.is_empty() {
        quiet(ui, "None entered yet.");
    }
    each(ui, i, "Result", all, |form, n, r| {
        let tie = tie_of(r, ties).and_then(|t| ties.get(t));
        let place = match (tie, r.before_work) {
            (Some(t), _) => format!("tie {}", t.mark),
            (None, true) => "trial tie".to_owned(),
            (None, false) => "no tie of this layout stands there any more".to_owned(),
        };
        let held = if r.held { "held" } else { "failed" };
        let told = if r.load > 0.0 { held } else { "enter the load reached; until then it proves nothing" };
        quiet(form.ui, format!("{}. {place}, {}, {told}", n + 1, r.leaf.words()));
        form.number("Load reached", "N", &mut r.load, 0.0..=1e6);
        form.choice("It", &mut r.held, &[(true, "held"), (false, "failed: slipped, broke or pulled out")]);
        if tie.is_none() {
            form.length("At x", &mut r.at.0, Must::BePlace);
            form.length("At y", &mut r.at.1, Must::BePlace);
        }
        let leaves: Vec<(LeafName, &str)> = LeafName::ALL.into_iter().map(|l| (l, l.words())).collect();
        form.choice("In the", &mut r.leaf, &leaves);
        form.flag("Before work started", &mut r.before_work);
        form.words("Seen", "anything seen", &mut r.note);
    })
}
