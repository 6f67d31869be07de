//! The tools, by what they draw.

use egui::{Align2, Sense, Stroke, Ui, WidgetInfo, vec2};

use crate::commands::Command;
use crate::session::Context;
use crate::theme::Palette;
use crate::tools::Tool;
use crate::widgets::{heading, icon};

const GROUPS: [(&str, &[Tool]); 4] = [
    ("Pointer", &[Tool::Select, Tool::Pan]),
    ("Wall", &[Tool::Wall, Tool::WallCorners]),
    ("Openings", &[Tool::Rectangle, Tool::Arched, Tool::Circle, Tool::Polygon]),
    ("On the wall", &[Tool::KeepOut, Tool::Joint, Tool::OldTie, Tool::Pin]),
];

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    heading(ui, "Draw");
    ui.spacing_mut().item_spacing.y = 1.0;
    for (i, (_, tools)) in GROUPS.iter().enumerate() {
        if i > 0 {
            ui.add_space(5.0);
        }
        for tool in *tools {
            button(ui, cx, *tool);
        }
    }
    ui.spacing_mut().item_spacing.y = 5.0;
}

fn button(ui: &mut Ui, cx: &mut Context<'_>, tool: Tool) {
    let command = Command::Pick(tool);
    let spec = command.spec();
    let enabled = super::menu::enabled(cx, command);
    let chosen = cx.session.tool == tool;
    let p = Palette::of(ui.ctx());
    let sense = if enabled { Sense::click() } else { Sense::hover() };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 24.0), sense);
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, enabled, chosen, spec.label));
    let ground = if chosen {
        p.accent_wash
    } else if response.hovered() && enabled {
        p.board_high
    } else {
        p.board
    };
    ui.painter().rect_filled(rect, 3.0, ground);
    if chosen {
        let edge = rect.with_max_x(rect.left() + 3.0);
        ui.painter().rect_filled(edge, 1.0, p.accent);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(rect, 3.0, Stroke::new(1.0, p.accent), egui::StrokeKind::Inside);
    }
    let ink = if enabled { p.ink } else { p.ink_soft.gamma_multiply(0.6) };
    let square = egui::Rect::from_center_size(rect.left_center() + vec2(18.0, 0.0), vec2(18.0, 18.0));
    icon::tool(ui.painter(), square, tool, ink, ground);
    let font = egui::TextStyle::Body.resolve(ui.style());
    let at = rect.left_center() + vec2(36.0, 0.0);
    ui.painter().text(at, Align2::LEFT_CENTER, spec.label, font, ink);
    let keys = command.keys_text(ui.ctx());
    let small = egui::TextStyle::Small.resolve(ui.style());
    let at = rect.right_center() - vec2(8.0, 0.0);
    ui.painter().text(at, Align2::RIGHT_CENTER, keys, small, p.ink_soft);
    if response.on_hover_text(command.tip_text(ui.ctx())).clicked() {
        cx.run(command);
    }
}
