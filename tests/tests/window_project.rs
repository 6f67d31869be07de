//! Elevations, rules, findings, faults and the look of the window.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::elevation::{CustomEdges, Elevation, Fix, Pattern, Project, RuleChoice, Style};
use tiewright::tools::Tool;
use tiewright_tests::window::{Window, front};

#[test]
fn several_elevations() {
    let mut w = Window::front();
    let alone = w.ties();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::D);
    let names = |w: &Window| w.project().elevations.into_iter().map(|e| e.name).collect::<Vec<_>>();
    assert_eq!(names(&w), ["Front", "Front copy"]);
    w.enter("Elevation name", "Rear");
    assert_eq!(names(&w), ["Front", "Rear"]);
    let totals = w.h.state().derived().totals();
    assert_eq!(totals.ties, 2 * alone);
    assert!(w.shows(&(2 * alone).to_string()), "the sum over elevations is shown");
    w.click("Move elevation up");
    assert_eq!(names(&w), ["Rear", "Front"]);
    assert_eq!(w.elevation().name, "Rear", "the same elevation stays shown");
    w.click("Elevation Front");
    assert_eq!(w.elevation().name, "Front");
    w.click("Add elevation");
    assert_eq!(w.h.state().session().tool, Tool::Wall);
    assert_eq!(names(&w), ["Rear", "Front", "Left gable"]);
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::Delete);
    assert_eq!(names(&w), ["Rear", "Front"]);
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(names(&w), ["Rear", "Front", "Left gable"]);
}

#[test]
fn undo_shows_the_elevation_it_is_about() {
    let mut project = front();
    project.elevations.push(Elevation { name: "Rear".to_owned(), ..project.elevations[0].clone() });
    let mut w = Window::on(project);
    w.click("Rectangle");
    w.drag((1200.0, 900.0), (2400.0, 2250.0));
    w.click("Elevation Rear");
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.elevation().name, "Front");
}

#[test]
fn a_faulty_outline_says_so_in_place() {
    let mut w = Window::front();
    assert!(!w.says("cannot be set out yet"));
    // The upper corners change places: the outline crosses itself.
    w.click_at((9000.0, 5250.0));
    w.enter("Along", "-500");
    w.click_at((0.0, 5250.0));
    w.enter("Along", "9000");
    assert!(w.says("This drawing cannot be set out yet"));
    assert!(w.says("crosses or touches itself"));
    assert_eq!(w.ties(), 0);
    w.keys(Modifiers::COMMAND, Key::Z);
    w.keys(Modifiers::COMMAND, Key::Z);
    assert!(!w.says("cannot be set out yet"));
    assert!(w.ties() > 0);
}

#[test]
fn a_finding_shows_its_place() {
    let mut w = Window::front();
    w.click("Rectangle");
    w.drag((8200.0, 3000.0), (9500.0, 4200.0));
    // The opening reaches beyond the wall's end at 9000: a note with its place.
    let before = w.h.state().session().view;
    assert!(w.says("reaches beyond the outline"));
    w.h.get_by_label_contains("Finding: ").click();
    w.h.run();
    let view = w.h.state().session().view;
    assert!(view.scale > before.scale, "nearer than before");
    let middle = view.to_world(view.rect.center());
    assert!((middle.0 - 8850.0).abs() < 200.0 && (middle.1 - 3600.0).abs() < 200.0, "{middle:?}");
}

#[test]
fn rule_sets_and_own_rules() {
    // Tall enough for the whole list of sets.
    let mut w = Window::sized(front(), 1280.0, 1400.0);
    w.choose_rules("uk-thin-leaf");
    assert_eq!(w.elevation().rules, RuleChoice::Named("uk-thin-leaf".to_owned()));
    w.choose_rules("every value typed here");
    w.enter("Along the wall", "600");
    w.enter("Source of the rules", "engineer's letter, 3 May");
    let RuleChoice::Custom(own) = w.elevation().rules else { panic!("own rules were chosen") };
    assert_eq!((own.horizontal, own.vertical), (600.0, 450.0), "begun with the values of the set before");
    assert_eq!(own.source, "engineer's letter, 3 May");
    assert_eq!(own.edges, Some(CustomEdges { within: 225.0, spacing: 300.0, ..CustomEdges::default() }));
}

#[test]
fn coursing() {
    // Tall enough for the whole sidebar.
    let mut w = Window::sized(front(), 1280.0, 1400.0);
    w.enter("Gauge", "76.2");
    w.choose("Ties go in", "brick face");
    let c = w.elevation().coursing;
    assert_eq!((c.gauge, c.fix), (76.2, Fix::BrickFace));
    w.enter("Gauge", "5");
    assert!(w.says("This drawing cannot be set out yet"), "no course is 5 mm");
}

#[test]
fn light_and_dark() {
    let mut w = Window::front();
    assert_eq!(w.h.ctx.theme(), egui::Theme::Light);
    w.click("Dark");
    assert_eq!(w.h.ctx.theme(), egui::Theme::Dark);
    w.keys(Modifiers::COMMAND, Key::T);
    assert_eq!(w.h.ctx.theme(), egui::Theme::Light);
}

#[test]
fn tools_have_keys() {
    let mut w = Window::front();
    for (key, tool) in [
        (Key::W, Tool::Wall),
        (Key::R, Tool::Rectangle),
        (Key::A, Tool::Arched),
        (Key::K, Tool::KeepOut),
        (Key::J, Tool::Joint),
        (Key::P, Tool::Pin),
        (Key::V, Tool::Select),
    ] {
        w.key(key);
        assert_eq!(w.h.state().session().tool, tool);
    }
    w.write("Elevation name", "wrap");
    assert_eq!(w.h.state().session().tool, Tool::Select, "letters typed into a field are no shortcuts");
}

#[test]
fn the_sheet_is_moved_and_zoomed() {
    let mut w = Window::front();
    let before = w.h.state().session().view;
    w.keys(Modifiers::COMMAND, Key::Equals);
    assert!(w.h.state().session().view.scale > before.scale);
    w.key(Key::H);
    w.drag((4000.0, 2000.0), (5000.0, 2000.0));
    let moved = w.h.state().session().view;
    assert!((moved.centre.0 - before.centre.0).abs() > 500.0);
    w.key(Key::F);
    let again = w.h.state().session().view;
    assert!((again.scale - before.scale).abs() < 1e-9);
    assert_eq!(w.project(), front(), "looking changes nothing");
}

#[test]
fn project_details() {
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND, Key::I);
    w.write("Client", "M. Ashdown");
    w.click("Apply details");
    assert_eq!(w.project().client, "M. Ashdown");
    assert_eq!(w.h.state().document().history().undo_name(), Some("Change project details"));
}

#[test]
fn help_is_shown() {
    let mut w = Window::front();
    w.key(Key::F1);
    assert!(w.shows("Keyboard shortcuts"));
    w.click("Close");
    w.keys(Modifiers::COMMAND, Key::B);
    assert!(w.says("Hidden services"));
    w.click("Close");
}

#[test]
fn a_project_without_elevations() {
    let mut w = Window::on(Project::default());
    assert!(w.says("This project has no elevation yet"));
    w.click("Add an elevation");
    assert_eq!(w.elevation().name, "Front");
}

#[test]
fn small_and_large_windows_settle() {
    for (width, height) in [(960.0, 600.0), (1920.0, 1080.0)] {
        let w = Window::sized(tiewright::app::example(), width, height);
        assert!(w.ties() > 0);
    }
}

#[test]
fn numbers_that_are_no_numbers_do_not_stop_it() {
    let mut project = front();
    let e = &mut project.elevations[0];
    e.outline[2] = (f64::NAN, f64::INFINITY);
    e.coursing.gauge = f64::NAN;
    e.pinned.push((f64::NAN, 0.0));
    e.movement_joints.push(layout_core::elevation::MovementJoint {
        x: f64::NAN,
        from: 0.0,
        to: f64::INFINITY,
    });
    let mut w = Window::on(project);
    assert!(w.says("This drawing cannot be set out yet"));
    w.key(Key::F);
    w.click("Rectangle");
    w.drag((1000.0, 1000.0), (2000.0, 2000.0));
}

#[test]
fn layout_and_rows_are_chosen_and_undone() {
    let mut w = Window::front();
    assert!(w.shows("Layout") && w.shows("Rows"));
    w.choose("Layout", "fewest ties");
    assert_eq!(w.elevation().style, Style::Fewest);
    w.choose("Rows", "one above the other");
    assert_eq!(w.elevation().pattern, Pattern::Stacked);
    // Stacked rows share their places along the wall: fewer different ones than staggered rows have.
    let planner = w.h.state();
    let ties = &planner.derived().plan(0).expect("a plan").ties;
    let along: std::collections::BTreeSet<i64> = ties.iter().map(|t| t.at.0.round() as i64).collect();
    let rows: std::collections::BTreeSet<i64> = ties.iter().map(|t| t.at.1.round() as i64).collect();
    assert!(
        along.len() * rows.len() <= ties.len() + rows.len(),
        "{} places, {} rows",
        along.len(),
        rows.len()
    );
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.elevation().pattern, Pattern::Staggered);
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.elevation().style, Style::Even);
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(w.elevation().style, Style::Fewest);
    // A layout made by hand has neither.
    w.click("Set ties out for me");
    assert!(!w.shows("Layout") && !w.shows("Rows"));
}

#[test]
fn the_sidebar_says_how_few_ties_any_layout_has() {
    let w = Window::front();
    let plan = layout_core::plan(&w.elevation()).expect("a usable drawing");
    assert!(w.says("No layout has fewer than"));
    assert!(w.says(&plan.lower_bound.to_string()));
}

#[test]
fn a_layout_taken_over_by_hand_keeps_its_ties() {
    let mut w = Window::sized(front(), 1280.0, 1000.0);
    let before = w.ties();
    assert!(w.says("On the regular grid"));
    w.click("Set ties out for me");
    assert_eq!(w.ties(), before);
    assert_eq!((w.elevation().automatic, w.elevation().pinned.len()), (false, before));
    assert!(w.says(&format!("its {before} ties are pinned")));
    w.keys(Modifiers::COMMAND, Key::Z);
    assert!(w.elevation().automatic && w.elevation().pinned.is_empty(), "in one step");
    // Nothing is told of ties that are not there.
    let mut project = front();
    project.elevations[0].automatic = false;
    let w = Window::sized(project, 1280.0, 1000.0);
    assert_eq!(w.ties(), 0);
    assert!(!w.says("On the regular grid"));
}

#[test]
fn copies_of_copies_are_numbered_and_brought_into_view() {
    let mut w = Window::front();
    for _ in 0..9 {
        w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::D);
    }
    let names: Vec<String> = w.project().elevations.into_iter().map(|e| e.name).collect();
    assert_eq!(names[..3], ["Front", "Front copy", "Front copy 2"]);
    assert_eq!(names[9], "Front copy 9");
    let list = w.h.get_by_label("Add elevation").rect();
    let shown = w.h.get_by_label("Elevation Front copy 9").rect();
    assert!(shown.bottom() <= list.top() + 1.0, "{shown:?} above the buttons at {list:?}");
}

#[test]
fn a_narrow_wall_says_what_staggering_does_there() {
    let told = "Less than ten ties across";
    let mut w = Window::on(front());
    // 9 m are ten spacings of 900.
    assert!(!w.says(told));
    w.click("Dimension width of the wall: 9000 mm");
    w.enter("Dimension", "7200");
    assert!(w.says(told));
    w.choose("Rows", "one above the other");
    assert!(!w.says(told));
}
