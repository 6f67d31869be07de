//! Pull-test sheet: what is to be tested and to what load, where that is known; boxes to fill in where not.

use super::elevation::Page;
use super::geom::Rect;
use super::model::{Align, SheetKind};
use super::options::SiteData;
use super::paper::Paper;
use super::table::{self, Column, HEAD, PITCH, boxed, lettered};
use super::words::Style;
use super::{Face, Layer};

/// Height of a line, mm: room for a figure by hand.
const ROW: f64 = 7.0;

/// The columns, spread over a width.
fn columns(style: Style, width: f64) -> Vec<Column> {
    let w = style.words;
    let shares = [
        (w.number, 4.0, Align::Right),
        (w.elevation, 16.0, Align::Left),
        (w.tie, 8.0, Align::Left),
        (w.base_and_fixing, 20.0, Align::Left),
        (w.load_to_reach, 10.0, Align::Right),
        (w.load_reached, 10.0, Align::Right),
        (w.movement, 10.0, Align::Right),
    ];
    let boxes = [(w.pass_or_fail, 8.0), (w.remarks, 22.0)];
    let all: f64 = shares.iter().map(|s| s.1).sum::<f64>() + boxes.iter().map(|b| b.1).sum::<f64>();
    let mut columns: Vec<Column> =
        shares.into_iter().map(|(head, share, align)| lettered(head, width * share / all, align)).collect();
    columns.extend(boxes.into_iter().map(|(head, share)| boxed(head, width * share / all)));
    columns
}

/// The sheet, or as many as the tests take; one with empty lines where no tests are known.
pub(super) fn pages(site: &SiteData, paper: Paper, style: Style) -> Vec<Page> {
    let w = style.words;
    let line = |(i, t): (usize, &super::TestLine)| {
        let cells = [&t.elevation, &t.mark, &t.fixing, &t.load, &t.reached, &t.movement, &t.verdict];
        std::iter::once((i + 1).to_string()).chain(cells.into_iter().cloned()).collect()
    };
    let mut rows: Vec<Vec<String>> = site.tests.iter().enumerate().map(line).collect();
    let blank = rows.is_empty();
    let mut pages = Vec::new();
    loop {
        let about = if blank { w.about_tests_blank } else { w.about_tests };
        let mut t = table::page(paper, SheetKind::Tests, w.tests, about, style);
        let mut body = notes(&mut t, site);
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

/// What is said above the list; returns the room below it.
fn notes(t: &mut table::TablePage, site: &SiteData) -> Rect {
    let mut body = t.body;
    for note in site.test_notes.iter().take(8) {
        for line in Face::Condensed.wrap(note, super::draft::SMALL, body.width()).iter().take(4) {
            body.top -= PITCH;
            let text = super::draft::small((body.left, body.top + 1.0), line, Align::Left);
            t.page.draft.text(Layer::Notes, text);
        }
    }
    if !site.test_notes.is_empty() {
        body.top -= 1.5;
    }
    body
}
