//! The sheet of one elevation: drawing, notes beside or below it, more sheets where notes run over.

use super::draft::{Draft, FINE};
use super::flow::{GUTTER, Notes, Sample, columns};
use super::geom::Rect;
use super::model::{Layer, Symbol};
use super::paper::Paper;
use super::view::{View, Wall};
use super::words::{self, mm};
use super::{dims, engineering, flags, ties, title, wall};
use layout_core::check::Severity;
use layout_core::{Role, Tie};

/// Room between the frame and what stands in it, mm.
pub(super) const PAD: f64 = 3.0;

/// Least height of notes below a drawing, mm.
const LEAST_NOTES: f64 = 40.0;

/// A sheet that wants its title block.
pub(super) struct Page {
    pub draft: Draft,
    /// Where the title block goes.
    pub title: Rect,
}

/// An elevation drawn at a scale.
pub(super) struct Composed {
    pub pages: Vec<Page>,
    /// How poorly it reads: marks left out and led off, labels left out; 0 is best.
    pub strain: f64,
}

/// Where drawing, notes and title block go on a sheet.
struct Zones {
    drawing: Rect,
    columns: Vec<Rect>,
    title: Rect,
}

fn zones(paper: Paper, drawing_height: f64, count: usize) -> Zones {
    let frame = paper.frame();
    if paper.upright {
        let title =
            Rect::new(frame.left, frame.bottom, frame.right, frame.bottom + title::height(frame.width()));
        let drawing = Rect::new(
            frame.left + PAD,
            (frame.top - PAD - drawing_height).max(title.top + PAD),
            frame.right - PAD,
            frame.top - PAD,
        );
        let notes = Rect::new(drawing.left, title.top + PAD, drawing.right, drawing.bottom - PAD);
        let width = (notes.width() - GUTTER) / 2.0;
        return Zones { drawing, columns: columns(&notes, width), title };
    }
    let width = paper.size.column();
    let left = frame.right - width;
    let title = Rect::new(left, frame.bottom, frame.right, frame.bottom + title::height(width));
    let edge = frame.right - width * count as f64;
    let drawing = Rect::new(frame.left + PAD, frame.bottom + PAD, edge - PAD, frame.top - PAD);
    let columns = (0..count)
        .map(|i| {
            let left = edge + i as f64 * width;
            let bottom = if i + 1 == count { title.top } else { frame.bottom };
            Rect::new(left + PAD, bottom + PAD, left + width - PAD, frame.top - PAD)
        })
        .collect();
    Zones { drawing, columns, title }
}

/// The place of an elevation on a sheet, if it fits.
fn fit(
    wall: &Wall<'_>,
    bands: &dims::Bands,
    paper: Paper,
    scale: u32,
    columns: usize,
) -> Option<(Zones, View)> {
    let s = f64::from(scale);
    let width = wall.bounds.width() / s + bands.left + bands.right;
    let height = wall.bounds.height() / s + bands.bottom + bands.top;
    let z = zones(paper, height, columns);
    let d = &z.drawing;
    let notes: f64 = z.columns.iter().map(Rect::height).fold(f64::INFINITY, f64::min);
    if width > d.width() + 1e-9 || height > d.height() + 1e-9 || notes < LEAST_NOTES {
        return None;
    }
    let origin = (
        d.left + bands.left + (d.width() - width) / 2.0,
        d.bottom + bands.bottom + (d.height() - height) / 2.0,
    );
    let window = Rect::new(d.left, d.bottom + dims::CAPTION, d.right, d.top);
    let view = View::new(wall, scale, origin, window);
    Some((z, view))
}

/// Draws an elevation on a paper at a scale; `None` where it does not fit.
///
/// Notes that run over their column take a second one beside the drawing where it leaves room, and
/// more sheets where it does not.
pub(super) fn compose(wall: &Wall<'_>, index: usize, paper: Paper, scale: u32) -> Option<Composed> {
    let bands = dims::Bands::of(wall, scale);
    let one = compose_with(wall, index, paper, scale, &bands, 1)?;
    if one.pages.len() == 1 || paper.upright {
        return Some(one);
    }
    match compose_with(wall, index, paper, scale, &bands, 2) {
        Some(two) if two.pages.len() < one.pages.len() => Some(two),
        _ => Some(one),
    }
}

fn compose_with(
    wall: &Wall<'_>,
    index: usize,
    paper: Paper,
    scale: u32,
    bands: &dims::Bands,
    columns: usize,
) -> Option<Composed> {
    let (zones, view) = fit(wall, bands, paper, scale, columns)?;
    let name = if wall.elevation.name.trim().is_empty() {
        format!("Elevation {}", index + 1)
    } else {
        wall.elevation.name.trim().to_owned()
    };
    let mut draft = Draft::new(paper, name.clone(), Some((index, scale)));
    let size = ties::symbol_scale(wall, view.scale);
    wall::draw(&mut draft, wall, &view);
    ties::take_room(&mut draft, wall, &view, size);
    engineering::take_room(&mut draft, wall, &view, size);
    dims::caption(&mut draft, &name, scale, &zones.drawing);
    let mut lost_labels = wall::label_sides(&mut draft, wall, &view);
    let left_out = dims::draw(&mut draft, wall, &view, bands);
    lost_labels += wall::label(&mut draft, wall, &view);
    wall::rows(&mut draft, wall, &view);
    ties::draw(&mut draft, wall, &view, size);
    engineering::draw(&mut draft, wall, &view, size);
    let marks = ties::mark(&mut draft, wall, &view, size);
    let lost_flags = flags::draw(&mut draft, wall, &view);
    let frame = paper.frame();
    if paper.upright {
        let y = zones.drawing.bottom - PAD / 2.0;
        draft.line(Layer::Frame, (frame.left, y), (frame.right, y), FINE);
    } else {
        for c in &zones.columns {
            let x = c.left - PAD;
            draft.line(Layer::Frame, (x, c.bottom - PAD), (x, frame.top), FINE);
        }
    }
    let told = Told { marks: &marks, left_out: &left_out, lost_flags: &lost_flags, lost_labels };
    let pages = with_notes(draft, &zones, wall, &told);
    let n = wall.plan.ties.len().max(1) as f64;
    let strain = 20.0 * marks.unmarked.len() as f64 / n
        + marks.led as f64 / n
        + 0.0001 * (left_out.runs + left_out.rows + left_out.chain) as f64;
    Some(Composed { pages, strain })
}

/// What the drawing could not show and the notes have to say.
struct Told<'a> {
    marks: &'a ties::Outcome,
    left_out: &'a dims::LeftOut,
    lost_flags: &'a [usize],
    lost_labels: usize,
}

impl Told<'_> {
    /// Whether the drawing alone does not give the mark and place of every tie.
    fn needs_list(&self) -> bool {
        !self.marks.unmarked.is_empty() || self.left_out.runs + self.left_out.rows > 0
    }
}

/// Pours the notes, adding sheets until they are all told.
fn with_notes(mut draft: Draft, zones: &Zones, wall: &Wall<'_>, told: &Told<'_>) -> Vec<Page> {
    let width = zones.columns.first().map_or(60.0, Rect::width);
    let mut notes = Notes::new(width);
    key(&mut notes, wall);
    reading(&mut notes, wall, told);
    notes.heading("CAUTIONS");
    notes.para(Layer::Notes, words::CAUTIONS_SHORT);
    findings(&mut notes, wall, told);
    engineering::notes(&mut notes, wall);
    rules(&mut notes, wall);
    areas(&mut notes, wall);
    let room: f64 = zones.columns.iter().map(Rect::height).sum();
    let mut list = Notes::new(width);
    row_by_row(&mut list, wall);
    if told.needs_list() || notes.height() + list.height() + 8.0 < room {
        row_by_row(&mut notes, wall);
    }
    notes.pour(&mut draft, &zones.columns);
    let (paper, name) = (draft.paper, draft.title.clone());
    let mut pages = vec![Page { draft, title: zones.title }];
    while !notes.is_empty() {
        let paper = Paper { upright: false, ..paper };
        let mut page = notes_page(paper, format!("{name} (notes)"));
        let area = Rect::new(
            page.draft.paper.frame().left + PAD,
            page.draft.paper.frame().bottom + PAD,
            page.draft.paper.frame().right - PAD,
            page.draft.paper.frame().top - PAD,
        );
        let columns = columns_round(&area, notes.width, &page.title);
        let before = notes.height();
        let columns = notes.balanced(&columns);
        notes.pour(&mut page.draft, &columns);
        pages.push(page);
        if notes.height() >= before {
            break;
        }
    }
    pages
}

/// A sheet that holds notes alone.
pub(super) fn notes_page(paper: Paper, name: String) -> Page {
    let frame = paper.frame();
    let width = paper.size.column();
    let title =
        Rect::new(frame.right - width, frame.bottom, frame.right, frame.bottom + title::height(width));
    Page { draft: Draft::new(paper, name, None), title }
}

/// Columns of a width across an area, those over the title block cut short.
pub(super) fn columns_round(area: &Rect, width: f64, title: &Rect) -> Vec<Rect> {
    columns(area, width)
        .into_iter()
        .map(|c| {
            let over = c.right > title.left - 1.0;
            Rect { bottom: if over { title.top + PAD } else { c.bottom }, ..c }
        })
        .filter(|c| c.height() > 15.0)
        .collect()
}

fn key(notes: &mut Notes, wall: &Wall<'_>) {
    let (plan, e) = (wall.plan, wall.elevation);
    notes.heading("KEY AND COUNTS");
    for role in Role::ALL.into_iter().rev() {
        let n = plan.count(role);
        if n > 0 {
            let words = format!("{} tie ({}…)", role.words(), role.letter());
            notes.key(Sample::Tie(Symbol::Tie(role)), &words, &n.to_string());
        }
    }
    let pinned = plan.ties.iter().filter(|t| t.pinned).count();
    if pinned > 0 {
        notes.key(Sample::Pinned, "of these, fixed in place by hand", &pinned.to_string());
    }
    if !e.existing_ties.is_empty() {
        notes.key(Sample::Tie(Symbol::OldTie), "old tie found", &e.existing_ties.len().to_string());
        engineering::old_tie_key(notes, wall);
    }
    if !e.keep_outs.is_empty() {
        notes.key(Sample::KeepOut, "keep-out: do not drill", &e.keep_outs.len().to_string());
    }
    let joint_side =
        layout_core::elevation::outline_sides(e).contains(&layout_core::elevation::SideCondition::Joint);
    if !e.movement_joints.is_empty() || joint_side {
        notes.key(Sample::Joint, "movement joint", "");
    }
    if !plan.findings.is_empty() {
        notes.key(Sample::Flag, "finding, by its number", &plan.findings.len().to_string());
    }
    engineering::key(notes, wall);
    notes.key(Sample::RowLine, "row of ties", &wall.rows.len().to_string());
    notes.gap(1.0);
    notes.pair("New ties in all", &plan.ties.len().to_string(), true);
}

fn areas(notes: &mut Notes, wall: &Wall<'_>) {
    let p = wall.plan;
    notes.heading("AREAS");
    notes.pair("Inside the outline", &format!("{:.2} m²", p.gross_area), false);
    notes.pair("Openings", &format!("{:.2} m²", p.opening_area()), false);
    notes.pair("Masonry", &format!("{:.2} m²", p.net_area), false);
    notes.pair("New ties per m² of masonry", &format!("{:.2}", p.density()), false);
}

fn findings(notes: &mut Notes, wall: &Wall<'_>, told: &Told<'_>) {
    notes.heading("FINDINGS");
    if wall.plan.findings.is_empty() {
        notes.para(Layer::Findings, "Checked against the rules listed below: no breach found.");
        return;
    }
    for (i, f) in wall.plan.findings.iter().enumerate() {
        let kind = match f.severity {
            Severity::Breach => "BREACH",
            Severity::Note => "Note",
        };
        let place = if told.lost_flags.binary_search(&(i + 1)).is_ok() {
            format!(" (not flagged on the drawing; at x {}, y {})", mm(f.at.0), mm(f.at.1))
        } else {
            String::new()
        };
        let text = format!("{kind}, {}: {}{place}", f.rule.words(), f.message);
        notes.hanging(Layer::Findings, &(i + 1).to_string(), 7.0, &text);
    }
}

fn rules(notes: &mut Notes, wall: &Wall<'_>) {
    let r = &wall.plan.rules;
    notes.heading(&format!("RULES: {}", r.id));
    for sentence in words::rules_by_source(r) {
        notes.para(Layer::Notes, &sentence);
    }
}

fn reading(notes: &mut Notes, wall: &Wall<'_>, told: &Told<'_>) {
    let e = wall.elevation;
    notes.heading("TO SET OUT");
    notes.para(
        Layer::Notes,
        &format!(
            "{} Heights are from the datum at 0. Ties are measured from the left end of the wall, seen from outside.",
            words::coursing(e)
        ),
    );
    let mut missing = Vec::new();
    let mut say = |n: usize, one: &str, many: &str| {
        if n > 0 {
            missing.push(format!("{n} {}", if n == 1 { one } else { many }));
        }
    };
    say(told.marks.unmarked.len(), "mark", "marks");
    say(told.left_out.runs, "distance of ties", "distances of ties");
    say(told.left_out.rows, "row height", "row heights");
    say(told.left_out.chain, "dimension", "dimensions");
    say(told.lost_labels, "label", "labels");
    if !missing.is_empty() {
        let listed = if told.needs_list() { " Every tie is listed row by row in these notes." } else { "" };
        let missing = missing.join(", ");
        let text = format!("No room at this scale for {missing}; draw it larger to see more.{listed}");
        notes.para(Layer::Notes, &text);
    }
    if !told.marks.unseen.is_empty() {
        let list: Vec<String> = told
            .marks
            .unseen
            .iter()
            .filter_map(|&i| wall.plan.ties.get(i))
            .map(|t| format!("{} at x {}, y {}", t.mark, mm(t.at.0), mm(t.at.1)))
            .collect();
        notes.para(Layer::Notes, &format!("Outside the wall and not drawn: {}.", list.join("; ")));
    }
}

/// Every tie with its distance from the left end of the wall, row by row.
fn row_by_row(notes: &mut Notes, wall: &Wall<'_>) {
    if wall.plan.ties.is_empty() {
        return;
    }
    notes.heading("TIES ROW BY ROW");
    notes.lead(Layer::Notes, "Height of the row, then each mark with its distance from the left end.");
    let mut ties: Vec<&Tie> = wall.plan.ties.iter().filter(|t| wall.bounds.contains(t.at)).collect();
    ties.sort_by(|a, b| a.at.1.total_cmp(&b.at.1));
    let mut rest = ties.as_slice();
    for (i, row) in wall.rows.iter().enumerate() {
        let next = wall.rows.get(i + 1).map_or(f64::INFINITY, |r| r.y);
        let n = rest.iter().take_while(|t| t.at.1 < next).count();
        let mut on = rest[..n].to_vec();
        rest = &rest[n..];
        on.sort_by(|a, b| a.at.0.total_cmp(&b.at.0));
        let place = |t: &&Tie| format!("{}\u{a0}{}", t.mark, mm((t.at.0 - wall.bounds.left).round()));
        let list: Vec<String> = on.iter().map(place).collect();
        notes.hanging(Layer::Notes, &mm(row.y), 12.0, &list.join(", "));
    }
}
