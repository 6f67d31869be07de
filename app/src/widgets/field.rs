//! A field that commits on Enter or when it loses the keyboard, and says in place what is wrong.

use egui::text::{CCursor, CCursorRange};
use egui::{Id, Key, RichText, TextEdit, Ui, vec2};

use crate::theme::Palette;

/// What is typed but not committed, and why it was refused.
#[derive(Clone, Debug, Default)]
struct Draft {
    text: String,
    error: Option<String>,
}

/// How a field looks.
#[derive(Clone, Copy, Debug, Default)]
pub struct Look<'a> {
    /// What a screen reader calls it.
    pub name: &'a str,
    /// Width, points.
    pub width: f32,
    /// Shown while it is empty.
    pub hint: &'a str,
    /// Unit shown at the right, outside the field.
    pub unit: &'a str,
    /// Whether the text stands at the right.
    pub right: bool,
    /// What hovering tells; empty for nothing.
    pub tip: &'a str,
    /// Whether what is wrong stands on a slip over what is below, where there is no room for it under the field.
    pub slip: bool,
}

/// Whether a field holds a text that was refused.
#[must_use]
pub fn is_refused(ui: &Ui, id: Id) -> bool {
    ui.data(|d| d.get_temp::<Draft>(id)).is_some_and(|d| d.error.is_some())
}

/// Whether the field that has the keyboard holds what is typed and not committed.
#[must_use]
pub fn holds_typed(ctx: &egui::Context) -> bool {
    ctx.memory(egui::Memory::focused).is_some_and(|id| ctx.data(|d| d.get_temp::<Draft>(id)).is_some())
}

/// Whether a field above on the same dialog or panel holds a text that was refused.
#[must_use]
pub fn any_refused(ui: &Ui) -> bool {
    let seen = ui.data(|d| d.get_temp::<u64>(refused_mark(ui)));
    seen == Some(ui.ctx().cumulative_pass_nr())
}

/// Where the pass is kept in which a field of this layer last held a text that was refused.
fn refused_mark(ui: &Ui) -> Id {
    ui.layer_id().id.with("refused")
}

/// What a text would mean, while it is typed.
pub type Meaning<'a> = &'a dyn Fn(&str) -> Result<String, String>;

/// As [`show`], and beside the field what the text would mean, while it is typed.
pub fn explained<T>(
    ui: &mut Ui,
    id: Id,
    look: Look<'_>,
    current: &str,
    check: impl FnOnce(&str) -> Result<T, String>,
    meaning: Meaning<'_>,
) -> Option<T> {
    let committed = show(ui, id, look, current, check);
    let typed = ui.data(|d| d.get_temp::<Draft>(id)).filter(|d| d.error.is_none() && d.text != current);
    let place = ui.ctx().read_response(id).map(|r| r.rect);
    if let (Some(typed), Some(rect), true) = (typed, place, ui.memory(|m| m.has_focus(id))) {
        beside(ui, id, rect, meaning(&typed.text));
    }
    committed
}

/// A slip under a field that has the keyboard; over whatever is there, so that nothing moves.
fn beside(ui: &Ui, id: Id, rect: egui::Rect, meaning: Result<String, String>) {
    let p = Palette::of(ui.ctx());
    let (text, ink) = match meaning {
        Ok(text) => (text, p.ink),
        Err(text) => (text, p.note),
    };
    egui::Area::new(id.with("meaning"))
        .order(egui::Order::Foreground)
        .fixed_pos(rect.left_bottom() + vec2(0.0, 3.0))
        .constrain(true)
        .interactable(false)
        .show(ui.ctx(), |ui| {
            let frame = egui::Frame::popup(ui.style()).inner_margin(egui::Margin::symmetric(8, 4));
            frame.show(ui, |ui| {
                ui.set_max_width(300.0);
                ui.add(egui::Label::new(RichText::new(text).size(12.0).color(ink)).wrap());
            });
        });
}

/// Shows a field with the committed text `current`. Gives back a text once it is committed, changed and
/// accepted by `check`; a text that is refused stays, with what is wrong below it, and after Enter the keyboard
/// stays too, so that it can be put right. Escape takes it back.
pub fn show<T>(
    ui: &mut Ui,
    id: Id,
    look: Look<'_>,
    current: &str,
    check: impl FnOnce(&str) -> Result<T, String>,
) -> Option<T> {
    let mut draft = ui.data(|d| d.get_temp::<Draft>(id));
    let mut text = draft.as_ref().map_or_else(|| current.to_owned(), |d| d.text.clone());
    let palette = Palette::of(ui.ctx());
    let faulty = draft.as_ref().is_some_and(|d| d.error.is_some());
    let mut committed = None;
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        let response = ui
            .horizontal(|ui| {
                let align = if look.right { egui::Align2::RIGHT_CENTER } else { egui::Align2::LEFT_CENTER };
                let mut edit = TextEdit::singleline(&mut text)
                    .id(id)
                    .desired_width(look.width)
                    .margin(egui::Margin::symmetric(6, 3))
                    .hint_text(super::hint(look.hint))
                    .align(align)
                    .min_size(vec2(0.0, 24.0));
                if faulty {
                    edit = edit.text_color(palette.breach);
                }
                let response = ui.add(edit).accessible_name(look.name);
                if !look.unit.is_empty() {
                    ui.label(RichText::new(look.unit).color(palette.ink_soft));
                }
                response
            })
            .inner;
        // What does not fit is read in full on hovering.
        let cut = !look.right && text.chars().count() > (look.width / 7.5) as usize;
        let response = if cut { response.on_hover_text(text.clone()) } else { response };
        let response =
            if look.tip.is_empty() || faulty { response } else { response.on_hover_text(look.tip) };
        if faulty {
            let stroke = egui::Stroke::new(1.5, palette.breach);
            ui.painter().rect_stroke(response.rect, 3.0, stroke, egui::StrokeKind::Inside);
        }
        if response.has_focus() && has_just_come(ui, id) {
            select_all(ui, id, &text);
        }
        if response.changed() {
            // Typed back to what was there, it is no change of the field's own.
            draft = (text != current).then(|| Draft { text: text.clone(), error: None });
        }
        if response.lost_focus() {
            if ui.input(|i| i.key_pressed(Key::Escape)) {
                draft = None;
            } else if let Some(d) = draft.as_mut().filter(|d| d.error.is_none()) {
                match check(&d.text) {
                    Ok(value) => {
                        if d.text != current {
                            committed = Some(value);
                        }
                        draft = None;
                    }
                    Err(error) => d.error = Some(error),
                }
            }
            let refused = draft.as_ref().is_some_and(|d| d.error.is_some());
            if refused && ui.input(|i| i.key_pressed(Key::Enter)) {
                response.request_focus();
            }
        }
        let error = draft.as_ref().and_then(|d| d.error.as_ref());
        if let Some(error) = error.filter(|_| look.slip) {
            // Out of the way of the fields below while one of them is in use.
            let idle = ui.memory(|m| m.focused().is_none());
            if idle || response.has_focus() || response.contains_pointer() {
                beside(ui, id, response.rect, Err(error.clone()));
            }
        } else if let Some(error) = error {
            ui.add(egui::Label::new(RichText::new(error).size(12.0).color(palette.breach)).wrap());
        }
    });
    if draft.as_ref().is_some_and(|d| d.error.is_some()) {
        let pass = ui.ctx().cumulative_pass_nr();
        ui.data_mut(|d| d.insert_temp(refused_mark(ui), pass));
    }
    ui.data_mut(|d| match draft {
        Some(draft) => {
            d.insert_temp(id, draft);
        }
        None => {
            d.remove_temp::<Draft>(id);
        }
    });
    committed
}

/// Whether the keyboard has come to this field since it was shown last. A response tells only of a keyboard that
/// comes within its own pass, not of one that was given to the field after it was shown.
fn has_just_come(ui: &Ui, id: Id) -> bool {
    let (kept, pass) = (Id::unique("field with the keyboard"), ui.ctx().cumulative_pass_nr());
    let before = ui.data(|d| d.get_temp::<(Id, u64)>(kept));
    ui.data_mut(|d| d.insert_temp(kept, (id, pass)));
    before.is_none_or(|(field, seen)| field != id || seen + 1 < pass)
}

fn select_all(ui: &Ui, id: Id, text: &str) {
    let mut state = TextEdit::load_state(ui.ctx(), id).unwrap_or_default();
    let all = CCursorRange::two(CCursor::new(0), CCursor::new(text.chars().count()));
    state.cursor.set_char_range(Some(all));
    TextEdit::store_state(ui.ctx(), id, state);
}

/// A field for words.
pub fn words(ui: &mut Ui, id: Id, name: &str, width: f32, hint: &str, current: &str) -> Option<String> {
    let look = Look { name, width, hint, unit: "", right: false, tip: "", ..Look::default() };
    show(ui, id, look, current, |text| Ok(text.trim().to_owned())).filter(|new| new != current)
}

/// A field for words that may not be empty.
pub fn required(ui: &mut Ui, id: Id, name: &str, width: f32, current: &str) -> Option<String> {
    let look = Look { name, width, hint: "", unit: "", right: false, tip: "", ..Look::default() };
    show(ui, id, look, current, |text| match text.trim() {
        "" => Err("it needs a name".to_owned()),
        text => Ok(text.to_owned()),
    })
    .filter(|new| new != current)
}
