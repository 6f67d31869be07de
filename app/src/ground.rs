//! Plain grounds and letters that cost little where the processor draws the window.
//!
//! Without a graphics card a pixel that is filled through the texture of the letters, blended between four of its
//! points and then with what is there, costs many times one that is only set. So large grounds are cleared, and the
//! texture of the letters is taken by its nearest point: letters stand on whole pixels, all else is one white point.

use std::sync::Arc;

use eframe::egui_glow::CallbackFn;
use eframe::glow::{self, HasContext as _};
use egui::{
    Color32, InnerResponse, PaintCallback, Painter, Panel, Rect, Shape, TextureId, TextureOptions, Ui,
};

/// A ground of one colour, nothing of what is behind it showing through, to be added with `rect` for clip rectangle.
fn ground(rect: Rect, colour: Color32) -> Shape {
    let [r, g, b, _] = colour.to_normalized_gamma_f32();
    let clear = CallbackFn::new(move |_, painter| cleared(painter.gl(), [r, g, b]));
    Shape::Callback(PaintCallback { rect, callback: Arc::new(clear) })
}

#[expect(unsafe_code, reason = "the graphics library has no other door; both calls take plain values")]
fn cleared(gl: &glow::Context, [r, g, b]: [f32; 3]) {
    // SAFETY: called while the window is painted, so the context is current; neither call reads memory of ours.
    unsafe {
        gl.clear_color(r, g, b, 1.0);
        gl.clear(glow::COLOR_BUFFER_BIT);
    }
}

/// Paints a ground over a part of a painter.
pub fn paint(painter: &Painter, rect: Rect, colour: Color32) {
    let rect = painter.clip_rect().intersect(rect);
    if rect.is_positive() {
        painter.with_clip_rect(rect).add(ground(rect, colour));
    }
}

/// Shows a panel on a ground.
pub fn panel<R>(
    ui: &mut Ui,
    panel: Panel,
    colour: Color32,
    contents: impl FnOnce(&mut Ui) -> R,
) -> InnerResponse<R> {
    let place = ui.painter().add(Shape::Noop);
    let shown = panel.show(ui, contents);
    let rect = shown.response.rect.intersect(ui.clip_rect());
    if rect.is_positive() {
        ui.painter().with_clip_rect(rect).set(place, ground(rect, colour));
    }
    shown
}

/// Has the texture of the letters taken by its nearest point. Put into force by [`install`].
struct Nearest;

impl egui::Plugin for Nearest {
    fn debug_name(&self) -> &'static str {
        "nearest"
    }

    fn output_hook(&mut self, _ctx: &egui::Context, output: &mut egui::FullOutput) {
        for delta in output.textures_delta.set.get_mut(&TextureId::default()).into_iter().flatten() {
            delta.options = TextureOptions::NEAREST;
        }
    }
}

/// Has letters painted from the nearest point of their texture. Call once for a context.
pub fn install(ctx: &egui::Context) {
    ctx.add_plugin(Nearest);
    // Small discs would be taken from that texture at any size.
    ctx.tessellation_options_mut(|o| o.prerasterized_discs = false);
}
