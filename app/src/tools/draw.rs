//! The drawing tools: boxes, circles, rings of corners, and things placed by a click.

use layout_core::elevation::{Elevation, Locked, MovementJoint, Opening, Point, Shape, shape_ring};

use super::Tool;
use super::entry::{Entry, Field};
use super::pick;
use super::snap::Lines;
use crate::canvas::Pointer;
use crate::document::heads::Head;
use crate::document::item::side;
use crate::document::{Change, Item, Object};
use crate::session::{Context, Request, Selection};

/// What a tool has drawn so far.
#[derive(Clone, Debug, PartialEq)]
pub enum Draft {
    /// From where to where the pointer was dragged, snapped, mm.
    Box(Point, Point),
    /// Corners so far, mm.
    Corners(Vec<Point>),
}

/// Least width and height that a drag draws, mm.
const LEAST: f64 = 25.0;

pub(super) fn act(cx: &mut Context<'_>, pointer: &Pointer) {
    let Some(elevation) = cx.elevation() else { return };
    let lines = lines(cx.session.draft.as_ref(), elevation, pointer);
    let lines = if cx.session.half_bricks { lines.by_half_bricks(elevation) } else { lines };
    cx.session.aim = pointer.at.map(|at| lines.snap(at)).or(cx.session.aim);
    cx.session.guides =
        cx.session.aim.filter(|_| pointer.at.is_some()).map_or_else(Vec::new, |a| lines.guides_at(a));
    if cx.session.tool.by_corners() {
        if pointer.clicked
            && let Some(at) = pointer.at
        {
            add_corner(cx, &lines, at, pointer.reach);
        }
        return;
    }
    if pointer.drag_started
        && let (Some(press), Some(at)) = (pointer.press, pointer.at)
    {
        cx.session.draft = Some(Draft::Box(lines.snap(press), lines.snap(at)));
    } else if pointer.dragging
        && let (Some(Draft::Box(_, to)), Some(at)) = (&mut cx.session.draft, pointer.at)
    {
        *to = lines.snap(at);
    }
    if pointer.drag_stopped
        && let Some(Draft::Box(from, to)) = cx.session.draft.take()
    {
        finish_box(cx, from, to);
    }
    if pointer.clicked
        && let Some(at) = pointer.at
    {
        place(cx, &lines, at, pointer.reach);
    }
}

fn lines(draft: Option<&Draft>, elevation: &Elevation, pointer: &Pointer) -> Lines {
    let mut lines = Lines::of(elevation, &[], pointer.reach, pointer.free);
    if let (Some(Draft::Corners(points)), false) = (draft, pointer.free) {
        lines.x.extend(points.iter().map(|p| p.0));
        lines.y.extend(points.iter().map(|p| p.1));
    }
    lines
}

/// Where the pointer would draw, snapped, mm.
pub(crate) fn snapped(cx: &Context<'_>, pointer: &Pointer) -> Option<Point> {
    let lines = lines(cx.session.draft.as_ref(), cx.elevation()?, pointer);
    let lines = if cx.session.half_bricks { lines.by_half_bricks(cx.elevation()?) } else { lines };
    pointer.at.map(|at| lines.snap(at))
}

fn add_corner(cx: &mut Context<'_>, lines: &Lines, at: Point, reach: f64) {
    let points = match cx.session.draft.take() {
        Some(Draft::Corners(points)) => points,
        _ => Vec::new(),
    };
    let to_first = points.first().map_or(f64::INFINITY, |f| (f.0 - at.0).hypot(f.1 - at.1));
    if points.len() >= 3 && to_first <= reach * 1.5 {
        cx.session.draft = Some(Draft::Corners(points));
        close_corners(cx);
        return;
    }
    add_point(cx, points, lines.snap(at));
}

/// Goes on to a corner; back at the first one the shape is closed.
pub(super) fn add_point(cx: &mut Context<'_>, mut points: Vec<Point>, p: Point) {
    let closes = points.len() >= 3 && points.first() == Some(&p);
    if !closes && points.last() != Some(&p) {
        points.push(p);
    }
    cx.session.draft = Some(Draft::Corners(points));
    if closes {
        close_corners(cx);
    }
}

/// Closes the corners drawn so far, if there are enough.
pub(super) fn close_corners(cx: &mut Context<'_>) {
    let Some(Draft::Corners(points)) = cx.session.draft.take() else { return };
    if points.len() < 3 {
        cx.session.complain(format!("{} corners so far; three or more make a shape", points.len()));
        cx.session.draft = Some(Draft::Corners(points));
        return;
    }
    let tool = cx.session.tool;
    let change = match tool {
        Tool::WallCorners => Change::Outline(points),
        Tool::KeepOutCorners => cx.session.entry.keep_out(tool, Shape::Polygon(points)),
        _ => Change::Add(Object::Opening(Opening { name: String::new(), shape: Shape::Polygon(points) })),
    };
    cx.add(change);
}

/// The shape of a dragged box for a tool; `None` where it is too small to mean anything.
pub(crate) fn box_shape(tool: Tool, from: Point, to: Point) -> Option<Shape> {
    let (x, y) = (from.0.min(to.0), from.1.min(to.1));
    let (w, h) = ((from.0 - to.0).abs(), (from.1 - to.1).abs());
    if tool.from_centre() {
        let r = w.hypot(h).round();
        return (r >= LEAST).then_some(Shape::Circle { x: from.0, y: from.1, r });
    }
    if w < LEAST || h < LEAST {
        return None;
    }
    if tool == Tool::Pointed {
        return Some(Head::Pointed.filling((x, y, x + w, y + h)));
    }
    Some(if tool == Tool::Arched {
        // A flat arch of 150 mm unless the opening is too small for it.
        let rise = 150.0_f64.min(h / 4.0).round();
        Shape::Arched { x, y, w, h: h - rise, rise }
    } else {
        Shape::Rect { x, y, w, h }
    })
}

pub(super) fn finish_box(cx: &mut Context<'_>, from: Point, to: Point) {
    let tool = cx.session.tool;
    let change = match tool {
        Tool::Joint => {
            let (lo, hi) = (from.1.min(to.1), from.1.max(to.1));
            (hi - lo >= LEAST).then_some(Change::Add(Object::Joint(MovementJoint {
                x: from.0,
                from: lo,
                to: hi,
            })))
        }
        Tool::Lock => box_shape(tool, from, to).and_then(|shape| lock(cx, shape)),
        Tool::OldTie | Tool::Pin => cx.elevation().and_then(|e| cx.session.entry.change(tool, to, e)),
        _ => box_shape(tool, from, to).map(|shape| match tool {
            Tool::Wall => Change::Outline(layout_core::elevation::shape_ring(&shape)),
            Tool::KeepOut | Tool::RoundKeepOut => cx.session.entry.keep_out(tool, shape),
            _ => Change::Add(Object::Opening(Opening { name: String::new(), shape })),
        }),
    };
    if let Some(change) = change {
        cx.add(change);
    }
}

/// Locks a shape with the ties that stand in it or on its line.
pub(crate) fn lock(cx: &mut Context<'_>, shape: Shape) -> Option<Change> {
    let i = cx.session.elevation;
    let Some(plan) = cx.derived.plan(i).filter(|_| cx.derived.is_current(i)) else {
        cx.session.complain("The ties are not set out yet; lock the area once they are.");
        return None;
    };
    let ring = shape_ring(&shape);
    let on_line = |p: Point| {
        (0..ring.len()).any(|i| side(&ring, i).is_some_and(|s| pick::distance_to_stretch(p, s) <= 1.0))
    };
    let ties = plan.ties.iter().map(|t| t.at).filter(|&p| pick::holds(&ring, p) || on_line(p)).collect();
    Some(Change::Add(Object::Locked(Locked { name: String::new(), shape, ties })))
}

/// A click with a tool that places things of a typed size.
fn place(cx: &mut Context<'_>, lines: &Lines, at: Point, reach: f64) {
    let tool = cx.session.tool;
    if tool == Tool::Wall {
        return;
    }
    let Some(elevation) = cx.elevation() else { return };
    if tool == Tool::Lock {
        if let Some(Selection::Item(item @ Item::Locked(_))) = pick::at(elevation, None, at, reach) {
            cx.change(Change::Remove(item));
        }
        return;
    }
    if tool == Tool::Pin
        && let Some(request) = pin_at(cx, elevation, at, reach)
    {
        cx.ask(request);
        return;
    }
    let mut p = lines.snap(at);
    if tool == Tool::Pin {
        p.1 = on_course(elevation, at.1, p.1);
    }
    if let Some(change) = cx.session.entry.change(tool, p, elevation) {
        cx.add(change);
    }
}

/// A height on a place for a tie near `y`; `or` where any height will do.
pub(super) fn on_course(elevation: &Elevation, y: f64, or: f64) -> f64 {
    let c = elevation.coursing;
    if c.fix == layout_core::elevation::Fix::Anywhere || !c.gauge.is_finite() || c.gauge < 1.0 {
        return or;
    }
    layout_core::units::tidy_mm(c.height(c.nearest(y)))
}

/// Pins the tie under the pointer, or lets go of a pinned one.
fn pin_at(cx: &Context<'_>, elevation: &Elevation, at: Point, reach: f64) -> Option<Request> {
    let near = |p: &Point| (p.0 - at.0).hypot(p.1 - at.1) <= reach;
    let i = cx.session.elevation;
    if let Some(k) = elevation.pinned.iter().rposition(near) {
        return Some(Request::Edit(crate::document::Edit::In(i, Change::Remove(Item::Pinned(k)))));
    }
    let (tie, _) = pick::tie_at(cx.derived.plan(i)?, at, reach)?;
    Some(Request::AddAndSelect(i, Change::Add(Object::Pinned(tie))))
}

/// Pins the selected tie, or lets go of the selected pinned one.
pub(crate) fn pin_selected(selection: Option<Selection>) -> Option<Change> {
    match selection? {
        Selection::Tie(at) => Some(Change::Add(Object::Pinned(at))),
        Selection::Item(Item::Pinned(i)) => Some(Change::Remove(Item::Pinned(i))),
        Selection::Item(_) => None,
    }
}

/// Enter closes the corners drawn so far, Backspace takes the last one back.
pub fn keys(cx: &mut Context<'_>, ctx: &egui::Context) {
    use egui::{Key, Modifiers};
    if !matches!(cx.session.draft, Some(Draft::Corners(_))) {
        return;
    }
    if ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Enter)) {
        close_corners(cx);
    }
    if ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Backspace))
        && let Some(Draft::Corners(points)) = &mut cx.session.draft
    {
        points.pop();
        if points.is_empty() {
            cx.session.draft = None;
        }
    }
}

/// Adds a typed corner to those drawn so far.
pub fn typed_corner(cx: &mut Context<'_>) {
    let tool = cx.session.tool;
    let p = [Field::X, Field::Y].map(|f| cx.session.entry.get(tool, f, None));
    match &mut cx.session.draft {
        Some(Draft::Corners(points)) => points.push((p[0], p[1])),
        draft => *draft = Some(Draft::Corners(vec![(p[0], p[1])])),
    }
}

/// Draws the typed sizes.
pub fn typed(cx: &mut Context<'_>) {
    let tool = cx.session.tool;
    let place = if Entry::fields(tool).contains(&Field::X) {
        (cx.session.entry.get(tool, Field::X, None), cx.session.entry.get(tool, Field::Y, None))
    } else {
        (0.0, 0.0)
    };
    if let Some(change) = cx.elevation().and_then(|e| cx.session.entry.change(tool, place, e)) {
        cx.add(change);
    }
}
