//! What is pasted into the window.

use egui::{Context, Event};

use crate::app::Planner;
use crate::document::Edit;
use crate::document::rows;
use crate::session::Dialog;

impl Planner {
    /// Takes rows of a table that were pasted, before a field takes them as words: where no field has the
    /// keyboard, or into the table of openings.
    pub(crate) fn take_pasted(&mut self, ctx: &Context, typing: bool) {
        if self.session.dialog.is_some() || (typing && !self.session.table) {
            return;
        }
        let pasted = ctx.input_mut(|i| {
            let at =
                i.events.iter().position(|e| matches!(e, Event::Paste(t) if rows::looks_like_rows(t)))?;
            match i.events.remove(at) {
                Event::Paste(text) => Some(text),
                _ => None,
            }
        });
        if let Some(text) = pasted {
            self.paste_rows(text);
        }
    }

    fn paste_rows(&mut self, text: String) {
        let Some(e) = self.elevation() else { return };
        match rows::read(&text, e) {
            Ok(read) => {
                let (change, added) = rows::change(&read, e);
                let replaced = read.len() - added;
                if self.edit(&Edit::In(self.session.elevation, change)) {
                    self.session.tell(format!("{added} openings pasted, {replaced} replaced."));
                }
            }
            // The rows can be put right in the dialog.
            Err(_) => self.session.dialog = Some(Dialog::Rows(text)),
        }
    }
}
