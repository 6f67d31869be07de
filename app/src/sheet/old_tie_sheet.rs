//! Old-tie sheet: every old tie found, and whether it is isolated, removed or left.

use super::elevation::{Page, name_of};
use super::model::{Align, SheetKind};
use super::options::{OldTieLine, OldTieTreatment};
use super::paper::Paper;
use super::table::{self, Column, HEAD, boxed, lettered};
use super::ties::old_mark;
use super::view::Wall;
use super::words::{Style, fill};

/// Height of a line, mm.
const ROW: f64 = 6.0;

fn columns(style: Style, width: f64) -> Vec<Column> {
    let w = style.words;
    let shares = [
        (w.old_tie, 7.0, Align::Left),
        (w.form, 20.0, Align::Left),
        (w.from_left, 9.0, Align::Right),
        (w.height_head, 9.0, Align::Right),
        (w.grade, 8.0, Align::Left),
        (w.isolate, 8.0, Align::Centre),
        (w.remove, 8.0, Align::Centre),
        (w.leave, 8.0, Align::Centre),
        (w.reason, 34.0, Align::Left),
    ];
    let boxes = [(w.done, 8.0), (w.date, 11.0), (w.initials, 10.0)];
    let all: f64 = shares.iter().map(|s| s.1).sum::<f64>() + boxes.iter().map(|b| b.1).sum::<f64>();
    let mut columns: Vec<Column> =
        shares.into_iter().map(|(head, share, align)| lettered(head, width * share / all, align)).collect();
    columns.extend(boxes.into_iter().map(|(head, share)| boxed(head, width * share / all)));
    columns
}

/// The old ties of an elevation; nothing where there are none. `known` has a line for each, as far as
/// anything is decided.
pub(super) fn pages(wall: &Wall<'_>, known: &[OldTieLine], paper: Paper) -> Vec<Page> {
    let style = wall.style;
    let w = style.words;
    let name = name_of(&wall.elevation.name, wall.index, style);
    let title = fill(w.old_ties_of, &[&name]);
    let rows: Vec<Vec<String>> = wall
        .elevation
        .existing_ties
        .iter()
        .enumerate()
        .map(|(i, t)| {
            let unknown = OldTieLine::default();
            let k = known.get(i).unwrap_or(&unknown);
            let tick = |what| if k.treatment == Some(what) { "✗".to_owned() } else { String::new() };
            vec![
                old_mark(i),
                t.form.words().to_owned(),
                style.mm((t.at.0 - wall.bounds.left).round()),
                style.mm(t.at.1.round()),
                k.grade.clone(),
                tick(OldTieTreatment::Isolate),
                tick(OldTieTreatment::Remove),
                tick(OldTieTreatment::Leave),
                k.reason.clone(),
            ]
        })
        .collect();
    let mut pages = Vec::new();
    let mut rest = rows.as_slice();
    while !rest.is_empty() {
        let mut t = table::page(paper, SheetKind::OldTies, &title, w.about_old_ties, style);
        let n = (((t.body.height() - HEAD) / ROW).floor() as usize).max(1).min(rest.len());
        let columns = columns(style, t.body.width());
        let mut now = rest[..n].to_vec();
        if n == rest.len() {
            // Empty lines for old ties found while drilling.
            let room = ((t.body.height() - HEAD) / ROW).floor() as usize;
            now.extend((n..room.min(n + 12)).map(|_| Vec::new()));
        }
        table::draw(&mut t.page.draft, (t.body.left, t.body.top), &columns, &now, ROW);
        table::signature(&mut t.page.draft, &t.foot, w.old_ties_note, style);
        rest = &rest[n..];
        pages.push(t.page);
    }
    pages
}
