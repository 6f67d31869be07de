//! Title block, with the fields that ISO 7200 names.

use super::SheetOptions;
use super::draft::{Draft, MEDIUM, SMALL, THICK, THIN};
use super::elevation::{PAD, Page, name_of};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, Graphic, Layer, SheetKind, Text};
use super::view::Wall;
use super::words::{Words, fill};
use layout_core::check::Severity;
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
    /// What of the value is cut short first.
    subject: String,
    share: f64,
    height: f64,
    /// The logo goes here.
    logo: bool,
    /// It has a thick frame.
    framed: bool,
}

fn cell(caption: &'static str, value: &str, share: f64) -> Cell {
    let (value, subject) = (value.to_owned(), String::new());
    Cell { caption, value, subject, share, height: SMALL, logo: false, framed: false }
}

/// Tells sheets which elevation they are about.
pub(super) fn about(pages: &mut [Page], wall: &Wall<'_>) {
    let name = name_of(&wall.elevation.name, wall.index, wall.style);
    let breaches = wall.plan.findings.iter().filter(|f| f.severity == Severity::Breach).count();
    for page in pages {
        page.draft.subject.clone_from(&name);
        page.draft.breaches = breaches;
    }
}

/// Says of sheets with one title in a row which of how many each is.
pub(super) fn number(pages: &mut [Page]) {
    for same in pages.chunk_by_mut(|a, b| a.draft.title == b.draft.title && a.draft.kind == b.draft.kind) {
        let of = same.len();
        for (i, Page { draft, .. }) in same.iter_mut().enumerate().filter(|_| of > 1) {
            let w = draft.style.words;
            let count = fill(w.n_of, &[&(i + 1).to_string(), &of.to_string()]);
            draft.title = format!("{}, {count}", draft.title);
            // At the right of the heading of a sheet of tables, where that leaves room.
            let frame = draft.paper.frame();
            let at = (frame.right - PAD, frame.top - PAD - 5.0);
            let text = Text::new(at, &count, 5.0, Align::Right, Face::Bold);
            let table = !matches!(draft.kind, SheetKind::Elevation | SheetKind::Detail | SheetKind::Cover);
            if table && draft.room.cost(&text.quad()) == Some(0.0) {
                draft.text(Layer::Notes, text);
            }
        }
    }
}

/// What is said of a layout with breaches; nothing of one without.
pub(super) fn breaches(n: usize, w: &Words) -> Option<String> {
    let [one, many] = w.not_to_be_drilled;
    (n > 0).then(|| fill(if n == 1 { one } else { many }, &[&n.to_string()]))
}

/// A text with what it is about cut short, by no more than makes it fit.
fn cut_short(text: &str, subject: &str, fits: impl Fn(&str) -> bool) -> String {
    let letters: Vec<char> = subject.chars().collect();
    let shorter = (1..letters.len()).rev().map(|n| {
        let start: String = letters[..n].iter().collect();
        text.replacen(subject, &format!("{}…", start.trim_end()), 1)
    });
    std::iter::once(text.to_owned()).chain(shorter).find(|t| fits(t)).unwrap_or_else(|| text.to_owned())
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
    let (mut top, mut framed) = (area.top, None);
    for (height, cells) in rows(draft, project, options, area.width(), place) {
        let mut left = area.left;
        for c in cells {
            let r = Rect::new(left, top - height, left + c.share * area.width(), top);
            if left > area.left + 0.1 {
                draft.line(Layer::Frame, (left, r.bottom), (left, top), THIN);
            }
            draw_cell(draft, options, &c, &r);
            if c.framed {
                framed = Some(r);
            }
            left = r.right;
        }
        top -= height;
        if top > area.bottom + 0.1 {
            draft.line(Layer::Frame, (area.left, top), (area.right, top), THIN);
        }
    }
    if let Some(r) = framed {
        draft.rect(Layer::Frame, &r.inset(0.35), THICK);
    }
}

/// The rows of the block: height and cells.
fn rows(
    draft: &Draft,
    project: &Project,
    options: &SheetOptions,
    width: f64,
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
    let subject = draft.subject.clone();
    let name = Cell { height: 3.5, subject, ..cell(w.sheet, &draft.title, 0.4) };
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
    if width >= WIDE {
        // A layout that is not to be drilled says so here; beside a drawing its caption does.
        let drawn = match breaches(draft.breaches, w) {
            Some(said) => {
                let room = ((Face::CondensedBold.width(&said, SMALL) + 3.0) / width).min(0.54);
                let status = Cell { framed: true, ..cell(w.status, &said, room) };
                vec![
                    share((0.63 - room).max(0.1), drawn),
                    share(0.13, kind),
                    share(0.12, approved),
                    share(0.12, date),
                    status,
                ]
            }
            None => vec![share(0.42, drawn), share(0.22, kind), share(0.15, approved), share(0.21, date)],
        };
        return vec![
            (OWNER_ROW, vec![share(0.46, owner), share(0.26, site), share(0.28, client)]),
            (TITLE_ROW, vec![title, name]),
            (ROW, drawn),
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
        if !c.subject.is_empty() {
            let fits = |text: &str| {
                let lines = bold.wrap(text, SMALL, room);
                lines.len() <= fit.1 && lines.iter().all(|l| bold.width(l, SMALL) <= room)
            };
            fit.2 = bold.wrap(&cut_short(&c.value, &c.subject, fits), SMALL, room);
        }
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
