//! What a screen reader finds on the sheet: every opening and every tie that is in view, by its place.

use egui::accesskit::{self, Node};
use egui::{Id, Rect, Ui, Vec2};
use layout_core::elevation::{Elevation, shape_bounds};

use super::{View, wall};
use crate::document::Item;
use crate::session::Context;
use crate::widgets::number::Habits;

/// Things told one by one at most; the lists and the table hold the rest.
const MOST: usize = 600;

pub(super) fn tell(ui: &Ui, view: View, cx: &Context<'_>, e: &Elevation) {
    let habits = Habits::in_force(ui.ctx());
    for (i, o) in e.openings.iter().enumerate().take(MOST) {
        let bounds = shape_bounds(&o.shape);
        let rect = wall::screen_rect(&view, bounds);
        if view.rect.intersects(rect) {
            put(ui, ("opening", i), rect, || {
                let (l, b, r, t) = bounds;
                let size = format!("{} wide, {} high", habits.show(r - l), habits.show(t - b));
                let place = format!("{} from the left, sill at {}", habits.show(l), habits.show(b));
                format!("Opening {}: {size}, {place}", Item::Opening(i).label(e))
            });
        }
    }
    let ties = cx.derived.plan(cx.session.elevation).map(|p| p.ties.as_slice()).unwrap_or_default();
    let seen = ties.iter().enumerate().filter(|(_, t)| view.rect.contains(view.to_screen(t.at)));
    for (i, t) in seen.take(MOST) {
        let rect = Rect::from_center_size(view.to_screen(t.at), Vec2::splat(14.0));
        put(ui, ("tie", i), rect, || {
            let pinned = if t.pinned { ", pinned" } else { "" };
            let place = format!("{} along, {} up", habits.show(t.at.0), habits.show(t.at.1));
            format!("Tie {}: {}{pinned}, {place}", t.mark, t.role.words())
        });
    }
}

/// Puts a node where a screen reader listens; the words are made only then.
fn put(ui: &Ui, key: (&str, usize), rect: Rect, words: impl FnOnce() -> String) {
    let id = Id::unique(("on the sheet", key));
    ui.ctx().accesskit_node_builder(id, |node| describe(node, rect, words()));
}

fn describe(node: &mut Node, rect: Rect, words: String) {
    node.set_role(accesskit::Role::GraphicsObject);
    node.set_label(words);
    let f = f64::from;
    node.set_bounds(accesskit::Rect {
        x0: f(rect.min.x),
        y0: f(rect.min.y),
        x1: f(rect.max.x),
        y1: f(rect.max.y),
    });
}
