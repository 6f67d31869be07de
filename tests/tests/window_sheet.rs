//! What is painted on the sheet: words clear of ties, washes in one tone, layers, lines of dimensions, the picture that
//! is moved with the sheet.

use egui::epaint::{Mesh, Shape as Drawn, TextShape};
use egui::{Color32, Key, PointerButton, Pos2, Rect, Vec2, pos2, vec2};
use layout_core::elevation::{
    Elevation, ExistingTie, KeepOut, MovementJoint, Opening, Point, Project, Shape, TieForm, Treatment,
};
use tiewright::theme::LIGHT;
use tiewright_tests::window::{Window, front};

/// All that was painted in the last frame, one thing after the other.
fn drawn(w: &Window) -> Vec<Drawn> {
    fn flat(shape: &Drawn, out: &mut Vec<Drawn>) {
        match shape {
            Drawn::Vec(parts) => parts.iter().for_each(|s| flat(s, out)),
            one => out.push(one.clone()),
        }
    }
    let mut out = Vec::new();
    w.h.output().shapes.iter().for_each(|s| flat(&s.shape, &mut out));
    out
}

fn texts(w: &Window) -> Vec<TextShape> {
    let text = |s: Drawn| if let Drawn::Text(t) = s { Some(t) } else { None };
    drawn(w).into_iter().filter_map(text).collect()
}

fn meshes(w: &Window) -> Vec<Mesh> {
    let mesh = |s: Drawn| if let Drawn::Mesh(m) = s { Some((*m).clone()) } else { None };
    drawn(w).into_iter().filter_map(mesh).collect()
}

/// Where the letters of a line of words are: less the room of its own above and below.
fn letters(text: &TextShape) -> Rect {
    text.visual_bounding_rect().shrink2(vec2(0.0, 2.5))
}

fn ties(w: &Window) -> Vec<(Pos2, String)> {
    let planner = w.h.state();
    let plan = planner.derived().plan(0).expect("a plan");
    plan.ties.iter().map(|t| (planner.world_to_screen(t.at), t.mark.clone())).collect()
}

/// The least a symbol of a tie covers: a square within a radius of 52 mm, of 8 points at most.
fn symbol(w: &Window, at: Pos2) -> Rect {
    let radius = (w.h.state().session().view.scale * 52.0).clamp(1.5, 8.0) as f32;
    Rect::from_center_size(at, Vec2::splat(radius * 1.4))
}

fn opening(name: &str, x: f64, y: f64, w: f64, h: f64) -> Opening {
    Opening { name: name.to_owned(), shape: Shape::Rect { x, y, w, h } }
}

fn keep_out(name: &str, x: f64, y: f64, w: f64, h: f64) -> KeepOut {
    KeepOut { name: name.to_owned(), shape: Shape::Rect { x, y, w, h }, clearance: 50.0 }
}

/// A front with a window, a pipe and a small air brick.
fn ready() -> Project {
    let mut project = front();
    let e = &mut project.elevations[0];
    e.openings = vec![opening("W1", 3600.0, 1500.0, 1200.0, 1350.0)];
    e.keep_outs = vec![
        keep_out("Soil pipe", 1500.0, 600.0, 110.0, 3000.0),
        keep_out("Air brick", 7200.0, 300.0, 65.0, 65.0),
    ];
    project
}

#[test]
fn words_stand_clear_of_ties() {
    let mut w = Window::sized(ready(), 1900.0, 1200.0);
    w.key(Key::Q);
    w.drag((5400.0, 2400.0), (7800.0, 4200.0));
    w.key(Key::V);
    w.key(Key::Escape);
    let ties = ties(&w);
    let mut marks = 0;
    let mut named = Vec::new();
    for text in texts(&w) {
        let words = text.galley.text().to_owned();
        let is_mark = ties.iter().any(|(_, mark)| *mark == words);
        let is_name =
            ["Soil pipe", "Air brick"].contains(&words.as_str()) || words.starts_with("locked area");
        // The same words stand in the list at the left.
        if !w.h.state().session().view.rect.contains_rect(letters(&text)) || !(is_mark || is_name) {
            continue;
        }
        for (at, mark) in &ties {
            assert!(!letters(&text).intersects(symbol(&w, *at)), "{words} covers {mark}");
        }
        marks += usize::from(is_mark);
        if is_name {
            named.push(words);
        }
    }
    assert!(marks * 2 > ties.len(), "{marks} marks of {} ties", ties.len());
    named.sort();
    assert_eq!(named, ["Air brick", "Soil pipe", "locked area 1"]);
}

#[test]
fn a_keep_out_that_is_hardly_seen_is_named_where_it_is_chosen() {
    let mut project = ready();
    let ring = vec![(0.0, 0.0), (90_000.0, 0.0), (90_000.0, 9000.0), (0.0, 9000.0)];
    project.elevations[0].outline = ring;
    let mut w = Window::on(project);
    let named = |w: &Window| {
        let here = w.h.state().session().view.rect;
        texts(w).iter().any(|t| t.galley.text() == "Air brick" && here.contains_rect(letters(t)))
    };
    assert!(!named(&w), "less than a point wide");
    w.click("Item Air brick");
    assert!(named(&w));
}

/// The colours laid over a place of the screen by meshes of plain colour, from below.
fn colours(w: &Window, at: Pos2) -> Vec<Color32> {
    let mut out = Vec::new();
    for mesh in meshes(w).iter().filter(|m| m.texture_id == egui::TextureId::default()) {
        for corners in mesh.indices.chunks_exact(3) {
            let [a, b, c] = [0, 1, 2].map(|i| &mesh.vertices[corners[i] as usize]);
            let side = |p: Pos2, q: Pos2| (q.x - p.x) * (at.y - p.y) - (q.y - p.y) * (at.x - p.x);
            let sides = [side(a.pos, b.pos), side(b.pos, c.pos), side(c.pos, a.pos)];
            if sides.iter().all(|s| *s > 0.0) || sides.iter().all(|s| *s < 0.0) {
                out.push(a.color);
            }
        }
    }
    out
}

#[test]
fn what_is_served_is_one_tone() {
    // Two ties by hand, 300 apart, each serving 450 to each side and 225 up and down: 850 to 1150 is served by both.
    let mut project = front();
    project.elevations[0].automatic = false;
    project.elevations[0].pinned = vec![(850.0, 1000.0), (1150.0, 1000.0)];
    let mut w = Window::on(project);
    w.key(Key::E);
    let seen = |p: Point| colours(&w, w.h.state().world_to_screen(p));
    let (once, twice, not) = (seen((473.0, 1107.0)), seen((1013.0, 1107.0)), seen((3013.0, 1107.0)));
    assert_eq!(once.last(), twice.last(), "one wash over the other is not seen");
    assert_ne!(once.last(), not.last());
    assert_eq!(not.last(), Some(&LIGHT.masonry));
    let last = twice.last().copied().unwrap_or_default();
    assert!(last.is_opaque(), "nothing shows through: {last:?}");
}

#[test]
fn hints_have_an_ink_of_their_own() {
    let mut w = Window::front();
    w.keys(egui::Modifiers::COMMAND, Key::J);
    let hint = |w: &Window| texts(w).into_iter().find(|t| t.galley.text().starts_with("a few letters"));
    let shown = hint(&w).expect("the hint of an empty field");
    let format = &shown.galley.job.sections[0].format;
    let ink = if format.color == Color32::PLACEHOLDER { shown.fallback_color } else { format.color };
    assert_eq!(ink, LIGHT.hint);
    assert!(format.italics, "it leans, so that it is not taken for what was typed");
    w.write("Find a command", "mirror");
    assert!(hint(&w).is_none());
}

/// How many lines of an ink there are.
fn lines(w: &Window, is: impl Fn(Color32) -> bool) -> usize {
    let all = drawn(w).into_iter();
    all.filter(|s| matches!(s, Drawn::LineSegment { stroke, .. } if is(stroke.color))).count()
}

/// Corners of everything painted from a texture: four for each symbol of a tie.
fn corners(w: &Window) -> usize {
    let symbols = meshes(w).into_iter().filter(|m| m.texture_id != egui::TextureId::default());
    symbols.map(|m| m.vertices.len()).sum()
}

#[test]
fn each_layer_is_taken_off_the_sheet() {
    let mut project = ready();
    let tie = |x: f64| ExistingTie {
        at: (x, 4000.0),
        form: TieForm::default(),
        grade: 0,
        treatment: Treatment::default(),
    };
    project.elevations[0].existing_ties = vec![tie(600.0), tie(900.0)];
    // A joint that no row is near: what lies beyond the last ties is not served.
    project.elevations[0].automatic = false;
    project.elevations[0].pinned = vec![(4000.0, 600.0)];
    project.elevations[0].movement_joints = vec![MovementJoint { x: 6000.0, from: 0.0, to: 5250.0 }];
    let mut w = Window::sized(project, 1900.0, 1200.0);
    let layer = |w: &mut Window, name: &str| {
        w.keys(egui::Modifiers::COMMAND, Key::J);
        w.write("Find a command", name);
        w.click(&format!("Run: {name}"));
    };
    let mark = |w: &Window| texts(w).iter().filter(|t| t.galley.text() == "F1").count();
    assert_eq!(mark(&w), 1);
    layer(&mut w, "Tie marks");
    assert_eq!(mark(&w), 0);

    assert!(lines(&w, |c| c == LIGHT.bed) > 20);
    layer(&mut w, "Bed joints");
    assert_eq!(lines(&w, |c| c == LIGHT.bed), 0);

    assert!(w.says("Dimension width of the wall"));
    layer(&mut w, "Dimensions");
    assert!(!w.says("Dimension width of the wall"));

    let before = corners(&w);
    layer(&mut w, "Old ties");
    assert_eq!(before - corners(&w), 8, "two crosses");

    let there = w.h.state().world_to_screen((8003.0, 4507.0));
    assert_eq!(colours(&w, there), [LIGHT.masonry]);
    layer(&mut w, "Untied areas");
    assert_eq!(colours(&w, there), [LIGHT.masonry, LIGHT.breach_wash]);
    layer(&mut w, "Untied areas");
    let tied = w.h.state().world_to_screen((4013.0, 607.0));
    assert_eq!(colours(&w, tied), [LIGHT.masonry]);
    layer(&mut w, "Served areas");
    assert_ne!(colours(&w, tied).last(), Some(&LIGHT.masonry));
}

/// A front with this many windows of 1200 side by side, 3 m from one to the next.
fn terrace(windows: u32) -> Project {
    let wide = 3000.0 * f64::from(windows);
    let mut e = Elevation::new("Front", vec![(0.0, 0.0), (wide, 0.0), (wide, 5250.0), (0.0, 5250.0)]);
    let bays = 0..windows;
    e.openings = bays
        .map(|i| opening(&format!("W{}", i + 1), 900.0 + 3000.0 * f64::from(i), 900.0, 1200.0, 1350.0))
        .collect();
    Project { elevations: vec![e], ..Project::default() }
}

#[test]
fn dimensions_without_room_are_left_out_line_by_line() {
    let mut w = Window::on(terrace(24));
    assert!(w.says("Dimension width of the wall: 72000"));
    assert!(!w.says("Dimension width of W1:"), "of 49 parts none has room for its figure");
    // The one that is selected is measured all the same.
    w.click("Item W4");
    let figure = |w: &Window, words: &str| {
        let here = w.h.state().session().view.rect;
        texts(w).iter().any(|t| t.galley.text() == words && here.contains_rect(letters(t)))
    };
    // 900 and three times 3000 from the left end.
    assert!(figure(&w, "9900") && figure(&w, "1200"));
    let mut near = Window::on(terrace(3));
    assert!(near.says("Dimension width of the wall: 9000") && near.says("Dimension width of W1: 1200"));
    near.click("Item W2");
    assert!(!figure(&near, "3900"), "the chain tells it");
}

#[test]
fn the_wall_is_moved_as_a_picture_and_drawn_anew_when_it_changes() {
    let mut w = Window::on(ready());
    let picture = |w: &Window| {
        let all = meshes(w).into_iter().filter(|m| m.texture_id != egui::TextureId::default());
        let mut all: Vec<Mesh> = all.filter(|m| m.calc_bounds().width() > 300.0).collect();
        assert!(all.len() < 2, "one picture at most, or the symbols of the ties");
        all.pop().map(|m| (m.vertices.len(), m.calc_bounds()))
    };
    let before = picture(&w).expect("the symbols of the ties").0;
    assert!(before > 4 * 50);
    let at = w.h.state().session().view.rect.center();
    let press = |w: &mut Window, at: Pos2, pressed: bool| {
        let (button, modifiers) = (PointerButton::Middle, egui::Modifiers::NONE);
        w.h.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers });
        w.h.step();
    };
    w.h.hover_at(at);
    w.h.step();
    press(&mut w, at, true);
    let mut seen: Vec<(Rect, Pos2)> = Vec::new();
    for i in 1..=6 {
        w.h.hover_at(at + vec2(20.0 * i as f32, -5.0 * i as f32));
        w.h.step();
        if let Some((4, bounds)) = picture(&w) {
            seen.push((bounds, w.h.state().world_to_screen((0.0, 5250.0))));
        }
    }
    assert!(seen.len() >= 3, "a picture while it is moved");
    for (bounds, corner) in &seen {
        // The picture goes with the wall: it stays where it was to the wall's upper left corner, to half a pixel.
        let (off, first) = (bounds.min - *corner, seen[0].0.min - seen[0].1);
        assert!((off - first).length() < 1.0, "{off:?} and {first:?}");
        assert!(bounds.contains(*corner));
    }
    press(&mut w, at + vec2(120.0, -30.0), false);
    // Words stand where they stood: the name in the middle of the window, mm 4200 along.
    let middle = w.h.state().world_to_screen((4200.0, 2175.0));
    assert!(
        texts(&w).iter().any(|t| t.galley.text() == "W1" && (letters(t).center().x - middle.x).abs() < 2.0)
    );
    // An edit is seen at once, with all its ties.
    w.key(Key::V);
    w.click("Item W1");
    w.key(Key::Delete);
    assert!(w.elevation().openings.is_empty());
    let (now, bounds) = picture(&w).expect("the symbols of the ties");
    let view = w.h.state().session().view.rect.expand(12.0);
    assert_eq!(now, 4 * ties(&w).iter().filter(|(at, _)| view.contains(*at)).count());
    assert!(bounds.contains(w.h.state().world_to_screen((4500.0, 2600.0))));
}

#[test]
fn the_first_frame_shows_the_wall() {
    // Nothing waits for a layout: the wall is there at once, its ties as soon as they are set out.
    let w = Window::waiting(ready(), std::time::Duration::ZERO);
    let first = w.h.state().world_to_screen((300.0, 5003.0));
    assert!(w.shows("Elevation canvas") && w.shows("Item W1"));
    assert_eq!(colours(&w, pos2(first.x, first.y)), [LIGHT.masonry]);
}

#[test]
fn what_the_wind_asks_for_covers_no_tie() {
    let path = tiewright_tests::console::repository().join("examples/ferndale-wind.ron");
    let project = tiewright::document::file::read(&path).unwrap_or_else(|e| panic!("{e}"));
    let mut w = Window::sized(project, 1900.0, 1060.0);
    w.keys(egui::Modifiers::ALT, Key::Num2);
    let here = w.h.state().session().view.rect;
    let zones: Vec<Rect> = texts(&w)
        .iter()
        .filter(|t| t.galley.text().starts_with("zone ") && t.galley.text().contains("per m²"))
        .map(letters)
        .filter(|rect| here.contains_rect(*rect))
        .collect();
    assert_eq!(zones.len(), 3, "zone A at both ends, zone B between");
    for (at, mark) in ties(&w) {
        assert!(zones.iter().all(|z| !z.intersects(symbol(&w, at))), "a zone's words cover {mark}");
    }
}
