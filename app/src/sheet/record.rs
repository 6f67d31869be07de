//! As-installed record: a line for every tie, with boxes to tick as it is drilled, fixed, tested and made good.

use super::elevation::{Page, name_of};
use super::geom::Rect;
use super::model::{Align, SheetKind};
use super::paper::Paper;
use super::schedule::by_row;
use super::table::{self, Column, HEAD, boxed, lettered};
use super::view::Wall;
use super::words::{self, fill};

/// Height of a line, mm: a box that a pencil can tick.
const ROW: f64 = 5.0;

/// The record of a whole elevation, on as many sheets as it takes.
pub(super) fn pages(wall: &Wall<'_>, paper: Paper) -> Vec<Page> {
    let (w, style) = (wall.style.words, wall.style);
    let name = name_of(&wall.elevation.name, wall.index, style);
    let title = fill(w.record_of, &[&name]);
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (y, ties) in by_row(wall) {
        let at = [words::course(wall.elevation, y, style), style.mm(y)];
        for t in ties {
            let run = style.mm((t.at.0 - wall.bounds.left).round());
            rows.push(vec![t.mark.clone(), at[0].clone(), at[1].clone(), run]);
        }
    }
    let columns: Vec<Column> = vec![
        lettered(w.tie, 11.0, Align::Left),
        lettered(w.course_head, 13.4, Align::Right),
        lettered(w.height_head, 12.8, Align::Right),
        lettered(w.from_left, 11.4, Align::Right),
        boxed(w.drilled, 12.8),
        boxed(w.fixed_inner, 11.4),
        boxed(w.tested, 13.2),
        boxed(w.fixed_outer, 11.4),
        boxed(w.made_good, 11.4),
        boxed(w.initials, 13.4),
    ];
    let width: f64 = columns.iter().map(|c| c.width).sum();
    let mut pages = Vec::new();
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        let mut t = table::page(paper, SheetKind::Record, &title, w.about_record, style);
        for place in table::side_by_side(&t.body, width) {
            let n = fit(&place).min(rest.len());
            if n > 0 {
                table::draw(&mut t.page.draft, (place.left, place.top), &columns, &rest[..n], ROW);
                rest = &rest[n..];
            }
        }
        table::signature(&mut t.page.draft, &t.foot, w.record_note, style);
        pages.push(t.page);
    }
    pages
}

/// How many lines a column of the sheet holds; at least one, so that there is an end.
fn fit(place: &Rect) -> usize {
    (((place.height() - HEAD) / ROW).floor() as usize).max(1)
}
