//! Old-tie sheet: every old tie found, and whether it is isolated, removed or left.

use super::elevation::{Page, name_of};
use super::model::{Align, SheetKind};
use super::paper::Paper;
use super::site::old_tie;
use super::table::{self, Column, HEAD, boxed, lettered};
use super::ties::old_mark;
use super::view::Wall;
use super::words::{Style, fill};
use layout_core::elevation::Treatment;

/// Least height of a line, mm.
const ROW: f64 = 6.0;

fn columns(style: Style, width: f64) -> Vec<Column> {
    let w = style.words;
    let shares = [
        (w.old_tie, 8.0, Align::Left),
        (w.form, 17.0, Align::Left),
        (w.from_left, 9.0, Align::Right),
        (w.height_head, 9.0, Align::Right),
        (w.grade, 7.0, Align::Right),
        (w.isolate, 8.0, Align::Centre),
        (w.remove, 8.0, Align::Centre),
        (w.leave, 8.0, Align::Centre),
        (w.reason, 52.0, Align::Left),
    ];
    let boxes = [(w.done, 8.0), (w.date, 11.0), (w.initials, 10.0)];
    let all: f64 = shares.iter().map(|s| s.1).sum::<f64>() + boxes.iter().map(|b| b.1).sum::<f64>();
    let mut columns: Vec<Column> =
        shares.into_iter().map(|(head, share, align)| lettered(head, width * share / all, align)).collect();
    columns.extend(boxes.into_iter().map(|(head, share)| boxed(head, width * share / all)));
    columns
}

/// The old ties of an elevation; nothing where there are none.
pub(super) fn pages(wall: &Wall<'_>, paper: Paper) -> Vec<Page> {
    let style = wall.style;
    let w = style.words;
    let name = name_of(&wall.elevation.name, wall.index, style);
    let title = fill(w.old_ties_of, &[&name]);
    let rows: Vec<Vec<String>> =
        (0..wall.elevation.existing_ties.len()).filter_map(|i| line(wall, i)).collect();
    let proposed = wall.elevation.existing_ties.iter().any(|t| old_tie(t).treatment.is_some());
    let about = if proposed { w.engineering.about_proposals } else { w.about_old_ties };
    let mut pages = Vec::new();
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        let mut t = table::page(paper, SheetKind::OldTies, &title, about, style);
        let columns = columns(style, t.body.width());
        let height = table::row_height(&columns, &rows, ROW);
        let room = (((t.body.height() - HEAD) / height).floor() as usize).max(1);
        let n = room.min(rest.len());
        let mut now = rest[..n].to_vec();
        if n == rest.len() {
            // Empty lines for old ties found while drilling.
            now.extend((n..room.min(n + 12)).map(|_| Vec::new()));
        }
        table::draw(&mut t.page.draft, (t.body.left, t.body.top), &columns, &now, height);
        table::signature(&mut t.page.draft, &t.foot, w.old_ties_note, style);
        rest = &rest[n..];
        pages.push(t.page);
    }
    pages
}

/// The cells of an old tie by its number.
fn line(wall: &Wall<'_>, i: usize) -> Option<Vec<String>> {
    let t = wall.elevation.existing_ties.get(i)?;
    let style = wall.style;
    let known = old_tie(t);
    let cross = |what| if known.treatment == Some(what) { "✗".to_owned() } else { String::new() };
    Some(vec![
        old_mark(i),
        t.form.words().to_owned(),
        style.mm((t.at.0 - wall.bounds.left).round()),
        style.mm(t.at.1.round()),
        known.grade.clone(),
        cross(Treatment::Isolate),
        cross(Treatment::Remove),
        cross(Treatment::Leave),
        known.reason.clone(),
    ])
}
