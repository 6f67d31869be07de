//! Zones of the wind, rings of the pull tests, treatment of old ties: on the drawing, in its key and notes; and a
//! sheet with all that was worked out.

use super::draft::{Draft, MEDIUM, THIN, small};
use super::elevation::{Page, name_of};
use super::flow::{Notes, Sample};
use super::geom::PaperPoint;
use super::model::{Align, Dash, Graphic, Layer, SheetKind};
use super::notes::sheets_of;
use super::options::Include;
use super::paper::Paper;
use super::place::Taken;
use super::section::{self, Build};
use super::site;
use super::symbols::SIZE;
use super::view::{View, Wall};
use super::words::{EngineeringWords, fill};
use crate::engineering::{Section, figure, for_sheet};
use layout_core::demand::DemandZone;
use layout_core::elevation::{ExistingTie, Treatment};
use layout_core::testing::TestPlan;
use layout_core::{Tie, engineering};

/// Sides of the ring drawn round a tie.
const RING_SIDES: usize = 24;

/// How far the ring stands off the symbol, mm.
const RING_AIR: f64 = 0.75;

fn zones<'a>(wall: &'a Wall<'_>) -> &'a [DemandZone] {
    wall.plan.engineering.demand.as_ref().and_then(|d| d.demand()).map_or(&[], |d| d.zones.as_slice())
}

/// The ties of this piece that are to be tested.
fn tested<'a>(wall: &'a Wall<'_>) -> Vec<&'a Tie> {
    let all = wall.plan.engineering.tests.as_ref().map(TestPlan::rings).unwrap_or_default();
    all.into_iter().filter_map(|i| wall.plan.ties.get(i)).filter(|t| wall.owns(t.at)).collect()
}

/// The radius of the ring round a tie whose symbol is drawn at a size, mm.
fn ring_radius(size: f64) -> f64 {
    SIZE / 2.0 * size + RING_AIR
}

/// How far the symbol of each tie to be tested reaches with its ring, mm; ties by their number in the layout.
pub(super) fn reach(wall: &Wall<'_>, size: f64) -> impl Fn(usize) -> Option<f64> {
    let ringed = wall.plan.engineering.tests.as_ref().map(TestPlan::rings).unwrap_or_default();
    move |i| ringed.binary_search(&i).is_ok().then(|| ring_radius(size))
}

/// Takes the room of the rings and of the limits of zones, before any lettering is placed.
pub(super) fn take_room(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) {
    for tie in tested(wall) {
        let (x, y) = view.at(tie.at);
        let r = ring_radius(size);
        if view.shown.contains((x, y)) {
            draft.room.take([(x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)], Taken::Symbol);
        }
    }
    for (a, b) in zone_limits(wall, view) {
        draft.room.take_line(a, b, Taken::Line);
    }
}

/// Draws the limits of the zones and the rings.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) {
    for (a, b) in zone_limits(wall, view) {
        draft.styled(Layer::Notes, a, b, THIN, Dash::Dotted, 0.0);
    }
    for z in zones(wall).iter().filter(|_| zones(wall).len() > 1) {
        name(draft, wall.style.words.engineering, z, view);
    }
    for tie in tested(wall) {
        let at = view.at(tie.at);
        if view.shown.contains(at) {
            ring(draft, Layer::Ties, at, ring_radius(size));
        }
    }
}

/// The letter of what is done with an old tie, where that is decided and it is not left.
pub(super) fn letter(w: &EngineeringWords, t: &ExistingTie) -> Option<&'static str> {
    match site::old_tie(t).treatment {
        Some(Treatment::Isolate) => Some(w.isolate_letter),
        Some(Treatment::Remove) => Some(w.remove_letter),
        _ => None,
    }
}

fn ring(draft: &mut Draft, layer: Layer, (x, y): PaperPoint, r: f64) {
    let turn = |i: usize| (i as f64 * std::f64::consts::TAU / RING_SIDES as f64).sin_cos();
    let points = (0..RING_SIDES).map(turn).map(|(s, c)| (x + r * c, y + r * s)).collect();
    draft.push(layer, Graphic::Stroke { points, closed: true, width: MEDIUM, dash: Dash::Solid, grey: 0.0 });
}

/// A ring for the key.
pub(super) fn sample_ring(draft: &mut Draft, at: PaperPoint) {
    ring(draft, Layer::Notes, at, 1.7);
}

/// The limits between the zones, on paper.
fn zone_limits(wall: &Wall<'_>, view: &View) -> Vec<(PaperPoint, PaperPoint)> {
    let (all, w) = (zones(wall), view.wall);
    let mut upright: Vec<f64> =
        all.iter().map(|z| view.x(z.x.1)).filter(|x| *x > w.left + 0.1 && *x < w.right - 0.1).collect();
    let mut level: Vec<f64> =
        all.iter().map(|z| view.y(z.y.1)).filter(|y| *y > w.bottom + 0.1 && *y < w.top - 0.1).collect();
    for cuts in [&mut upright, &mut level] {
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() < 0.05);
    }
    let upright = upright.into_iter().map(|x| ((x, w.bottom), (x, w.top)));
    upright.chain(level.into_iter().map(|y| ((w.left, y), (w.right, y)))).collect()
}

/// The letter of a zone with its spacing, or the letter alone, where it is free, from the top.
fn name(draft: &mut Draft, w: &EngineeringWords, z: &DemandZone, view: &View) {
    let wall = view.wall;
    let (left, right) = (view.x(z.x.0).max(wall.left), view.x(z.x.1).min(wall.right));
    let (bottom, top) = (view.y(z.y.0).max(wall.bottom), view.y(z.y.1).min(wall.top));
    let full = fill(w.zone_with_spacing, &[&z.name, &figure(z.horizontal), &figure(z.vertical)]);
    for text in [full, fill(w.zone, &[&z.name]), z.name.clone()] {
        let mut y = top - 4.0;
        while y > bottom + 1.0 {
            let label = small(((left + right) / 2.0, y), &text, Align::Centre);
            let free = draft.room.cost(&label.quad()).is_some_and(|c| c < 10.0);
            if label.width() <= right - left - 1.0 && free {
                draft.text(Layer::Notes, label);
                return;
            }
            y -= 1.5;
        }
    }
}

/// Rows of the key.
pub(super) fn key(notes: &mut Notes, wall: &Wall<'_>) {
    let w = wall.style.words.engineering;
    if zones(wall).len() > 1 {
        notes.key(Sample::ZoneLimit, w.key_zone_limit, "");
    }
    let tested = tested(wall).len();
    if tested > 0 {
        notes.key(Sample::Ring, w.key_ring, &tested.to_string());
    }
}

/// Rows of the key for what is done with the old ties of this piece.
pub(super) fn old_tie_key(notes: &mut Notes, wall: &Wall<'_>) {
    let w = wall.style.words.engineering;
    let mine = || wall.elevation.existing_ties.iter().filter(|t| wall.owns(t.at));
    for (l, words) in [(w.isolate_letter, w.key_isolate), (w.remove_letter, w.key_remove)] {
        let n = mine().filter(|t| letter(w, t) == Some(l)).count();
        if n > 0 {
            notes.key(Sample::Letter(l), words, &n.to_string());
        }
    }
}

/// What a technician needs of it beside the drawing.
pub(super) fn notes(notes: &mut Notes, wall: &Wall<'_>, include: Include) {
    let (w, style) = (wall.style.words.engineering, wall.style);
    if let Some(fixed) = site::fixing(wall) {
        notes.heading(w.fixing);
        notes.para(Layer::Notes, &fixed.sentences(style).join(" "));
    }
    if let Some(tests) = &wall.plan.engineering.tests {
        notes.heading(w.tests);
        let marks: Vec<&str> = tested(wall).iter().map(|t| t.mark.as_str()).collect();
        let marks = marks.join(", ");
        let ringed = match tests.areas.iter().find_map(|a| a.leaf) {
            _ if marks.is_empty() => w.none_ringed.to_owned(),
            Some(leaf) => fill(w.ringed_in, &[leaf.words(), &marks]),
            None => fill(w.ringed, &[&marks]),
        };
        let mut told = vec![ringed];
        let before = tests.areas.iter().map(|a| a.before).max().unwrap_or(0);
        if before > 0 {
            told.push(fill(w.trials, &[&before.to_string()]));
        }
        let load = tests.load.map(|l| fill(w.load, &[&style.two(l / 1000.0)]));
        told.push(load.unwrap_or_else(|| w.load_missing.to_owned()));
        notes.para(Layer::Notes, &told.join(" "));
    }
    if include.account && wall.plan.engineering != engineering::Engineering::default() {
        notes.gap(1.0);
        notes.para(Layer::Notes, &fill(w.see_account, &[&title(wall)]));
    }
}

fn title(wall: &Wall<'_>) -> String {
    let name = name_of(&wall.elevation.name, wall.index, wall.style);
    fill(wall.style.words.engineering.account_of, &[&name])
}

/// A sheet, or as many as it takes, with the section through the wall and all that was worked out; none where
/// nothing was.
pub(super) fn pages(wall: &Wall<'_>, paper: Paper) -> Vec<Page> {
    let style = wall.style;
    let all = for_sheet(wall.elevation, wall.plan);
    if wall.plan.engineering == engineering::Engineering::default() {
        return Vec::new();
    }
    let mut told = Notes::for_sheet(paper);
    for Section { title, lines, notes: more } in all {
        told.heading(&title.to_uppercase());
        for l in lines {
            let how = if l.how.is_empty() { String::new() } else { format!(" ({})", l.how) };
            told.hanging(Layer::Notes, "–", 4.0, &format!("{}: {}{how}", l.label, l.value));
        }
        for text in more {
            told.hanging(Layer::Notes, "–", 4.0, &text);
        }
    }
    let build = Build::of(wall);
    let heading =
        fill(style.words.engineering.section_of, &[&name_of(&wall.elevation.name, wall.index, style)]);
    let about = style.words.engineering.about_account;
    sheets_of(&mut told, paper, (SheetKind::Notes, &title(wall), about), style, |page, foot| {
        build.as_ref().is_some_and(|b| section::draw(&mut page.draft, foot, (&heading, ""), Some(b), style))
    })
}
