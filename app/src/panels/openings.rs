//! The table of openings: every opening a row of sizes, edited like a spreadsheet.

use egui::{Align, Button, Id, Key, Layout, Ui};
use egui_extras::{Column, TableBuilder, TableRow};
use layout_core::elevation::{Elevation, Opening, shape_bounds};

use crate::commands::Command;
use crate::document::heads::{Head, refilled};
use crate::document::rows::{self, left_end};
use crate::document::{Change, Item, Object};
use crate::session::{Context, Request, Selection};
use crate::widgets::number::{self, Look, Must};
use crate::widgets::{choose, field, quiet};

/// Columns of lengths.
const LENGTHS: [(&str, Must); 4] = [
    ("from left", Must::BePlace),
    ("sill", Must::BeHeight),
    ("width", Must::BeSize),
    ("height", Must::BeSize),
];

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(e) = cx.elevation().cloned() else {
        quiet(ui, "No elevation.");
        return;
    };
    buttons(ui, cx, &e);
    if e.openings.is_empty() {
        quiet(ui, "No openings yet. Draw one, add a row, or paste rows from a spreadsheet (Ctrl+V).");
        return;
    }
    let selected = match cx.session.item() {
        Some(Item::Opening(i)) => Some(i),
        _ => None,
    };
    let lengths = length_width(ui) + 22.0;
    let mut table = TableBuilder::new(ui)
        .id_salt("table of openings")
        .striped(true)
        .cell_layout(Layout::left_to_right(Align::Center))
        .column(Column::exact(96.0))
        .columns(Column::exact(lengths), LENGTHS.len())
        .column(Column::exact(120.0))
        .column(Column::exact(30.0));
    // What is selected on the sheet is brought into view once.
    if selected.map(Item::Opening) != cx.session.table_at {
        cx.session.table_at = selected.map(Item::Opening);
        if let Some(i) = selected {
            table = table.scroll_to_row(i, None);
        }
    }
    table
        .header(20.0, |mut header| {
            for word in ["Name", "From left", "Sill", "Width", "Height", "Head", ""] {
                header.col(|ui| {
                    quiet(ui, word);
                });
            }
        })
        .body(|body| {
            body.rows(27.0, e.openings.len(), |mut row| {
                let i = row.index();
                row.set_selected(selected == Some(i));
                if let Some(opening) = e.openings.get(i) {
                    cells(&mut row, cx, &e, i, opening);
                }
            });
        });
}

/// Width of a cell for a length: feet, inches and sixteenths take more room than mm.
fn length_width(ui: &Ui) -> f32 {
    if number::Habits::in_force(ui.ctx()).feet { number::FEET_WIDTH } else { 66.0 }
}

fn buttons(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation) {
    ui.horizontal(|ui| {
        ui.strong("Openings");
        if ui.button("Add a row").on_hover_text("A window beside the last one, to be changed").clicked() {
            cx.add(another(e));
        }
        let command = Command::PasteRows;
        if ui.button(command.spec().label).on_hover_text(command.tip_text(ui.ctx())).clicked() {
            cx.run(command);
        }
        let copy = ui.add_enabled(!e.openings.is_empty(), Button::new("Copy the table"));
        if copy.on_hover_text("Copy every row, to paste into a spreadsheet").clicked() {
            ui.ctx().copy_text(rows::write(&e.openings, e, cx.session.feet));
            cx.session.tell("The table is copied: paste it into a spreadsheet.");
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui
                .button("×")
                .on_hover_text("Hide the table  (F4)")
                .accessible_name("Hide the table")
                .clicked()
            {
                cx.run(Command::Table);
            }
        });
    });
}

/// A window like the last opening, one of its widths further along.
fn another(e: &Elevation) -> Change {
    let shape = e.openings.last().map_or_else(
        || Head::Square.filling((left_end(e) + 900.0, 900.0, left_end(e) + 2100.0, 2250.0)),
        |last| {
            let (l, _, r, _) = shape_bounds(&last.shape);
            crate::document::item::moved_shape(&last.shape, (r - l) + 450.0, 0.0)
        },
    );
    Change::Add(Object::Opening(Opening { name: String::new(), shape }))
}

fn cells(row: &mut TableRow<'_, '_>, cx: &mut Context<'_>, e: &Elevation, i: usize, o: &Opening) {
    let on = cx.session.elevation;
    let id = |row: usize, column: usize| Id::unique(("opening cell", on, row, column));
    let mut new = None;
    let mut seen = false;
    row.col(|ui| {
        let name = format!("{} name", o.name);
        let focused = before(ui, id(i, 0));
        if let Some(text) = field::words(ui, id(i, 0), &name, 76.0, "no name", &o.name) {
            new = Some(Opening { name: text, ..o.clone() });
        }
        seen |= after(ui, focused, id(i, 0), |i| id(i, 0), i, e.openings.len());
    });
    let (l, b, r, t) = shape_bounds(&o.shape);
    let left = left_end(e);
    let values = [l - left, b, r - l, t - b];
    for (k, (label, must)) in LENGTHS.into_iter().enumerate() {
        row.col(|ui| {
            let name = format!("{} {label}", o.name);
            let cell = id(i, k + 1);
            let focused = before(ui, cell);
            let width = length_width(ui);
            let look =
                Look { name: &name, width, right: true, tip: number::WAYS, slip: true, ..Look::default() };
            let value = layout_core::units::tidy_mm(values[k]);
            if let Some(v) = number::length(ui, cell, look, value, must) {
                let to = match k {
                    0 => (left + v, b, left + v + r - l, t),
                    1 => (l, v, r, v + t - b),
                    2 => (l, b, l + v, t),
                    _ => (l, b, r, b + v),
                };
                new = Some(Opening { shape: resized(o, to, k), ..o.clone() });
            }
            seen |= after(ui, focused, cell, |i| id(i, k + 1), i, e.openings.len());
        });
    }
    row.col(|ui| {
        let now = Head::of(&o.shape);
        let heads: Vec<_> = Head::ALL.into_iter().map(|h| (h, h.words())).collect();
        if let Some(head) = choose(ui, &format!("{} head", o.name), 108.0, now, &heads) {
            new = Some(Opening { shape: head.filling((l, b, r, t)), ..o.clone() });
        }
    });
    row.col(|ui| {
        let tip = format!("Take out {}", o.name);
        if ui.button("×").on_hover_text(&tip).accessible_name(tip).clicked() {
            cx.change(Change::Remove(Item::Opening(i)));
        }
    });
    if let Some(opening) = new {
        cx.change(Change::Replace(Item::Opening(i), Object::Opening(opening)));
    }
    let item = Item::Opening(i);
    if seen && cx.session.item() != Some(item) {
        cx.session.table_at = Some(item);
        cx.ask(Request::Select(Some(Selection::Item(item))));
    }
}

/// The opening with other bounds; a move keeps its shape to the last figure.
fn resized(o: &Opening, to: (f64, f64, f64, f64), column: usize) -> layout_core::elevation::Shape {
    let (l, b, _, _) = shape_bounds(&o.shape);
    match (column, Head::of(&o.shape)) {
        (0 | 1, _) => crate::document::item::moved_shape(&o.shape, to.0 - l, to.1 - b),
        // A circle has one size: the other follows the one that was typed.
        (2, Head::Round) => Head::Round.filling((to.0, to.1, to.2, to.1 + to.2 - to.0)),
        (3, Head::Round) => Head::Round.filling((to.0, to.1, to.0 + to.3 - to.1, to.3)),
        _ => refilled(&o.shape, to),
    }
}

/// Whether a cell had the keyboard before this frame's keys.
fn before(ui: &Ui, cell: Id) -> bool {
    ui.memory(|m| m.has_focus(cell))
}

/// Enter and the arrows go down and up the column, as in a spreadsheet. Whether the cell has the keyboard.
fn after(ui: &Ui, had: bool, cell: Id, column: impl Fn(usize) -> Id, i: usize, count: usize) -> bool {
    let has = ui.memory(|m| m.has_focus(cell));
    if had {
        let pressed = |key| ui.input(|input| input.key_pressed(key));
        let down = pressed(Key::ArrowDown) || (pressed(Key::Enter) && !has);
        let to = if down {
            Some(i + 1).filter(|n| *n < count)
        } else if pressed(Key::ArrowUp) {
            i.checked_sub(1)
        } else {
            None
        };
        if let Some(to) = to {
            // The next cell is shown in this frame too, and must not take the key again.
            ui.input_mut(|input| {
                for key in [Key::ArrowDown, Key::ArrowUp, Key::Enter] {
                    input.consume_key(egui::Modifiers::NONE, key);
                }
            });
            ui.memory_mut(|m| m.request_focus(column(to)));
            return false;
        }
    }
    has
}
