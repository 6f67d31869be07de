//! Every command by typing a few letters of what it does.

use egui::{Align, Id, Key, Layout, RichText, ScrollArea, TextEdit, Ui};

use super::dialogs::title;
use super::menu;
use crate::commands::Command;
use crate::session::Context;
use crate::theme::Palette;

/// The commands whose words hold all that was typed: those whose label begins with it first, then those whose
/// label holds it.
#[must_use]
pub fn found(typed: &str) -> Vec<Command> {
    let words: Vec<String> = typed.to_lowercase().split_whitespace().map(str::to_owned).collect();
    let mut hits: Vec<(u8, Command)> = Command::ALL
        .into_iter()
        .filter(|c| *c != Command::Find)
        .filter_map(|c| {
            let label = c.spec().label.to_lowercase();
            let all = format!("{label} {}", c.spec().tip.to_lowercase());
            let holds = words.iter().all(|w| all.contains(w.as_str()));
            let begins = label.starts_with(words.first().map_or("", String::as_str));
            let named = words.iter().all(|w| label.contains(w.as_str()));
            holds.then_some((if begins { 0 } else { 2 - u8::from(named) }, c))
        })
        .collect();
    hits.sort_by_key(|(rank, _)| *rank);
    hits.into_iter().map(|(_, c)| c).collect()
}

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>, typed: &mut String, at: &mut usize, open: &mut bool) {
    title(ui, "What do you want to do?");
    let id = Id::unique("find a command");
    let (down, up, enter) = ui.input_mut(|i| {
        let none = egui::Modifiers::NONE;
        (
            i.consume_key(none, Key::ArrowDown),
            i.consume_key(none, Key::ArrowUp),
            i.consume_key(none, Key::Enter),
        )
    });
    let hint = "a few letters: mirror, table, feet…";
    let edit =
        TextEdit::singleline(typed).id(id).desired_width(f32::INFINITY).hint_text(crate::widgets::hint(hint));
    let response = ui.add(edit).accessible_name("Find a command");
    if response.changed() {
        *at = 0;
    }
    response.request_focus();
    let mut hits = found(typed);
    // What can be done just now comes first.
    hits.sort_by_key(|c| !menu::enabled(cx, *c));
    *at = (*at + usize::from(down)).saturating_sub(usize::from(up)).min(hits.len().saturating_sub(1));
    let mut chosen = enter.then(|| hits.get(*at).copied()).flatten();
    let p = Palette::of(ui.ctx());
    if hits.is_empty() {
        ui.label(RichText::new("Nothing is called so.").color(p.ink_soft));
    }
    ScrollArea::vertical().max_height(340.0).min_scrolled_height(340.0).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (i, command) in hits.iter().enumerate() {
            let enabled = menu::enabled(cx, *command);
            let row = ui.horizontal(|ui| {
                let name = format!("Run: {}", command.spec().label);
                let label = egui::Button::selectable(i == *at, command.spec().label);
                let response = ui.add_enabled(enabled, label).accessible_name(name);
                ui.label(RichText::new(command.spec().tip).size(11.5).color(p.ink_soft));
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.label(RichText::new(command.keys_text(ui.ctx())).size(11.5).color(p.ink_soft));
                });
                response
            });
            if row.inner.clicked() {
                chosen = Some(*command);
            }
            if i == *at && (down || up) {
                row.response.scroll_to_me(None);
            }
        }
    });
    if let Some(command) = chosen {
        if menu::enabled(cx, command) {
            cx.run(command);
            *open = false;
        } else {
            cx.session.tell(format!("{} can do nothing just now.", command.spec().label));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_any_order() {
        assert_eq!(found("mirror elev").first(), Some(&Command::MirrorElevation));
        assert_eq!(found("undo").first(), Some(&Command::Undo));
        let rules = found("rule");
        let place = |c: Command| rules.iter().position(|r| *r == c);
        // One is called so; the other only says so of itself.
        assert!(place(Command::RulesExplained) < place(Command::Page(crate::session::Page::Layout)));
        assert!(found("spreadsheet rows").contains(&Command::PasteRows));
        for word in ["theme", "Theme"] {
            assert_eq!(found(word), [Command::Theme, Command::Contrast]);
        }
        for word in ["light", "dark"] {
            assert_eq!(found(word).first(), Some(&Command::Theme));
        }
        assert_eq!(found("contrast").first(), Some(&Command::Contrast));
        assert!(found("no such thing").is_empty());
        assert_eq!(found("").len(), Command::ALL.len() - 1);
    }
}
