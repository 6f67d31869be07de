//! The first sheet: the job, its elevations in a table, totals, notes, rules with their sources.

use super::draft::{FINE, MEDIUM, SMALL, THIN};
use super::elevation::{PAD, Page, columns_round, notes_page};
use super::flow::{GUTTER, Notes};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, Layer, Text};
use super::paper::{Paper, PaperSize};
use super::{Outcome, words};
use layout_core::check::Severity;
use layout_core::elevation::{Fault, FaultKind, Project, validate};
use layout_core::rules::RuleSet;
use layout_core::{Plan, Role};

/// Height of a row of the table, mm.
const ROW: f64 = 5.0;

/// What the summary says of where an elevation is drawn.
pub(super) struct Drawn {
    /// Scale of its sheet, if it has one.
    pub scale: Option<u32>,
    /// Number of its first sheet, counted after the summary, from 0.
    pub sheet: usize,
}

/// Draws the summary on as many sheets as it takes.
pub(super) fn compose(
    project: &Project,
    plans: &[Outcome<'_>],
    drawn: &[Drawn],
    paper: Paper,
    summary_sheets: usize,
) -> Vec<Page> {
    let room = paper.frame().width() - 2.0 * PAD + GUTTER;
    let columns = (room / (100.0 + GUTTER)).floor().max(1.0);
    let mut notes = Notes::new(room / columns - GUTTER);
    tell(&mut notes, project, plans, paper);
    let rows = table(project, plans, drawn, summary_sheets);
    let mut rows = rows.as_slice();
    let mut pages = Vec::new();
    loop {
        let name = if pages.is_empty() { "Summary" } else { "Summary (continued)" };
        let mut page = notes_page(paper, name.to_owned());
        let frame = paper.frame();
        let mut top = frame.top - PAD;
        if pages.is_empty() {
            top = headline(&mut page, project, top);
        }
        if !rows.is_empty() {
            let room = top - page.title.top - PAD - ROW * 3.0;
            let n = ((room / ROW).floor().max(1.0) as usize).min(rows.len());
            top = draw_table(&mut page, &rows[..n], top);
            rows = &rows[n..];
        }
        let before = notes.height();
        if rows.is_empty() {
            let area = Rect::new(frame.left + PAD, frame.bottom + PAD, frame.right - PAD, top - PAD);
            let columns = notes.balanced(&columns_round(&area, notes.width, &page.title));
            notes.pour(&mut page.draft, &columns);
        }
        pages.push(page);
        let stuck = rows.is_empty() && notes.height() >= before && pages.len() > 1;
        if rows.is_empty() && notes.is_empty() || stuck {
            return pages;
        }
    }
}

/// Title of the job, large. Returns where the next thing may start.
fn headline(page: &mut Page, project: &Project, top: f64) -> f64 {
    let frame = page.draft.paper.frame();
    let room = frame.width() - 2.0 * PAD;
    let bold = Face::Bold;
    let (mut y, left) = (top - 9.0, frame.left + PAD);
    let title = bold.shorten(&project.title, 7.0, room);
    page.draft.text(Layer::Notes, Text::new((left, y), &title, 7.0, Align::Left, bold));
    let facts: Vec<String> = [
        ("Reference", &project.reference),
        ("Site", &project.site),
        ("Client", &project.client),
        ("Drawn by", &project.drawn_by),
        ("Revision", &project.revision),
    ]
    .into_iter()
    .filter(|(_, v)| !v.trim().is_empty())
    .map(|(k, v)| format!("{k}\u{a0}{}", v.trim()))
    .collect();
    let face = Face::Condensed;
    y -= 2.5;
    for line in face.wrap(&facts.join("  ·  "), 3.5, room).iter().take(3) {
        y -= 5.6;
        page.draft.text(Layer::Notes, Text::new((left, y), line, 3.5, Align::Left, face));
    }
    y - 4.0
}

struct Row {
    cells: Vec<String>,
    bold: bool,
}

const HEADS: [&str; 14] = [
    "Elevation",
    "Sheet",
    "Scale",
    "Gross m²",
    "Openings m²",
    "Masonry m²",
    "New ties",
    "Field",
    "Jamb",
    "Free end",
    "Mov. joint",
    "Verge",
    "Ties per m²",
    "Breaches",
];

fn table(project: &Project, plans: &[Outcome<'_>], drawn: &[Drawn], first: usize) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut total = Totals::default();
    for i in 0..project.elevations.len() {
        let mut cells = vec![named(project, i)];
        match (plans.get(i), drawn.get(i)) {
            (Some(Ok(plan)), Some(d)) => {
                cells.push((d.sheet + first + 1).to_string());
                cells.push(d.scale.map_or_else(|| "–".to_owned(), |s| format!("1:{s}")));
                let t = Totals::of(plan);
                total.add(&t);
                cells.extend(t.cells());
            }
            _ => cells.push("not laid out: see the faults below".to_owned()),
        }
        rows.push(Row { cells, bold: false });
    }
    let mut cells = vec!["Total".to_owned(), String::new(), String::new()];
    cells.extend(total.cells());
    rows.push(Row { cells, bold: true });
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

    fn cells(&self) -> Vec<String> {
        let density = if self.net > 0.0 { self.ties as f64 / self.net } else { 0.0 };
        let mut cells = vec![
            format!("{:.2}", self.gross),
            format!("{:.2}", self.gross - self.net),
            format!("{:.2}", self.net),
            self.ties.to_string(),
        ];
        cells.extend(self.roles.iter().map(ToString::to_string));
        cells.push(format!("{density:.2}"));
        cells.push(self.breaches.to_string());
        cells
    }
}

/// Draws rows under a head line. Returns where the next thing may start.
fn draw_table(page: &mut Page, rows: &[Row], top: f64) -> f64 {
    let frame = page.draft.paper.frame();
    let (left, width) = (frame.left + PAD, frame.width() - 2.0 * PAD);
    // The name takes what the figures leave.
    let face = Face::CondensedBold;
    let longest =
        HEADS[1..].iter().flat_map(|h| h.split(' ')).map(|w| face.width(w, SMALL)).fold(0.0, f64::max);
    let figure = (width * 0.062).clamp(longest + 1.8, 26.0);
    let name = width - figure * (HEADS.len() - 1) as f64;
    let right_of = |i: usize| left + name + figure * i as f64;
    let l = Layer::Notes;
    let mut y = top - ROW - 1.0;
    page.draft.line(l, (left, top), (left + width, top), MEDIUM);
    let line = |page: &mut Page, y: f64, cells: &[String], bold: bool| {
        let face = if bold { Face::CondensedBold } else { Face::Condensed };
        for (i, cell) in cells.iter().enumerate() {
            let long = cells.len() == 2 && i == 1;
            let (room, at, align) = if i == 0 {
                (name - 2.0, (left, y + 1.2), Align::Left)
            } else if long {
                (width - name - 4.0, (right_of(0) + 4.0, y + 1.2), Align::Left)
            } else {
                (figure - 1.5, (right_of(i) - 0.5, y + 1.2), Align::Right)
            };
            page.draft.text(l, Text::new(at, &face.shorten(cell, SMALL, room), SMALL, align, face));
        }
    };
    y -= 3.6;
    for (i, head) in HEADS.into_iter().enumerate() {
        let lines = face.wrap(head, SMALL, if i == 0 { name } else { longest.max(figure - 3.0) + 0.1 });
        let (x, align) = if i == 0 { (left, Align::Left) } else { (right_of(i) - 0.5, Align::Right) };
        for (k, text) in lines.iter().rev().take(2).enumerate() {
            let at = (x, y + 1.5 + 3.6 * k as f64);
            page.draft.text(l, Text::new(at, text, SMALL, align, face));
        }
    }
    page.draft.line(l, (left, y), (left + width, y), THIN);
    for row in rows {
        y -= ROW;
        if row.bold {
            page.draft.line(l, (left, y + ROW), (left + width, y + ROW), THIN);
        }
        line(page, y, &row.cells, row.bold);
        if !row.bold {
            page.draft.line(l, (left, y), (left + width, y), FINE);
        }
    }
    page.draft.line(l, (left, y), (left + width, y), MEDIUM);
    y - 3.0
}

/// Everything the summary says in words.
fn tell(notes: &mut Notes, project: &Project, plans: &[Outcome<'_>], paper: Paper) {
    faults(notes, project, plans);
    let said: Vec<&String> = project.notes.iter().filter(|n| !n.trim().is_empty()).collect();
    if !said.is_empty() {
        notes.heading("NOTES");
        for (i, n) in said.iter().enumerate() {
            notes.hanging(Layer::Notes, &format!("{}", i + 1), 6.0, n);
        }
    }
    breaches(notes, project, plans);
    notes.heading("CAUTIONS");
    for (i, c) in words::CAUTIONS.iter().enumerate() {
        notes.hanging(Layer::Notes, &format!("{}", i + 1), 6.0, c);
    }
    let mut sets: Vec<&RuleSet> = Vec::new();
    for plan in plans.iter().filter_map(|p| p.as_ref().ok()) {
        if !sets.contains(&&plan.rules) {
            sets.push(&plan.rules);
        }
    }
    for set in sets {
        notes.heading(&format!("RULES: {}", set.id));
        notes.para(Layer::Notes, &set.title);
        if paper.size == PaperSize::A4 {
            // On little paper one sentence for each source, on more a line for each value.
            words::rules_by_source(set).iter().for_each(|s| notes.hanging(Layer::Notes, "–", 4.0, s));
        } else {
            for (label, value, source) in words::rule_values(set) {
                let value = format!("{}: {value}", words::capital(label));
                notes.hanging(Layer::Notes, "–", 4.0, &words::sourced(&value, source));
            }
        }
        for remark in &set.remarks {
            notes.hanging(Layer::Notes, "–", 4.0, remark);
        }
    }
    notes.heading("HOW SURE THE VALUES ARE");
    notes.para(
        Layer::Notes,
        "Each value says in brackets how it was seen: published; seen second-hand; from memory, confirm before use; \
         recomputed; given by the user; assumed, confirm before use. A value without a source is common practice. Check the edition in force.",
    );
}

/// What is wrong with elevations that have no sheet, and parts left out of those that have.
fn faults(notes: &mut Notes, project: &Project, plans: &[Outcome<'_>]) {
    let (mut without, mut left_out) = (Vec::new(), Vec::new());
    for (i, e) in project.elevations.iter().enumerate() {
        let name = named(project, i);
        let of = |faults: &[Fault], kind| -> Vec<String> {
            faults.iter().filter(|f| f.kind == kind).map(|f| f.message.clone()).collect()
        };
        match plans.get(i) {
            Some(Ok(plan)) => left_out.extend(
                of(&validate(e), FaultKind::Note)
                    .into_iter()
                    .filter(|m| plan.findings.iter().all(|f| f.message != *m))
                    .map(|m| format!("{name}: {m}.")),
            ),
            Some(Err(faults)) if faults.iter().any(|f| f.kind == FaultKind::Unusable) => {
                without.push(format!("{name}: {}.", of(faults, FaultKind::Unusable).join("; ")));
            }
            _ => without.push(format!("{name}: no layout was made of it.")),
        }
    }
    for (heading, said) in [("NOT LAID OUT", without), ("LEFT OUT OF THE DRAWING", left_out)] {
        if !said.is_empty() {
            notes.heading(heading);
            said.iter().for_each(|s| notes.hanging(Layer::Findings, "!", 4.0, s));
        }
    }
}

/// Name of an elevation, or its number where it has none.
fn named(project: &Project, i: usize) -> String {
    let name = project.elevations.get(i).map_or("", |e| e.name.trim());
    if name.is_empty() { format!("Elevation {}", i + 1) } else { name.to_owned() }
}

/// Breaches of each elevation, told again where the whole job is seen.
fn breaches(notes: &mut Notes, project: &Project, plans: &[Outcome<'_>]) {
    let count = |p: &Plan| p.findings.iter().filter(|f| f.severity == Severity::Breach).count();
    let with: Vec<String> = plans
        .iter()
        .take(project.elevations.len())
        .enumerate()
        .filter_map(|(i, p)| p.as_ref().ok().map(|p| (i, count(p))))
        .filter(|(_, n)| *n > 0)
        .map(|(i, n)| format!("{}: {n}", named(project, i)))
        .collect();
    notes.heading("BREACHES");
    if with.is_empty() {
        notes.para(
            Layer::Findings,
            "None found in the elevations laid out, by the rules listed on this sheet.",
        );
    } else {
        notes.para(
            Layer::Findings,
            &format!(
                "{}. Each is described on the sheet of its elevation, with a flag at its place.",
                with.join("; ")
            ),
        );
    }
}
