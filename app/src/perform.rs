//! Carrying out what the panels, the canvas and the keyboard asked for.

use egui::Theme;
use layout_core::elevation::{Elevation, Point, Project, shape_bounds};

use crate::app::Planner;
use crate::asked::{ShapeDraft, Struck};
use crate::commands::Command;
use crate::document::arrange::{self, Arrange, Repeat};
use crate::document::item::free_name;
use crate::document::{Change, Details, Edit, Item, Object};
use crate::services::FileFor;
use crate::session::{Dialog, Page, Request, Selection, Then};
use crate::tools::presets::PRESETS;
use crate::tools::{self, Tool};

/// What elevations are called, in the order they are added.
const NAMES: [&str; 4] = ["Front", "Rear", "Left gable", "Right gable"];

impl Planner {
    pub(crate) fn perform(&mut self, request: Request, ctx: &egui::Context) {
        match request {
            Request::Edit(edit) => {
                self.edit(&edit);
            }
            Request::Gesture(edit, gesture) => {
                if let Err(message) = self.document.apply_in(&edit, gesture) {
                    self.session.complain(message);
                }
            }
            Request::EndGesture(gesture) => self.document.end_gesture(gesture),
            Request::AddAndSelect(i, change) => self.add_and_select(i, change),
            Request::Select(selection) => {
                self.session.select(selection);
                self.session.finding = None;
            }
            Request::SelectMany(items) => self.session.select_all(&items),
            Request::Toggle(item) => {
                let mut items = self.session.items();
                if items.contains(&item) {
                    items.retain(|i| *i != item);
                } else {
                    items.push(item);
                }
                self.session.select_all(&items);
            }
            Request::Show(i) => self.show(i),
            Request::ZoomTo(bounds) => self.look_at(bounds),
            Request::ShowFinding(finding, at) => {
                self.session.finding = finding;
                self.look_at((at.0 - 900.0, at.1 - 700.0, at.0 + 900.0, at.1 + 700.0));
            }
            Request::Preset(group, i) => {
                if let Some(preset) = PRESETS.get(group).and_then(|(_, list)| list.get(i)) {
                    self.take_tool(preset.tool);
                    self.session.entry.take(preset);
                }
            }
            Request::KeepFirm(firm) => self.keep_firm(firm, ctx),
            Request::ChooseLogo => self.pick(FileFor::Logo, ctx),
            Request::OpenFile(path) => self.ask_first(Then::OpenFile(path), ctx),
            Request::Recover(found, open) => self.recover(&found, open),
            Request::ChangedOutside(read) => self.settle_outside(read),
            Request::ShowDialog(dialog) => self.session.dialog = Some(*dialog),
            Request::Run(command) => self.run(command, ctx),
            Request::Unsaved(save, then) => self.settle(save, then, ctx),
            Request::ChooseRules => self.pick(FileFor::Rules, ctx),
            Request::ReadRulesAgain => {
                self.rule_files.read_again();
                self.session.tell("The files of rules were read again.");
            }
            Request::PathTyped(what, path, then) => {
                self.session.then = then;
                self.picked(what, path, ctx);
            }
        }
    }

    pub(crate) fn edit(&mut self, edit: &Edit) -> bool {
        // Findings are numbered anew by every layout.
        self.session.finding = None;
        let done = self.document.apply(edit);
        if let Err(message) = &done {
            self.session.complain(format!("Not done: {message}."));
        }
        done.is_ok()
    }

    fn add_and_select(&mut self, i: usize, change: Change) {
        let outline = match &change {
            Change::Outline(_) => true,
            Change::Group(_, changes) => changes.iter().any(|c| matches!(c, Change::Outline(_))),
            _ => false,
        };
        let kind = match &change {
            Change::Add(object) => Some(object.clone()),
            Change::Duplicate(item, _) => self.elevation().and_then(|e| item.object(e)),
            _ => None,
        };
        if !self.edit(&Edit::In(i, change)) {
            return;
        }
        if outline {
            self.session.fit = true;
            self.session.tool = Tool::Select;
        }
        if let (Some(e), Some(kind)) = (self.document.project().elevations.get(i), kind) {
            let last = |n: usize| n.saturating_sub(1);
            let item = match kind {
                Object::Opening(_) => Item::Opening(last(e.openings.len())),
                Object::KeepOut(_) => Item::KeepOut(last(e.keep_outs.len())),
                Object::Joint(_) => Item::Joint(last(e.movement_joints.len())),
                Object::OldTie(_) => Item::OldTie(last(e.existing_ties.len())),
                Object::Pinned(_) => Item::Pinned(last(e.pinned.len())),
                Object::Locked(_) => Item::Locked(last(e.locked.len())),
            };
            self.session.select(Some(Selection::Item(item)));
        }
    }

    fn show(&mut self, i: usize) {
        if i < self.document.project().elevations.len() {
            self.session.elevation = i;
            self.session.let_go();
            self.tool_for_sheet();
        }
    }

    fn run(&mut self, command: Command, ctx: &egui::Context) {
        if self.session.drag.is_some() && command != Command::Cancel {
            self.cancel();
        }
        match command {
            Command::New => self.ask_first(Then::New, ctx),
            Command::Open => self.ask_first(Then::Open, ctx),
            Command::Quit => self.ask_first(Then::Quit, ctx),
            Command::Save => self.save(ctx),
            Command::SaveAs => self.pick(FileFor::Save, ctx),
            Command::Export => self.pick(FileFor::Drawing, ctx),
            Command::Details => {
                let details = Details::of(self.document.project());
                self.session.dialog = Some(Dialog::Details(Box::new(details)));
            }
            Command::StartShape => self.session.dialog = Some(Dialog::Shape(ShapeDraft::default())),
            Command::Table => self.session.table ^= true,
            Command::Page(page) => {
                self.session.panels.right = true;
                self.session.page = page;
            }
            Command::LeftPanel => self.session.panels.left ^= true,
            Command::RightPanel => self.session.panels.right ^= true,
            Command::PasteRows => self.session.dialog = Some(Dialog::Rows(String::new())),
            Command::Preview => self.preview(ctx),
            Command::Firm => self.ask_firm(),
            Command::Shortcuts => self.session.dialog = Some(Dialog::Shortcuts),
            Command::Cautions => self.session.dialog = Some(Dialog::Cautions),
            Command::Undo | Command::Redo => self.step(command == Command::Undo),
            Command::Cancel => self.cancel(),
            Command::Copy | Command::Cut => self.copy(command == Command::Cut, ctx),
            Command::Paste => self.paste(ctx),
            Command::SelectAll => self.select_everything(),
            Command::Repeat => self.repeat(),
            Command::Arrange(how) => self.arrange(how),
            Command::HalfBricks => self.session.half_bricks ^= true,
            Command::Dimensions => self.session.layers.dimensions ^= true,
            Command::StrikeOut => self.strike_out(),
            Command::Served => self.session.layers.served ^= true,
            Command::Untied => self.session.layers.untied ^= true,
            Command::OldTies => self.session.layers.old_ties ^= true,
            Command::Find => self.session.dialog = Some(Dialog::Commands(String::new(), 0)),
            Command::RulesFromFile => self.pick(FileFor::Rules, ctx),
            Command::RulesExplained => self.session.dialog = Some(Dialog::Rules),
            Command::Contrast => crate::theme::set_contrast(ctx, !crate::theme::has_contrast(ctx)),
            Command::Duplicate => self.duplicate(),
            Command::Delete => self.delete(),
            Command::PinSelected => self.pin(),
            Command::Theme => {
                ctx.set_theme(if ctx.theme() == Theme::Dark { Theme::Light } else { Theme::Dark });
            }
            Command::Marks => self.session.layers.marks ^= true,
            Command::Feet => {
                self.session.feet ^= true;
                // Figures take another room.
                self.session.fit |= self.session.fitted;
            }
            Command::BedJoints => self.session.layers.bed_joints ^= true,
            Command::Pick(tool) => self.take_tool(tool),
            _ => self.look_or_list(command),
        }
    }

    fn look_or_list(&mut self, command: Command) {
        let (i, count) = (self.session.elevation, self.document.project().elevations.len());
        let centre = self.session.view.rect.center();
        match command {
            Command::Fit => self.session.fit = true,
            Command::ZoomIn | Command::ZoomOut => {
                self.session.fitted = false;
                self.session.view.zoom(if command == Command::ZoomIn { 1.25 } else { 0.8 }, centre);
            }
            Command::ZoomToSelection => self.zoom_to_selection(),
            Command::AddElevation => self.add_elevation(),
            Command::RenameElevation => {
                self.session.panels.right = true;
                self.session.page = Page::Layout;
                self.session.focus_name = true;
            }
            Command::DuplicateElevation => self.duplicate_elevation(),
            Command::MirrorElevation => {
                self.edit(&Edit::In(i, Change::Mirror));
                self.session.select(None);
            }
            Command::DeleteElevation => self.delete_elevation(),
            Command::ElevationUp if i > 0 => {
                self.edit(&Edit::MoveElevation(i, i - 1));
                self.session.elevation = i - 1;
            }
            Command::ElevationDown if i + 1 < count => {
                self.edit(&Edit::MoveElevation(i, i + 1));
                self.session.elevation = i + 1;
            }
            Command::NextElevation if count > 0 => self.show((i + 1) % count),
            Command::PreviousElevation if count > 0 => self.show((i + count - 1) % count),
            _ => {}
        }
    }

    fn take_tool(&mut self, tool: Tool) {
        if self.elevation().is_none() && !matches!(tool, Tool::Select | Tool::Pan) {
            return;
        }
        self.session.tool = tool;
        // It begins with the size that the wall has by now.
        self.session.entry.forget(Tool::Wall);
        self.session.draft = None;
        self.session.entry.name.clear();
    }

    /// Undo or redo, and a look at the elevation it was about.
    fn step(&mut self, undo: bool) {
        let before = std::sync::Arc::clone(self.document.project());
        let was_bare = self.elevation().is_some_and(|e| e.outline.is_empty());
        let done = if undo { self.document.undo() } else { self.document.redo() };
        if done.is_none() {
            return;
        }
        self.session.draft = None;
        self.session.finding = None;
        let shown = self.session.elevation;
        let now = self.document.project();
        if let Some(i) = changed(&before, now, shown) {
            self.session.elevation = i;
            self.session.let_go();
            self.tool_for_sheet();
        } else if was_bare != self.elevation().is_some_and(|e| e.outline.is_empty()) {
            self.tool_for_sheet();
        }
    }

    /// Leaves the drag, else what is half drawn, else the tool, else the selection.
    fn cancel(&mut self) {
        if let Some(drag) = self.session.drag.take() {
            self.document.cancel_gesture(drag.gesture);
        } else if self.session.retyping.take().is_some() || self.session.draft.take().is_some() {
        } else if self.session.tool != Tool::Select {
            self.session.tool = Tool::Select;
        } else if self.session.selection.is_some() {
            self.session.select(None);
        } else {
            self.session.notice = None;
        }
    }

    fn select_everything(&mut self) {
        if let Some(e) = self.elevation() {
            let items: Vec<Item> = Item::all(e).collect();
            self.session.select_all(&items);
        }
    }

    fn repeat(&mut self) {
        let (Some(item), Some(e)) = (self.session.item(), self.elevation()) else { return };
        // A window and a pier of a brick and a half more.
        let every = item.bounds(e).map_or(2250.0, |b| (b.2 - b.0) + 900.0);
        self.session.dialog = Some(Dialog::Repeat(Repeat { every, ..Repeat::default() }));
    }

    fn arrange(&mut self, how: Arrange) {
        let Some(e) = self.elevation() else { return };
        match arrange::arranged(e, &self.session.items(), how) {
            Some(change) => {
                self.edit(&Edit::In(self.session.elevation, change));
            }
            None => self.session.tell(format!("{} takes {} things or more.", how.words().0, how.needs())),
        }
    }

    fn duplicate(&mut self) {
        if self.session.others.is_empty() {
            self.duplicate_one();
        } else if let Some(e) = self.elevation() {
            let once = Repeat { along: 2, every: 225.0, floors: 1, floor: 0.0 };
            match arrange::repeated(e, &self.session.items(), once) {
                Ok(change) => {
                    self.edit(&Edit::In(self.session.elevation, change));
                }
                Err(message) => self.session.complain(message),
            }
        }
    }

    fn duplicate_one(&mut self) {
        let (Some(item), Some(e)) = (self.session.item(), self.elevation()) else { return };
        let Some(object) = item.object(e) else { return };
        // Its ties stand where they stand.
        if matches!(object, Object::Locked(_)) {
            return;
        }
        let by = room_beside(e, object.bounds());
        self.add_and_select(self.session.elevation, Change::Duplicate(item, by));
    }

    fn delete(&mut self) {
        match self.session.selection {
            Some(Selection::Item(item)) => {
                let items = self.session.items();
                let several = self.elevation().filter(|_| items.len() > 1);
                let change = several.and_then(|e| arrange::removed(e, &items));
                let change = change.unwrap_or(Change::Remove(item));
                if self.edit(&Edit::In(self.session.elevation, change)) {
                    self.session.select(None);
                }
            }
            Some(Selection::Tie(_)) => self.strike_out(),
            None => {}
        }
    }

    /// Asks why the selected tie is to be struck out.
    fn strike_out(&mut self) {
        let Some(e) = self.elevation() else { return };
        let (at, pinned) = match self.session.selection {
            Some(Selection::Tie(at)) => (at, None),
            Some(Selection::Item(Item::Pinned(i))) => match e.pinned.get(i) {
                Some(at) => (*at, Some(i)),
                None => return,
            },
            _ => return,
        };
        let near = |t: &&layout_core::Tie| (t.at.0 - at.0).hypot(t.at.1 - at.1) < 0.5;
        let plan = self.derived.plan(self.session.elevation);
        let mark = plan.and_then(|p| p.ties.iter().find(near)).map_or_else(String::new, |t| t.mark.clone());
        let struck = Struck { at, mark, pinned, reason: String::new(), fresh: true };
        self.session.dialog = Some(Dialog::StrikeOut(struck));
    }

    fn pin(&mut self) {
        match tools::pin_selected(self.session.selection) {
            Some(change @ Change::Add(_)) => self.add_and_select(self.session.elevation, change),
            Some(change) => {
                self.edit(&Edit::In(self.session.elevation, change));
                self.session.selection = None;
            }
            None => {}
        }
    }

    fn zoom_to_selection(&mut self) {
        let bounds = match (self.session.selection, self.elevation()) {
            (Some(Selection::Tie(p)), _) => Some((p.0, p.1, p.0, p.1)),
            (Some(Selection::Item(item)), Some(e)) => item.bounds(e),
            _ => None,
        };
        if let Some((l, b, r, t)) = bounds {
            self.look_at((l - 500.0, b - 400.0, r + 500.0, t + 400.0));
        }
    }

    /// Shows bounds: left, lower, right, upper, mm.
    fn look_at(&mut self, bounds: (f64, f64, f64, f64)) {
        self.session.fitted = false;
        self.session.view.show(bounds);
    }

    fn add_elevation(&mut self) {
        let elevations = &self.document.project().elevations;
        let taken = |name: &str| elevations.iter().any(|e| e.name == name);
        let name = NAMES.into_iter().find(|n| !taken(n)).map_or_else(
            || free_name("Elevation ", elevations.iter().map(|e| e.name.as_str())),
            str::to_owned,
        );
        let at = if elevations.is_empty() { 0 } else { self.session.elevation + 1 };
        let mut new = Elevation::new(name, Vec::new());
        // A second face of the same building is most likely of the same brick, under the same rules, and wanted alike.
        if let Some(e) = self.elevation() {
            new.coursing = e.coursing;
            new.rules = e.rules.clone();
            (new.style, new.pattern) = (e.style, e.pattern);
        }
        if self.edit(&Edit::AddElevation(at, Box::new(new))) {
            self.show(at);
        }
    }

    fn duplicate_elevation(&mut self) {
        let i = self.session.elevation;
        if self.edit(&Edit::DuplicateElevation(i)) {
            self.show(i + 1);
        }
    }

    fn delete_elevation(&mut self) {
        let Some(name) = self.elevation().map(|e| e.name.clone()) else { return };
        if self.edit(&Edit::RemoveElevation(self.session.elevation)) {
            self.session.let_go();
            self.session.tell(format!("{name} deleted. Undo brings it back."));
        }
    }
}

/// How far a copy of a thing of these bounds is set off: beside it, else above or below, where nothing
/// else stands; a little off it where there is no room at all.
pub(crate) fn room_beside(e: &Elevation, (l, b, r, t): (f64, f64, f64, f64)) -> Point {
    let ring = e.outline.iter();
    let wall = ring.fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |w, p| {
        (w.0.min(p.0), w.1.min(p.1), w.2.max(p.0), w.3.max(p.1))
    });
    let free = |by: &Point| {
        let (l, b, r, t) = (l + by.0, b + by.1, r + by.0, t + by.1);
        let inside = l >= wall.0 && b >= wall.1 && r <= wall.2 && t <= wall.3;
        inside && is_clear(e, (l, b, r, t))
    };
    let across = ((r - l) / 25.0).ceil() * 25.0 + 450.0;
    let up = ((t - b) / 75.0).ceil() * 75.0 + 450.0;
    let beside = (1..=8).flat_map(|k| [(across * f64::from(k), 0.0), (-across * f64::from(k), 0.0)]);
    beside.chain([(0.0, up), (0.0, -up)]).find(free).unwrap_or((100.0, 75.0))
}

/// Whether no opening or keep-out reaches into bounds: left, lower, right, upper, mm.
pub(crate) fn is_clear(e: &Elevation, (l, b, r, t): (f64, f64, f64, f64)) -> bool {
    let shapes = e.openings.iter().map(|o| &o.shape).chain(e.keep_outs.iter().map(|k| &k.shape));
    !shapes.map(shape_bounds).any(|o| l < o.2 && r > o.0 && b < o.3 && t > o.1)
}

/// Another elevation than the one shown, if a step changed that one and not the one shown.
fn changed(before: &Project, now: &Project, shown: usize) -> Option<usize> {
    if before.elevations.len() != now.elevations.len() {
        return None;
    }
    let differs = |i: usize| before.elevations.get(i) != now.elevations.get(i);
    if differs(shown) { None } else { (0..now.elevations.len()).find(|&i| differs(i)) }
}
