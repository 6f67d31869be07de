//! Title block, with the fields that ISO 7200 names.

use super::SheetOptions;
use super::draft::{Draft, MEDIUM, SMALL, THIN};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, Graphic, Layer, SheetKind, Text};
use super::words::Words;
use layout_core::elevation::Project;

/// Height of a row: a caption over a value, mm.
const ROW: f64 = 8.6;

/// Height of the row of the legal owner, mm.
const OWNER_ROW: f64 = 12.4;

/// Height of the row of the title, mm.
const TITLE_ROW: f64 = 15.6;

/// Height of the row that names the sheet, mm.
const NAME_ROW: f64 = 10.4;

/// A title block this wide or wider sets its fields side by side, mm.
const WIDE: f64 = 160.0;

/// Breadth of the title block of a sheet without a drawing, mm.
pub(super) const FULL: f64 = 180.0;

/// Height of the title block at a width, mm.
pub(super) fn height(width: f64) -> f64 {
    if width >= WIDE {
        TITLE_ROW + OWNER_ROW + 2.0 * ROW
    } else {
        OWNER_ROW + TITLE_ROW + NAME_ROW + 5.0 * ROW
    }
}

struct Cell {
    caption: &'static str,
    value: String,
    share: f64,
    height: f64,
    /// The logo goes here.
    logo: bool,
}

fn cell(caption: &'static str, value: &str, share: f64) -> Cell {
    Cell { caption, value: value.to_owned(), share, height: SMALL, logo: false }
}

/// Where a sheet stands in its set.
pub(super) struct Place {
    pub number: usize,
    pub of: usize,
}

fn kind_words(w: &'static Words, kind: SheetKind) -> &'static str {
    match kind {
        SheetKind::Cover | SheetKind::Notes => w.doc_summary,
        SheetKind::Elevation | SheetKind::Detail => w.doc_setting_out,
        SheetKind::Schedule => w.doc_schedule,
        SheetKind::Record | SheetKind::OldTies => w.doc_record,
        SheetKind::Tests => w.doc_tests,
    }
}

/// Draws the title block of a sheet into `area`.
pub(super) fn draw(draft: &mut Draft, project: &Project, options: &SheetOptions, area: &Rect, place: &Place) {
    draft.rect(Layer::Frame, area, MEDIUM);
    let mut top = area.top;
    for (height, cells) in rows(draft, project, options, area.width() >= WIDE, place) {
        let mut left = area.left;
        for c in cells {
            let r = Rect::new(left, top - height, left + c.share * area.width(), top);
            if left > area.left + 0.1 {
                draft.line(Layer::Frame, (left, r.bottom), (left, top), THIN);
            }
            draw_cell(draft, options, &c, &r);
            left = r.right;
        }
        top -= height;
        if top > area.bottom + 0.1 {
            draft.line(Layer::Frame, (area.left, top), (area.right, top), THIN);
        }
    }
}

/// The rows of the block: height and cells.
fn rows(
    draft: &Draft,
    project: &Project,
    options: &SheetOptions,
    wide: bool,
    place: &Place,
) -> Vec<(f64, Vec<Cell>)> {
    let w = draft.style.words;
    let scale = match draft.elevation {
        Some((_, s)) => format!("1:{s}"),
        None if draft.kind == SheetKind::Detail => w.as_shown.to_owned(),
        None => "–".to_owned(),
    };
    let firm = &options.firm;
    let owner = [firm.name.trim(), firm.address.trim()];
    let owner: Vec<&str> = owner.into_iter().filter(|t| !t.is_empty()).collect();
    let owner = Cell { logo: true, ..cell(w.legal_owner, &owner.join(", "), 1.0) };
    let title = Cell { height: 3.5, ..cell(w.title, &project.title, 0.6) };
    let name = Cell { height: 3.5, ..cell(w.sheet, &draft.title, 0.4) };
    let number = cell(w.drawing_no, &project.reference, 0.4);
    let count = cell(w.sheet_no, &format!("{} {} {}", place.number, w.of, place.of), 0.32);
    let scale = cell(w.scale, &scale, 0.28);
    let site = cell(w.site, &project.site, 1.0);
    let client = cell(w.client, &project.client, 1.0);
    let kind = cell(w.document, kind_words(w, draft.kind), 0.3);
    let drawn = cell(w.drawn_by, &project.drawn_by, 1.0);
    let approved = cell(w.approved_by, "", 0.30);
    let date = cell(w.date, options.date.as_deref().unwrap_or(""), 0.38);
    let revision = cell(w.rev, &project.revision, 0.16);
    let size = cell(w.size, draft.paper.size.name(), 0.16);
    let share = |share: f64, c: Cell| Cell { share, ..c };
    if wide {
        return vec![
            (OWNER_ROW, vec![share(0.46, owner), share(0.26, site), share(0.28, client)]),
            (TITLE_ROW, vec![title, name]),
            (ROW, vec![share(0.42, drawn), share(0.22, kind), share(0.15, approved), share(0.21, date)]),
            (
                ROW,
                vec![
                    share(0.42, number),
                    share(0.14, revision),
                    share(0.14, scale),
                    share(0.2, count),
                    share(0.1, size),
                ],
            ),
        ];
    }
    vec![
        (OWNER_ROW, vec![owner]),
        (TITLE_ROW, vec![share(1.0, title)]),
        (NAME_ROW, vec![share(0.66, name), share(0.34, kind)]),
        (ROW, vec![site]),
        (ROW, vec![client]),
        (ROW, vec![drawn]),
        (ROW, vec![approved, date, revision, size]),
        (ROW, vec![number, scale, count]),
    ]
}

/// The logo at the right of a cell, as large as it goes. Returns the room that it takes.
fn draw_logo(draft: &mut Draft, options: &SheetOptions, r: &Rect) -> f64 {
    let Some(picture) = options.firm.logo.as_ref().filter(|p| p.width > 0 && p.height > 0) else {
        return 0.0;
    };
    let room = Rect::new(r.left + r.width() * 0.6, r.bottom + 1.0, r.right - 1.0, r.top - 1.0);
    let (w, h) = (f64::from(picture.width), f64::from(picture.height));
    let size = (room.width() / w).min(room.height() / h);
    let rect = Rect::new(
        room.right - w * size,
        room.centre().1 - h * size / 2.0,
        room.right,
        room.centre().1 + h * size / 2.0,
    );
    draft.push(Layer::Frame, Graphic::Picture { rect, picture: picture.clone() });
    rect.width() + 1.5
}

fn draw_cell(draft: &mut Draft, options: &SheetOptions, c: &Cell, r: &Rect) {
    let logo = if c.logo { draw_logo(draft, options, r) } else { 0.0 };
    let (left, room) = (r.left + 1.2, r.width() - 2.4 - logo);
    let face = Face::Condensed;
    let caption = face.shorten(c.caption, SMALL, room);
    draft.text(Layer::Frame, Text::new((left, r.top - 3.5), &caption, SMALL, Align::Left, face));
    let bold = Face::CondensedBold;
    // As many lines as the cell has room for, smaller where that shows all; the last one is cut short.
    let at = |height: f64| {
        let most = (((r.height() - 4.4) / (height * 1.5)).floor() as usize).max(1);
        (height, most, bold.wrap(&c.value, height, room))
    };
    let mut fit = at(c.height);
    if fit.2.len() > fit.1 {
        fit = at(SMALL);
    }
    let (height, most, lines) = fit;
    let pitch = height * 1.5;
    let shown = lines.len().min(most);
    for i in 0..shown {
        let text = if i + 1 == shown && lines.len() > shown {
            bold.shorten(&lines[i..].join(" "), height, room)
        } else {
            bold.shorten(&lines[i], height, room)
        };
        let y = r.top - 4.4 - i as f64 * pitch - height;
        draft.text(Layer::Frame, Text::new((left, y - 0.35), &text, height, Align::Left, bold));
    }
}
