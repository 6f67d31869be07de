//! As-installed record: a line for every tie, with boxes to tick as it is drilled, fixed, tested and made good.

use super::draft::SMALL;
use super::elevation::{Page, name_of};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, SheetKind};
use super::paper::Paper;
use super::schedule::by_row;
use super::site::lengths_of_ties;
use super::table::{self, CELL_AIR, Column, HEAD, lettered};
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

/// Air at the sides of the figures of a column beyond that of any cell, mm.
const AIR: f64 = 0.8;

/// A column as narrow as its head and the longest of its cells allow.
fn narrow(head: &'static str, face: Face, align: Align, rows: &[Vec<String>], column: usize) -> Column {
    let width = |r: &Vec<String>| r.get(column).map_or(0.0, |c| face.width(c, SMALL));
    let widest = rows.iter().map(width).fold(0.0, f64::max);
    let words = head.split(' ').map(|w| Face::CondensedBold.width(w, SMALL)).fold(0.0, f64::max);
    lettered(head, (widest + CELL_AIR + AIR).max(words + 1.2), align)
}

/// The columns of the record with the cells of every tie; a column of which no tie has anything is left out.
fn columns(wall: &Wall<'_>) -> (Vec<Column>, Vec<Vec<String>>) {
    let w = wall.style.words;
    let rows = rows(wall);
    let mut said = vec![w.tie, w.course_head, w.height_head, w.from_left];
    if !lengths_of_ties(wall).is_empty() {
        said.push(w.engineering.length_head);
    }
    let boxes = [w.drilled, w.fixed_inner, w.tested, w.fixed_outer, w.made_good, w.initials];
    let empty = |i: usize| i < said.len() && rows.iter().all(|r| r.get(i).is_none_or(String::is_empty));
    let left: Vec<usize> = (0..said.len() + boxes.len()).filter(|&i| !empty(i)).collect();
    let column = |&i: &usize| match (i, said.get(i)) {
        (0, Some(head)) => narrow(head, Face::CondensedBold, Align::Left, &rows, i),
        (_, Some(head)) => narrow(head, Face::Condensed, Align::Right, &rows, i),
        (_, None) => narrow(boxes[i - said.len()], Face::Condensed, Align::Centre, &rows, i),
    };
    let columns = left.iter().map(column).collect();
    let kept = |r: &Vec<String>| left.iter().map_while(|&i| r.get(i).cloned()).collect();
    (columns, rows.iter().map(kept).collect())
}

/// The record of a whole elevation, on as many sheets as it takes.
pub(super) fn pages(wall: &Wall<'_>, paper: Paper) -> Vec<Page> {
    let (w, style) = (wall.style.words, wall.style);
    let name = name_of(&wall.elevation.name, wall.index, style);
    let title = fill(w.record_of, &[&name]);
    let (mut columns, rows) = columns(wall);
    let tested = wall.plan.engineering.tests.as_ref().is_some_and(|t| !t.rings().is_empty());
    let about = if tested {
        format!("{} {}", w.about_record, w.engineering.about_record_tests)
    } else {
        w.about_record.to_owned()
    };
    let mut pages = Vec::new();
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        let mut t = table::page(paper, SheetKind::Record, &title, &about, style);
        for place in table::side_by_side(&t.body, &mut columns) {
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
