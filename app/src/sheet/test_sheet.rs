//! Pull-test sheet: what is to be tested and to what load, where that is known; boxes to fill in where not.

use super::Layer;
use super::elevation::Page;
use super::flow::{Notes, columns as columns_of};
use super::geom::Rect;
use super::model::{Align, SheetKind};
use super::notes::sheets_of;
use super::paper::Paper;
use super::site::{TestLine, test_notes, tests};
use super::table::{self, Column, HEAD, lettered};
use super::view::Wall;
use super::words::Style;

/// Height of a line, mm: room for a figure by hand.
const ROW: f64 = 7.0;

/// The columns, spread over a width.
fn columns(style: Style, width: f64) -> Vec<Column> {
    let w = style.words;
    let shares = [
        (w.number, 5.0, Align::Right),
        (w.elevation, 16.0, Align::Left),
        (w.tie, 8.0, Align::Left),
        (w.from_left, 8.0, Align::Right),
        (w.height_head, 8.0, Align::Right),
        (w.base_and_fixing, 22.0, Align::Left),
        (w.load_to_reach, 11.0, Align::Right),
        (w.load_reached, 11.0, Align::Right),
        (w.movement, 10.0, Align::Right),
    ];
    let boxes = [(w.pass_or_fail, 9.0, Align::Centre), (w.remarks, 16.0, Align::Left)];
    let all: f64 = shares.iter().map(|s| s.1).sum::<f64>() + boxes.iter().map(|b| b.1).sum::<f64>();
    let mut columns: Vec<Column> =
        shares.into_iter().map(|(head, share, align)| lettered(head, width * share / all, align)).collect();
    columns.extend(boxes.into_iter().map(|(head, share, align)| lettered(head, width * share / all, align)));
    columns
}

/// The cells of a test.
fn cells((i, t): (usize, &TestLine)) -> Vec<String> {
    let empty = String::new();
    let [from_left, height] = &t.place;
    let cells = [
        &t.elevation,
        &t.mark,
        from_left,
        height,
        &t.base,
        &t.load,
        &t.reached,
        &empty,
        &t.verdict,
        &t.remarks,
    ];
    std::iter::once((i + 1).to_string()).chain(cells.into_iter().cloned()).collect()
}

/// The sheet, or as many as the tests of all elevations take; one with empty lines where no tests are known.
pub(super) fn pages(walls: &[Wall<'_>], paper: Paper, style: Style) -> Vec<Page> {
    let w = style.words;
    let lines: Vec<TestLine> = walls.iter().flat_map(tests).collect();
    let mut rows: Vec<Vec<String>> = lines.iter().enumerate().map(cells).collect();
    let blank = rows.is_empty();
    let about = if blank { w.about_tests_blank } else { w.about_tests };
    let mut told = told(walls, paper);
    let mut pages = Vec::new();
    let body = table::page(paper, SheetKind::Tests, w.tests, about, style).body;
    if told.left_over(&columns_of(&Rect { bottom: body.top - body.height() * 0.5, ..body }, told.width)) > 0 {
        let title = (SheetKind::Tests, w.engineering.tests_notes, "");
        pages.extend(sheets_of(&mut told, paper, title, style, |_, _| false));
    }
    loop {
        let mut t = table::page(paper, SheetKind::Tests, w.tests, about, style);
        let mut body = poured(&mut t, &mut told);
        let captions =
            [w.test_gauge, w.calibrated_on, w.scheme, w.tie_and_resin, w.weather, w.waited_for_set];
        let count = if body.width() > 300.0 { 3 } else { 2 };
        body.top = table::blanks(&mut t.page.draft, &body, &captions, count, 7.5) - 3.0;
        let room = (((body.height() - HEAD) / ROW).floor() as usize).max(1);
        let mut now: Vec<Vec<String>> = rows.drain(..room.min(rows.len())).collect();
        if rows.is_empty() {
            // The last sheet is filled up with empty lines, for tests added on site.
            let from = now.len();
            let number = |i: usize| if blank { vec![(i + 1).to_string()] } else { Vec::new() };
            now.extend((from..room).map(number));
        }
        let columns = columns(style, body.width());
        table::draw(&mut t.page.draft, (body.left, body.top), &columns, &now, ROW);
        table::signature(&mut t.page.draft, &t.foot, w.tests_note, style);
        pages.push(t.page);
        if rows.is_empty() {
            return pages;
        }
    }
}

/// What is said above the list: each elevation, then what to mind, once.
fn told(walls: &[Wall<'_>], paper: Paper) -> Notes {
    let mut notes = Notes::for_sheet(paper);
    let mut cautions: Vec<&String> = Vec::new();
    for wall in walls {
        test_notes(wall).iter().for_each(|s| notes.para(Layer::Notes, s));
        for c in wall.plan.engineering.tests.iter().flat_map(|t| &t.cautions) {
            if !cautions.contains(&c) {
                cautions.push(c);
            }
        }
    }
    cautions.into_iter().for_each(|c| notes.para(Layer::Notes, c));
    notes
}

/// Pours the notes above the list; returns the room below them.
fn poured(t: &mut table::TablePage, notes: &mut Notes) -> Rect {
    if notes.is_empty() {
        return t.body;
    }
    let columns = notes.balanced(&columns_of(&t.body, notes.width));
    notes.pour(&mut t.page.draft, &columns);
    let foot = columns.iter().map(|c| c.bottom).fold(t.body.top, f64::min);
    Rect { top: foot - 1.0, ..t.body }
}
