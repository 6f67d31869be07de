//! Edits: what can be done to a project, as values.

use layout_core::elevation::{
    Coursing, Elevation, Exposure, Pattern, Point, Project, Rates, RuleChoice, SideCondition, SiteTests,
    Style, Substrate, outline_sides,
};

use super::item::{Item, Object, copy_name, opening_name};

/// One change to a project.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Title, reference, site, client, drawn by, revision and notes.
    Details(Box<Details>),
    /// Rates to price the work by; `None` takes them out.
    Rates(Option<Box<Rates>>),
    /// Puts an elevation in at this place in the drawing order.
    AddElevation(usize, Box<Elevation>),
    /// Copies an elevation; the copy follows it.
    DuplicateElevation(usize),
    /// Takes an elevation out.
    RemoveElevation(usize),
    /// Moves an elevation in the drawing order, from one place to another.
    MoveElevation(usize, usize),
    /// A change inside one elevation.
    In(usize, Change),
}

/// The words of a project that are not drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Details {
    /// Title of the job.
    pub title: String,
    /// The firm's own number for the job.
    pub reference: String,
    /// Where the building stands.
    pub site: String,
    /// Who the work is for.
    pub client: String,
    /// Who drew it.
    pub drawn_by: String,
    /// Revision of the drawing.
    pub revision: String,
    /// Notes printed on the summary sheet.
    pub notes: Vec<String>,
}

impl Details {
    /// Those of a project.
    #[must_use]
    pub fn of(p: &Project) -> Self {
        Self {
            title: p.title.clone(),
            reference: p.reference.clone(),
            site: p.site.clone(),
            client: p.client.clone(),
            drawn_by: p.drawn_by.clone(),
            revision: p.revision.clone(),
            notes: p.notes.clone(),
        }
    }
}

/// One change to an elevation.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// Another name.
    Rename(String),
    /// Another outline. Side conditions are kept where the number of sides is the same.
    Outline(Vec<Point>),
    /// Moves a corner of the outline.
    MoveCorner(usize, Point),
    /// Puts a corner in on this side; both halves keep the condition.
    SplitSide(usize, Point),
    /// Takes a corner out.
    RemoveCorner(usize),
    /// What holds this side.
    Side(usize, SideCondition),
    /// Adds a thing; an opening without a name is given one.
    Add(Object),
    /// Puts a thing of the same kind in its place.
    Replace(Item, Object),
    /// Takes a thing out.
    Remove(Item),
    /// Copies a thing, moved by this much, mm.
    Duplicate(Item, Point),
    /// Courses of the wall.
    Coursing(Coursing),
    /// Rules to set out and check by.
    Rules(RuleChoice),
    /// Whether ties are set out, or only the pinned ones stand.
    Automatic(bool),
    /// What the layout is to be good for.
    Style(Style),
    /// How the rows of a long plain stretch stand to each other.
    Pattern(Pattern),
    /// Wind and the resistance of ties; `None` takes it out.
    Exposure(Option<Box<Exposure>>),
    /// What the wall is made of; `None` takes it out.
    Substrate(Option<Box<Substrate>>),
    /// Pull tests; `None` takes them out.
    Tests(Option<Box<SiteTests>>),
    /// The mirror image, about the middle of the outline.
    Mirror,
    /// What holds each side.
    Sides(Vec<SideCondition>),
    /// Changes that are one step, one after the other, with its name.
    Group(String, Vec<Change>),
}

const GONE: &str = "it is no longer there";

fn at<T>(list: &mut [T], i: usize) -> Result<&mut T, String> {
    list.get_mut(i).ok_or_else(|| GONE.to_owned())
}

fn take<T>(list: &mut Vec<T>, i: usize) -> Result<(), String> {
    if i < list.len() {
        list.remove(i);
        Ok(())
    } else {
        Err(GONE.to_owned())
    }
}

impl Edit {
    /// Makes the change.
    ///
    /// # Errors
    ///
    /// Why it cannot be made, in words; the project may then be changed in part and must be dropped.
    pub fn apply(&self, project: &mut Project) -> Result<(), String> {
        let count = project.elevations.len();
        match self {
            Self::Details(d) => {
                let d = (**d).clone();
                project.title = d.title;
                project.reference = d.reference;
                project.site = d.site;
                project.client = d.client;
                project.drawn_by = d.drawn_by;
                project.revision = d.revision;
                project.notes = d.notes;
            }
            Self::Rates(rates) => project.rates = rates.as_deref().cloned(),
            Self::AddElevation(i, elevation) => {
                project.elevations.insert((*i).min(count), (**elevation).clone());
            }
            Self::DuplicateElevation(i) => {
                let mut copy = at(&mut project.elevations, *i)?.clone();
                copy.name = copy_name(&copy.name, project.elevations.iter().map(|e| e.name.as_str()));
                project.elevations.insert(i + 1, copy);
            }
            Self::RemoveElevation(i) => take(&mut project.elevations, *i)?,
            Self::MoveElevation(from, to) => {
                if *from >= count {
                    return Err(GONE.to_owned());
                }
                let moved = project.elevations.remove(*from);
                project.elevations.insert((*to).min(count - 1), moved);
            }
            Self::In(i, change) => change.apply(at(&mut project.elevations, *i)?)?,
        }
        Ok(())
    }

    /// What was done, for the undo and redo commands ("Move W1"), read against the project before it.
    #[must_use]
    pub fn name(&self, before: &Project) -> String {
        let elevation = |i: usize| before.elevations.get(i).map_or("elevation", |e| e.name.as_str());
        match self {
            Self::Details(_) => "Change project details".to_owned(),
            Self::Rates(_) => "Change rates".to_owned(),
            Self::AddElevation(_, e) => format!("Add elevation {}", e.name),
            Self::DuplicateElevation(i) => format!("Duplicate elevation {}", elevation(*i)),
            Self::RemoveElevation(i) => format!("Delete elevation {}", elevation(*i)),
            Self::MoveElevation(i, _) => format!("Reorder elevation {}", elevation(*i)),
            Self::In(i, change) => {
                before.elevations.get(*i).map_or_else(|| "Change elevation".to_owned(), |e| change.name(e))
            }
        }
    }
}

impl Change {
    fn apply(&self, e: &mut Elevation) -> Result<(), String> {
        match self {
            Self::Rename(name) => e.name.clone_from(name),
            Self::Outline(outline) => {
                if e.sides.len() != outline.len() {
                    e.sides.clear();
                }
                e.outline.clone_from(outline);
            }
            Self::MoveCorner(i, p) => *at(&mut e.outline, *i)? = *p,
            Self::SplitSide(i, p) => {
                at(&mut e.outline, *i)?;
                if e.sides.len() == e.outline.len() {
                    e.sides.insert(i + 1, e.sides[*i]);
                }
                e.outline.insert(i + 1, *p);
            }
            Self::RemoveCorner(i) => {
                if e.outline.len() <= 3 {
                    return Err("an outline needs three corners or more".to_owned());
                }
                if e.sides.len() == e.outline.len() {
                    take(&mut e.sides, *i)?;
                }
                take(&mut e.outline, *i)?;
            }
            Self::Side(i, condition) => {
                let mut sides = outline_sides(e);
                *at(&mut sides, *i)? = *condition;
                e.sides = sides;
            }
            Self::Add(object) => add(e, object.clone()),
            Self::Replace(item, object) => replace(e, *item, object.clone())?,
            Self::Remove(item) => remove(e, *item)?,
            Self::Duplicate(item, by) => {
                let object = item.object(e).ok_or(GONE)?.moved(by.0, by.1);
                let object = renamed(e, object);
                add(e, object);
            }
            Self::Coursing(coursing) => e.coursing = *coursing,
            Self::Rules(rules) => e.rules.clone_from(rules),
            Self::Automatic(automatic) => e.automatic = *automatic,
            Self::Style(style) => e.style = *style,
            Self::Pattern(pattern) => e.pattern = *pattern,
            Self::Exposure(x) => e.exposure = x.as_deref().cloned(),
            Self::Substrate(s) => e.substrate = s.as_deref().cloned(),
            Self::Tests(t) => e.tests = t.as_deref().cloned(),
            Self::Mirror => super::mirror::elevation(e),
            Self::Sides(sides) => e.sides.clone_from(sides),
            Self::Group(_, changes) => {
                for change in changes {
                    change.apply(e)?;
                }
            }
        }
        Ok(())
    }

    fn name(&self, e: &Elevation) -> String {
        match self {
            Self::Rename(name) => format!("Rename {} to {name}", e.name),
            Self::Outline(_) => "Draw the outline".to_owned(),
            Self::MoveCorner(i, _) => format!("Move corner {}", i + 1),
            Self::SplitSide(i, _) => format!("Split side {}", i + 1),
            Self::RemoveCorner(i) => format!("Delete corner {}", i + 1),
            Self::Side(i, condition) => format!("Make side {} {}", i + 1, condition.words()),
            Self::Add(object) => match (object, object.name()) {
                (Object::Opening(o), None) => format!("Add {}", opening_name(e, &o.shape)),
                (Object::Locked(l), _) => format!("Lock an area with {} ties", l.ties.len()),
                (_, Some(name)) => format!("Add {name}"),
                (Object::Pinned(_), None) => "Pin a tie".to_owned(),
                (_, None) => format!("Add {}", object.kind()),
            },
            Self::Replace(item, new) => replace_name(e, *item, new),
            Self::Remove(Item::Pinned(i)) => format!("Unpin {}", Item::Pinned(*i).label(e)),
            Self::Remove(Item::Locked(i)) => format!("Release {}", Item::Locked(*i).label(e)),
            Self::Remove(item) => format!("Delete {}", item.label(e)),
            Self::Duplicate(item, _) => format!("Duplicate {}", item.label(e)),
            Self::Coursing(_) => "Change the coursing".to_owned(),
            Self::Rules(_) => "Change the rules".to_owned(),
            Self::Automatic(true) => "Set ties out".to_owned(),
            Self::Automatic(false) => "Keep pinned ties only".to_owned(),
            Self::Style(Style::Even) => "Set ties out in even rows".to_owned(),
            Self::Style(Style::Fewest) => "Set out the fewest ties".to_owned(),
            Self::Pattern(Pattern::Staggered) => "Stagger the rows".to_owned(),
            Self::Mirror => format!("Mirror {}", e.name),
            Self::Sides(_) => "Change the sides".to_owned(),
            Self::Group(name, _) => name.clone(),
            Self::Pattern(Pattern::Stacked) => "Stack the rows".to_owned(),
            Self::Exposure(_) => format!("Change the wind on {}", e.name),
            Self::Substrate(_) => format!("Change what {} is made of", e.name),
            Self::Tests(_) => format!("Change the pull tests of {}", e.name),
        }
    }
}

/// A copy has a name of its own.
fn renamed(e: &Elevation, object: Object) -> Object {
    match object {
        Object::Opening(mut o) => {
            o.name.clear();
            Object::Opening(o)
        }
        Object::KeepOut(mut k) => {
            if !k.name.trim().is_empty() {
                k.name = copy_name(&k.name, e.keep_outs.iter().map(|k| k.name.as_str()));
            }
            Object::KeepOut(k)
        }
        other => other,
    }
}

fn add(e: &mut Elevation, object: Object) {
    match object {
        Object::Opening(mut o) => {
            if o.name.trim().is_empty() {
                o.name = opening_name(e, &o.shape);
            }
            e.openings.push(o);
        }
        Object::KeepOut(k) => e.keep_outs.push(k),
        Object::Joint(j) => e.movement_joints.push(j),
        Object::OldTie(t) => e.existing_ties.push(t),
        Object::Pinned(p) => e.pinned.push(p),
        Object::Locked(l) => e.locked.push(l),
    }
}

fn replace(e: &mut Elevation, item: Item, object: Object) -> Result<(), String> {
    match (item, object) {
        (Item::Opening(i), Object::Opening(o)) => *at(&mut e.openings, i)? = o,
        (Item::KeepOut(i), Object::KeepOut(k)) => *at(&mut e.keep_outs, i)? = k,
        (Item::Joint(i), Object::Joint(j)) => *at(&mut e.movement_joints, i)? = j,
        (Item::OldTie(i), Object::OldTie(t)) => *at(&mut e.existing_ties, i)? = t,
        (Item::Pinned(i), Object::Pinned(p)) => *at(&mut e.pinned, i)? = p,
        (Item::Locked(i), Object::Locked(l)) => *at(&mut e.locked, i)? = l,
        _ => return Err("it is of another kind".to_owned()),
    }
    Ok(())
}

fn remove(e: &mut Elevation, item: Item) -> Result<(), String> {
    match item {
        Item::Opening(i) => take(&mut e.openings, i),
        Item::KeepOut(i) => take(&mut e.keep_outs, i),
        Item::Joint(i) => take(&mut e.movement_joints, i),
        Item::OldTie(i) => take(&mut e.existing_ties, i),
        Item::Pinned(i) => take(&mut e.pinned, i),
        Item::Locked(i) => take(&mut e.locked, i),
        Item::Corner(i) => Change::RemoveCorner(i).apply(e),
        Item::Side(_) => Err("a side goes with its corners; delete a corner".to_owned()),
    }
}

fn replace_name(e: &Elevation, item: Item, new: &Object) -> String {
    let label = item.label(e);
    let Some(old) = item.object(e) else { return format!("Change {label}") };
    if old.name() != new.name() {
        return format!("Rename {label} to {}", new.name().unwrap_or("nothing"));
    }
    let ((a, b, c, d), (p, q, r, s)) = (old.bounds(), new.bounds());
    let same = |u: f64, v: f64| (u - v).abs() < 1e-3;
    let same_size = same(c - a, r - p) && same(d - b, s - q);
    let same_place = same(a, p) && same(b, q);
    match (same_size, same_place) {
        (true, false) => format!("Move {label}"),
        (false, _) => format!("Resize {label}"),
        (true, true) => format!("Change {label}"),
    }
}
