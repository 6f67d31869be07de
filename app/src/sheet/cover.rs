//! The cover: the job, key plan and table of its elevations, notes, cautions, rules with their sources.

use super::draft::{MEDIUM, SMALL, THIN};
use super::elevation::{PAD, Page, columns_round, name_of, plain_page};
use super::flow::Notes;
use super::font::Face;
use super::geom::Rect;
use super::key_plan::{self, Entry};
use super::model::{Align, Layer, SheetKind, Text};
use super::options::SheetOptions;
use super::paper::{Paper, PaperSize};
use super::section::{self, Build};
use super::words::{Style, fill};
use super::{Outcome, words};
use layout_core::check::Severity;
use layout_core::elevation::{Fault, FaultKind, Project, validate};
use layout_core::rules::RuleSet;
use layout_core::{Plan, Role};

/// Height of a row of the table, mm.
const ROW: f64 = 5.0;

/// Between lines of a name that takes more than one, mm.
const NAME_PITCH: f64 = 3.6;

/// Most lines of a name.
const NAME_LINES: usize = 8;

/// What the cover says of where an elevation is drawn.
#[derive(Clone, Debug, Default)]
pub(super) struct Drawn {
    /// Scale of its sheet, if it has one.
    pub scale: Option<u32>,
    /// Its entry in the key plan.
    pub entry: Entry,
}

/// A sheet after the cover, as the list of sheets names it.
pub(super) struct Listed {
    pub number: usize,
    pub title: String,
}

/// All that the cover tells.
pub(super) struct Told<'a> {
    pub project: &'a Project,
    pub plans: &'a [Outcome<'a>],
    pub drawn: &'a [Drawn],
    /// How the walls surveyed are built.
    pub builds: &'a [Build],
    pub listed: &'a [Listed],
    pub options: &'a SheetOptions,
    pub style: Style,
}

/// Draws the cover on as many sheets as it takes.
pub(super) fn compose(told: &Told<'_>, paper: Paper) -> Vec<Page> {
    let (style, w) = (told.style, told.style.words);
    let mut notes = Notes::for_sheet(paper);
    tell(&mut notes, told, paper);
    let rows = table(told);
    let mut rows = rows.as_slice();
    let mut pages = Vec::new();
    loop {
        let name = if pages.is_empty() { w.cover } else { w.cover_continued };
        let mut page = plain_page(paper, SheetKind::Cover, name.to_owned(), style);
        let frame = paper.frame();
        let mut top = frame.top - PAD;
        let mut bottom = frame.bottom + PAD;
        if pages.is_empty() {
            top = headline(&mut page, told, top);
            if told.options.include.section {
                let foot = Rect::new(frame.left + PAD, bottom, page.title.left - PAD, page.title.top);
                if section(&mut page, &foot, told) {
                    bottom = page.title.top + PAD;
                }
            }
            let (left, right) = (frame.left + PAD, frame.right - PAD);
            // On little paper the key plan leaves room for the table and a few notes.
            let most = (top - page.title.top - PAD) * 0.4;
            let entries: Vec<Entry> = told.drawn.iter().map(|d| d.entry.clone()).collect();
            top = key_plan::draw(&mut page.draft, told.project, &entries, (left, right), top, most);
        }
        if !rows.is_empty() {
            let room = top - page.title.top - PAD - ROW * 3.0;
            let (mut n, mut used) = (0, 0.0);
            while let Some(row) = rows.get(n).filter(|r| n == 0 || used + r.height() <= room) {
                used += row.height();
                n += 1;
            }
            // The first sheet may have no room left below the key plan.
            if used <= room || !pages.is_empty() {
                top = draw_table(&mut page, &rows[..n], top, style);
                rows = &rows[n..];
            }
        }
        let before = notes.height();
        if rows.is_empty() {
            let area = Rect::new(frame.left + PAD, bottom, frame.right - PAD, top - PAD);
            let columns = notes.balanced(&columns_round(&area, notes.width, &page.title));
            notes.pour(&mut page.draft, &columns);
        }
        pages.push(page);
        let stuck = rows.is_empty() && notes.height() >= before && pages.len() > 2;
        if rows.is_empty() && notes.is_empty() || stuck {
            return pages;
        }
    }
}

/// The section through the wall; with its sizes where all walls surveyed are built alike.
fn section(page: &mut Page, foot: &Rect, told: &Told<'_>) -> bool {
    let w = told.style.words;
    let alike = told.builds.first().filter(|first| told.builds.iter().all(|b| b == *first));
    let lead = if told.builds.is_empty() || alike.is_some() { "" } else { w.engineering.sections_differ };
    section::draw(&mut page.draft, foot, (w.section, lead), alike, told.style)
}

/// Title of the job, large. Returns where the next thing may start.
fn headline(page: &mut Page, told: &Told<'_>, top: f64) -> f64 {
    let (project, w) = (told.project, told.style.words);
    let frame = page.draft.paper.frame();
    let room = frame.width() - 2.0 * PAD;
    let bold = Face::Bold;
    let (mut y, left) = (top - 9.0, frame.left + PAD);
    let firm = &told.options.firm;
    if !firm.name.trim().is_empty() {
        let said = [firm.name.trim(), firm.address.trim()];
        let said: Vec<&str> = said.into_iter().filter(|t| !t.is_empty()).collect();
        let line = Face::CondensedBold.shorten(&said.join(" · "), 3.5, room);
        page.draft
            .text(Layer::Notes, Text::new((left, top - 4.5), &line, 3.5, Align::Left, Face::CondensedBold));
        y -= 6.5;
    }
    let lines = bold.wrap(&project.title, 7.0, room);
    for (i, line) in lines.iter().take(2).enumerate() {
        let line = if i == 1 && lines.len() > 2 {
            bold.shorten(&lines[1..].join(" "), 7.0, room)
        } else {
            line.clone()
        };
        page.draft.text(Layer::Notes, Text::new((left, y), &line, 7.0, Align::Left, bold));
        y -= 10.0;
    }
    let facts: Vec<String> = [
        (w.reference, &project.reference),
        (w.site, &project.site),
        (w.client, &project.client),
        (w.drawn_by, &project.drawn_by),
        (w.revision, &project.revision),
    ]
    .into_iter()
    .filter(|(_, v)| !v.trim().is_empty())
    .map(|(k, v)| format!("{k}\u{a0}{}", v.trim()))
    .collect();
    let face = Face::Condensed;
    y += 10.0 - 2.5;
    for line in face.wrap(&facts.join("  ·  "), 3.5, room).iter().take(4) {
        y -= 5.6;
        page.draft.text(Layer::Notes, Text::new((left, y), line, 3.5, Align::Left, face));
    }
    y - 4.0
}

struct Row {
    /// Lines of the name.
    name: Vec<String>,
    cells: Vec<String>,
    bold: bool,
}

impl Row {
    fn height(&self) -> f64 {
        ROW + NAME_PITCH * (self.name.len().max(1) - 1) as f64
    }
}

/// Number of columns.
const COLUMNS: usize = 14;

/// Breadth of the table's columns of figures, and of its first column with the names.
fn widths(width: f64, heads: &[&str; COLUMNS]) -> (f64, f64) {
    let face = Face::CondensedBold;
    let longest =
        heads[1..].iter().flat_map(|h| h.split(' ')).map(|w| face.width(w, SMALL)).fold(0.0, f64::max);
    let figure = (width * 0.062).clamp(longest + 1.8, 26.0);
    // The names take what the figures leave.
    (figure, width - figure * (COLUMNS - 1) as f64)
}

fn table(told: &Told<'_>) -> Vec<Row> {
    let (project, w) = (told.project, told.style.words);
    let frame = Paper::lying(told.options.sheet.unwrap_or(PaperSize::A3)).frame();
    let (_, room) = widths(frame.width() - 2.0 * PAD, &w.heads);
    let named = |name: &str, bold: bool| -> Vec<String> {
        let face = if bold { Face::CondensedBold } else { Face::Condensed };
        let mut lines = face.wrap(name, SMALL, room - 2.0);
        if lines.len() > NAME_LINES {
            let last = face.shorten(&lines[NAME_LINES - 1..].join(" "), SMALL, room - 2.0);
            lines.truncate(NAME_LINES - 1);
            lines.push(last);
        }
        lines
    };
    let mut rows = Vec::new();
    let mut total = Totals::default();
    for i in 0..project.elevations.len() {
        let name = named(&self::named(told, i), false);
        let mut cells = Vec::new();
        match (told.plans.get(i), told.drawn.get(i)) {
            (Some(Ok(plan)), Some(d)) => {
                let on = |(first, last): (usize, usize)| {
                    if first == last { first.to_string() } else { format!("{first}–{last}") }
                };
                cells.push(d.entry.sheets.map_or_else(|| "–".to_owned(), on));
                cells.push(d.scale.map_or_else(|| "–".to_owned(), |s| format!("1:{s}")));
                let t = Totals::of(plan);
                total.add(&t);
                cells.extend(t.cells(told.style));
            }
            _ => cells.push(w.not_laid_out_below.to_owned()),
        }
        rows.push(Row { name, cells, bold: false });
    }
    let mut cells = vec![String::new(), String::new()];
    cells.extend(total.cells(told.style));
    rows.push(Row { name: vec![w.total.to_owned()], cells, bold: true });
    rows
}

#[derive(Default)]
struct Totals {
    gross: f64,
    net: f64,
    ties: usize,
    roles: [usize; 5],
    breaches: usize,
}

/// Roles in the order of the table.
const ROLES: [Role; 5] = [Role::Field, Role::Jamb, Role::FreeEnd, Role::Joint, Role::Verge];

impl Totals {
    fn of(plan: &Plan) -> Self {
        Self {
            gross: plan.gross_area,
            net: plan.net_area,
            ties: plan.ties.len(),
            roles: ROLES.map(|r| plan.count(r)),
            breaches: plan.findings.iter().filter(|f| f.severity == Severity::Breach).count(),
        }
    }

    fn add(&mut self, o: &Self) {
        self.gross += o.gross;
        self.net += o.net;
        self.ties += o.ties;
        self.breaches += o.breaches;
        for (a, b) in self.roles.iter_mut().zip(o.roles) {
            *a += b;
        }
    }

    fn cells(&self, style: Style) -> Vec<String> {
        let density = if self.net > 0.0 { self.ties as f64 / self.net } else { 0.0 };
        let mut cells = vec![
            style.two(self.gross),
            style.two(self.gross - self.net),
            style.two(self.net),
            self.ties.to_string(),
        ];
        cells.extend(self.roles.iter().map(ToString::to_string));
        cells.push(style.two(density));
        cells.push(self.breaches.to_string());
        cells
    }
}

/// Draws rows under a head line. Returns where the next thing may start.
fn draw_table(page: &mut Page, rows: &[Row], top: f64, style: Style) -> f64 {
    let frame = page.draft.paper.frame();
    let (left, width) = (frame.left + PAD, frame.width() - 2.0 * PAD);
    let heads = &style.words.heads;
    let (figure, name) = widths(width, heads);
    let right_of = |i: usize| left + name + figure * i as f64;
    let (l, face) = (Layer::Notes, Face::CondensedBold);
    let mut y = top - ROW - 1.0;
    page.draft.line(l, (left, top), (left + width, top), MEDIUM);
    y -= 3.6;
    for (i, head) in heads.iter().enumerate() {
        let lines = face.wrap(head, SMALL, if i == 0 { name } else { figure - 1.7 });
        let (x, align) = if i == 0 { (left, Align::Left) } else { (right_of(i) - 0.5, Align::Right) };
        for (k, text) in lines.iter().rev().take(2).enumerate() {
            let at = (x, y + 1.5 + 3.6 * k as f64);
            page.draft.text(l, Text::new(at, text, SMALL, align, face));
        }
    }
    page.draft.line(l, (left, y), (left + width, y), THIN);
    for row in rows {
        if row.bold {
            page.draft.line(l, (left, y), (left + width, y), THIN);
        }
        let face = if row.bold { Face::CondensedBold } else { Face::Condensed };
        let base = y - ROW + 1.2;
        y -= row.height();
        for (k, line) in row.name.iter().enumerate() {
            let at = (left, base - NAME_PITCH * k as f64);
            page.draft.text(l, Text::new(at, line, SMALL, Align::Left, face));
        }
        for (i, cell) in row.cells.iter().enumerate() {
            let (room, at, align) = if row.cells.len() == 1 {
                (width - name - 4.0, (right_of(0) + 4.0, base), Align::Left)
            } else {
                (figure - 1.5, (right_of(i + 1) - 0.5, base), Align::Right)
            };
            page.draft.text(l, Text::new(at, &face.shorten(cell, SMALL, room), SMALL, align, face));
        }
        if !row.bold {
            page.draft.line(l, (left, y), (left + width, y), THIN);
        }
    }
    page.draft.line(l, (left, y), (left + width, y), MEDIUM);
    y - 3.0
}

/// Everything the cover says in words.
fn tell(notes: &mut Notes, told: &Told<'_>, paper: Paper) {
    let (project, plans, style) = (told.project, told.plans, told.style);
    let w = style.words;
    faults(notes, told);
    // First of all that could run over to another sheet.
    notes.heading(w.cautions);
    for (i, c) in w.cautions_long.iter().enumerate() {
        notes.hanging(Layer::Notes, &format!("{}", i + 1), 6.0, c);
    }
    let said: Vec<&String> = project.notes.iter().filter(|n| !n.trim().is_empty()).collect();
    if !said.is_empty() {
        notes.heading(w.notes);
        for (i, n) in said.iter().enumerate() {
            notes.hanging(Layer::Notes, &format!("{}", i + 1), 6.0, n);
        }
    }
    breaches(notes, told);
    if !told.listed.is_empty() {
        notes.heading(w.sheets_in_this_set);
        // Sheets of one title in a row are listed once.
        let runs = told.listed.chunk_by(|a, b| a.title == b.title);
        let entry = |same: &[Listed]| {
            let (first, last) = (same.first()?, same.last()?);
            let (from, to) = (first.number, last.number);
            let numbers = if from == to { from.to_string() } else { format!("{from}–{to}") };
            Some((numbers, first.title.clone()))
        };
        notes.list(13.0, &runs.filter_map(entry).collect::<Vec<_>>());
    }
    let mut sets: Vec<&RuleSet> = Vec::new();
    for plan in plans.iter().filter_map(|p| p.as_ref().ok()) {
        if !sets.contains(&&plan.rules) {
            sets.push(&plan.rules);
        }
    }
    for set in sets {
        notes.heading(&fill(w.rules_of, &[&set.id]));
        notes.para(Layer::Notes, &set.title);
        if paper.size == PaperSize::A4 {
            // On little paper one sentence for each source, on more a line for each value.
            words::rules_by_source(set, style).iter().for_each(|s| notes.hanging(Layer::Notes, "–", 4.0, s));
        } else {
            for (label, value, source) in words::rule_values(set, style) {
                let value = format!("{}: {value}", words::capital(label));
                notes.hanging(Layer::Notes, "–", 4.0, &words::sourced(&value, source));
            }
        }
        for remark in &set.remarks {
            notes.hanging(Layer::Notes, "–", 4.0, remark);
        }
    }
    notes.heading(w.how_sure);
    notes.para(Layer::Notes, w.how_sure_text);
}

/// What is wrong with elevations that have no sheet, and parts left out of those that have.
fn faults(notes: &mut Notes, told: &Told<'_>) {
    let (mut without, mut left_out) = (Vec::new(), Vec::new());
    let w = told.style.words;
    for (i, e) in told.project.elevations.iter().enumerate() {
        let name = named(told, i);
        let of = |faults: &[Fault], kind| -> Vec<String> {
            faults.iter().filter(|f| f.kind == kind).map(|f| f.message.clone()).collect()
        };
        match told.plans.get(i) {
            Some(Ok(plan)) => left_out.extend(
                of(&validate(e), FaultKind::Note)
                    .into_iter()
                    .filter(|m| plan.findings.iter().all(|f| f.message != *m))
                    .map(|m| format!("{name}: {m}.")),
            ),
            Some(Err(faults)) if faults.iter().any(|f| f.kind == FaultKind::Unusable) => {
                without.push(format!("{name}: {}.", of(faults, FaultKind::Unusable).join("; ")));
            }
            _ => without.push(fill(w.no_layout_of, &[&name])),
        }
    }
    for (heading, said) in [(w.not_laid_out, without), (w.left_out_of_drawing, left_out)] {
        if !said.is_empty() {
            notes.heading(heading);
            said.iter().for_each(|s| notes.hanging(Layer::Findings, "!", 4.0, s));
        }
    }
}

/// Name of an elevation, or its number where it has none.
fn named(told: &Told<'_>, i: usize) -> String {
    name_of(told.project.elevations.get(i).map_or("", |e| e.name.as_str()), i, told.style)
}

/// Breaches of each elevation, told again where the whole job is seen.
fn breaches(notes: &mut Notes, told: &Told<'_>) {
    let count = |p: &Plan| p.findings.iter().filter(|f| f.severity == Severity::Breach).count();
    let with: Vec<String> = told
        .plans
        .iter()
        .take(told.project.elevations.len())
        .enumerate()
        .filter_map(|(i, p)| p.as_ref().ok().map(|p| (i, count(p))))
        .filter(|(_, n)| *n > 0)
        .map(|(i, n)| format!("{}: {n}", named(told, i)))
        .collect();
    let w = told.style.words;
    notes.heading(w.breaches);
    if with.is_empty() {
        notes.para(Layer::Findings, w.no_breaches_here);
    } else {
        notes.para(Layer::Findings, &fill(w.breaches_by_elevation, &[&with.join("; ")]));
    }
}
