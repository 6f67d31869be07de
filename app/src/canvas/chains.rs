//! The dimension chains on the sheet: drawn, clicked, typed anew.

use egui::{Id, Rect, Role, Sense, Ui, Vec2, WidgetInfo, vec2};
use layout_core::elevation::Elevation;

use super::Sheet;
use super::labels::SIZE;
use crate::document::Item;
use crate::session::Context;
use crate::tools::dims::{Dimension, Measure, chains, retyped};
use crate::tools::{Tool, steps};
use crate::widgets::number::{self, Habits, Look, Must};

/// How far the first line of dimensions stands off the wall, points.
const OFF: f32 = 26.0;

/// How far each further line stands off the one before, points: below the wall, and beside it, where the figures
/// need more room.
const APART: [f32; 2] = [20.0, 36.0];

/// How much more room a figure beside the wall needs in feet, inches and sixteenths, points.
const FEET: f32 = 34.0;

/// How far a line stands off the one before, below the wall or beside it.
fn apart(up: bool, feet: bool) -> f32 {
    APART[usize::from(up)] + if up && feet { FEET } else { 0.0 }
}

/// How much further where figures of the line before stand below it, points.
const FIGURES: f32 = 16.0;

/// From so many dimensions on a line is left out where most have no room.
const SEVERAL: usize = 4;

/// Most dimensions drawn: with more there is nothing to read until one looks nearer.
const MOST: usize = 200;

/// How much room the chains need at the right of the wall and below it, beyond that of a plain wall in mm, points.
pub(super) fn room(e: &Elevation, feet: bool) -> (f64, f64) {
    let more = |up: bool| {
        let off = f64::from(apart(up, feet));
        if steps::places(&e.outline, up).is_empty() { 0.0 } else { off }
    };
    // Two lines beside the wall stand further off, and half a figure reaches beyond them; below it figures that have
    // no room on their line stand under it.
    let (wider, lower) = if feet { (f64::from(FEET) * 1.9, f64::from(FIGURES)) } else { (0.0, 0.0) };
    (more(true) + wider, more(false) + lower)
}

/// Draws the chains and lets their figures be clicked.
pub(super) fn show(ui: &mut Ui, sheet: &Sheet<'_>, cx: &mut Context<'_>, e: &Elevation) {
    if !cx.session.layers.dimensions {
        return;
    }
    let selected = match cx.session.item() {
        Some(Item::Opening(i)) => Some(i),
        _ => None,
    };
    // The whole wall first: where figures would cover each other, the first has the room.
    let mut all = shown(sheet, e, selected);
    all.sort_by_key(|(_, d)| std::cmp::Reverse(d.line));
    let mut figures: Vec<Rect> = Vec::new();
    all.truncate(MOST);
    let offs = offs(sheet, &all);
    for (i, dimension) in all {
        let line = usize::from(dimension.line.min(2));
        let off = offs[usize::from(dimension.upright())][line];
        let off = if dimension.upright() { vec2(off, 0.0) } else { vec2(0.0, off) };
        let (a, b) = (sheet.view.to_screen(dimension.from), sheet.view.to_screen(dimension.to));
        if a.distance(b) < 6.0 || !sheet.view.rect.expand(60.0).intersects(Rect::from_two_pos(a, b)) {
            continue;
        }
        let text = sheet.mm(dimension.length());
        let place = figure(sheet, a + off, b + off, &text, dimension.upright());
        sheet.chain(a + off, b + off);
        let rect = Rect::from_center_size(place.0, place.1);
        if figures.iter().any(|other| other.intersects(rect)) {
            continue;
        }
        figures.push(rect);
        // Nothing stands on the lines of the whole height and its parts, which are drawn first.
        if dimension.upright() && dimension.line > 0 {
            figures.push(Rect::from_two_pos(a + off, b + off).expand(2.0));
        }
        let ink = sheet.palette.ink;
        sheet.tag(rect.center(), egui::Align2::CENTER_CENTER, &text, SIZE, ink);
        // While something is dragged the chains follow it, and are only looked at.
        if cx.session.tool == Tool::Select && cx.session.drag.is_none() {
            clickable(ui, sheet, cx, (i, &dimension.label(e)), dimension, rect);
        }
    }
    editor(ui, cx, e);
}

/// The dimensions shown at this scale, each with its number. A line of several that have no room for half of their
/// figures is left out whole, until one looks nearer: strokes alone tell nothing.
fn shown(sheet: &Sheet<'_>, e: &Elevation, selected: Option<usize>) -> Vec<(usize, Dimension)> {
    let mut all: Vec<(usize, Dimension)> = chains(e, selected).into_iter().enumerate().collect();
    let place = |d: &Dimension| (usize::from(d.upright()), usize::from(d.line.min(2)));
    // How many there are in each line, and how many of them have no room.
    let mut lines = [[(0_usize, 0_usize); 3]; 2];
    for (_, d) in &all {
        let (up, line) = place(d);
        lines[up][line].0 += 1;
        lines[up][line].1 += usize::from(is_short(sheet, d));
    }
    all.retain(|(_, d)| {
        let (up, line) = place(d);
        let (parts, short) = lines[up][line];
        parts < SEVERAL || 2 * short <= parts
    });
    all
}

/// Whether the chains along and up through an opening are shown.
pub(super) fn through(sheet: &Sheet<'_>, e: &Elevation, opening: usize) -> [bool; 2] {
    let all = shown(sheet, e, Some(opening));
    [Measure::Width(opening), Measure::Height(opening)].map(|m| all.iter().any(|(_, d)| d.measure == m))
}

/// How far the lines below the wall and those beside it stand off, points: one that is left out takes no room.
fn offs(sheet: &Sheet<'_>, all: &[(usize, Dimension)]) -> [[f32; 3]; 2] {
    let feet = Habits::in_force(sheet.painter.ctx()).feet;
    [false, true].map(|up| {
        let mut off = OFF + if up && feet { FEET / 3.0 } else { 0.0 };
        std::array::from_fn(|line| {
            let on = || all.iter().filter(|(_, d)| d.upright() == up && usize::from(d.line.min(2)) == line);
            let now = off;
            if on().next().is_some() {
                let figures = !up && on().any(|(_, d)| is_short(sheet, d));
                off += apart(up, feet) + if figures { FIGURES } else { 0.0 };
            }
            now
        })
    })
}

/// Whether a figure has no room on its line.
fn is_short(sheet: &Sheet<'_>, d: &Dimension) -> bool {
    let room = sheet.view.to_screen(d.from).distance(sheet.view.to_screen(d.to));
    let size = sheet.text_size(&sheet.mm(d.length()), SIZE);
    room < if d.upright() { size.y } else { size.x + 6.0 }
}

/// Where a figure stands, and its size: on its line, or beside it where the line is short.
fn figure(sheet: &Sheet<'_>, a: egui::Pos2, b: egui::Pos2, text: &str, upright: bool) -> (egui::Pos2, Vec2) {
    let size = sheet.text_size(text, SIZE) + vec2(6.0, 2.0);
    let middle = a + (b - a) * 0.5;
    let room = if upright { size.y } else { size.x };
    let place = match (a.distance(b) >= room, upright) {
        (true, _) => middle,
        (false, true) => middle + vec2(size.x / 2.0 + 6.0, 0.0),
        (false, false) => middle + vec2(0.0, size.y / 2.0 + 5.0),
    };
    (place, size)
}

fn clickable(
    ui: &mut Ui,
    sheet: &Sheet<'_>,
    cx: &mut Context<'_>,
    (i, label): (usize, &str),
    d: Dimension,
    rect: Rect,
) {
    let response = ui.interact(rect, Id::unique(("dimension", i)), Sense::click());
    let length = Habits::in_force(ui.ctx()).with_unit(d.length());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Dimension {label}: {length}")));
    if response.hovered() || response.has_focus() {
        let stroke = egui::Stroke::new(1.0, sheet.palette.accent);
        sheet.painter.rect_stroke(rect.expand(1.0), 2.0, stroke, egui::StrokeKind::Outside);
    }
    let tip = format!("{}: {}. Click to type it anew", capital(label), told(d.measure));
    if response.on_hover_text(tip).clicked() {
        cx.session.retyping = Some((d, rect.center()));
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

/// What typing a dimension anew moves.
fn told(measure: Measure) -> &'static str {
    match measure {
        Measure::WallWidth => "the right end of the wall moves",
        Measure::WallHeight => "the upper half of the outline moves",
        Measure::Width(_) => "its right jamb moves",
        Measure::Height(_) => "its head moves",
        Measure::PartAlong(..) => "the corners at its right end move",
        Measure::PartUp(..) => "the corners at its upper end move",
        _ => "the opening moves, its size stays",
    }
}

/// The field over a figure that was clicked.
fn editor(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation) {
    let fresh = Id::unique("dimension just clicked");
    let Some((d, at)) = cx.session.retyping else {
        ui.data_mut(|data| data.remove_temp::<bool>(fresh));
        return;
    };
    // A field of its own for each, that nothing typed before stands in it.
    let id = Id::unique(("dimension typed anew", d.label(e), d.length().to_bits()));
    let begun = ui.data(|data| data.get_temp::<bool>(fresh).unwrap_or(false));
    let mut new = None;
    let area = egui::Area::new(id.with("area")).order(egui::Order::Foreground).constrain(true);
    area.fixed_pos(at - vec2(48.0, 16.0)).show(ui.ctx(), |ui| {
        egui::Frame::popup(ui.style()).inner_margin(egui::Margin::same(4)).show(ui, |ui| {
            // Room for what is wrong with a figure, in few lines.
            if crate::widgets::field::is_refused(ui, id) {
                ui.set_width(190.0);
            }
            let look = Look { name: "Dimension", width: 80.0, right: true, ..Look::default() };
            let must = if d.measure.is_size() { Must::BeSize } else { Must::BePlace };
            new = number::length(ui, id, look, d.length(), must);
        });
    });
    if !begun {
        ui.memory_mut(|m| m.request_focus(id));
        ui.data_mut(|data| data.insert_temp(fresh, true));
        ui.ctx().request_repaint();
        return;
    }
    if let Some(v) = new
        && let Some(change) = retyped(e, d.measure, v)
    {
        cx.change(change);
    }
    let refused = crate::widgets::field::is_refused(ui, id);
    if new.is_some() || (!ui.memory(|m| m.has_focus(id)) && !refused) {
        cx.session.retyping = None;
        ui.data_mut(|data| data.remove_temp::<bool>(fresh));
    }
}

impl Sheet<'_> {
    /// A line with slashes at its ends.
    fn chain(&self, a: egui::Pos2, b: egui::Pos2) {
        let ink = self.palette.ink_soft;
        let hair = egui::Stroke::new(1.0, ink);
        self.painter.line_segment([a, b], hair);
        for end in [a, b] {
            let slash = vec2(3.0, -3.0);
            self.painter.line_segment([end - slash, end + slash], egui::Stroke::new(1.4, ink));
        }
    }
}
