//! The selecting tool: select, move, resize, nudge.

use std::sync::Arc;

use layout_core::elevation::{Elevation, Point, Project};
use layout_core::units::tidy_mm;

use super::handles::{Handle, dragged, handles};
use super::pick;
use super::snap::{Lines, STEP};
use crate::canvas::Pointer;
use crate::document::item::side;
use crate::document::{Change, Item};
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
    press: Point,
    original: Arc<Project>,
}

pub(super) fn act(cx: &mut Context<'_>, pointer: &Pointer) {
    if pointer.drag_started
        && let Some(press) = pointer.press
    {
        start(cx, pointer, press);
    }
    if pointer.dragging
        && let (Some(drag), Some(at)) = (cx.session.drag.clone(), pointer.at)
    {
        follow(cx, &drag, at, pointer);
    }
    if pointer.drag_stopped
        && let Some(drag) = cx.session.drag.take()
    {
        cx.ask(Request::EndGesture(drag.gesture));
    }
    if pointer.clicked
        && let (Some(at), Some(elevation)) = (pointer.at, cx.elevation())
    {
        let plan = cx.derived.plan(cx.session.elevation);
        let found = pick::at(elevation, plan, at, pointer.reach);
        cx.ask(Request::Select(found));
    }
}

fn start(cx: &mut Context<'_>, pointer: &Pointer, press: Point) {
    let Some(elevation) = cx.elevation() else { return };
    let grabbed = cx.session.item().and_then(|item| {
        handles(item, elevation)
            .into_iter()
            .filter(|(_, p)| (p.0 - press.0).hypot(p.1 - press.1) <= pointer.reach * 1.25)
            .min_by(|(_, a), (_, b)| {
                let off = |p: &Point| (p.0 - press.0).hypot(p.1 - press.1);
                off(a).total_cmp(&off(b))
            })
            .map(|(handle, _)| (grabbed_item(item, handle), handle))
    });
    let plan = cx.derived.plan(cx.session.elevation);
    let found = grabbed.or_else(|| match pick::at(elevation, plan, press, pointer.reach) {
        Some(Selection::Item(Item::Corner(i))) => Some((Item::Corner(i), Handle::Corner(i))),
        Some(Selection::Item(item)) => Some((item, Handle::Body)),
        _ => None,
    });
    let Some((item, handle)) = found else { return };
    cx.session.gestures += 1;
    cx.session.drag = Some(Drag {
        item,
        handle,
        gesture: cx.session.gestures,
        press,
        original: Arc::clone(cx.document.project()),
    });
    cx.ask(Request::Select(Some(Selection::Item(item))));
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
    let lines = Lines::of(original, Some(drag.item), pointer.reach, pointer.free);
    let change = match drag.handle {
        Handle::Body => moved(original, drag.item, by, &lines),
        _ => {
            // Dragged by how far the pointer went, so that a handle grabbed off its middle does not jump.
            let from = handles(drag.item, original).into_iter().find(|(h, _)| *h == drag.handle);
            from.and_then(|(_, p)| {
                dragged(drag.item, original, drag.handle, lines.snap((p.0 + by.0, p.1 + by.1)))
            })
        }
    };
    if let Some(change) = change {
        cx.gesture(change, drag.gesture);
    }
}

fn moved(e: &Elevation, item: Item, by: Point, lines: &Lines) -> Option<Change> {
    if let Item::Side(i) = item {
        let (a, b) = side(&e.outline, i)?;
        // A level side goes up and down, an upright one left and right; a sloping one as it is dragged.
        let to = (lines.snap_x(a.0 + by.0), lines.snap_y(a.1 + by.1));
        let dx = if (a.1 - b.1).abs() < 1.0 { 0.0 } else { to.0 - a.0 };
        let dy = if (a.0 - b.0).abs() < 1.0 { 0.0 } else { to.1 - a.1 };
        return shifted_side(e, i, dx, dy);
    }
    let object = item.object(e)?;
    let by = lines.snap_move(object.bounds(), by);
    Some(Change::Replace(item, object.moved(by.0, by.1)))
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

/// Moves what is selected by the arrow keys: 25 mm, with Shift 1 mm.
pub fn nudge_keys(cx: &mut Context<'_>, ctx: &egui::Context) {
    use egui::{Key, Modifiers};
    let Some(item) = cx.session.item() else { return };
    let keys = [
        (Key::ArrowLeft, (-1.0, 0.0)),
        (Key::ArrowRight, (1.0, 0.0)),
        (Key::ArrowUp, (0.0, 1.0)),
        (Key::ArrowDown, (0.0, -1.0)),
    ];
    let (mut dx, mut dy) = (0.0, 0.0);
    ctx.input_mut(|i| {
        for (key, (x, y)) in keys {
            for (modifiers, step) in [(Modifiers::SHIFT, 1.0), (Modifiers::NONE, STEP)] {
                let n = i.count_and_consume_key(modifiers, key) as f64;
                dx += x * step * n;
                dy += y * step * n;
            }
        }
    });
    if (dx != 0.0 || dy != 0.0)
        && let Some(change) = cx.elevation().and_then(|e| nudged(e, item, dx, dy))
    {
        cx.change(change);
    }
}
