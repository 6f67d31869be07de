//! The selecting tool: select one or several, move, resize, nudge, put corners in.

use std::sync::Arc;

use layout_core::elevation::{Elevation, Point, Project};
use layout_core::units::tidy_mm;

use super::handles::{Handle, dragged, handles};
use super::pick;
use super::snap::{Lines, STEP};
use crate::canvas::Pointer;
use crate::document::item::side;
use crate::document::{Change, Item, Object, arrange};
use crate::session::{Context, Request, Selection};

/// A thing on its way to another place or size.
#[derive(Clone, Debug)]
pub struct Drag {
    /// What is dragged.
    pub item: Item,
    /// Which point of it.
    pub handle: Handle,
    /// Number of the gesture: all of the drag is one step.
    pub gesture: u64,
    /// What moves with it.
    others: Vec<Item>,
    press: Point,
    original: Arc<Project>,
}

pub(super) fn act(cx: &mut Context<'_>, pointer: &Pointer) {
    if cx.session.drag.is_none() {
        cx.session.guides.clear();
    }
    if pointer.drag_started
        && let Some(press) = pointer.press
    {
        start(cx, pointer, press);
    }
    if pointer.dragging
        && let Some(at) = pointer.at
    {
        if let Some(drag) = cx.session.drag.clone() {
            follow(cx, &drag, at, pointer);
        } else if let Some((_, to)) = &mut cx.session.marquee {
            *to = at;
        }
    }
    if pointer.drag_stopped {
        cx.session.guides.clear();
        if let Some(drag) = cx.session.drag.take() {
            cx.ask(Request::EndGesture(drag.gesture));
        }
        if let Some((from, to)) = cx.session.marquee.take() {
            enclosed(cx, from, to, pointer.shift);
        }
    }
    if pointer.double_clicked
        && let (Some(at), Some(e)) = (pointer.at, cx.elevation())
        && let Some(change) = corner_at(e, at, pointer.reach)
    {
        // A new corner of the wall is the one to be moved or typed next.
        let new = match change {
            Change::SplitSide(i, _) => Some(Selection::Item(Item::Corner(i + 1))),
            _ => None,
        };
        cx.change(change);
        if new.is_some() {
            cx.ask(Request::Select(new));
        }
        return;
    }
    if pointer.clicked
        && let (Some(at), Some(elevation)) = (pointer.at, cx.elevation())
    {
        let plan = cx.derived.plan(cx.session.elevation);
        let found = pick::at(elevation, plan, at, pointer.reach);
        match found {
            Some(Selection::Item(item)) if pointer.shift => cx.ask(Request::Toggle(item)),
            None if pointer.shift => {}
            _ => cx.ask(Request::Select(found)),
        }
    }
}

/// Everything that stands wholly inside a dragged frame.
fn enclosed(cx: &mut Context<'_>, from: Point, to: Point, add: bool) {
    let Some(e) = cx.elevation() else { return };
    let (l, r) = (from.0.min(to.0), from.0.max(to.0));
    let (b, t) = (from.1.min(to.1), from.1.max(to.1));
    let inside = |i: &Item| i.bounds(e).is_some_and(|o| o.0 >= l && o.1 >= b && o.2 <= r && o.3 <= t);
    let mut found: Vec<Item> = if add { cx.session.items() } else { Vec::new() };
    found.extend(Item::all(e).filter(inside));
    cx.ask(Request::SelectMany(found));
}

fn start(cx: &mut Context<'_>, pointer: &Pointer, press: Point) {
    let Some(elevation) = cx.elevation() else { return };
    let several = cx.session.items();
    let grabbed = cx.session.item().filter(|_| several.len() < 2).and_then(|item| {
        let off = |p: &Point| (p.0 - press.0).hypot(p.1 - press.1);
        handles(item, elevation)
            .into_iter()
            .filter(|(_, p)| off(p) <= pointer.reach * 1.25)
            .min_by(|(_, a), (_, b)| off(a).total_cmp(&off(b)))
            .map(|(handle, _)| (grabbed_item(item, handle), handle))
    });
    let under = pick::at(elevation, cx.derived.plan(cx.session.elevation), press, pointer.reach);
    let found = match (grabbed, under) {
        (Some(grabbed), _) => Some(grabbed),
        (None, Some(Selection::Item(Item::Corner(i)))) => Some((Item::Corner(i), Handle::Corner(i))),
        (None, Some(Selection::Item(item))) => Some((item, Handle::Body)),
        (None, Some(Selection::Tie(at))) => {
            start_tie(cx, at, press);
            None
        }
        (None, None) => {
            cx.session.marquee = (!pointer.panning).then_some((press, press));
            None
        }
    };
    let Some((item, handle)) = found else { return };
    let with = several.contains(&item) && handle == Handle::Body;
    let others = if with { several.into_iter().filter(|i| *i != item).collect() } else { Vec::new() };
    begin(cx, item, handle, others, press);
    if !with {
        cx.ask(Request::Select(Some(Selection::Item(item))));
    }
}

fn begin(cx: &mut Context<'_>, item: Item, handle: Handle, others: Vec<Item>, press: Point) {
    cx.session.gestures += 1;
    cx.session.drag = Some(Drag {
        item,
        handle,
        gesture: cx.session.gestures,
        others,
        press,
        original: Arc::clone(cx.document.project()),
    });
}

/// A tie that was set out is pinned as soon as it is dragged.
fn start_tie(cx: &mut Context<'_>, at: Point, press: Point) {
    let Some(e) = cx.elevation() else { return };
    let item = Item::Pinned(e.pinned.len());
    begin(cx, item, Handle::Body, Vec::new(), press);
    if let Some(drag) = &mut cx.session.drag {
        let mut original = (*drag.original).clone();
        if let Some(e) = original.elevations.get_mut(cx.session.elevation) {
            e.pinned.push(at);
        }
        drag.original = Arc::new(original);
        let gesture = drag.gesture;
        cx.gesture(Change::Add(Object::Pinned(at)), gesture);
        cx.ask(Request::Select(Some(Selection::Item(item))));
    }
}

/// A corner grabbed by its handle is what is dragged, whichever part of the outline was selected.
fn grabbed_item(item: Item, handle: Handle) -> Item {
    match (item, handle) {
        (Item::Side(_) | Item::Corner(_), Handle::Corner(i)) => Item::Corner(i),
        _ => item,
    }
}

fn follow(cx: &mut Context<'_>, drag: &Drag, at: Point, pointer: &Pointer) {
    let Some(original) = drag.original.elevations.get(cx.session.elevation) else { return };
    let by = (at.0 - drag.press.0, at.1 - drag.press.1);
    if by.0.hypot(by.1) < pointer.reach * 0.4 {
        // A hand that only shook moves nothing onto a snapping line.
        return;
    }
    let mut moving = vec![drag.item];
    moving.extend(&drag.others);
    let lines = Lines::of(original, &moving, pointer.reach, pointer.free);
    let lines = if cx.session.half_bricks { lines.by_half_bricks(original) } else { lines };
    let change = match drag.handle {
        Handle::Body => {
            let (change, guides) = moved(original, &moving, by, &lines).unzip();
            cx.session.guides = guides.unwrap_or_default();
            change
        }
        _ => {
            // Dragged by how far the pointer went, so that a handle grabbed off its middle does not jump.
            let from = handles(drag.item, original).into_iter().find(|(h, _)| *h == drag.handle);
            from.and_then(|(_, p)| {
                let to = lines.snap((p.0 + by.0, p.1 + by.1));
                cx.session.guides = lines.guides_at(to);
                dragged(drag.item, original, drag.handle, to)
            })
        }
    };
    if let Some(change) = change {
        cx.gesture(change, drag.gesture);
    }
}

fn moved(
    e: &Elevation,
    items: &[Item],
    by: Point,
    lines: &Lines,
) -> Option<(Change, Vec<super::snap::Guide>)> {
    let item = *items.first()?;
    if let Item::Side(i) = item {
        let (a, b) = side(&e.outline, i)?;
        // A level side goes up and down, an upright one left and right; a sloping one as it is dragged.
        let to = (lines.snap_x(a.0 + by.0), lines.snap_y(a.1 + by.1));
        let dx = if (a.1 - b.1).abs() < 1.0 { 0.0 } else { to.0 - a.0 };
        let dy = if (a.0 - b.0).abs() < 1.0 { 0.0 } else { to.1 - a.1 };
        return shifted_side(e, i, dx, dy).map(|c| (c, Vec::new()));
    }
    if let (Item::Pinned(i), 1) = (item, items.len()) {
        // A tie goes by steps along its course: edges are what it keeps away from.
        let p = *e.pinned.get(i)?;
        let to = lines.step_to((p.0 + by.0, p.1 + by.1));
        let to = (to.0, super::draw::on_course(e, p.1 + by.1, to.1));
        return Some((Change::Replace(item, Object::Pinned(to)), Vec::new()));
    }
    let object = item.object(e)?;
    let (by, guides) = lines.snap_move_guided(object.bounds(), by);
    let change = if items.len() > 1 {
        arrange::moved(e, items, by)?
    } else {
        Change::Replace(item, object.moved(by.0, by.1))
    };
    Some((change, guides))
}

fn shifted_side(e: &Elevation, i: usize, dx: f64, dy: f64) -> Option<Change> {
    let mut ring = e.outline.clone();
    let n = ring.len();
    for k in [i, (i + 1) % n.max(1)] {
        let p = ring.get_mut(k)?;
        *p = (tidy_mm(p.0 + dx), tidy_mm(p.1 + dy));
    }
    Some(Change::Outline(ring))
}

/// The change that puts a corner in where a side of the wall, or of an opening or keep-out drawn by corners,
/// passes a place.
#[must_use]
pub fn corner_at(e: &Elevation, at: Point, reach: f64) -> Option<Change> {
    let on = |ring: &[Point]| {
        (0..ring.len()).find_map(|i| {
            let (a, b) = side(ring, i)?;
            let near_end = [a, b].iter().any(|p| (p.0 - at.0).hypot(p.1 - at.1) <= reach);
            (pick::distance_to_stretch(at, (a, b)) <= reach && !near_end).then(|| (i, foot(at, a, b)))
        })
    };
    if let Some((i, p)) = on(&e.outline) {
        return Some(Change::SplitSide(i, p));
    }
    Item::all(e).find_map(|item| {
        let object = item.object(e)?;
        let layout_core::elevation::Shape::Polygon(ring) = object.shape()? else { return None };
        let (i, p) = on(ring)?;
        let mut ring = ring.clone();
        ring.insert(i + 1, p);
        Some(Change::Replace(item, object.with_shape(layout_core::elevation::Shape::Polygon(ring))))
    })
}

/// The place on the line through two points that is nearest to a point, in whole mm along it.
fn foot(p: Point, a: Point, b: Point) -> Point {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let length = dx.hypot(dy).max(1.0);
    let along = (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / length).round();
    (tidy_mm(a.0 + dx * along / length), tidy_mm(a.1 + dy * along / length))
}

/// The change that moves an item by this much, mm.
#[must_use]
pub fn nudged(e: &Elevation, item: Item, dx: f64, dy: f64) -> Option<Change> {
    match item {
        Item::Corner(i) => {
            e.outline.get(i).map(|p| Change::MoveCorner(i, (tidy_mm(p.0 + dx), tidy_mm(p.1 + dy))))
        }
        Item::Side(i) => shifted_side(e, i, dx, dy),
        _ => item.object(e).map(|o| Change::Replace(item, o.moved(dx, dy))),
    }
}

/// Moves what is selected by the arrow keys: 25 mm, with Shift 1 mm, with Ctrl half a brick along and a
/// course up.
pub fn nudge_keys(cx: &mut Context<'_>, ctx: &egui::Context) {
    use egui::{Key, Modifiers};
    // With Ctrl and Shift the arrows align.
    if ctx.input(|i| i.modifiers.alt || (i.modifiers.command && i.modifiers.shift)) {
        return;
    }
    let items = cx.session.items();
    let Some(c) = cx.elevation().map(|e| e.coursing).filter(|_| !items.is_empty()) else { return };
    let keys = [
        (Key::ArrowLeft, (-1.0, 0.0)),
        (Key::ArrowRight, (1.0, 0.0)),
        (Key::ArrowUp, (0.0, 1.0)),
        (Key::ArrowDown, (0.0, -1.0)),
    ];
    let steps = [
        (Modifiers::COMMAND, (c.brick / 2.0, c.gauge)),
        (Modifiers::SHIFT, (1.0, 1.0)),
        (Modifiers::NONE, (STEP, STEP)),
    ];
    let (mut dx, mut dy) = (0.0, 0.0);
    ctx.input_mut(|i| {
        for (key, (x, y)) in keys {
            for (modifiers, step) in steps {
                let n = i.count_and_consume_key(modifiers, key) as f64;
                dx += x * step.0 * n;
                dy += y * step.1 * n;
            }
        }
    });
    if !(dx.is_finite() && dy.is_finite()) || (dx == 0.0 && dy == 0.0) {
        return;
    }
    let change = cx.elevation().and_then(|e| match items.as_slice() {
        [one] => nudged(e, *one, dx, dy),
        many => arrange::moved(e, many, (dx, dy)),
    });
    if let Some(change) = change {
        cx.change(change);
    }
}
