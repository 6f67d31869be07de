//! Places where ties stand too close for their marks, drawn again at a larger scale.

use super::dims::{self, Bands};
use super::draft::{Draft, MEDIUM, SMALL, THIN};
use super::elevation::{PAD, Page, draw_wall, name_of, zones};
use super::engineering;
use super::flow::{Notes, Sample};
use super::font::Face;
use super::geom::{PaperPoint, Rect, segment};
use super::model::{Align, Dash, Layer, SheetKind, Symbol, Text};
use super::notes::{lines_of_key, ties_of_key};
use super::paper::{Paper, PaperSize, SCALES};
use super::place::Taken;
use super::view::{View, Wall};
use super::words::fill;
use layout_core::elevation::{Elevation, Shape, SideCondition, outline_sides, shape_ring};

/// Round a tie whose mark found no room, mm of elevation: the ties about it are shown too.
const ROUND: f64 = 450.0;

/// Most details of one piece of an elevation.
const MOST: usize = 8;

/// Least breadth of a detail with its name, mm of paper.
const LEAST_WIDTH: f64 = 84.0;

/// What it costs to letter a detail below the wall.
const BELOW: f64 = 30.0;

/// Ties this far apart on paper have room for their marks, mm.
const ROOMY: f64 = 5.0;

/// A dense place.
#[derive(Clone, Debug)]
pub(super) struct Region {
    /// What of the elevation it shows, mm.
    pub window: Rect,
    /// Its ties, by index.
    pub ties: Vec<usize>,
    /// Its letter.
    pub letter: String,
    /// Denominator of its scale.
    pub scale: u32,
}

/// Larger scales, the next first.
fn larger(scale: u32) -> impl Iterator<Item = u32> {
    SCALES.into_iter().rev().filter(move |s| *s < scale)
}

/// A, B, ... Z, AA, AB, ...
fn letters(n: usize) -> String {
    let last = char::from(b'A' + (n % 26) as u8);
    if n < 26 { last.to_string() } else { letters(n / 26 - 1) + &last.to_string() }
}

/// The dense places of a piece of wall, from the ties whose marks found no room.
pub(super) fn regions(wall: &Wall<'_>, scale: u32, paper: Paper, unmarked: &[usize]) -> Vec<Region> {
    // Where most marks are missing, the whole drawing is too small: a detail would be the drawing again.
    if unmarked.len() > 40 + wall.ties.len() / 4 {
        return Vec::new();
    }
    let w = &wall.window;
    let mut windows: Vec<Rect> = Vec::new();
    for t in unmarked.iter().filter_map(|&i| wall.plan.ties.get(i)) {
        let (x, y) = t.at;
        let mut next = Rect::new(x - ROUND, y - ROUND, x + ROUND, y + ROUND);
        // Windows that meet become one, which may then meet others.
        while let Some(i) = windows.iter().position(|o| meets(o, &next)) {
            let o = windows.swap_remove(i);
            next = o.joined(&next);
        }
        windows.push(next);
    }
    windows.sort_by(|a, b| a.left.total_cmp(&b.left).then(a.bottom.total_cmp(&b.bottom)));
    let room = zones(paper_of(paper), 1e9, 1).drawing;
    let fits = |r: &Rect, scale: u32| {
        let s = f64::from(scale);
        r.width() / s + 66.0 < room.width() && r.height() / s + 66.0 < room.height()
    };
    windows
        .into_iter()
        .map(|r| {
            Rect::new(r.left.max(w.left), r.bottom.max(w.bottom), r.right.min(w.right), r.top.min(w.top))
        })
        .filter(|r| r.width() > 1.0 && r.height() > 1.0)
        .filter_map(|window| {
            let ties = ties_in(wall, &window);
            let apart = closest(wall, &ties);
            // The next larger scale at which marks have room; the largest that the paper holds if none.
            let scales: Vec<u32> = larger(scale).filter(|&s| fits(&window, s)).collect();
            let roomy = scales.iter().copied().find(|&s| apart / f64::from(s) >= ROOMY);
            let scale = roomy.or(scales.last().copied())?;
            Some(Region { window, ties, letter: String::new(), scale })
        })
        .take(MOST)
        .collect()
}

/// Least distance between any two of some ties, mm.
fn closest(wall: &Wall<'_>, ties: &[usize]) -> f64 {
    let at = |i: &usize| wall.plan.ties.get(*i).map(|t| t.at);
    let mut points: Vec<(f64, f64)> = ties.iter().filter_map(at).collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut least = f64::INFINITY;
    for (i, a) in points.iter().enumerate() {
        for b in points[i + 1..].iter().take_while(|b| b.0 - a.0 < 1000.0) {
            least = least.min((a.0 - b.0).hypot(a.1 - b.1));
        }
    }
    least
}

/// Details are small: their paper is no larger than A3.
fn paper_of(paper: Paper) -> Paper {
    Paper::lying(paper.size.min(PaperSize::A3))
}

fn meets(a: &Rect, b: &Rect) -> bool {
    a.left <= b.right && b.left <= a.right && a.bottom <= b.top && b.bottom <= a.top
}

/// Outlines dense places on the elevation and letters them; those without room for their letter are
/// left out.
pub(super) fn outline(
    draft: &mut Draft,
    wall: &Wall<'_>,
    view: &View,
    regions: Vec<Region>,
    before: usize,
) -> Vec<Region> {
    let mut kept: Vec<Region> = Vec::new();
    for region in regions {
        let mut region = settled(draft, wall, view, region);
        let r = view.rect(&region.window);
        let letter = letters(before + kept.len());
        let words = fill(draft.style.words.detail, &[&letter]);
        // Where the word would stand on lines or far off, the letter may sit better.
        let (word, alone) = (place_letter(draft, view, &r, &words), place_letter(draft, view, &r, &letter));
        let placed = match (word, alone) {
            (Some(w), Some(a)) => Some(if a.cost + SHORT < w.cost { a } else { w }),
            (word, alone) => word.or(alone),
        };
        let Some(Lettered { text, leader, .. }) = placed else { continue };
        let points = r.corners().to_vec();
        for i in 0..4 {
            for (a, b) in draft.room.clear_of_text(points[i], points[(i + 1) % 4]) {
                draft.styled(Layer::Notes, a, b, MEDIUM, Dash::Dashed, 0.0);
            }
            draft.room.take_line(points[i], points[(i + 1) % 4], Taken::Line);
        }
        if let Some((from, to)) = leader {
            draft.leader(Layer::Notes, from, to);
        }
        draft.text(Layer::Notes, text);
        region.letter = letter;
        kept.push(region);
    }
    kept
}

/// How far a side of a detail moves out, or in, so that its outline runs clear of lettering and ties, mm of paper.
const SETTLE: [f64; 13] = [0.0, 0.5, -0.5, 1.0, -1.0, 1.5, -1.5, 2.0, -2.0, 2.5, 3.0, 3.5, 4.0];

/// Air on either side of the outline of a detail, mm.
const OUTLINE_AIR: f64 = 0.4;

/// A dense place with each side moved to where its outline runs over least.
fn settled(draft: &Draft, wall: &Wall<'_>, view: &View, region: Region) -> Region {
    let mut r = region.window;
    for side in 0..4 {
        let moved = |by: f64| {
            let mut m = r;
            match side {
                0 => m.left = (r.left - by).max(wall.window.left),
                1 => m.bottom = (r.bottom - by).max(wall.window.bottom),
                2 => m.right = (r.right + by).min(wall.window.right),
                _ => m.top = (r.top + by).min(wall.window.top),
            }
            m
        };
        let cost = |by: &f64| {
            let on_paper = view.rect(&moved(by * view.scale));
            let Rect { left, bottom, right, top } = on_paper;
            let line = match side {
                0 => Rect { right: left, ..on_paper },
                1 => Rect { top: bottom, ..on_paper },
                2 => Rect { left: right, ..on_paper },
                _ => Rect { bottom: top, ..on_paper },
            };
            draft.room.struck(&line.inset(-OUTLINE_AIR).corners()) as f64 + 0.1 * by.abs()
        };
        let best = SETTLE.into_iter().min_by(|a, b| cost(a).total_cmp(&cost(b))).unwrap_or(0.0);
        r = moved(best * view.scale);
    }
    Region { ties: ties_in(wall, &r), window: r, ..region }
}

/// The ties of a piece in a window, by index.
fn ties_in(wall: &Wall<'_>, window: &Rect) -> Vec<usize> {
    let inside = |i: &usize| wall.plan.ties.get(*i).is_some_and(|t| window.contains(t.at));
    wall.ties.iter().copied().filter(inside).collect()
}

/// What it costs to letter a detail without the word.
const SHORT: f64 = 6.0;

/// The ends of a leader, where there is one.
type Leader = Option<(PaperPoint, PaperPoint)>;

/// The letter of a detail at a place.
struct Lettered {
    cost: f64,
    text: Text,
    leader: Leader,
}

/// A place for the letter of a detail near its outline, with a leader where it stands off.
fn place_letter(draft: &Draft, view: &View, r: &Rect, words: &str) -> Option<Lettered> {
    // Bold, so that it is not read as a mark.
    let said = |at| Text::new(at, words, SMALL, Align::Centre, Face::CondensedBold);
    let middle = said((0.0, 0.0));
    let half = (middle.width() / 2.0, SMALL / 2.0);
    let mut best: Option<Lettered> = None;
    for out in [0.9, 2.5, 4.5, 7.0, 10.0, 14.0, 19.0, 25.0, 33.0, 42.0, 55.0, 70.0, 90.0] {
        // Rather further off than over a line, but no further than it takes.
        if best.as_ref().is_some_and(|b| b.cost <= out) {
            break;
        }
        for turn in 0..32 {
            let (sin, cos) = (f64::from(turn) * std::f64::consts::TAU / 32.0).sin_cos();
            let reach = cos.abs().max(sin.abs());
            let c = (
                r.centre().0 + (r.width() / 2.0 + half.0 + out) * cos / reach,
                r.centre().1 + (r.height() / 2.0 + half.1 + out) * sin / reach,
            );
            let text = said((c.0, c.1 - half.1));
            if !text.quad().iter().all(|&p| view.window.contains(p)) {
                continue;
            }
            let Some(cost) = draft.room.cost(&text.quad()) else { continue };
            // Below the wall it would stand on the distances of the ties.
            let below = c.1 - half.1 < view.wall.bottom && r.top > view.wall.bottom;
            let cost = cost + out + if below { BELOW } else { 0.0 };
            let from = (c.0.clamp(r.left, r.right), c.1.clamp(r.bottom, r.top));
            let to = (
                from.0.clamp(c.0 - half.0 - 0.5, c.0 + half.0 + 0.5),
                from.1.clamp(c.1 - half.1 - 0.5, c.1 + half.1 + 0.5),
            );
            let leader = (out > 1.0).then_some((from, to));
            if leader.is_some_and(|(a, b)| draft.room.hits(&segment(a, b))) {
                continue;
            }
            if best.as_ref().is_none_or(|b| cost < b.cost) {
                best = Some(Lettered { cost, text, leader });
            }
        }
    }
    best
}

/// A detail on its sheet.
struct Placed<'a> {
    region: &'a Region,
    piece: Wall<'a>,
    bands: Bands,
    place: Rect,
}

/// The sheets of details, as many on each as fit, side by side on shelves.
pub(super) fn pages(wall: &Wall<'_>, paper: Paper, regions: &[Region]) -> Vec<Page> {
    let paper = paper_of(paper);
    let area = zones(paper, 1e9, 1).drawing;
    let mut sheets: Vec<Vec<Placed<'_>>> = Vec::new();
    let mut shelf = Rect::new(area.left, area.top, area.left, area.top);
    for region in regions {
        let b = &wall.bounds;
        let w = &region.window;
        let cuts = [w.left > b.left, w.bottom > b.bottom, w.right < b.right, w.top < b.top];
        let piece = wall.piece(*w, cuts, 0.0);
        let bands = Bands::of(&piece, region.scale);
        let s = f64::from(region.scale);
        let width = (w.width() / s + bands.left + bands.right).max(LEAST_WIDTH);
        let height = w.height() / s + bands.bottom + bands.top;
        if shelf.right + width > area.right + 1e-6 && shelf.right > area.left + 1e-6 {
            shelf = Rect::new(area.left, shelf.bottom - PAD, area.left, shelf.bottom - PAD);
        }
        if sheets.is_empty() || shelf.top - height < area.bottom - 1e-6 {
            sheets.push(Vec::new());
            shelf = Rect::new(area.left, area.top, area.left, area.top);
        }
        shelf.bottom = shelf.bottom.min(shelf.top - height);
        let place = Rect::new(shelf.right, shelf.top - height, shelf.right + width, shelf.top);
        shelf.right += width + PAD;
        if let Some(sheet) = sheets.last_mut() {
            sheet.push(Placed { region, piece, bands, place });
        }
    }
    sheets.into_iter().map(|details| page(wall, paper, &details)).collect()
}

/// A sheet of details; those of a shelf have their captions level.
fn page(wall: &Wall<'_>, paper: Paper, details: &[Placed<'_>]) -> Page {
    let regions: Vec<&Region> = details.iter().map(|d| d.region).collect();
    let mut page = new_page(wall, paper, &regions);
    for d in details {
        let on_shelf = details.iter().filter(|o| o.place.top == d.place.top);
        let foot = on_shelf.map(|o| o.place.bottom).fold(f64::INFINITY, f64::min);
        let place = Rect { bottom: foot, top: foot + d.place.height(), ..d.place };
        draw(&mut page.draft, &d.piece, d.region, &d.bands, &place);
    }
    page
}

/// An elevation with no more than some windows show of it, for the key.
fn seen_in(e: &Elevation, windows: &[Rect]) -> Elevation {
    let meets = |r: Option<Rect>| r.is_some_and(|r| windows.iter().any(|w| meets(w, &r)));
    let shape = |s: &Shape| meets(Rect::round(shape_ring(s)));
    let n = e.outline.len();
    let side = |(i, side)| {
        let shown = windows.iter().any(|w| w.clip(e.outline[i], e.outline[(i + 1) % n]).is_some());
        if shown { side } else { SideCondition::Corner }
    };
    let mut seen = e.clone();
    seen.sides = outline_sides(e).into_iter().enumerate().map(side).collect();
    seen.keep_outs.retain(|k| shape(&k.shape));
    seen.locked.retain(|l| shape(&l.shape));
    seen.movement_joints.retain(|j| meets(Rect::round([(j.x, j.from), (j.x, j.to)])));
    seen
}

fn new_page(wall: &Wall<'_>, paper: Paper, regions: &[&Region]) -> Page {
    let w = wall.style.words;
    let name = name_of(&wall.elevation.name, wall.index, wall.style);
    let zones = zones(paper, 1e9, 1);
    let mut draft = Draft::new(paper, SheetKind::Detail, fill(w.details_of, &[&name]), wall.style);
    let mut notes = Notes::new(zones.columns.first().map_or(60.0, Rect::width));
    notes.heading(w.key);
    let mut drawn: Vec<usize> = regions.iter().flat_map(|r| r.ties.iter().copied()).collect();
    drawn.sort_unstable();
    drawn.dedup();
    ties_of_key(&mut notes, wall, Some(&drawn));
    if drawn.iter().filter_map(|&i| wall.plan.ties.get(i)).any(|t| t.pinned) {
        notes.key(Sample::Pinned, w.key_pinned, "");
    }
    let ringed = engineering::reach(wall, 1.0);
    if drawn.iter().any(|&i| ringed(i).is_some()) {
        notes.key(Sample::Ring, w.engineering.key_ring, "");
    }
    let windows: Vec<Rect> = regions.iter().map(|r| r.window).collect();
    if wall.elevation.existing_ties.iter().any(|t| windows.iter().any(|w| w.contains(t.at))) {
        notes.key(Sample::Tie(Symbol::OldTie), w.key_old, "");
    }
    let seen = seen_in(wall.elevation, &windows);
    lines_of_key(&mut notes, &Wall { elevation: &seen, ..wall.clone() }, false);
    notes.key(Sample::RowLine, w.key_row, "");
    notes.gap(1.0);
    notes.para(Layer::Notes, w.about_details);
    notes.heading(w.cautions);
    notes.para(Layer::Notes, w.cautions_short);
    notes.pour(&mut draft, &zones.columns);
    for c in &zones.columns {
        let x = c.left - PAD;
        draft.line(Layer::Frame, (x, c.bottom - PAD), (x, draft.paper.frame().top), THIN);
    }
    Page { draft, title: zones.title }
}

fn draw(draft: &mut Draft, piece: &Wall<'_>, region: &Region, bands: &Bands, place: &Rect) {
    let s = f64::from(region.scale);
    let used = piece.extent.width() / s + bands.left + bands.right;
    let origin = (place.left + bands.left + (place.width() - used) / 2.0, place.bottom + bands.bottom);
    let window = Rect::new(place.left, place.bottom + dims::CAPTION, place.right, place.top);
    let view = View::new(piece, region.scale, origin, window);
    let name = fill(piece.style.words.detail, &[&region.letter]);
    dims::caption(draft, piece, &name, region.scale, place);
    let points = view.wall.corners();
    for i in 0..4 {
        draft.room.take_line(points[i], points[(i + 1) % 4], Taken::Line);
    }
    draw_wall(draft, piece, &view, bands, false);
    for i in 0..4 {
        for (a, b) in draft.room.clear_of_text(points[i], points[(i + 1) % 4]) {
            draft.styled(Layer::Notes, a, b, MEDIUM, Dash::Dashed, 0.0);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!(
            (letters(0), letters(25), letters(26), letters(52)),
            ("A".into(), "Z".into(), "AA".into(), "BA".into())
        );
    }

    #[test]
    fn a_detail_is_at_the_next_larger_scale() {
        let next = |scale| larger(scale).next();
        assert_eq!((next(50), next(10), next(500)), (Some(20), None, Some(200)));
    }
}
