//! Layouts of the elevations: worked out off the UI thread, kept until the drawing changes.

use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, OnceLock};
use std::time::{Duration, Instant};

use layout_core::check::{Areas, areas};
use layout_core::elevation::{Elevation, Fault, FaultKind, Place, Point, Project, validate};
use layout_core::{Plan, Role};

/// From when on a layout that is still being worked out is said to be.
const LATE: Duration = Duration::from_millis(400);

/// What came of setting out and checking one elevation.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The layout, or nothing where the drawing is faulty.
    pub plan: Option<Plan>,
    /// Everything wrong with the drawing, notes included.
    pub faults: Vec<Fault>,
    /// The drawing that was set out.
    drawing: Elevation,
    /// What its ties serve, once it was asked for.
    areas: OnceLock<Areas>,
}

impl Outcome {
    fn new(plan: Option<Plan>, faults: Vec<Fault>, drawing: &Elevation) -> Self {
        Self { plan, faults, drawing: drawing.clone(), areas: OnceLock::new() }
    }

    /// The drawing that was set out.
    pub(crate) fn drawing(&self) -> &Elevation {
        &self.drawing
    }

    /// What each tie of the layout serves and what none does; worked out when it is first asked for.
    pub fn areas(&self) -> &Areas {
        self.areas.get_or_init(|| {
            let Some(plan) = &self.plan else { return Areas::default() };
            let ties: Vec<Point> = plan.ties.iter().map(|t| t.at).collect();
            areas(&self.drawing, &plan.rules, &ties)
        })
    }

    /// Sets out and checks. A failure inside is said as a fault, never passed on as a crash.
    fn of(elevation: &Elevation) -> Self {
        let work = || match layout_core::plan(elevation) {
            Ok(plan) => Self::new(Some(plan), validate(elevation), elevation),
            Err(faults) => Self::new(None, faults, elevation),
        };
        std::panic::catch_unwind(std::panic::AssertUnwindSafe(work)).unwrap_or_else(|_| {
            let fault = Fault {
                kind: FaultKind::Unusable,
                place: Place { field: "outline", index: None, part: None },
                message: "this drawing could not be set out; the program is at fault. Undo the last step, \
                          and send the file in with a report"
                    .to_owned(),
                at: None,
            };
            Self::new(None, vec![fault], elevation)
        })
    }
}

struct Entry {
    elevation: Elevation,
    outcome: Option<Arc<Outcome>>,
    /// Whether the outcome is that of the drawing as it stands.
    current: bool,
    /// Tells this drawing of this elevation from every other.
    id: u64,
    /// Tells this elevation from every other, whatever is drawn on it.
    line: u64,
    /// How long its latest layout took.
    took: Option<Duration>,
    /// Since when the drawing is as it stands.
    since: Instant,
}

/// A drawing to set out, by the id of its entry.
type Job = (u64, Elevation);

/// What came of a job, and how long it took.
type Done = (u64, Outcome, Duration);

struct Worker {
    jobs: Sender<Job>,
    results: Receiver<Done>,
    /// The elevation it is at.
    busy: Option<u64>,
}

/// Layouts of a document's elevations.
pub struct Derived {
    entries: Vec<Entry>,
    revision: Option<u64>,
    worker: Option<Worker>,
    patience: Duration,
    serial: u64,
}

/// Sums over elevations.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Totals {
    /// Ties.
    pub ties: usize,
    /// Ties of each role, in the order of [`Role::ALL`].
    pub by_role: [usize; 5],
    /// Area inside the outlines, m2.
    pub gross: f64,
    /// Area of masonry, m2.
    pub net: f64,
    /// Broken rules.
    pub breaches: usize,
    /// Elevations that could not be set out.
    pub faulty: usize,
}

impl Default for Derived {
    fn default() -> Self {
        // One frame at 60 a second is 16 ms: a layout ready in less is shown in the same frame.
        Self::new(Duration::from_millis(12))
    }
}

impl Derived {
    /// Waits this long for a layout within a frame before showing the one before it.
    #[must_use]
    pub fn new(patience: Duration) -> Self {
        Self { entries: Vec::new(), revision: None, worker: None, patience, serial: 0 }
    }

    /// Forgets which revision it knows: another document is open.
    pub fn restart(&mut self) {
        self.revision = None;
        self.entries.clear();
    }

    /// Brings the layouts up to date with a revision of the project, as far as time allows; asks for
    /// another frame when the rest is ready. `first` is the elevation that is shown.
    pub fn update(&mut self, project: &Project, revision: u64, first: usize, ctx: &egui::Context) {
        if self.revision != Some(revision) {
            self.revision = Some(revision);
            self.match_entries(project);
        }
        let deadline = Instant::now() + self.worth_waiting(first);
        loop {
            self.send_next(first, ctx);
            if self.entries.iter().all(|e| e.current) {
                break;
            }
            let wait = deadline.saturating_duration_since(Instant::now());
            let Some(worker) = &self.worker else { break };
            match worker.results.recv_timeout(wait) {
                Ok(done) => self.receive(done),
                Err(RecvTimeoutError::Timeout) => {
                    ctx.request_repaint_after(LATE);
                    break;
                }
                Err(RecvTimeoutError::Disconnected) => {
                    self.worker = None;
                    break;
                }
            }
        }
    }

    /// How long to wait for a layout within a frame: not at all where the one before took longer, so that the
    /// window keeps its pace while a large wall is dragged about.
    fn worth_waiting(&self, first: usize) -> Duration {
        let slow = |e: &Entry| e.took.is_some_and(|t| t > self.patience);
        if self.entries.get(first).is_some_and(slow) { Duration::ZERO } else { self.patience }
    }

    fn match_entries(&mut self, project: &Project) {
        let mut old: Vec<Option<Entry>> = std::mem::take(&mut self.entries).into_iter().map(Some).collect();
        let mut next: Vec<Option<Entry>> = Vec::new();
        for (i, elevation) in project.elevations.iter().enumerate() {
            let same = |e: &Option<Entry>| e.as_ref().is_some_and(|e| e.elevation == *elevation);
            let found = if old.get(i).is_some_and(same) { Some(i) } else { old.iter().position(same) };
            next.push(found.and_then(|at| old[at].take()));
        }
        for (i, (slot, elevation)) in next.into_iter().zip(&project.elevations).enumerate() {
            // The last good layout of the same place is shown until the new one is ready.
            let entry = slot.unwrap_or_else(|| {
                self.serial += 1;
                let before = old.get_mut(i).and_then(Option::take);
                Entry {
                    elevation: elevation.clone(),
                    current: false,
                    id: self.serial,
                    line: before.as_ref().map_or(self.serial, |e| e.line),
                    took: before.as_ref().and_then(|e| e.took),
                    outcome: before.and_then(|e| e.outcome),
                    since: Instant::now(),
                }
            });
            self.entries.push(entry);
        }
    }

    fn send_next(&mut self, first: usize, ctx: &egui::Context) {
        let n = self.entries.len();
        let mut order = std::iter::once(first).chain(0..n);
        let Some(i) = order.find(|&i| self.entries.get(i).is_some_and(|e| !e.current)) else { return };
        let worker = self.worker.get_or_insert_with(|| spawn(ctx.clone()));
        if worker.busy.is_some() {
            return;
        }
        let entry = &self.entries[i];
        if worker.jobs.send((entry.id, entry.elevation.clone())).is_ok() {
            worker.busy = Some(entry.line);
        } else {
            self.worker = None;
        }
    }

    fn receive(&mut self, (id, outcome, took): Done) {
        let line = self.worker.as_mut().and_then(|w| w.busy.take());
        // The drawing may have moved on since: the layout is still nearer to it than what is shown. One of an
        // elevation that is gone is dropped.
        let fits = |e: &&mut Entry| e.id == id || (Some(e.line) == line && !e.current);
        if let Some(e) = self.entries.iter_mut().find(fits) {
            e.current |= e.id == id;
            e.outcome = Some(Arc::new(outcome));
            e.took = Some(took);
        }
    }

    /// The outcome shown for an elevation: its own, or the last one while its own is worked out.
    #[must_use]
    pub fn outcome(&self, i: usize) -> Option<&Arc<Outcome>> {
        self.entries.get(i).and_then(|e| e.outcome.as_ref())
    }

    /// The layout shown for an elevation.
    #[must_use]
    pub fn plan(&self, i: usize) -> Option<&Plan> {
        self.outcome(i).and_then(|o| o.plan.as_ref())
    }

    /// Whether what is shown is that of the drawing as it stands.
    #[must_use]
    pub fn is_current(&self, i: usize) -> bool {
        self.entries.get(i).is_some_and(|e| e.current)
    }

    /// Whether what is shown has been that of an earlier drawing for so long that it should be said. A
    /// layout that lags a moment behind a drag is not: saying so would only flicker.
    #[must_use]
    pub fn is_late(&self, i: usize) -> bool {
        self.entries.get(i).is_some_and(|e| !e.current && (e.since.elapsed() > LATE || e.outcome.is_none()))
    }

    /// Sums over all elevations.
    #[must_use]
    pub fn totals(&self) -> Totals {
        let mut t = Totals::default();
        for entry in &self.entries {
            let Some(plan) = entry.outcome.as_ref().and_then(|o| o.plan.as_ref()) else {
                t.faulty += usize::from(entry.outcome.is_some());
                continue;
            };
            t.ties += plan.ties.len();
            t.gross += plan.gross_area;
            t.net += plan.net_area;
            t.breaches += breaches(plan);
            for (slot, role) in t.by_role.iter_mut().zip(Role::ALL) {
                *slot += plan.count(role);
            }
        }
        t
    }
}

/// Number of broken rules.
#[must_use]
pub fn breaches(plan: &Plan) -> usize {
    plan.findings.iter().filter(|f| f.severity == layout_core::check::Severity::Breach).count()
}

fn spawn(ctx: egui::Context) -> Worker {
    let (jobs, todo) = channel::<Job>();
    let (done, results) = channel();
    std::thread::spawn(move || {
        while let Ok((id, elevation)) = todo.recv() {
            let begun = Instant::now();
            let outcome = Outcome::of(&elevation);
            if done.send((id, outcome, begun.elapsed())).is_err() {
                return;
            }
            ctx.request_repaint();
        }
    });
    Worker { jobs, results, busy: None }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wall(width: f64) -> Project {
        let ring = vec![(0.0, 0.0), (width, 0.0), (width, 3000.0), (0.0, 3000.0)];
        Project { elevations: vec![Elevation::new("Front", ring)], ..Project::default() }
    }

    fn until_current(d: &mut Derived, project: &Project, revision: u64, ctx: &egui::Context) {
        let end = Instant::now() + Duration::from_secs(60);
        while !d.is_current(0) {
            assert!(Instant::now() < end, "a small wall is set out in less than a minute");
            std::thread::sleep(Duration::from_millis(2));
            d.update(project, revision, 0, ctx);
        }
    }

    #[test]
    fn the_last_layout_stays_until_the_new_one_is_there() {
        let ctx = egui::Context::default();
        let mut d = Derived::new(Duration::ZERO);
        let (small, large) = (wall(3000.0), wall(9000.0));
        d.update(&small, 0, 0, &ctx);
        until_current(&mut d, &small, 0, &ctx);
        let before = d.plan(0).map(|p| p.ties.len());
        d.update(&large, 1, 0, &ctx);
        assert!(before.is_some() && d.plan(0).is_some(), "something is shown at every moment");
        until_current(&mut d, &large, 1, &ctx);
        assert!(d.plan(0).map(|p| p.ties.len()) > before);
    }

    #[test]
    fn a_layout_of_an_elevation_that_is_gone_is_dropped() {
        let ctx = egui::Context::default();
        let mut d = Derived::new(Duration::ZERO);
        let mut project = wall(9000.0);
        project.elevations.extend(wall(3000.0).elevations);
        d.update(&project, 0, 0, &ctx);
        // The first is being set out; it goes, and the second has its place.
        project.elevations.remove(0);
        d.update(&project, 1, 0, &ctx);
        let expected = layout_core::plan(&project.elevations[0]).map(|p| p.ties.len()).ok();
        let end = Instant::now() + Duration::from_secs(60);
        while !d.is_current(0) {
            assert!(Instant::now() < end, "a small wall is set out in less than a minute");
            assert!(d.plan(0).is_none(), "the layout of another elevation is shown");
            std::thread::sleep(Duration::from_millis(2));
            d.update(&project, 1, 0, &ctx);
        }
        assert_eq!(d.plan(0).map(|p| p.ties.len()), expected);
    }

    #[test]
    fn a_wall_that_takes_long_is_not_waited_for_again() {
        let ctx = egui::Context::default();
        let mut d = Derived::new(Duration::from_secs(60));
        d.update(&wall(3000.0), 0, 0, &ctx);
        assert_eq!(d.worth_waiting(0), Duration::from_secs(60));
        d.patience = Duration::from_nanos(1);
        d.update(&wall(9000.0), 1, 0, &ctx);
        assert_eq!(d.worth_waiting(0), Duration::ZERO);
        // What was learnt stays with the elevation when it is drawn anew.
        d.update(&wall(6000.0), 2, 0, &ctx);
        assert_eq!(d.worth_waiting(0), Duration::ZERO);
    }

    #[test]
    fn layouts_follow_their_elevations() {
        let ctx = egui::Context::default();
        let mut d = Derived::new(Duration::from_secs(60));
        let mut project = wall(3000.0);
        project.elevations.extend(wall(9000.0).elevations);
        d.update(&project, 0, 0, &ctx);
        let ties = |d: &Derived, i| d.plan(i).map(|p| p.ties.len());
        let (a, b) = (ties(&d, 0), ties(&d, 1));
        project.elevations.swap(0, 1);
        // No time to set out again: the layouts are known and change places.
        d.patience = Duration::ZERO;
        d.update(&project, 1, 0, &ctx);
        assert_eq!((ties(&d, 0), ties(&d, 1)), (b, a));
        assert!(d.is_current(0) && d.is_current(1));
    }
}
