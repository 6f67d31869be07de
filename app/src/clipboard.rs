//! Copy, cut and paste: things within the window, openings as rows of a table with the world outside.

use egui::{Context, Event, OutputCommand, ViewportCommand};
use layout_core::elevation::{Elevation, Opening, Point};

use crate::app::Planner;
use crate::commands::Command;
use crate::document::{Change, Edit, Item, Object, arrange, rows};
use crate::perform::{is_clear, room_beside};
use crate::session::{Dialog, Request, Selection};

/// What was copied, and the text that was handed to the desktop with it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Copied {
    /// The things.
    pub objects: Vec<Object>,
    text: String,
}

impl Planner {
    /// Takes what the desktop says was copied, cut or pasted. Rows of a table are taken before a field takes
    /// them as words: where no field has the keyboard, or into the table of openings.
    pub(crate) fn clipboard_events(&mut self, ctx: &Context, typing: bool, requests: &mut Vec<Request>) {
        if self.session.dialog.is_some() {
            return;
        }
        let table = self.session.table;
        let mut pasted = None;
        ctx.input_mut(|i| {
            i.events.retain(|event| match event {
                Event::Copy | Event::Cut if !typing => {
                    let cut = matches!(event, Event::Cut);
                    requests.push(Request::Run(if cut { Command::Cut } else { Command::Copy }));
                    false
                }
                Event::Paste(text) if !typing || (table && rows::looks_like_rows(text)) => {
                    pasted = Some(text.clone());
                    false
                }
                _ => true,
            });
        });
        if let Some(text) = pasted {
            self.paste_text(text);
        }
    }

    fn paste_text(&mut self, text: String) {
        let ours = self.session.copied.text.trim() == text.trim();
        if ours && !self.session.copied.objects.is_empty() {
            self.paste_objects();
        } else if rows::looks_like_rows(&text) {
            self.paste_rows(text);
        } else {
            self.session.tell("What is on the clipboard is neither a copied thing nor rows of openings.");
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

    /// Copies what is selected; openings reach the desktop as rows of a table.
    pub(crate) fn copy(&mut self, cut: bool, ctx: &Context) {
        let Some(e) = self.elevation() else { return };
        let mut items = self.session.items();
        // A locked area belongs to the ties that stand in it.
        items.retain(|i| !matches!(i, Item::Locked(_)));
        let objects: Vec<Object> = items.iter().filter_map(|i| i.object(e)).collect();
        if objects.is_empty() {
            return;
        }
        let openings: Vec<Opening> = objects
            .iter()
            .filter_map(|o| match o {
                Object::Opening(o) => Some(o.clone()),
                _ => None,
            })
            .collect();
        let name = arrange::named(e, &items);
        let text = if openings.is_empty() {
            format!("{name}, copied in Tiewright")
        } else {
            rows::write(&openings, e, self.session.feet)
        };
        ctx.send_cmd(OutputCommand::CopyText(text.clone()));
        let removed = arrange::removed(e, &items).filter(|_| cut);
        self.session.copied = Copied { objects, text };
        if let Some(change) = removed {
            if self.edit(&Edit::In(self.session.elevation, change)) {
                self.session.select(None);
            }
        } else {
            self.session.tell(format!("{name} copied: paste it here or on another elevation."));
        }
    }

    /// Pastes what was copied in this window, else asks the desktop for its clipboard.
    pub(crate) fn paste(&mut self, ctx: &Context) {
        if self.session.copied.objects.is_empty() {
            ctx.send_viewport_cmd(ViewportCommand::RequestPaste);
        } else {
            self.paste_objects();
        }
    }

    /// How far from the originals copies are put: nowhere where their places are free, as on another elevation; else
    /// to the pointer, or clear of the originals where it is not over the sheet or something is in the way.
    fn paste_by(&self, e: &Elevation, objects: &[Object]) -> Point {
        let taken = |o: &Object| Item::all(e).any(|i| i.object(e).is_some_and(|p| p.bounds() == o.bounds()));
        if !objects.iter().any(taken) {
            return (0.0, 0.0);
        }
        let none = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        let (l, b, r, t) = objects
            .iter()
            .map(Object::bounds)
            .fold(none, |a, o| (a.0.min(o.0), a.1.min(o.1), a.2.max(o.2), a.3.max(o.3)));
        // Whole steps, so that what stood on courses stands on courses again.
        let gauge = if e.coursing.gauge >= 1.0 { e.coursing.gauge } else { 25.0 };
        let steps = |v: f64, step: f64| (v / step).round() * step;
        let to_pointer = self
            .session
            .cursor
            .map(|at| (steps(at.0 - (l + r) / 2.0, 25.0), steps(at.1 - (b + t) / 2.0, gauge)))
            .filter(|by| *by != (0.0, 0.0) && is_clear(e, (l + by.0, b + by.1, r + by.0, t + by.1)));
        to_pointer.unwrap_or_else(|| room_beside(e, (l, b, r, t)))
    }

    /// Puts copies where the originals were, at the pointer, or beside the originals.
    fn paste_objects(&mut self) {
        let Some(e) = self.elevation() else { return };
        let before = Counts::of(e);
        let objects = self.session.copied.objects.clone();
        let by = self.paste_by(e, &objects);
        let fresh = |o: &Object| match o.moved(by.0, by.1) {
            Object::Opening(mut opening) => {
                // A name that is free stays: W3 of the front is W3 of the rear too.
                if e.openings.iter().any(|p| p.name == opening.name) {
                    opening.name.clear();
                }
                Object::Opening(opening)
            }
            other => other,
        };
        let name = match objects.as_slice() {
            [one] => format!("Paste {}", one.name().unwrap_or(one.kind())),
            many => format!("Paste {} things", many.len()),
        };
        let changes = objects.iter().map(|o| Change::Add(fresh(o))).collect();
        if self.edit(&Edit::In(self.session.elevation, Change::Group(name, changes)))
            && let Some(e) = self.elevation()
        {
            let new = before.added(e);
            self.session.select(new.first().map(|i| Selection::Item(*i)));
            self.session.others = new.into_iter().skip(1).collect();
        }
    }
}

/// How many things of each kind there were.
struct Counts([usize; 5]);

impl Counts {
    fn of(e: &layout_core::elevation::Elevation) -> Self {
        let (a, b) = (e.openings.len(), e.keep_outs.len());
        Self([a, b, e.movement_joints.len(), e.existing_ties.len(), e.pinned.len()])
    }

    /// What has been added since.
    fn added(&self, e: &layout_core::elevation::Elevation) -> Vec<Item> {
        let now = Self::of(e).0;
        let kinds: [fn(usize) -> Item; 5] =
            [Item::Opening, Item::KeepOut, Item::Joint, Item::OldTie, Item::Pinned];
        let each = |k: usize| (self.0[k]..now[k]).map(kinds[k]).collect::<Vec<_>>();
        (0..5).flat_map(each).collect()
    }
}
