//! The notes beside the drawing of an elevation: key and counts, how to set out, cautions, findings, rules.

use super::detail::Region;
use super::draft::{Draft, MEDIUM, THICK};
use super::elevation::{Page, Part, Undone, Zones, columns_round, name_of};
use super::engineering;
use super::flow::{Notes, Sample};
use super::geom::Rect;
use super::model::{Dash, Layer, SheetKind, Symbol};
use super::paper::Paper;
use super::table;
use super::view::Wall;
use super::words::{self, Style, fill};
use super::{keep_out, locked};
use layout_core::check::Severity;
use layout_core::elevation::{MovementJoint, SideCondition, outline_sides};
use layout_core::{Role, Tie, units};

/// What the notes have to say of a drawing.
pub(super) struct Told<'a> {
    pub undone: &'a Undone,
    pub part: &'a Part,
    /// Places that have a detail.
    pub regions: &'a [Region],
}

/// Pours the notes; returns those that found no room.
pub(super) fn with_notes(mut draft: Draft, zones: &Zones, wall: &Wall<'_>, told: &Told<'_>) -> (Page, Notes) {
    let width = zones.columns.first().map_or(60.0, Rect::width);
    let mut notes = tell(wall, told, width, Much::All);
    let all: Vec<Rect> = zones.columns.iter().chain(&zones.below).copied().collect();
    if notes.left_over(&all) > 0 && told.part.include.cover {
        // What the cover has too is told there alone, rather than on one more sheet.
        notes = tell(wall, told, width, Much::Own);
        if notes.left_over(&all) > 0 {
            notes = tell(wall, told, width, Much::OwnAlone);
        }
    }
    if notes.left_over(&all) > 0 && told.part.number > 1 {
        notes = tell(wall, told, width, Much::OfPart);
    }
    notes.pour(&mut draft, &zones.columns);
    let below = notes.balanced(&zones.below);
    notes.pour(&mut draft, &below);
    (Page { draft, title: zones.title }, notes)
}

/// The sheets for what found no room beside the drawings of an elevation, all its parts together.
pub(super) fn left_over(wall: &Wall<'_>, paper: Paper, parts: Vec<(String, Notes)>) -> Vec<Page> {
    let name = name_of(&wall.elevation.name, wall.index, wall.style);
    let Some(mut all) = parts.first().map(|(_, notes)| Notes::new(notes.width)) else { return Vec::new() };
    for (title, notes) in parts.into_iter().filter(|(_, notes)| !notes.is_empty()) {
        if title != name {
            all.heading(&title);
        }
        all.append(notes);
    }
    let title = fill(wall.style.words.notes_of, &[&name]);
    sheets_of(&mut all, paper, (SheetKind::Notes, &title, ""), wall.style, |_, _| false)
}

/// Pours notes onto sheets of their own, of a kind, with a heading and a sentence under it, until they are all
/// told. `foot` may draw at the foot of the first, left of the title block, and says whether it did.
pub(super) fn sheets_of(
    notes: &mut Notes,
    paper: Paper,
    (kind, title, about): (SheetKind, &str, &str),
    style: Style,
    foot: impl Fn(&mut Page, &Rect) -> bool,
) -> Vec<Page> {
    let mut pages = Vec::new();
    while !notes.is_empty() {
        let mut t = table::page(paper, kind, title, about, style);
        let footed = pages.is_empty() && foot(&mut t.page, &t.foot);
        let area = if footed { t.body } else { Rect { bottom: t.foot.bottom, ..t.body } };
        let columns = columns_round(&area, notes.width, &t.page.title);
        let before = notes.height();
        let columns = notes.balanced(&columns);
        notes.pour(&mut t.page.draft, &columns);
        pages.push(t.page);
        if notes.height() >= before {
            break;
        }
    }
    pages
}

/// How much the notes tell.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Much {
    /// With the rules and areas that the cover has too.
    All,
    /// What the elevation has alone, and where the rest stands.
    Own,
    /// What the elevation has alone: a sheet of its own is not worth while to say where the rest stands.
    OwnAlone,
    /// What a part has alone; the rest is told with the first.
    OfPart,
}

/// The notes made up; cautions come before all that could run over to another sheet.
fn tell(wall: &Wall<'_>, told: &Told<'_>, width: f64, much: Much) -> Notes {
    let mut notes = Notes::new(width);
    let w = wall.style.words;
    key(&mut notes, wall, told);
    notes.heading(w.cautions);
    notes.para(Layer::Notes, w.cautions_short);
    keep_out::list(&mut notes, wall);
    reading(&mut notes, wall, told, much);
    findings(&mut notes, wall, told, much);
    if much == Much::OfPart {
        return notes;
    }
    engineering::notes(&mut notes, wall, told.part.include);
    match much {
        Much::Own => {
            notes.heading(&fill(w.rules_of, &[&wall.plan.rules.id]));
            notes.para(Layer::Notes, w.rules_on_cover);
        }
        Much::All if told.part.number == 1 => {
            rules(&mut notes, wall);
            areas(&mut notes, wall);
        }
        _ => {}
    }
    notes
}

/// The key of the symbols and lines on this sheet, with the counts of the piece it shows.
fn key(notes: &mut Notes, wall: &Wall<'_>, told: &Told<'_>) {
    let (plan, e, w) = (wall.plan, wall.elevation, wall.style.words);
    let in_parts = told.part.of > 1;
    notes.heading(if in_parts { w.key_and_counts_of_part } else { w.key_and_counts });
    ties_of_key(notes, wall, None);
    let pinned = wall.own_ties().filter(|t| t.pinned).count();
    if pinned > 0 {
        notes.key(Sample::Pinned, w.key_pinned, &pinned.to_string());
    }
    if in_parts {
        notes.key(Sample::Tie(Symbol::Beyond(Role::Field)), w.key_beyond, "");
        notes.key(Sample::Match, w.key_match, "");
    }
    if !told.regions.is_empty() {
        notes.key(Sample::Detail, w.key_detail, &told.regions.len().to_string());
    }
    let old = e.existing_ties.iter().filter(|t| wall.owns(t.at)).count();
    if old > 0 {
        notes.key(Sample::Tie(Symbol::OldTie), w.key_old, &old.to_string());
        engineering::old_tie_key(notes, wall);
    }
    lines_of_key(notes, wall, true);
    if !plan.findings.is_empty() {
        notes.key(Sample::Flag, w.key_finding, &plan.findings.len().to_string());
    }
    engineering::key(notes, wall);
    notes.key(Sample::RowLine, w.key_row, &wall.rows.len().to_string());
    notes.gap(1.0);
    if in_parts {
        notes.pair(w.new_ties_in_part, &wall.ties.len().to_string(), true);
    }
    notes.pair(w.new_ties_in_all, &plan.ties.len().to_string(), true);
}

/// Rows of the key for what is drawn of the wall: keep-outs, locked areas, joints, sides.
pub(super) fn lines_of_key(notes: &mut Notes, wall: &Wall<'_>, with_counts: bool) {
    let (e, w) = (wall.elevation, wall.style.words);
    let counted = |n: usize| if with_counts { n.to_string() } else { String::new() };
    let keep_outs = keep_out::seen(wall).len();
    if keep_outs > 0 {
        notes.key(Sample::KeepOut, w.key_keep_out, &counted(keep_outs));
    }
    locked::key(notes, wall, with_counts);
    // Joints and sides that this piece shows.
    let side = |i: usize| (e.outline[i], e.outline[(i + 1) % e.outline.len()]);
    let shown = outline_sides(e).into_iter().enumerate();
    let shown = shown.filter(|&(i, _)| wall.extent.clip(side(i).0, side(i).1).is_some());
    let sides: Vec<SideCondition> = shown.map(|(_, s)| s).collect();
    let inside = |j: &&MovementJoint| wall.extent.clip((j.x, j.from), (j.x, j.to)).is_some();
    let joints = e.movement_joints.iter().filter(inside).count();
    if joints > 0 || sides.contains(&SideCondition::Joint) {
        let count = if joints > 0 { counted(joints) } else { String::new() };
        notes.key(Sample::Joint, w.key_joint, &count);
    }
    if sides.contains(&SideCondition::FreeEnd) {
        notes.key(Sample::Side(THICK, Dash::Solid), w.key_free_end, "");
    }
    if sides.contains(&SideCondition::Abutment) {
        notes.key(Sample::Side(MEDIUM, Dash::Dashed), w.key_abutment, "");
    }
}

/// The symbols of the new ties that a piece has, or those of them that are listed, with their counts.
pub(super) fn ties_of_key(notes: &mut Notes, wall: &Wall<'_>, listed: Option<&[usize]>) {
    for role in Role::ALL.into_iter().rev() {
        let ties = listed.unwrap_or(&wall.ties).iter().filter_map(|&i| wall.plan.ties.get(i));
        let n = ties.filter(|t| t.role == role).count();
        if n > 0 {
            let words =
                fill(wall.style.words.key_tie, &[wall.style.words.role(role), &role.letter().to_string()]);
            notes.key(Sample::Tie(Symbol::Tie(role)), &words, &n.to_string());
        }
    }
}

fn areas(notes: &mut Notes, wall: &Wall<'_>) {
    let (p, style) = (wall.plan, wall.style);
    let w = style.words;
    notes.heading(w.areas);
    let m2 = |v: f64| format!("{} m²", style.two(v));
    notes.pair(w.inside_the_outline, &m2(p.gross_area), false);
    notes.pair(w.openings, &m2(p.opening_area()), false);
    notes.pair(w.masonry, &m2(p.net_area), false);
    notes.pair(w.ties_per_m2_of_masonry, &style.two(p.density()), false);
}

fn findings(notes: &mut Notes, wall: &Wall<'_>, told: &Told<'_>, much: Much) {
    let style = wall.style;
    let w = style.words;
    if much == Much::OfPart && !wall.plan.findings.iter().any(|f| wall.owns(f.at)) {
        return;
    }
    notes.heading(w.findings);
    if wall.plan.findings.is_empty() {
        notes.para(Layer::Findings, &fill(w.no_breach_found, &[&wall.plan.rules.id]));
        return;
    }
    let mut said = 0;
    for (i, f) in wall.plan.findings.iter().enumerate() {
        // Each is told on the sheet that shows its place; on the first if it has none.
        let placed = f.at.0.is_finite() && f.at.1.is_finite();
        if !(if placed { wall.owns(f.at) } else { told.part.number == 1 }) {
            continue;
        }
        said += 1;
        let kind = match f.severity {
            Severity::Breach => w.breach,
            Severity::Note => w.note,
        };
        let place = if !placed || told.undone.lost_flags.binary_search(&(i + 1)).is_ok() {
            format!(" {}", fill(w.not_flagged, &[&style.mm(f.at.0), &style.mm(f.at.1)]))
        } else {
            String::new()
        };
        let text = format!("{kind}, {}: {}{place}", f.rule.words(), f.message);
        notes.hanging(Layer::Findings, &(i + 1).to_string(), 7.0, &text);
    }
    if said == 0 {
        notes.para(Layer::Findings, w.none_on_this_part);
    }
}

fn rules(notes: &mut Notes, wall: &Wall<'_>) {
    let r = &wall.plan.rules;
    notes.heading(&fill(wall.style.words.rules_of, &[&r.id]));
    for sentence in words::rules_by_source(r, wall.style) {
        notes.para(Layer::Notes, &sentence);
    }
}

/// Most things named in a list.
const MOST_NAMED: usize = 12;

/// Names one after the other, so many of them.
fn list_of(names: &[String], style: Style) -> String {
    let list = names[..names.len().min(MOST_NAMED)].join(", ");
    match names.len().saturating_sub(MOST_NAMED) {
        0 => list,
        more => fill(style.words.and_more, &[&list, &more.to_string()]),
    }
}

/// Marks of the ties whose distance stands nowhere on the drawing.
fn without_distance(wall: &Wall<'_>, undone: &Undone) -> Vec<String> {
    let left_out: Vec<f64> = undone.left_out.runs.iter().map(|&i| wall.runs[i].0).collect();
    let at = |t: &Tie| t.at.0 - wall.bounds.left;
    let missing = |t: &&Tie| left_out.iter().any(|r| (0.0..units::DISTANCE_TOLERANCE).contains(&(at(t) - r)));
    let within = wall.own_ties().filter(|t| wall.bounds.contains(t.at));
    within.filter(missing).map(|t| t.mark.clone()).collect()
}

/// Rows whose height stands nowhere on the drawing: their course, or the height itself where there are no courses.
fn without_height(wall: &Wall<'_>, undone: &Undone) -> Vec<String> {
    let name = |y: f64| {
        let (course, height) = (words::course(wall.elevation, y, wall.style), wall.style.mm(y));
        if course.is_empty() { height } else { format!("{course} ({height})") }
    };
    undone.left_out.rows.iter().map(|&i| name(wall.rows[i].y)).collect()
}

/// How to set out from the sheet, and what it could not show.
fn reading(notes: &mut Notes, wall: &Wall<'_>, told: &Told<'_>, much: Much) {
    let style = wall.style;
    let w = style.words;
    if much != Much::OfPart {
        notes.heading(w.to_set_out);
        notes.para(Layer::Notes, &format!("{} {}", words::coursing(wall.elevation, style), w.measured_from));
        if told.part.of > 1 {
            notes.para(Layer::Notes, w.about_match_lines);
        }
    }
    let undone = told.undone;
    let mut missing = Vec::new();
    let mut say = |n: usize, [one, many]: [&str; 2]| {
        if n > 0 {
            missing.push(format!("{n} {}", if n == 1 { one } else { many }));
        }
    };
    let in_detail = |i: &&usize| told.regions.iter().any(|r| r.ties.contains(*i));
    let detailed = undone.marks.unmarked.iter().filter(in_detail).count();
    say(undone.marks.unmarked.len() - detailed, w.marks);
    say(undone.left_out.chain, w.dimensions);
    say(undone.lost_labels, w.labels);
    for (words, list) in
        [(w.distances_of, without_distance(wall, undone)), (w.heights_of, without_height(wall, undone))]
    {
        if !list.is_empty() {
            missing.push(fill(words, &[&list_of(&list, style)]));
        }
    }
    let sizes = undone.lost_sizes.iter().filter_map(|&i| Some((i, wall.elevation.openings.get(i)?)));
    let sizes: Vec<String> = sizes
        .map(|(i, o)| {
            let number = fill(w.opening_n, &[&(i + 1).to_string()]);
            let name = Some(o.name.trim()).filter(|n| !n.is_empty()).unwrap_or(&number);
            format!("{name} {}", words::size(&o.shape, style))
        })
        .collect();
    if !sizes.is_empty() {
        notes.para(Layer::Notes, &fill(w.sizes_of_openings, &[&sizes.join("; ")]));
    }
    if detailed > 0 {
        notes.para(Layer::Notes, w.marks_in_details);
    }
    if !missing.is_empty() {
        notes.para(Layer::Notes, &fill(w.no_room_for, &[&missing.join(", ")]));
    }
    if !undone.marks.unseen.is_empty() {
        let unseen = undone.marks.unseen.iter().filter_map(|&i| wall.plan.ties.get(i));
        let list: Vec<String> =
            unseen.map(|t| fill(w.mark_at, &[&t.mark, &style.mm(t.at.0), &style.mm(t.at.1)])).collect();
        notes.para(Layer::Notes, &fill(w.outside_not_drawn, &[&list.join("; ")]));
    }
}
