//! Rules in the window: own rules begun from a set, the German sets by their building, rules in a file.

use egui::{Key, Modifiers};
use layout_core::elevation::{CustomEdges, CustomRules, RuleChoice};
use layout_core::rules::EdgeScope;
use std::fs;
use tiewright_tests::window::{Window, front};

/// Tall enough for the whole sidebar.
fn window() -> Window {
    Window::sized(front(), 1280.0, 1500.0)
}

#[track_caller]
fn own(w: &Window) -> CustomRules {
    match w.elevation().rules {
        RuleChoice::Custom(own) => own,
        other => panic!("own rules were chosen, not {other:?}"),
    }
}

#[test]
fn own_rules_keep_what_the_german_set_asks() {
    let mut w = window();
    w.choose_rules("de-din-en-1996");
    let by_the_set = w.ties();
    w.choose_rules("every value typed here");
    let own = own(&w);
    // The set: 7 per m2 with the edge ties on top, 3 a metre of every free edge and of corners, within 300.
    assert!(own.edges_on_top);
    let scope = EdgeScope::EveryFreeEdge { corners: true };
    let spacing = 1000.0 / 3.0;
    assert_eq!(own.edges, Some(CustomEdges { within: 300.0, spacing, top: None, scope }));
    assert_eq!(w.ties(), by_the_set, "the same rules give the same layout");
    w.click("Building corners too");
    w.click("Edge ties on top of the number");
    assert!(w.ties() < by_the_set, "{} of {by_the_set}", w.ties());
}

#[test]
fn own_rules_keep_what_the_australian_set_asks() {
    let mut w = window();
    w.choose_rules("au-as3700");
    w.choose_rules("every value typed here");
    // The set: within 300, every 600, at the top every 300; corners have none.
    let scope = EdgeScope::EveryFreeEdge { corners: false };
    assert_eq!(own(&w).edges, Some(CustomEdges { within: 300.0, spacing: 600.0, top: Some(300.0), scope }));
    w.enter("At the top", "400");
    assert_eq!(own(&w).edges.and_then(|e| e.top), Some(400.0));
    w.click("Another spacing along the top");
    assert_eq!(own(&w).edges.and_then(|e| e.top), None);
    w.choose("Which edges", "all round openings");
    w.enter("Not up to", "450");
    assert_eq!(own(&w).edges.map(|e| e.scope), Some(EdgeScope::OpeningPerimeter { exempt: 450.0 }));
    w.click("Ties along edges");
    assert_eq!(own(&w).edges, None);
}

#[test]
fn a_german_building_tells_which_set_it_has() {
    let mut w = window();
    w.choose_rules("de-din-en-1996");
    let named = |id: &str| RuleChoice::Named(id.to_owned());
    // Published example: 15 m, zone 1: 5 per m2; zone 2 away from the coast: 7.
    w.enter("Height of the building", "15 m");
    assert!(w.says("7 per m² for this building: this is its set"));
    w.choose("Wind zone", "wind zone 1");
    w.click("Use 5 per m²");
    assert_eq!(w.elevation().rules, named("de-din-en-1996-5"));
    // On a North Sea island: 9 over 10 m, and none over 18.
    w.choose("Stands", "North Sea island");
    w.click("Use 9 per m²");
    assert_eq!(w.elevation().rules, named("de-din-en-1996-9"));
    w.enter("Height of the building", "19 m");
    assert!(w.says("The table allows no such wall"));
    // On the coast of zone 4, 24 m high: 8, or 9 where a side of the plan is shorter than 6 m.
    w.choose("Stands", "on the coast");
    w.choose("Wind zone", "wind zone 4");
    w.enter("Height of the building", "24 m");
    w.click("Use 8 per m²");
    assert_eq!(w.elevation().rules, named("de-din-en-1996-8"));
    w.enter("Shortest side of the plan", "5.9 m");
    w.click("Use 9 per m²");
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.elevation().rules, named("de-din-en-1996-8"), "choosing a set is undone");
}

/// A plain file of rules with a spacing along the wall.
fn rules(horizontal: u32) -> String {
    format!(
        "(format: 1, name: \"Works standard\",\n horizontal: (value: {horizontal}, document: \"Standard 3\", sure: Stated),\n vertical: (value: 450, document: \"Standard 3\", sure: Stated),\n per_m2: (value: Equivalent(2.5), sure: Assumed),\n edges: None)"
    )
}

#[test]
fn rules_in_a_file_are_chosen_shown_and_followed() {
    let folder = tempfile::tempdir().expect("a folder");
    let job = folder.path().join("job.ron");
    fs::create_dir(folder.path().join("rules")).expect("a folder");
    let site = folder.path().join("rules/site.ron");
    fs::write(&site, rules(900)).expect("a file");
    let mut w = window();
    w.world.answer(&job);
    w.keys(Modifiers::COMMAND, Key::S);
    w.world.answer(&site);
    w.click("From a file…");
    let RuleChoice::File(file) = w.elevation().rules else { panic!("rules in a file") };
    assert_eq!(file.path, "rules/site.ron", "told from the project's folder");
    for words in ["Works standard", "Standard 3 (given by the user)", "assumed, confirm before use"] {
        assert!(w.says(words), "{words}");
    }
    // 9 x 5.25 m at 900 x 450: 10 columns, 12 rows of courses at the least.
    let wide = w.ties();
    assert!(wide >= 120, "{wide} ties");
    assert_eq!(w.h.state().derived().plan(0).map(|p| p.rules.id.clone()), Some("Works standard".to_owned()));
    // The project saves the reference alone.
    w.keys(Modifiers::COMMAND, Key::S);
    let saved = fs::read_to_string(&job).expect("the project");
    assert!(saved.contains("rules: File(\"rules/site.ron\")"), "{saved}");
    // The file changes: it is read again, the ties follow, and the project is not changed by it.
    fs::write(&site, rules(450)).expect("a file");
    w.click("Read again");
    assert!(w.ties() > wide * 3 / 2, "{} ties", w.ties());
    assert!(w.says("rules/site.ron has changed"));
    assert!(!w.h.state().document().is_changed());
    // Undo goes back to the set before, and redo to the file as it is now.
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.elevation().rules, RuleChoice::default());
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert!(w.ties() > wide * 3 / 2);
}

#[test]
fn rules_from_a_file_by_the_keyboard() {
    let folder = tempfile::tempdir().expect("a folder");
    let site = folder.path().join("site.ron");
    fs::write(&site, rules(900)).expect("a file");
    let mut w = window();
    w.world.answer(&site);
    w.keys(Modifiers::COMMAND, Key::L);
    assert!(matches!(w.elevation().rules, RuleChoice::File(_)));
    w.keys(Modifiers::COMMAND, Key::J);
    w.write("Find a command", "rules from");
    assert!(w.shows("Run: Rules from a file…"), "in the list of commands too");
}

#[test]
fn a_file_of_rules_that_is_missing_or_broken_is_explained() {
    let folder = tempfile::tempdir().expect("a folder");
    let site = folder.path().join("site.ron");
    fs::write(&site, rules(900)).expect("a file");
    let mut project = front();
    project.elevations[0].rules = RuleChoice::File("site.ron".to_owned().into());
    let job = folder.path().join("job.ron");
    fs::write(&job, tiewright::document::file::to_text(&project)).expect("a file");
    fs::remove_file(&site).expect("gone");
    let mut w = Window::sized(front(), 1280.0, 1500.0);
    w.world.answer(&job);
    w.keys(Modifiers::COMMAND, Key::O);
    // Open all the same, with what is wrong over the sheet and in the panel.
    assert_eq!(w.elevation().rules, project.elevations[0].rules);
    assert!(w.says("This drawing cannot be set out yet"));
    assert!(w.says("there is no such file"));
    // There again.
    fs::write(&site, rules(900)).expect("a file");
    w.click("Read again");
    assert!(w.ties() >= 120 && !w.says("cannot be set out yet"));
    // Broken, noticed as the window takes the keyboard again.
    fs::write(&site, rules(900).replace("Equivalent(2.5)", "Equivalent(some)")).expect("a file");
    w.h.input_mut().events.push(egui::Event::WindowFocused(true));
    w.h.run();
    assert!(w.says("site.ron:4:29: per_m2, value: expected a number of ties per m², found the word some"));
    // A broken file is not taken for an elevation.
    w.choose_rules("uk-thin-leaf");
    w.world.answer(&site);
    w.click("From a file…");
    assert!(w.says("These rules were not taken."));
    assert_eq!(w.elevation().rules, RuleChoice::Named("uk-thin-leaf".to_owned()));
}

#[test]
fn a_project_that_moves_still_names_its_rules() {
    let folder = tempfile::tempdir().expect("a folder");
    let site = folder.path().join("site.ron");
    fs::write(&site, rules(900)).expect("a file");
    let mut w = window();
    // Without a file of its own the project keeps the whole path.
    w.world.answer(&site);
    w.click("From a file…");
    let ties = w.ties();
    let jobs = folder.path().join("jobs");
    fs::create_dir(&jobs).expect("a folder");
    for (to, expect) in [(jobs.join("a.ron"), "../site.ron"), (folder.path().join("b.ron"), "site.ron")] {
        w.world.answer(&to);
        w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
        let RuleChoice::File(file) = w.elevation().rules else { panic!("rules in a file") };
        assert_eq!(file.path, expect);
        assert_eq!(w.ties(), ties);
        assert!(!w.h.state().document().is_changed());
    }
    w.keys(Modifiers::COMMAND, Key::Z);
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(w.ties(), ties, "the steps of undo name it as well");
}

#[test]
fn own_rules_that_no_layout_can_keep_say_so() {
    let mut w = Window::sized(front(), 1280.0, 1600.0);
    w.choose_rules("every value typed here");
    assert!(!w.says("can do both"));
    w.enter("Between ties", "100");
    w.enter("Along the wall", "50");
    assert!(w.says("stand 100 mm or more apart, and no more than 50 mm along the wall"));
    w.enter("Along the wall", "900");
    assert!(!w.says("can do both"));
    w.enter("From edges", "300");
    assert!(w.says("stand 300 mm or more from an edge, and within 225 mm of it"));
}
