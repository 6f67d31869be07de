//! Setting-out schedule: each row with its course and height, each tie with its running distance from the
//! left end of the wall and the step from the tie before.

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::elevation::{Page, name_of};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, Layer, SheetKind, Text};
use super::paper::Paper;
use super::table::{self, PITCH};
use super::view::Wall;
use super::words::{self, fill};
use layout_core::Tie;

/// Least room for one tie, mm.
const CELL: f64 = 12.6;

/// Air beside the lettering of a tie, mm.
const CELL_AIR: f64 = 0.8;

/// Room for the course, the height and the names of the lines, mm.
const LABELS: f64 = 41.0;

/// Between blocks, mm.
const GAP: f64 = 1.8;

/// Between columns of blocks, mm.
const GUTTER: f64 = 5.0;

/// A row of ties: course, height, and for each tie its mark, running distance and step.
struct Block {
    course: String,
    height: String,
    cells: Vec<[String; 3]>,
}

impl Block {
    fn lines(&self, per_line: usize) -> usize {
        self.cells.len().div_ceil(per_line.max(1)).max(1)
    }

    fn depth(&self, per_line: usize) -> f64 {
        3.0 * PITCH * self.lines(per_line) as f64 + GAP
    }
}

/// The ties of each row of a wall with their numbers in the layout, from below and from the left.
pub(super) fn by_row<'a>(wall: &Wall<'a>) -> Vec<(f64, Vec<(usize, &'a Tie)>)> {
    let all = wall.plan.ties.iter().enumerate();
    let mut ties: Vec<(usize, &Tie)> = all.filter(|(_, t)| wall.bounds.contains(t.at)).collect();
    ties.sort_by(|a, b| a.1.at.1.total_cmp(&b.1.at.1));
    let mut rest = ties.as_slice();
    let mut all = Vec::new();
    for (i, row) in wall.rows.iter().enumerate() {
        let next = wall.rows.get(i + 1).map_or(f64::INFINITY, |r| r.y);
        let n = rest.iter().take_while(|(_, t)| t.at.1 < next).count();
        let mut on = rest[..n].to_vec();
        rest = &rest[n..];
        on.sort_by(|a, b| a.1.at.0.total_cmp(&b.1.at.0));
        all.push((row.y, on));
    }
    all
}

fn blocks(wall: &Wall<'_>) -> Vec<Block> {
    let style = wall.style;
    let block = |(y, ties): (f64, Vec<(usize, &Tie)>)| {
        let mut before = 0.0;
        let cells = ties
            .iter()
            .map(|(_, t)| {
                // Steps are between the whole millimetres that are marked, so that they add up.
                let run = (t.at.0 - wall.bounds.left).round();
                let step = run - before;
                before = run;
                [t.mark.clone(), style.mm(run), style.mm(step)]
            })
            .collect();
        Block { course: words::course(wall.elevation, y, style), height: style.mm(y), cells }
    };
    by_row(wall).into_iter().map(block).collect()
}

/// The schedule of a whole elevation, on as many sheets as it takes.
pub(super) fn pages(wall: &Wall<'_>, paper: Paper) -> Vec<Page> {
    let (w, style) = (wall.style.words, wall.style);
    let blocks = blocks(wall);
    if blocks.is_empty() {
        return Vec::new();
    }
    let name = name_of(&wall.elevation.name, wall.index, style);
    let title = fill(w.schedule_of, &[&name]);
    let about =
        format!("{} {} {}", words::coursing(wall.elevation, style), w.measured_from, w.about_schedule);
    let cell = cell_of(&blocks);
    let mut pages = Vec::new();
    let mut rest = blocks.as_slice();
    while !rest.is_empty() {
        let mut t = table::page(paper, SheetKind::Schedule, &title, &about, style);
        let room = Rect { bottom: t.foot.bottom, ..t.body };
        let count = best_columns(rest, cell, &room, t.foot.right, t.body.bottom);
        let columns = columns(&room, count, t.foot.right, t.body.bottom);
        let per_line = per_line(columns.first().map_or(0.0, Rect::width), cell);
        let before = rest.len();
        for c in &columns {
            let mut y = c.top;
            while let Some(block) = rest.first().filter(|b| y - b.depth(per_line) >= c.bottom || y >= c.top) {
                draw_block(&mut t.page.draft, block, c, y, (per_line, cell), style.words.schedule_lines);
                y -= block.depth(per_line);
                rest = &rest[1..];
            }
        }
        pages.push(t.page);
        if rest.len() == before {
            break;
        }
    }
    pages
}

fn per_line(width: f64, cell: f64) -> usize {
    (((width - LABELS) / cell).floor() as usize).max(1)
}

/// Room that every tie of a schedule has, mm: more where distances are very long.
fn cell_of(blocks: &[Block]) -> f64 {
    let cells = blocks.iter().flat_map(|b| b.cells.iter().flatten());
    let widest = cells.map(|c| Face::CondensedBold.width(c, SMALL)).fold(0.0, f64::max);
    CELL.max(widest + CELL_AIR + 0.6)
}

/// Columns that share the room; those over the title block end above it.
fn columns(room: &Rect, count: usize, title_left: f64, above_title: f64) -> Vec<Rect> {
    let width = (room.width() + GUTTER) / count as f64 - GUTTER;
    (0..count)
        .map(|i| {
            let left = room.left + i as f64 * (width + GUTTER);
            let bottom = if left + width > title_left { above_title } else { room.bottom };
            Rect::new(left, bottom, left + width, room.top)
        })
        .collect()
}

/// The number of columns that takes in most rows; the fewer where it is the same.
fn best_columns(blocks: &[Block], cell: f64, room: &Rect, title_left: f64, above_title: f64) -> usize {
    let most = ((room.width() / (LABELS + 2.0 * cell)).floor() as usize).max(1);
    let taken = |count: usize| {
        let columns = columns(room, count, title_left, above_title);
        let per_line = per_line(columns.first().map_or(0.0, Rect::width), cell);
        let mut next = blocks.iter();
        let mut n = 0;
        let mut waiting = next.next();
        for c in &columns {
            let mut y = c.top;
            while let Some(b) = waiting.filter(|b| y - b.depth(per_line) >= c.bottom) {
                y -= b.depth(per_line);
                n += 1;
                waiting = next.next();
            }
        }
        n
    };
    (1..=most).max_by_key(|&c| (taken(c), std::cmp::Reverse(c))).unwrap_or(1)
}

fn draw_block(
    draft: &mut Draft,
    b: &Block,
    column: &Rect,
    top: f64,
    (per_line, room): (usize, f64),
    names: [&str; 3],
) {
    let l = Layer::Notes;
    draft.line(l, (column.left, top), (column.right, top), THIN);
    let bold = Face::CondensedBold;
    let base = |line: usize| top - PITCH * (line + 1) as f64 + 0.4;
    draft.text(l, Text::new((column.left, base(0)), &b.course, SMALL, Align::Left, bold));
    draft.text(l, Text::new((column.left + 24.0, base(0)), &b.height, SMALL, Align::Right, bold));
    for (k, cells) in b.cells.chunks(per_line.max(1)).enumerate() {
        for (line, name) in names.into_iter().enumerate() {
            let y = base(3 * k + line);
            draft.text(l, small((column.left + LABELS - 1.5, y), name, Align::Right));
            for (i, cell) in cells.iter().enumerate() {
                let face = if line == 1 { bold } else { Face::Condensed };
                let text = face.shorten(&cell[line], SMALL, room - CELL_AIR);
                let x = column.left + LABELS + room * (i + 1) as f64 - 0.6;
                draft.text(l, Text::new((x, y), &text, SMALL, Align::Right, face));
            }
        }
        let (high, low) = (top - 3.0 * PITCH * k as f64, top - 3.0 * PITCH * (k + 1) as f64);
        draft.line(l, (column.left + LABELS, high - 0.6), (column.left + LABELS, low + 0.2), MEDIUM);
    }
}
