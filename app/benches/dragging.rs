//! What a frame costs while an opening is dragged, and while the sheet is moved and nothing else, without a display:
//! the whole window as it is, its layouts worked out as always, drawn and tessellated.
//!
//! `cargo bench -p tiewright --bench dragging`; under `cargo test --benches` a few frames. Frames come sixty a
//! second, as from a screen; in each the opening moves on by 25 mm, or a point of the screen where that is more. A
//! frame's time is that on the clock, from the input to the triangles, so it wants a machine with nothing else to do;
//! processor time is that of all threads, the layouts' own included.

use std::sync::Arc;
use std::time::{Duration, Instant};

use egui::{Context, Event, Key, Modifiers, PointerButton, Pos2, RawInput, Rect, pos2, vec2};
use layout_core::elevation::{Elevation, Opening, Point, Project, Shape};
use tiewright::app::Planner;
use tiewright::services::Desktop;

/// One frame at 60 a second.
const FRAME: Duration = Duration::from_micros(16_667);

/// Frames of a drag.
const FRAMES: usize = 300;

/// A front of so many bays of 3.0 m and storeys of 2.7 m, a window of 1.2 x 1.2 m in each.
fn front(bays: usize, storeys: usize) -> Elevation {
    let (w, h) = (3000.0 * bays as f64, 2700.0 * storeys as f64);
    let mut e = Elevation::new("Front", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]);
    for storey in 0..storeys {
        for bay in 0..bays {
            let (x, y) = (900.0 + 3000.0 * bay as f64, 900.0 + 2700.0 * storey as f64);
            let shape = Shape::Rect { x, y, w: 1200.0, h: 1200.0 };
            e.openings.push(Opening { name: format!("W{}.{}", storey + 1, bay + 1), shape });
        }
    }
    e
}

/// The opening that is dragged: the one in the middle, as a gateway so large that its middle can be grabbed clear of
/// any tie with the whole of the wall in view.
fn gateway(e: &mut Elevation) -> Point {
    let middle = e.openings.len() / 2;
    let (l, b, ..) = layout_core::elevation::shape_bounds(&e.openings[middle].shape);
    let (w, h) = if e.openings.len() > 100 { (4200.0, 3900.0) } else { (1200.0, 1200.0) };
    e.openings[middle].shape = Shape::Rect { x: l, y: b, w, h };
    (l + w / 2.0 + 30.0, b + h / 2.0 + 30.0)
}

/// The window, and the hand on its mouse.
struct Hand {
    ctx: Context,
    planner: Planner,
    size: egui::Vec2,
    begun: Instant,
}

impl Hand {
    fn new(e: Elevation, size: egui::Vec2) -> Self {
        let project = Project { elevations: vec![e], ..Project::default() };
        let desktop = Desktop::new(|_, _| Ok(()));
        let ctx = Context::default();
        tiewright::theme::install(&ctx);
        let mut hand =
            Self { ctx, planner: Planner::new(project, Arc::new(desktop)), size, begun: Instant::now() };
        while !hand.current() {
            hand.frame(Vec::new());
            std::thread::sleep(FRAME);
        }
        hand
    }

    fn current(&self) -> bool {
        self.planner.derived().is_current(0)
    }

    /// One frame, from the input to the triangles.
    fn frame(&mut self, events: Vec<Event>) -> Duration {
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, self.size)),
            time: Some(self.begun.elapsed().as_secs_f64()),
            max_texture_side: Some(8192),
            events,
            ..RawInput::default()
        };
        let begun = Instant::now();
        let planner = &mut self.planner;
        let out = self.ctx.run_ui(input, |ui| planner.ui(ui));
        std::hint::black_box(self.ctx.tessellate(out.shapes, out.pixels_per_point));
        begun.elapsed()
    }

    fn at(&self, p: Point) -> Pos2 {
        self.planner.world_to_screen(p)
    }
}

/// Processor time of every thread of the process so far; `None` where the system does not tell.
fn processor() -> Option<Duration> {
    let threads = std::fs::read_dir("/proc/self/task").ok()?;
    let of = |path: std::path::PathBuf| {
        let text = std::fs::read_to_string(path.join("schedstat")).ok()?;
        text.split(' ').next()?.parse::<u64>().ok()
    };
    Some(Duration::from_nanos(threads.flatten().filter_map(|t| of(t.path())).sum()))
}

/// Processor time of the thread of the window so far.
fn window_thread() -> Option<Duration> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    text.split(' ').next()?.parse().ok().map(Duration::from_nanos)
}

/// Processor time between two moments for each of so many frames, ms in words.
fn per_frame(now: Option<Duration>, before: Option<Duration>, frames: usize) -> String {
    let spent = now.zip(before).map(|(now, before)| now.saturating_sub(before));
    spent.map_or_else(|| "unknown".to_owned(), |s| format!("{:.1}", s.as_secs_f64() * 1e3 / frames as f64))
}

fn button(at: Pos2, pressed: bool) -> Event {
    Event::PointerButton { pos: at, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE }
}

/// Drags the opening in the middle to and fro, and prints what the frames took.
fn drag(name: &str, mut e: Elevation, size: egui::Vec2, frames: usize) {
    let from = gateway(&mut e);
    let mut hand = Hand::new(e, size);
    let press = hand.at(from);
    hand.frame(vec![Event::PointerMoved(press)]);
    hand.frame(vec![button(press, true)]);
    // Past the distance from which on a press is a drag.
    hand.frame(vec![Event::PointerMoved(press + vec2(12.0, 0.0))]);
    // A step that is seen: 25 mm, or a point of the screen where that is more.
    let step = 25.0_f64
        .max(hand.planner.screen_to_world(pos2(1.0, 0.0)).0 - hand.planner.screen_to_world(Pos2::ZERO).0);
    let (mut times, mut shown) = (Vec::with_capacity(frames), 0);
    let mut before = hand.planner.derived().outcome(0).map(Arc::as_ptr);
    let begun = Instant::now();
    let spent = [processor(), window_thread()];
    for i in 0..frames {
        let (turn, at) = (i / 20, i % 20);
        let along = if turn % 2 == 0 { at } else { 20 - at };
        let to = hand.at((from.0 + step * along as f64, from.1));
        times.push(hand.frame(vec![Event::PointerMoved(pos2(to.x + 12.0, to.y))]));
        let now = hand.planner.derived().outcome(0).map(Arc::as_ptr);
        shown += usize::from(now != before);
        before = now;
        std::thread::sleep((FRAME * (i as u32 + 1)).saturating_sub(begun.elapsed()));
    }
    let all = per_frame(processor(), spent[0], frames);
    let own = per_frame(window_thread(), spent[1], frames);
    let changed = hand.planner.document().revision();
    hand.frame(vec![button(press, false)]);
    let ties = hand.planner.derived().plan(0).map_or(0, |p| p.ties.len());
    times.sort();
    let ms = |d: Duration| d.as_secs_f64() * 1e3;
    println!(
        "{name}, {} x {}: {ties} ties; a frame {:.1} ms in the median, {:.1} at most in 95 of 100, {:.1} at worst; \
         processor time {all} ms a frame, of which the window's own thread {own}; {changed} changes and {shown} layouts shown in {frames} frames",
        size.x,
        size.y,
        ms(times[frames / 2]),
        ms(times[frames * 95 / 100]),
        ms(times[frames - 1]),
    );
}

/// Moves the sheet about under the pointer, with the served areas washed or not, and prints what the frames took.
fn look(name: &str, e: Elevation, size: egui::Vec2, frames: usize, served: bool) {
    let mut hand = Hand::new(e, size);
    let at = hand.planner.session().view.rect.center();
    hand.frame(vec![Event::PointerMoved(at)]);
    if served {
        let modifiers = Modifiers::NONE;
        hand.frame(vec![Event::Key {
            key: Key::E,
            physical_key: None,
            pressed: true,
            repeat: false,
            modifiers,
        }]);
    }
    let button = PointerButton::Middle;
    hand.frame(vec![Event::PointerButton { pos: at, button, pressed: true, modifiers: Modifiers::NONE }]);
    let before = window_thread();
    let mut times: Vec<Duration> = (0..frames)
        .map(|i| hand.frame(vec![Event::PointerMoved(at + vec2((i % 40) as f32 * 5.0, (i % 7) as f32))]))
        .collect();
    let own = per_frame(window_thread(), before, frames);
    let ties = hand.planner.derived().plan(0).map_or(0, |p| p.ties.len());
    times.sort();
    let ms = |d: Duration| d.as_secs_f64() * 1e3;
    let washed = if served { ", what each serves washed" } else { "" };
    println!(
        "{name}, {} x {}, moved about{washed}: {ties} ties; a frame {:.1} ms in the median, {:.1} at most in 95 of 100; \
         processor time {own} ms a frame",
        size.x,
        size.y,
        ms(times[frames / 2]),
        ms(times[frames * 95 / 100]),
    );
}

fn main() {
    // cargo says --test where it only wants to see that the bench runs.
    let trial = std::env::args().any(|a| a == "--test");
    let frames = if trial { 5 } else { FRAMES };
    drag("A front of 21 bays", front(7, 3), vec2(1280.0, 800.0), frames);
    look("A front of 21 bays", front(7, 3), vec2(1280.0, 800.0), frames, true);
    if !trial {
        for size in [vec2(1280.0, 800.0), vec2(1920.0, 1080.0)] {
            drag("A block of 208 bays", front(26, 8), size, frames);
            look("A block of 208 bays", front(26, 8), size, frames, false);
            look("A block of 208 bays", front(26, 8), size, frames, true);
        }
        drag("A front of 21 bays", front(7, 3), vec2(1920.0, 1080.0), frames);
        drag("A block of 832 bays", front(52, 16), vec2(1280.0, 800.0), frames);
        drag("A block of 832 bays", front(52, 16), vec2(1920.0, 1080.0), frames);
    }
}
