//! Everything drawn on the elevation, as a list.

use egui::{ScrollArea, Sense, Ui, WidgetInfo, vec2};
use layout_core::elevation::{Elevation, Fault, FaultKind, Place, Shape, outline_sides};

use crate::document::{Item, item::side};
use crate::session::{Context, Request, Selection};
use crate::theme::Palette;
use crate::widgets::number::Habits;
use crate::widgets::{elided, heading, quiet, row_ground};

/// Which item a place in a drawing is about.
pub(super) fn item_of(place: Place) -> Option<Item> {
    let i = place.index?;
    match place.field {
        "openings" => Some(Item::Opening(i)),
        "keep_outs" => Some(Item::KeepOut(i)),
        "movement_joints" => Some(Item::Joint(i)),
        "existing_ties" => Some(Item::OldTie(i)),
        "pinned" => Some(Item::Pinned(i)),
        "locked" => Some(Item::Locked(i)),
        "outline" => Some(Item::Corner(i)),
        _ => None,
    }
}

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    heading(ui, "On this elevation");
    let Some(e) = cx.elevation() else {
        quiet(ui, "Add an elevation to begin.");
        return;
    };
    let items = items(e);
    let faults: Vec<Fault> =
        cx.derived.outcome(cx.session.elevation).map(|o| o.faults.clone()).unwrap_or_default();
    if items.is_empty() {
        quiet(ui, "Nothing drawn yet.");
    }
    ScrollArea::vertical().id_salt("items").min_scrolled_height(0.0).auto_shrink([false, false]).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            for item in items {
                let fault = faults.iter().find(|f| item_of(f.place) == Some(item));
                row(ui, cx, item, fault);
            }
        },
    );
}

fn items(e: &Elevation) -> Vec<Item> {
    let openings = (0..e.openings.len()).map(Item::Opening);
    let keep_outs = (0..e.keep_outs.len()).map(Item::KeepOut);
    let joints = (0..e.movement_joints.len()).map(Item::Joint);
    let old = (0..e.existing_ties.len()).map(Item::OldTie);
    let pinned = (0..e.pinned.len()).map(Item::Pinned);
    let sides = (0..e.outline.len()).filter(|&i| side(&e.outline, i).is_some()).map(Item::Side);
    let locked = (0..e.locked.len()).map(Item::Locked);
    openings.chain(keep_outs).chain(joints).chain(old).chain(pinned).chain(locked).chain(sides).collect()
}

/// What is said of an item beside its name. Asked for what is in view alone: a large wall has thousands.
fn detail(e: &Elevation, item: Item, habits: Habits) -> Option<String> {
    let mm = |v: f64| habits.show(v);
    Some(match item {
        Item::Opening(i) => match e.openings.get(i)?.shape {
            Shape::Rect { w, h, .. } => format!("{} × {}", mm(w), mm(h)),
            Shape::Arched { w, h, rise, .. } => format!("{} × {}", mm(w), mm(h + rise)),
            Shape::Circle { r, .. } => format!("⌀ {}", mm(2.0 * r)),
            Shape::Polygon(ref points) => format!("{} corners", points.len()),
        },
        Item::KeepOut(_) => "keep-out".to_owned(),
        Item::Joint(i) => format!("at {}", mm(e.movement_joints.get(i)?.x)),
        Item::OldTie(i) => e.existing_ties.get(i)?.form.words().to_owned(),
        Item::Pinned(i) => {
            let p = e.pinned.get(i)?;
            format!("{}, {}", mm(p.0), mm(p.1))
        }
        Item::Locked(i) => format!("{} ties", e.locked.get(i)?.ties.len()),
        Item::Side(i) => {
            let condition = *outline_sides(e).get(i)?;
            condition.words().split(" (").next().unwrap_or_default().to_owned()
        }
        Item::Corner(_) => return None,
    })
}

/// Room that a name has before it is cut, points.
const LEAST_NAME: f32 = 64.0;

fn row(ui: &mut Ui, cx: &mut Context<'_>, item: Item, fault: Option<&Fault>) {
    let p = Palette::of(ui.ctx());
    let chosen = cx.session.item() == Some(item) || cx.session.others.contains(&item);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 22.0), Sense::click());
    let name = || cx.elevation().map(|e| item.label(e)).unwrap_or_default();
    response
        .widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, format!("Item {}", name())));
    if ui.is_rect_visible(rect) {
        let name = name();
        let habits = Habits::in_force(ui.ctx());
        let detail = cx.elevation().and_then(|e| detail(e, item, habits)).unwrap_or_default();
        row_ground(ui, rect, &response, chosen);
        let font = egui::TextStyle::Body.resolve(ui.style());
        let small = egui::FontId::new(11.5, egui::FontFamily::Proportional);
        let right = rect.right_center() - vec2(8.0, 0.0);
        let (words, ink) = match fault.map(|f| f.kind) {
            Some(FaultKind::Unusable) => ("faulty", p.breach),
            Some(FaultKind::Note) => ("see note", p.note),
            None => (detail.as_str(), p.ink_soft),
        };
        let left = rect.left() + 8.0;
        // A name has its room first: what is said beside it is read elsewhere too.
        let whole = ui.painter().layout_no_wrap(name.clone(), font.clone(), p.ink).size().x;
        let beside = elided(ui, words, small, ink, right.x - left - 8.0 - whole.min(LEAST_NAME));
        let begins = right.x - beside.size().x;
        let galley = elided(ui, &name, font, p.ink, begins - 8.0 - left);
        for (x, galley) in [(begins, beside), (left, galley)] {
            let at = egui::pos2(x, rect.center().y - galley.size().y / 2.0);
            ui.painter().galley(at, galley, p.ink);
        }
    }
    let response = match fault {
        Some(f) => response.on_hover_text(&f.message),
        None => response,
    };
    if response.clicked() {
        cx.ask(Request::Select(Some(Selection::Item(item))));
        if response.double_clicked()
            && let Some(bounds) = cx.elevation().and_then(|e| item.bounds(e))
        {
            cx.ask(Request::ZoomTo(bounds));
        }
    }
}
