//! What is selected, with every size as a number to type.

use egui::{Id, RichText, Ui};
use layout_core::elevation::{
    Elevation, ExistingTie, FaultKind, KeepOut, MovementJoint, Opening, Pattern, Point, Shape, SideCondition,
    Style, TieForm, outline_sides, shape_bounds, shape_ring,
};
use layout_core::setting_out::is_set_back;
use layout_core::units::tidy_mm;

use super::items::item_of;
use crate::commands::Command;
use crate::document::heads::Head;
use crate::document::item::side;
use crate::document::{Change, Item, Object};
use crate::session::{Context, Selection};
use crate::theme::Palette;
use crate::tools::explain;
use crate::widgets::number::{self, Habits, Must};
use crate::widgets::{choose, choose_told, field, heading, labelled, quiet, row};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(e) = cx.elevation().cloned() else {
        heading(ui, "Elevation");
        quiet(ui, "This project has no elevation yet.");
        if ui.button("Add an elevation").clicked() {
            cx.run(Command::AddElevation);
        }
        return;
    };
    elevation(ui, cx, &e);
    match cx.session.selection {
        None => {}
        Some(Selection::Tie(at)) => tie(ui, cx, &e, at),
        Some(Selection::Item(item)) if item.exists(&e) => {
            heading(ui, &format!("Selected: {}", item.label(&e)));
            if !cx.session.others.is_empty() {
                let n = cx.session.others.len();
                quiet(
                    ui,
                    format!("And {n} more. Arrange, move and delete are for all; the fields for this one."),
                );
            }
            selected(ui, cx, &e, item);
            faults(ui, cx, item);
        }
        Some(Selection::Item(_)) => {}
    }
}

fn elevation(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation) {
    heading(ui, "Elevation");
    let id = Id::unique(("elevation name", cx.session.elevation));
    if std::mem::take(&mut cx.session.focus_name) {
        ui.memory_mut(|m| m.request_focus(id));
    }
    let name = labelled(ui, "Name", |ui| field::required(ui, id, "Elevation name", 170.0, &e.name));
    if let Some(name) = name {
        cx.change(Change::Rename(name));
    }
    let mut automatic = e.automatic;
    let tip = "Off: the ties stay as they are, pinned, for a layout made by hand or as built";
    if ui.checkbox(&mut automatic, "Set ties out for me").on_hover_text(tip).changed() {
        if automatic {
            cx.change(Change::Automatic(true));
        } else {
            by_hand(cx);
        }
    }
    if e.automatic {
        layout_fields(ui, cx, e);
    }
}

/// The ties are set out by hand from now on, beginning with those that stand.
fn by_hand(cx: &mut Context<'_>) {
    let plan = cx.derived.plan(cx.session.elevation);
    let standing = plan.iter().flat_map(|p| &p.ties).filter(|t| !t.pinned && !t.locked);
    let pins: Vec<Change> = standing.map(|t| Change::Add(Object::Pinned(t.at))).collect();
    if !pins.is_empty() {
        let ties = if pins.len() == 1 { "1 tie is".to_owned() } else { format!("{} ties are", pins.len()) };
        cx.session
            .tell(format!("The layout is yours now: its {ties} pinned where they stood. Undo goes back."));
    }
    let changes = std::iter::once(Change::Automatic(false)).chain(pins).collect();
    cx.change(Change::Group("Set ties out by hand".to_owned(), changes));
}

/// What the layout is to be good for, where the rules leave a choice.
fn layout_fields(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation) {
    let styles = [(Style::Even, "even, easy to mark out"), (Style::Fewest, "fewest ties")];
    let style = labelled(ui, "Layout", |ui| choose(ui, "Layout", LIST, e.style, &styles));
    if let Some(style) = style {
        cx.change(Change::Style(style));
    }
    let patterns = [(Pattern::Staggered, "staggered"), (Pattern::Stacked, "one above the other")];
    let pattern = labelled(ui, "Rows", |ui| choose_told(ui, "Rows", LIST, e.pattern, &patterns, ROWS));
    if let Some(pattern) = pattern {
        cx.change(Change::Pattern(pattern));
    }
    if e.pattern == Pattern::Staggered
        && cx.derived.plan(cx.session.elevation).is_some_and(|p| is_narrow(p, e))
    {
        quiet(ui, "Less than ten ties across: setting rows back would take too many more ties.");
    }
}

/// What choosing how rows stand to each other comes to.
const ROWS: &str = "Staggered: every other row is set back by half a spacing, where that takes no more ties. On a \
                    wall less than ten ties across it would cost a tie in each such row, and the rows stay one above \
                    the other";

/// Whether a row of a wall has less than ten ties: one more in every other row is then more than the twentieth that
/// an even layout may spend.
fn is_narrow(plan: &layout_core::Plan, e: &Elevation) -> bool {
    let xs = || e.outline.iter().map(|p| p.0);
    let (left, right) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
    !is_set_back(right - left, plan.rules.horizontal.value)
}

/// Width of a list beside its label, points.
const LIST: f32 = 190.0;

struct Fields<'a> {
    ui: &'a mut Ui,
    key: (usize, Item),
    /// Told by the fields, not by comparing: a value that is no number differs from itself.
    changed: bool,
}

impl<'a> Fields<'a> {
    fn new(ui: &'a mut Ui, elevation: usize, item: Item) -> Self {
        Self { ui, key: (elevation, item), changed: false }
    }
    fn place(&mut self, label: &str, value: &mut f64) {
        self.number(label, value, Must::BePlace);
    }
    fn height(&mut self, label: &str, value: &mut f64) {
        self.number(label, value, Must::BeHeight);
    }
    fn size(&mut self, label: &str, value: &mut f64) {
        self.number(label, value, Must::BeSize);
    }
    fn number(&mut self, label: &str, value: &mut f64, must: Must) {
        let id = Id::unique((self.key, label));
        let new = labelled(self.ui, label, |ui| number::field(ui, id, label, *value, must));
        if let Some(v) = new {
            *value = v;
            self.changed = true;
        }
    }
}

fn selected(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation, item: Item) {
    match (item, item.object(e)) {
        (Item::Side(i), _) => side_fields(ui, cx, e, i),
        (Item::Corner(i), _) => corner_fields(ui, cx, e, i),
        (_, Some(object)) => {
            if let Some(new) = object_fields(ui, cx, item, object) {
                cx.change(Change::Replace(item, new));
            }
        }
        _ => {}
    }
    let commands: &[(Command, &str)] = match item {
        Item::Side(_) => return,
        Item::Corner(_) => &[(Command::Delete, "Delete corner")],
        Item::Pinned(_) => &[(Command::PinSelected, "Unpin"), (Command::StrikeOut, "Strike out")],
        Item::Locked(_) => &[(Command::Delete, "Release")],
        _ => &[(Command::Duplicate, "Duplicate"), (Command::Delete, "Delete")],
    };
    ui.add_space(2.0);
    ui.horizontal(|ui| {
        for (command, word) in commands {
            let response = ui.button(*word).on_hover_text(command.tip_text(ui.ctx()));
            if response.accessible_name(format!("{word} selected")).clicked() {
                cx.run(*command);
            }
        }
    });
}

fn object_fields(ui: &mut Ui, cx: &Context<'_>, item: Item, object: Object) -> Option<Object> {
    let mut f = Fields::new(ui, cx.session.elevation, item);
    let new = match object {
        Object::Opening(mut o) => {
            name_field(&mut f, &mut o.name);
            let shape = shape_fields(&mut f, o.shape.clone(), "Sill");
            Object::Opening(Opening { shape, ..o })
        }
        Object::KeepOut(mut k) => {
            name_field(&mut f, &mut k.name);
            let shape = shape_fields(&mut f, k.shape.clone(), "Foot");
            f.number("Clearance", &mut k.clearance, Must::BeDistance);
            Object::KeepOut(KeepOut { shape, ..k })
        }
        Object::Joint(mut j) => {
            f.place("Along", &mut j.x);
            f.height("From", &mut j.from);
            f.height("To", &mut j.to);
            Object::Joint(MovementJoint { ..j })
        }
        Object::OldTie(mut t) => {
            point_fields(&mut f, &mut t.at);
            let forms: Vec<_> = TieForm::ALL.into_iter().map(|t| (t, t.words())).collect();
            let form = labelled(f.ui, "Form", |ui| choose(ui, "Form of the old tie", 150.0, t.form, &forms));
            f.changed |= form.is_some();
            Object::OldTie(ExistingTie { form: form.unwrap_or(t.form), ..t })
        }
        Object::Pinned(mut p) => {
            point_fields(&mut f, &mut p);
            quiet(f.ui, "Stays here whatever else changes.");
            Object::Pinned(p)
        }
        Object::Locked(mut l) => {
            name_field(&mut f, &mut l.name);
            let n = l.ties.len();
            let ties = if n == 1 { "Its tie stays".to_owned() } else { format!("Its {n} ties stay") };
            quiet(f.ui, format!("{ties}, and none is added, until the area is released."));
            Object::Locked(l)
        }
    };
    f.changed.then_some(new)
}

fn name_field(f: &mut Fields<'_>, name: &mut String) {
    let id = Id::unique((f.key, "name"));
    let new = labelled(f.ui, "Name", |ui| field::words(ui, id, "Name", 170.0, "no name", name));
    if let Some(new) = new {
        *name = new;
        f.changed = true;
    }
}

fn point_fields(f: &mut Fields<'_>, p: &mut Point) {
    f.place("Along", &mut p.0);
    f.height("Height", &mut p.1);
}

/// Kinds of shape, as the list shows them.
const KINDS: [(u8, &str); 4] = [(0, "rectangle"), (1, "arched head"), (2, "circle"), (3, "polygon")];

fn kind(shape: &Shape) -> u8 {
    match shape {
        Shape::Rect { .. } => 0,
        Shape::Arched { .. } => 1,
        Shape::Circle { .. } => 2,
        Shape::Polygon(_) => 3,
    }
}

/// A shape of another kind with the same bounds.
fn turned_into(shape: &Shape, kind: u8) -> Shape {
    let (l, b, r, t) = shape_bounds(shape);
    let (w, h) = (tidy_mm(r - l), tidy_mm(t - b));
    match kind {
        0 => Shape::Rect { x: l, y: b, w, h },
        1 => {
            let rise = tidy_mm(150.0_f64.min(h / 4.0));
            Shape::Arched { x: l, y: b, w, h: tidy_mm(h - rise), rise }
        }
        2 => {
            Shape::Circle { x: tidy_mm((l + r) / 2.0), y: tidy_mm((b + t) / 2.0), r: tidy_mm(w.min(h) / 2.0) }
        }
        _ => {
            let ring = if let Shape::Circle { x, y, r } = shape {
                (0..8)
                    .map(|k| {
                        let a = std::f64::consts::FRAC_PI_4 * f64::from(k);
                        ((x + r * a.cos()).round(), (y + r * a.sin()).round())
                    })
                    .collect()
            } else {
                shape_ring(&turned_into(shape, 0))
            };
            Shape::Polygon(ring)
        }
    }
}

fn shape_fields(f: &mut Fields<'_>, mut shape: Shape, foot: &str) -> Shape {
    let now = kind(&shape);
    if let Some(kind) = labelled(f.ui, "Shape", |ui| choose(ui, "Shape", 150.0, now, &KINDS)) {
        f.changed = true;
        return turned_into(&shape, kind);
    }
    if Head::of(&shape) == Head::Pointed {
        return pointed_fields(f, &shape, foot);
    }
    match &mut shape {
        Shape::Rect { x, y, w, h } => {
            f.place("Left", x);
            f.height(foot, y);
            f.size("Width", w);
            f.size("Height", h);
        }
        Shape::Arched { x, y, w, h, rise } => {
            f.place("Left", x);
            f.height(foot, y);
            f.size("Width", w);
            f.number("To springing", h, Must::BeDistance);
            f.size("Rise", rise);
        }
        Shape::Circle { x, y, r } => {
            f.place("Centre along", x);
            f.height("Centre height", y);
            f.size("Radius", r);
        }
        Shape::Polygon(points) => ring_fields(f, points),
    }
    shape
}

/// A pointed head is drawn anew from its bounds.
fn pointed_fields(f: &mut Fields<'_>, shape: &Shape, foot: &str) -> Shape {
    let (mut l, mut b, r, t) = shape_bounds(shape);
    let (mut w, mut h) = (tidy_mm(r - l), tidy_mm(t - b));
    f.place("Left", &mut l);
    f.height(foot, &mut b);
    f.size("Width", &mut w);
    f.size("Height", &mut h);
    quiet(f.ui, "A pointed head, each arc struck from the foot of the other.");
    if f.changed { Head::Pointed.filling((l, b, l + w, b + h)) } else { shape.clone() }
}

/// Corners of a ring as a table: along, height, take out.
fn ring_fields(f: &mut Fields<'_>, points: &mut Vec<Point>) {
    let (mut gone, mut moved) = (None, false);
    for (i, p) in points.iter_mut().enumerate() {
        let key = f.key;
        labelled(f.ui, &format!("Corner {}", i + 1), |ui| {
            for (k, v) in [&mut p.0, &mut p.1].into_iter().enumerate() {
                let name = format!("Corner {} {}", i + 1, if k == 0 { "along" } else { "height" });
                if let Some(new) =
                    number::bare(ui, Id::unique((key, i, k)), &name, *v, [Must::BePlace, Must::BeHeight][k])
                {
                    *v = new;
                    moved = true;
                }
            }
            if ui.button("×").on_hover_text("Take this corner out").clicked() {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone.filter(|_| points.len() > 3) {
        points.remove(i);
        moved = true;
    }
    f.changed |= moved;
    if f.ui.button("Add a corner after the last").clicked()
        && let (Some(a), Some(b)) = (points.last().copied(), points.first().copied())
    {
        points.push((tidy_mm((a.0 + b.0) / 2.0), tidy_mm((a.1 + b.1) / 2.0)));
        f.changed = true;
    }
}

fn side_fields(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation, i: usize) {
    let (Some((a, b)), Some(now)) = (side(&e.outline, i), outline_sides(e).get(i).copied()) else { return };
    let conditions: Vec<_> = SideCondition::ALL.into_iter().map(|c| (c, c.words())).collect();
    let new = labelled(ui, "Condition", |ui| choose(ui, "Condition of the side", 170.0, now, &conditions));
    if let Some(condition) = new {
        cx.change(Change::Side(i, condition));
    }
    let habits = Habits::in_force(ui.ctx());
    row(ui, "Length", habits.with_unit((a.0 - b.0).hypot(a.1 - b.1)));
    if e.sides.len() != e.outline.len() {
        quiet(ui, "Worked out from its direction; choose to set it.");
    }
    if ui.button("Split in the middle").on_hover_text("Put a corner in on this side").clicked() {
        let middle = (tidy_mm((a.0 + b.0) / 2.0), tidy_mm((a.1 + b.1) / 2.0));
        cx.change(Change::SplitSide(i, middle));
    }
}

fn corner_fields(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation, i: usize) {
    let Some(mut p) = e.outline.get(i).copied() else { return };
    let mut f = Fields::new(ui, cx.session.elevation, Item::Corner(i));
    point_fields(&mut f, &mut p);
    if f.changed {
        cx.change(Change::MoveCorner(i, p));
    }
}

fn tie(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation, at: Point) {
    let near = |t: &layout_core::Tie| (t.at.0 - at.0).hypot(t.at.1 - at.1) < 0.5;
    let Some(tie) =
        cx.derived.plan(cx.session.elevation).and_then(|p| p.ties.iter().find(|t| near(t))).cloned()
    else {
        return;
    };
    heading(ui, &format!("Selected: tie {}", tie.mark));
    let plan = cx.derived.plan(cx.session.elevation);
    let why = plan.map(|p| explain::lines(p, e, &tie, Habits::in_force(ui.ctx()))).unwrap_or_default();
    row(ui, "Counts for", tie.role.words());
    let habits = Habits::in_force(ui.ctx());
    row(ui, "Along", habits.with_unit(tie.at.0));
    row(ui, "Height", habits.with_unit(tie.at.1));
    row(ui, "Course", super::status::course(e, tie.at.1));
    let tip = Command::PinSelected.tip_text(ui.ctx());
    for line in why {
        quiet(ui, line);
    }
    ui.horizontal(|ui| {
        if ui.button("Pin it here").on_hover_text(tip).clicked() {
            cx.run(Command::PinSelected);
        }
        let tip = Command::StrikeOut.tip_text(ui.ctx());
        if ui.button("Strike it out…").on_hover_text(tip).clicked() {
            cx.run(Command::StrikeOut);
        }
    });
}

/// What is wrong with the thing that is selected.
fn faults(ui: &mut Ui, cx: &Context<'_>, item: Item) {
    let Some(outcome) = cx.derived.outcome(cx.session.elevation) else { return };
    let p = Palette::of(ui.ctx());
    for fault in outcome.faults.iter().filter(|f| item_of(f.place) == Some(item)) {
        let ink = if fault.kind == FaultKind::Unusable { p.breach } else { p.note };
        ui.add(egui::Label::new(RichText::new(&fault.message).color(ink)).wrap());
    }
}
