//! The canvas: the elevation on its sheet, and the pointer on it.

mod chains;
mod engineering;
mod fill;
mod labels;
mod marks;
mod overlay;
mod picture;
mod raster;
mod rulers;
mod served;
mod sides;
mod spoken;
mod still;
mod symbols;
mod ties;
mod view;
mod wall;

pub(crate) use picture::wall_picture;
pub use symbols::{Symbol, paint_symbol};
pub use view::View;

use egui::{Key, PointerButton, Response, Role, Sense, Ui, WidgetInfo};
use layout_core::elevation::{Elevation, Point};

use crate::commands::Command;
use crate::session::{Context, Request};
use crate::theme::Palette;
use crate::tools::{self, Tool, pick};
use crate::widgets::number::Habits;

/// What the accessible node of the canvas is called.
pub const LABEL: &str = "Elevation canvas";

/// How near counts as on something, in points of the screen.
const REACH: f32 = 8.0;

/// What the pointer did on the canvas this frame. Places in mm.
#[derive(Clone, Copy, Debug, Default)]
pub struct Pointer {
    /// Where it is.
    pub at: Option<Point>,
    /// Where the button went down.
    pub press: Option<Point>,
    /// The button went down and up in one place.
    pub clicked: bool,
    /// A drag began.
    pub drag_started: bool,
    /// A drag goes on.
    pub dragging: bool,
    /// A drag ended.
    pub drag_stopped: bool,
    /// The button went down and up twice.
    pub double_clicked: bool,
    /// What is clicked is added to what is selected.
    pub shift: bool,
    /// The space bar is down: the main button moves the sheet.
    pub panning: bool,
    /// Snapping is off.
    pub free: bool,
    /// How near counts as on something, mm.
    pub reach: f64,
}

impl Pointer {
    fn read(ui: &Ui, response: &Response, view: &View) -> Self {
        let main = PointerButton::Primary;
        let (hover, press, modifiers) =
            ui.input(|i| (i.pointer.latest_pos(), i.pointer.press_origin(), i.modifiers));
        let here = response.contains_pointer() || response.dragged() || response.drag_stopped();
        Self {
            at: hover.filter(|_| here).map(|p| view.to_world(p)),
            press: press.map(|p| view.to_world(p)),
            clicked: response.clicked_by(main),
            double_clicked: response.double_clicked_by(main),
            shift: modifiers.shift,
            panning: ui.input(|i| i.key_down(Key::Space)),
            drag_started: response.drag_started_by(main),
            dragging: response.dragged_by(main),
            drag_stopped: response.drag_stopped_by(main),
            free: modifiers.alt,
            reach: view.mm(REACH),
        }
    }
}

/// Shows the canvas in what room is left. The sheet itself is what the window is cleared with: see `Palette::paper`.
pub fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, LABEL));
    let told = description(cx);
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_description(told));
    let resized = cx.session.view.rect.size() != rect.size();
    cx.session.view.rect = rect;
    if cx.session.fit || (resized && cx.session.fitted) {
        cx.session.fit = false;
        cx.session.fitted = true;
        fit(cx);
    }
    navigate(ui, &response, cx);
    let pointer = Pointer::read(ui, &response, &cx.session.view);
    cx.session.cursor = pointer.at;
    tools::act(cx, &pointer);
    pan(ui, &response, cx);
    cursor(ui, &response, cx, &pointer);
    context_menu(&response, cx, &pointer);

    let palette = Palette::of(ui.ctx());
    let painter = ui.painter_at(rect);
    let project = std::sync::Arc::clone(cx.document.project());
    if let Some(elevation) = project.elevations.get(cx.session.elevation) {
        let sheet = Sheet { painter: &painter, view: cx.session.view, palette };
        spoken::tell(ui, sheet.view, cx, elevation);
        let hovered = hovered(&response, cx, &pointer);
        wall::datum(&sheet);
        still::paint(&sheet, cx, elevation, hovered);
        wall::words(&sheet, elevation);
        ties::told(&sheet, cx, elevation);
        engineering::paint(&sheet, cx, elevation);
        chains::show(ui, &sheet, cx, elevation);
        explain(&response, cx, elevation, hovered);
        overlay::paint(&sheet, cx, elevation, &pointer);
        rulers::paint(&sheet, cx, elevation);
    }
}

/// Which tie of the layout the pointer is on, where that is told of.
fn hovered(response: &Response, cx: &Context<'_>, pointer: &Pointer) -> Option<usize> {
    if !matches!(cx.session.tool, Tool::Select | Tool::Pin) || response.dragged() {
        return None;
    }
    let (at, plan) = (pointer.at?, cx.derived.plan(cx.session.elevation)?);
    let off = |t: &layout_core::Tie| (t.at.0 - at.0).hypot(t.at.1 - at.1);
    let near = plan.ties.iter().enumerate().filter(|(_, t)| off(t) <= pointer.reach);
    near.min_by(|a, b| off(a.1).total_cmp(&off(b.1))).map(|(number, _)| number)
}

/// Hovering a tie tells why it is there.
fn explain(response: &Response, cx: &Context<'_>, e: &Elevation, hovered: Option<usize>) {
    let Some(plan) = cx.derived.plan(cx.session.elevation) else { return };
    let Some(tie) = hovered.and_then(|number| plan.ties.get(number)) else { return };
    let habits = Habits::in_force(&response.ctx);
    let words = tools::explain::lines(plan, e, tie, habits);
    let title = format!("Tie {}: {}", tie.mark, tie.role.words());
    response.clone().on_hover_ui_at_pointer(|ui| {
        ui.set_max_width(340.0);
        ui.strong(title);
        for line in words {
            crate::widgets::quiet(ui, line);
        }
    });
}

/// What a screen reader says of the sheet; the lists beside it hold the rest.
fn description(cx: &Context<'_>) -> String {
    let Some(e) = cx.elevation() else { return "no elevation".to_owned() };
    let ties = cx.derived.plan(cx.session.elevation).map_or(0, |p| p.ties.len());
    let selected = cx.session.item().map_or_else(|| "nothing".to_owned(), |i| i.label(e));
    format!("{}: {} openings, {ties} ties, {selected} selected", e.name, e.openings.len())
}

/// What the parts of the drawing are painted with.
struct Sheet<'a> {
    painter: &'a egui::Painter,
    view: View,
    palette: Palette,
}

impl Sheet<'_> {
    fn points(&self, ring: &[Point]) -> Vec<egui::Pos2> {
        ring.iter().map(|p| self.view.to_screen(*p)).collect()
    }

    fn sees(&self, (l, b, r, t): (f64, f64, f64, f64)) -> bool {
        let seen = self.view.seen();
        l <= seen.2 && r >= seen.0 && b <= seen.3 && t >= seen.1
    }
}

/// Shows the whole elevation; an empty sheet of a usual size where nothing is drawn.
fn fit(cx: &mut Context<'_>) {
    let ring = cx.elevation().map(|e| e.outline.clone()).unwrap_or_default();
    let bounds = ring
        .iter()
        .filter(|p| p.0.is_finite() && p.1.is_finite())
        .fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |b, p| {
            (b.0.min(p.0), b.1.min(p.1), b.2.max(p.0), b.3.max(p.1))
        });
    let empty = !bounds.0.is_finite() || (bounds.2 - bounds.0).max(bounds.3 - bounds.1) < 1.0;
    let dimensioned = cx.elevation().filter(|_| cx.session.layers.dimensions);
    let room = dimensioned.map_or((0.0, 0.0), |e| chains::room(e, cx.session.feet));
    cx.session.view.show_with_room(if empty { (0.0, 0.0, 9000.0, 5400.0) } else { bounds }, room);
}

fn navigate(ui: &Ui, response: &Response, cx: &mut Context<'_>) {
    let Some(at) = response.hover_pos() else { return };
    let (scroll, pinch, shift) = ui.input(|i| (i.smooth_scroll_delta(), i.zoom_delta(), i.modifiers.shift));
    if scroll != egui::Vec2::ZERO || (pinch - 1.0).abs() > 1e-4 {
        cx.session.fitted = false;
    }
    let view = &mut cx.session.view;
    if (pinch - 1.0).abs() > 1e-4 {
        view.zoom(f64::from(pinch), at);
    } else if shift || scroll.x.abs() > scroll.y.abs() {
        if scroll != egui::Vec2::ZERO {
            view.pan(egui::vec2(scroll.x + if shift { scroll.y } else { 0.0 }, 0.0));
        }
    } else if scroll.y != 0.0 {
        view.zoom(1.004_f64.powf(f64::from(scroll.y)), at);
    }
}

/// The middle button moves the sheet with any tool; the main one with the pan tool, and with the
/// selecting tool while the space bar is down.
fn pan(ui: &Ui, response: &Response, cx: &mut Context<'_>) {
    let main = response.dragged_by(PointerButton::Primary);
    let loose = match cx.session.tool {
        Tool::Pan => main,
        Tool::Select => main && cx.session.drag.is_none() && cx.session.marquee.is_none(),
        _ => false,
    };
    if loose || response.dragged_by(PointerButton::Middle) {
        let by = ui.input(|i| i.pointer.delta());
        cx.session.fitted = false;
        cx.session.view.pan(by);
    }
}

fn cursor(ui: &Ui, response: &Response, cx: &Context<'_>, pointer: &Pointer) {
    use egui::CursorIcon as Icon;
    if !response.hovered() && !response.dragged() {
        return;
    }
    let icon = match cx.session.tool {
        Tool::Pan if response.dragged() => Icon::Grabbing,
        Tool::Pan => Icon::Grab,
        Tool::Select => match (&cx.session.drag, pointer.at, cx.elevation()) {
            (Some(_), _, _) => Icon::Grabbing,
            (None, Some(at), Some(e)) => {
                let on_handle = cx.session.item().is_some_and(|item| {
                    tools::handles(item, e)
                        .iter()
                        .any(|(_, p)| (p.0 - at.0).hypot(p.1 - at.1) <= pointer.reach * 1.25)
                });
                let plan = cx.derived.plan(cx.session.elevation);
                match (on_handle, pick::at(e, plan, at, pointer.reach)) {
                    (true, _) => Icon::Move,
                    (false, Some(_)) => Icon::PointingHand,
                    (false, None) => Icon::Default,
                }
            }
            _ => Icon::Default,
        },
        _ => Icon::Crosshair,
    };
    ui.ctx().set_cursor_icon(icon);
}

fn context_menu(response: &Response, cx: &mut Context<'_>, pointer: &Pointer) {
    if response.secondary_clicked()
        && let (Some(at), Some(e)) = (pointer.at, cx.elevation())
    {
        let found = pick::at(e, cx.derived.plan(cx.session.elevation), at, pointer.reach);
        // What was selected with others stays so, that a command is for all of them.
        let among =
            matches!(found, Some(crate::session::Selection::Item(i)) if cx.session.items().contains(&i));
        if !among {
            cx.ask(Request::Select(found));
        }
    }
    response.context_menu(|ui| {
        for command in [
            Command::Cut,
            Command::Copy,
            Command::Paste,
            Command::Duplicate,
            Command::Repeat,
            Command::Delete,
            Command::PinSelected,
            Command::StrikeOut,
            Command::ZoomToSelection,
            Command::Fit,
        ] {
            crate::panels::menu::entry(ui, cx, command);
        }
    });
}
