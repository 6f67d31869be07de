//! Sheets of tables: a heading, ruled columns with boxes to fill in, and a place to sign.

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::elevation::{PAD, Page, plain_page};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, Layer, SheetKind, Text};
use super::paper::Paper;
use super::words::Style;

/// Distance between lines of lettering, mm.
pub(super) const PITCH: f64 = 3.8;

/// Height of the heading of a sheet, mm.
const HEADING: f64 = 9.0;

/// A sheet of tables, with the room below its heading and the room at its foot, left of the title block.
pub(super) struct TablePage {
    pub page: Page,
    pub body: Rect,
    pub foot: Rect,
}

/// A new sheet with a heading and a sentence or two under it.
pub(super) fn page(paper: Paper, kind: SheetKind, name: &str, about: &str, style: Style) -> TablePage {
    let paper = Paper { upright: false, ..paper };
    let mut page = plain_page(paper, kind, name.to_owned(), style);
    let frame = paper.frame();
    let title = page.title;
    let (left, right) = (frame.left + PAD, frame.right - PAD);
    let bold = Face::Bold;
    let y = frame.top - PAD - 5.0;
    let heading = bold.shorten(name, 5.0, right - left);
    page.draft.text(Layer::Notes, Text::new((left, y), &heading, 5.0, Align::Left, bold));
    let mut top = frame.top - PAD - HEADING;
    for line in Face::Condensed.wrap(about, SMALL, right - left).iter().filter(|l| !l.is_empty()) {
        top -= PITCH;
        page.draft.text(Layer::Notes, small((left, top + 1.0), line, Align::Left));
    }
    let body = Rect::new(left, title.top + PAD, right, top - 2.0);
    let foot = Rect::new(left, frame.bottom + PAD, title.left - PAD, title.top);
    TablePage { page, body, foot }
}

/// A column of a table.
pub(super) struct Column {
    pub head: &'static str,
    /// Width, mm.
    pub width: f64,
    pub align: Align,
}

/// A column with lettering.
pub(super) fn lettered(head: &'static str, width: f64, align: Align) -> Column {
    Column { head, width, align }
}

/// A column of boxes to tick or write in.
pub(super) fn boxed(head: &'static str, width: f64) -> Column {
    Column { head, width, align: Align::Centre }
}

/// Height of the head of a table, mm.
pub(super) const HEAD: f64 = 9.0;

/// Draws a table with its upper left corner at a place: heads, then rows of one height. Returns its foot.
pub(super) fn draw(
    draft: &mut Draft,
    (left, top): (f64, f64),
    columns: &[Column],
    rows: &[Vec<String>],
    row: f64,
) -> f64 {
    let l = Layer::Notes;
    let width: f64 = columns.iter().map(|c| c.width).sum();
    let foot = top - HEAD - row * rows.len() as f64;
    let mut x = left;
    for c in columns {
        let lines = Face::CondensedBold.wrap(c.head, SMALL, c.width - 0.6);
        for (k, line) in lines.iter().take(2).rev().enumerate() {
            let at = (x + c.width / 2.0, top - HEAD + 1.4 + 3.5 * k as f64);
            let line = Face::CondensedBold.shorten(line, SMALL, c.width - 0.6);
            draft.text(l, Text::new(at, &line, SMALL, Align::Centre, Face::CondensedBold));
        }
        if x > left {
            draft.line(l, (x, foot), (x, top), THIN);
        }
        x += c.width;
    }
    for (i, cells) in rows.iter().enumerate() {
        let y = top - HEAD - row * i as f64;
        draft.line(l, (left, y), (left + width, y), if i == 0 { MEDIUM } else { THIN });
        let mut x = left;
        for (c, cell) in columns.iter().zip(cells) {
            let at = match c.align {
                Align::Left => x + 1.0,
                Align::Centre => x + c.width / 2.0,
                Align::Right => x + c.width - 1.0,
            };
            let face = if x > left { Face::Condensed } else { Face::CondensedBold };
            let lines = fitted(face, cell, c.width - CELL_AIR, row);
            let middle = y - row / 2.0 - SMALL / 2.0;
            for (k, line) in lines.iter().enumerate() {
                let base = middle + CELL_PITCH * ((lines.len() as f64 - 1.0) / 2.0 - k as f64);
                draft.text(l, Text::new((at, base), line, SMALL, c.align, face));
            }
            x += c.width;
        }
    }
    draft.rect(l, &Rect::new(left, foot, left + width, top), MEDIUM);
    foot
}

/// Between lines of lettering in a cell, mm.
const CELL_PITCH: f64 = 3.5;

/// Air at the sides of a cell's lettering, mm.
pub(super) const CELL_AIR: f64 = 1.6;

/// The lines of a cell that a row holds, the last cut short where there are more.
fn fitted(face: Face, cell: &str, width: f64, row: f64) -> Vec<String> {
    let most = (((row - SMALL) / CELL_PITCH).floor() as usize + 1).max(1);
    let mut lines = face.wrap(cell, SMALL, width);
    if lines.len() > most {
        let rest = lines.split_off(most - 1).join(" ");
        lines.push(face.shorten(&rest, SMALL, width));
    }
    lines
}

/// The height that every row of a table needs so that no cell is cut short, at least `least` and at most four
/// lines of lettering, mm.
pub(super) fn row_height(columns: &[Column], rows: &[Vec<String>], least: f64) -> f64 {
    let count = |(i, (c, cell)): (usize, (&Column, &String))| {
        let face = if i > 0 { Face::Condensed } else { Face::CondensedBold };
        face.wrap(cell, SMALL, c.width - CELL_AIR).len()
    };
    let most = rows.iter().flat_map(|r| columns.iter().zip(r).enumerate().map(count)).max().unwrap_or(1);
    least.max(SMALL + CELL_PITCH * (most.min(4) as f64 - 1.0) + 2.0)
}

/// Lines to fill in by hand: a caption with a rule after it, in columns that share the room.
pub(super) fn blanks(draft: &mut Draft, area: &Rect, captions: &[&str], columns: usize, pitch: f64) -> f64 {
    let columns = columns.max(1);
    let width = area.width() / columns as f64;
    let rows = captions.len().div_ceil(columns);
    for (i, caption) in captions.iter().enumerate() {
        let (column, row) = (i % columns, i / columns);
        let left = area.left + width * column as f64;
        let y = area.top - pitch * (row + 1) as f64;
        let text =
            small((left, y + 0.8), &Face::Condensed.shorten(caption, SMALL, width - 12.0), Align::Left);
        let from = left + text.width() + 1.5;
        draft.text(Layer::Notes, text);
        draft.line(Layer::Notes, (from, y), (left + width - 3.0, y), THIN);
    }
    area.top - pitch * rows as f64
}

/// The place at the foot of a sheet where it is signed.
pub(super) fn signature(draft: &mut Draft, foot: &Rect, note: &str, style: Style) {
    let w = style.words;
    draft.rect(Layer::Notes, foot, MEDIUM);
    let inside = foot.inset(1.8);
    let lines = Face::Condensed.wrap(note, SMALL, inside.width());
    let mut y = inside.top;
    for line in lines.iter().take(4) {
        y -= PITCH;
        draft.text(Layer::Notes, small((inside.left, y + 0.6), line, Align::Left));
    }
    let area = Rect { top: y - 0.5, ..inside };
    let captions = [w.name, w.signature, w.date_signed, w.checked_by, w.signature, w.date_signed];
    let columns = if area.width() > 120.0 { 3 } else { 1 };
    let rows = captions.len().div_ceil(columns) as f64;
    let fit = ((area.height() / 5.0).floor() as usize).max(1) * columns;
    let pitch = (area.height() / rows).clamp(5.0, 9.5);
    blanks(draft, &area, &captions[..captions.len().min(fit)], columns, pitch);
}

/// Places for a table side by side in a room, as many as its columns allow; its boxes to fill in share what room is
/// over.
pub(super) fn side_by_side(body: &Rect, columns: &mut [Column]) -> Vec<Rect> {
    let gutter = 4.0;
    let least: f64 = columns.iter().map(|c| c.width).sum();
    let n = (((body.width() + gutter) / (least + gutter) + 1e-9).floor() as usize).max(1);
    let width = ((body.width() + gutter) / n as f64 - gutter).max(least);
    let boxes = columns.iter().filter(|c| c.align == Align::Centre).count();
    let more = (width - least) / boxes.max(1) as f64;
    columns.iter_mut().filter(|c| c.align == Align::Centre).for_each(|c| c.width += more);
    (0..n)
        .map(|i| {
            let left = body.left + i as f64 * (width + gutter);
            Rect::new(left, body.bottom, left + width, body.top)
        })
        .collect()
}
