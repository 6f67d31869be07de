//! The tools, by what they draw.

use egui::{Align2, Sense, Ui, WidgetInfo, vec2};

use crate::commands::Command;
use crate::session::Context;
use crate::theme::Palette;
use crate::tools::Tool;
use crate::widgets::{heading, icon, row_ground};

/// Tools that belong together: pointer, wall, openings, what else is on the wall.
const GROUPS: [&[Tool]; 4] = [
    &[Tool::Select, Tool::Pan],
    &[Tool::Wall, Tool::WallCorners],
    &[Tool::Rectangle, Tool::Arched, Tool::Pointed, Tool::Circle, Tool::Polygon],
    &[Tool::KeepOut, Tool::Joint, Tool::OldTie, Tool::Pin, Tool::Lock],
];

/// Below this height of the window the tools are icons only, so that the lists below keep their room.
const LOW: f32 = 690.0;

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    heading(ui, "Draw");
    let low = ui.ctx().content_rect().height() < LOW;
    if low {
        ui.spacing_mut().item_spacing = vec2(2.0, 2.0);
        ui.horizontal_wrapped(|ui| {
            for tool in GROUPS.into_iter().flatten() {
                button(ui, cx, *tool, vec2(26.0, 26.0));
            }
        });
    } else {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (i, tools) in GROUPS.into_iter().enumerate() {
            if i > 0 {
                ui.add_space(5.0);
            }
            for tool in tools {
                button(ui, cx, *tool, vec2(ui.available_width(), 24.0));
            }
        }
    }
    ui.spacing_mut().item_spacing = vec2(6.0, 5.0);
}

fn button(ui: &mut Ui, cx: &mut Context<'_>, tool: Tool, size: egui::Vec2) {
    let command = Command::Pick(tool);
    let spec = command.spec();
    let enabled = super::menu::enabled(cx, command);
    // One entry for keep-outs of all shapes: the shape is chosen over the canvas.
    let chosen = cx.session.tool == tool || (tool == Tool::KeepOut && cx.session.tool.draws_keep_outs());
    let p = Palette::of(ui.ctx());
    let sense = if enabled { Sense::click() } else { Sense::hover() };
    let (rect, response) = ui.allocate_exact_size(size, sense);
    let with_words = size.x > 60.0;
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, enabled, chosen, spec.label));
    let ground = if chosen { p.accent_wash } else { p.board };
    row_ground(ui, rect, &response, chosen);
    if chosen {
        let edge = rect.with_max_x(rect.left() + 3.0);
        ui.painter().rect_filled(edge, 1.0, p.accent);
    }
    let ink = if enabled { p.ink } else { p.ink_soft.gamma_multiply(0.6) };
    let middle = if with_words { rect.left_center() + vec2(18.0, 0.0) } else { rect.center() };
    let square = egui::Rect::from_center_size(middle, vec2(18.0, 18.0));
    icon::tool(ui.painter(), square, tool, ink, ground);
    if with_words {
        let font = egui::TextStyle::Body.resolve(ui.style());
        let at = rect.left_center() + vec2(36.0, 0.0);
        ui.painter().text(at, Align2::LEFT_CENTER, spec.label, font, ink);
        let keys = command.keys_text(ui.ctx());
        let small = egui::TextStyle::Small.resolve(ui.style());
        let at = rect.right_center() - vec2(8.0, 0.0);
        let quiet = if enabled { p.ink_soft } else { ink };
        ui.painter().text(at, Align2::RIGHT_CENTER, keys, small, quiet);
    }
    let tip = format!("{}: {}", spec.label, command.tip_text(ui.ctx()));
    if response.on_hover_text(tip).clicked() {
        cx.run(command);
    }
}
