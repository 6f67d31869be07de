//! As-installed record: a line for every tie, with boxes to tick as it is drilled, fixed, tested and made good.

use super::draft::SMALL;
use super::elevation::{Page, name_of};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, SheetKind};
use super::paper::Paper;
use super::schedule::by_row;
use super::site::lengths_of_ties;
use super::table::{self, CELL_AIR, Column, HEAD, boxed, lettered};
use super::view::Wall;
use super::words::{self, fill};
use layout_core::testing::TestPlan;

/// Height of a line, mm: a box that a pencil can tick.
const ROW: f64 = 5.0;

/// The cells of every tie, row by row: mark, course, height, distance from the left, length where ties differ,
/// and which are to be tested.
fn rows(wall: &Wall<'_>) -> Vec<Vec<String>> {
    let style = wall.style;
    let lengths = lengths_of_ties(wall);
    let tested = wall.plan.engineering.tests.as_ref().map(TestPlan::rings).unwrap_or_default();
    let mut rows = Vec::new();
    for (y, ties) in by_row(wall) {
        let at = [words::course(wall.elevation, y, style), style.mm(y)];
        for (i, t) in ties {
            let run = style.mm((t.at.0 - wall.bounds.left).round());
            let mut cells = vec![t.mark.clone(), at[0].clone(), at[1].clone(), run];
            cells.extend(lengths.get(i).cloned());
            let test = if tested.binary_search(&i).is_ok() { style.words.engineering.test_here } else { "" };
            cells.extend(["", "", test].map(str::to_owned));
            rows.push(cells);
        }
    }
    rows
}

/// A column with figures, as wide as its head and the longest of them ask.
fn figures(head: &'static str, least: f64, rows: &[Vec<String>], column: usize) -> Column {
    let width = |r: &Vec<String>| r.get(column).map_or(0.0, |c| Face::Condensed.width(c, SMALL));
    let widest = rows.iter().map(width).fold(0.0, f64::max);
    let words = head.split(' ').map(|w| Face::CondensedBold.width(w, SMALL)).fold(0.0, f64::max);
    lettered(head, least.max(widest + CELL_AIR + 0.2).max(words + 0.8), Align::Right)
}

/// The column of marks, as wide as the longest of them asks.
fn marks(head: &'static str, least: f64, rows: &[Vec<String>]) -> Column {
    let width = |r: &Vec<String>| r.first().map_or(0.0, |c| Face::CondensedBold.width(c, SMALL));
    let widest = rows.iter().map(width).fold(0.0, f64::max);
    lettered(head, least.max(widest + CELL_AIR + 0.2), Align::Left)
}

/// The record of a whole elevation, on as many sheets as it takes.
pub(super) fn pages(wall: &Wall<'_>, paper: Paper) -> Vec<Page> {
    let (w, style) = (wall.style.words, wall.style);
    let name = name_of(&wall.elevation.name, wall.index, style);
    let title = fill(w.record_of, &[&name]);
    let rows = rows(wall);
    let mut columns: Vec<Column> = vec![
        marks(w.tie, 11.0, &rows),
        lettered(w.course_head, 13.4, Align::Right),
        figures(w.height_head, 12.8, &rows, 2),
        figures(w.from_left, 11.4, &rows, 3),
    ];
    if !lengths_of_ties(wall).is_empty() {
        columns.push(figures(w.engineering.length_head, 12.4, &rows, 4));
    }
    columns.extend([
        boxed(w.drilled, 12.8),
        boxed(w.fixed_inner, 11.4),
        boxed(w.tested, 13.2),
        boxed(w.fixed_outer, 11.4),
        boxed(w.made_good, 11.4),
        boxed(w.initials, 13.4),
    ]);
    let tested = wall.plan.engineering.tests.as_ref().is_some_and(|t| !t.rings().is_empty());
    let about = if tested {
        format!("{} {}", w.about_record, w.engineering.about_record_tests)
    } else {
        w.about_record.to_owned()
    };
    let width: f64 = columns.iter().map(|c| c.width).sum();
    let mut pages = Vec::new();
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        let mut t = table::page(paper, SheetKind::Record, &title, &about, style);
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
