//! Frame and title block, with the fields that ISO 7200 names.

use super::draft::{Draft, FINE, MEDIUM, SMALL, THICK};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, Layer, Text};
use layout_core::elevation::Project;

/// Height of a row: a caption over a value, mm.
const ROW: f64 = 8.6;

/// Height of the row of the title, mm.
const TITLE_ROW: f64 = 15.6;

/// Height of the row that names the sheet, mm.
const NAME_ROW: f64 = 10.4;

/// A title block this wide or wider sets its fields side by side, mm.
const WIDE: f64 = 160.0;

/// Height of the title block at a width, mm.
pub(super) fn height(width: f64) -> f64 {
    if width >= WIDE { TITLE_ROW + 2.0 * ROW } else { TITLE_ROW + NAME_ROW + 5.0 * ROW }
}

struct Cell {
    caption: &'static str,
    value: String,
    share: f64,
    height: f64,
}

fn cell(caption: &'static str, value: &str, share: f64) -> Cell {
    Cell { caption, value: value.to_owned(), share, height: SMALL }
}

/// Where a sheet stands in its set.
pub(super) struct Place<'a> {
    pub number: usize,
    pub of: usize,
    pub date: Option<&'a str>,
}

/// Draws the frame of a sheet and its title block into `area`.
pub(super) fn draw(draft: &mut Draft, project: &Project, area: &Rect, place: &Place<'_>) {
    draft.rect(Layer::Frame, &draft.paper.frame(), THICK);
    draft.rect(Layer::Frame, area, MEDIUM);
    let scale = draft.elevation.map_or_else(|| "–".to_owned(), |(_, s)| format!("1:{s}"));
    let title = Cell { height: 3.5, ..cell("Title", &project.title, 0.6) };
    let name = Cell { height: 3.5, ..cell("Sheet", &draft.title, 0.4) };
    let number = cell("Drawing no.", &project.reference, 0.4);
    let count = cell("Sheet no.", &format!("{} of {}", place.number, place.of), 0.32);
    let scale = cell("Scale", &scale, 0.28);
    let site = cell("Site", &project.site, 1.0);
    let client = cell("Client", &project.client, 1.0);
    let kind = cell("Document", "Setting out", 0.3);
    let drawn = cell("Drawn by", &project.drawn_by, 1.0);
    let approved = cell("Approved by", "", 0.34);
    let date = cell("Date", place.date.unwrap_or(""), 0.34);
    let revision = cell("Rev.", &project.revision, 0.16);
    let size = cell("Size", draft.paper.size.name(), 0.16);
    let share = |share: f64, c: Cell| Cell { share, ..c };
    let rows: Vec<(f64, Vec<Cell>)> = if area.width() >= WIDE {
        vec![
            (TITLE_ROW, vec![title, name]),
            (ROW, vec![share(0.36, site), share(0.3, client), share(0.34, drawn)]),
            (
                ROW,
                vec![
                    share(0.14, kind),
                    share(0.17, approved),
                    share(0.16, date),
                    share(0.2, number),
                    share(0.07, revision),
                    share(0.09, scale),
                    share(0.1, count),
                    share(0.07, size),
                ],
            ),
        ]
    } else {
        vec![
            (TITLE_ROW, vec![share(1.0, title)]),
            (NAME_ROW, vec![share(0.7, name), kind]),
            (ROW, vec![site]),
            (ROW, vec![client]),
            (ROW, vec![drawn]),
            (ROW, vec![approved, date, revision, size]),
            (ROW, vec![number, scale, count]),
        ]
    };
    let mut top = area.top;
    for (height, cells) in rows {
        let mut left = area.left;
        for c in cells {
            let r = Rect::new(left, top - height, left + c.share * area.width(), top);
            if left > area.left + 0.1 {
                draft.line(Layer::Frame, (left, r.bottom), (left, top), FINE);
            }
            draw_cell(draft, &c, &r);
            left = r.right;
        }
        top -= height;
        if top > area.bottom + 0.1 {
            draft.line(Layer::Frame, (area.left, top), (area.right, top), FINE);
        }
    }
}

fn draw_cell(draft: &mut Draft, c: &Cell, r: &Rect) {
    let (left, room) = (r.left + 1.2, r.width() - 2.4);
    let face = Face::Condensed;
    let caption = face.shorten(c.caption, SMALL, room);
    draft.text(Layer::Frame, Text::new((left, r.top - 3.5), &caption, SMALL, Align::Left, face));
    let bold = Face::CondensedBold;
    let pitch = c.height * 1.5;
    // As many lines as the cell has room for; the last one is cut short.
    let most = (((r.height() - 4.4) / pitch).floor() as usize).max(1);
    let lines = bold.wrap(&c.value, c.height, room);
    let shown = lines.len().min(most);
    for i in 0..shown {
        let text = if i + 1 == shown && lines.len() > shown {
            bold.shorten(&lines[i..].join(" "), c.height, room)
        } else {
            bold.shorten(&lines[i], c.height, room)
        };
        let y = r.top - 4.4 - i as f64 * pitch - c.height;
        draft.text(Layer::Frame, Text::new((left, y - 0.35), &text, c.height, Align::Left, bold));
    }
}
