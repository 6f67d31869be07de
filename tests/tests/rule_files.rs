//! Rules in a file of a firm's own: what is read, what is refused and where, what begins a file, who names it.

use layout_core::elevation::RuleChoice;
use layout_core::rules::{Density, EdgeScope, RuleSet, sets};
use layout_core::source::{Source, Sureness};
use std::fs;
use std::path::Path;
use tiewright::document::file::read_checked;
use tiewright::document::rule_file::{self, parse};
use tiewright::document::rule_template::template;
use tiewright_tests::console::{example, tiewright};

/// A sound file; each case puts one line in the place of another.
const SOUND: &str = r#"(
    format: 1,
    name: "Own",
    title: "A title",
    notes: ["One", "Two"],
    horizontal: (value: 700, document: "Standard 3", edition: "2024", clause: "4.1", sure: Published),
    vertical: (value: 350.5, document: "A letter", sure: SecondHand, note: "five courses"),
    per_m2: (value: MinimumPlusEdges(4.5), document: "A letter", sure: Recomputed),
    edges: (
        within: (value: 200, document: "A letter", sure: FromMemory),
        spacing: (value: 250, sure: Assumed),
        top: (value: 125, document: "A letter", sure: Stated),
        scope: (value: EveryFreeEdge(corners: true), document: "A letter", clause: "9", sure: Stated),
    ),
    edge_distance: (value: 60, sure: CommonPractice),
    between: (value: 0, document: "A letter", sure: Stated),
    existing_clearance: (value: 120, document: "A letter", sure: Stated),
)"#;

fn message(text: &str) -> String {
    parse(text, "own.ron").map_or_else(|e| e.to_string(), |_| "no error".to_owned())
}

/// Puts `line` in the place of line `n` of the sound file, and compares what is said.
#[track_caller]
fn case(n: usize, line: &str, expect: &str) {
    let lines: Vec<&str> =
        SOUND.lines().enumerate().map(|(i, l)| if i + 1 == n { line } else { l }).collect();
    let text = lines.join("\n");
    assert_eq!(message(&text), format!("own.ron:{expect}"), "{line}");
}

fn sound() -> RuleSet {
    parse(SOUND, "own.ron").unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn every_value_is_read_with_its_source() {
    let set = sound();
    assert_eq!((set.id.as_str(), set.title.as_str()), ("Own", "A title"));
    let of = |document: &str, sureness| Source::new(document, sureness);
    assert_eq!(set.horizontal.value, 700.0);
    assert_eq!(set.horizontal.source, of("Standard 3, 2024, 4.1", Sureness::Published));
    assert_eq!((set.vertical.value, &set.vertical.source), (350.5, &of("A letter", Sureness::SecondHand)));
    assert_eq!(set.density.value, Density::MinimumPlusEdges(4.5));
    assert_eq!(set.density.source, of("A letter", Sureness::Recomputed));
    let edges = set.edges.as_ref().expect("edge ties");
    assert_eq!((edges.within.value, &edges.within.source), (200.0, &of("A letter", Sureness::FromMemory)));
    assert_eq!((edges.spacing.value, &edges.spacing.source), (250.0, &of("", Sureness::Assumed)));
    assert_eq!(edges.top.as_ref().map(|t| t.value), Some(125.0));
    assert_eq!(edges.scope, EdgeScope::EveryFreeEdge { corners: true });
    assert_eq!(
        (set.edge_distance.value, set.between.value, set.existing_clearance.value),
        (60.0, 0.0, 120.0)
    );
    assert_eq!(set.edge_distance.source, Source::common_practice());
    // What is noted, and where the choice of edges comes from, stands in the remarks.
    for remark in ["One", "Two", "five courses", "Which edges have ties of their own: A letter, 9"] {
        assert!(set.remarks.iter().any(|r| r.contains(remark)), "{remark}: {:?}", set.remarks);
    }
    assert_eq!(edges.spacing.source.to_string(), "assumed, confirm before use");
}

#[test]
fn distances_that_are_left_out_are_common_practice() {
    let short = SOUND.lines().filter(|l| !["edge_d", "between", "exist"].iter().any(|k| l.contains(k)));
    let set = parse(&short.collect::<Vec<_>>().join("\n"), "own.ron").unwrap_or_else(|e| panic!("{e}"));
    let left_out = [&set.edge_distance, &set.between, &set.existing_clearance];
    assert_eq!(left_out.map(|v| v.value), [75.0, 100.0, 100.0]);
    assert!(left_out.iter().all(|v| v.source == Source::common_practice()));
}

#[test]
fn the_head_of_a_file() {
    case(
        2,
        "    format: 2,",
        "2:13: format: the file is of format 2, written by a newer version of Tiewright; this one reads format 1",
    );
    case(3, "    name: 7,", "3:11: name: expected text in quotes, found 7");
    case(3, "    name: \" \",", "3:11: name: it is empty; give the rules a name");
    let taken = "3:11: name: this is the name of a published set; give the rules a name of their own";
    case(3, "    name: \"uk-thin-leaf\",", taken);
    case(3, "", "1:1: name: this field is missing; give text in quotes");
    case(4, "    title: [],", "4:12: title: expected text in quotes, found a list in [ ]");
    case(5, "    notes: \"One\",", "5:12: notes: expected a list of texts in [ ], found text \"One\"");
    case(5, "    notes: [\"One\", 2],", "5:20: note 2: expected text in quotes, found 2");
    let names = "format, name, title, notes, horizontal, vertical, per_m2, edges, edge_distance, between or existing_clearance";
    case(5, "    colour: 3,", &format!("5:5: colour: unknown field; expected {names}"));
}

#[test]
fn lengths_of_the_field() {
    let wanted = "(value: …, document: \"…\", edition: \"…\", clause: \"…\", sure: …, note: \"…\")";
    case(6, "    horizontal: 700,", &format!("6:17: horizontal: expected {wanted}, found 700"));
    case(6, "", &format!("1:1: horizontal: this field is missing; give {wanted}"));
    let wide = "    horizontal: (value: \"wide\", document: \"S\", sure: Published),";
    case(6, wide, "6:25: horizontal, value: expected a number, in mm, found text \"wide\"");
    let none = "    horizontal: (document: \"S\", sure: Published),";
    case(6, none, "6:17: horizontal, value: this field is missing; give a number, in mm");
    let zero = "    vertical: (value: 0, document: \"S\", sure: Published),";
    case(7, zero, "7:23: vertical, value: 0 mm cannot be; it must be more than 0");
    let far = "    vertical: (value: 2e7, document: \"S\", sure: Published),";
    case(7, far, "7:23: vertical, value: 20000000 mm cannot be; it must be more than 0 and at most 10 km");
    let nan = "    vertical: (value: NaN, document: \"S\", sure: Published),";
    case(7, nan, "7:23: vertical, value: expected a number, in mm, found NaN, which is not finite");
}

#[test]
fn sources() {
    let all = "Published, SecondHand, FromMemory, Recomputed, Stated, Assumed or CommonPractice";
    let unknown = "    vertical: (value: 450, document: \"S\", sure: Certain),";
    // The reader lists the names in its own order.
    let said = message(&SOUND.replace(SOUND.lines().nth(6).unwrap_or(""), unknown));
    assert!(
        said.starts_with("own.ron:7:49: vertical, sure: unknown name Certain; expected Published"),
        "{said}"
    );
    let text = "    vertical: (value: 450, document: \"S\", sure: \"Published\"),";
    case(7, text, &format!("7:49: vertical, sure: expected how sure it is: {all}, found text \"Published\""));
    let silent = "    vertical: (value: 450, document: \"S\"),";
    case(7, silent, &format!("7:15: vertical, sure: this field is missing; give how sure it is: {all}"));
    let bare = "    vertical: (value: 450, sure: Published),";
    let expect =
        "7:34: vertical, sure: no document is given; name it, or say sure: Assumed or CommonPractice";
    case(7, bare, expect);
    let both = "    vertical: (value: 450, document: \"S\", sure: CommonPractice),";
    let expect = "7:38: vertical, document: common practice has no document; leave the document out, or say how sure it is otherwise";
    case(7, both, expect);
    let clause = "    vertical: (value: 450, document: \"S\", clause: 4, sure: Published),";
    case(7, clause, "7:51: vertical, clause: expected text in quotes, found 4");
}

#[test]
fn numbers_per_area() {
    let wanted = "Equivalent(…), Minimum(…) or MinimumPlusEdges(…), ties per m²";
    let plain = "    per_m2: (value: 4.5, document: \"S\", sure: Stated),";
    case(8, plain, &format!("8:21: per_m2, value: expected {wanted}, found 4.5"));
    let word = "    per_m2: (value: Minimum(many), document: \"S\", sure: Stated),";
    case(8, word, "8:29: per_m2, value: expected a number of ties per m², found the word many");
    let negative = "    per_m2: (value: Minimum(-1), document: \"S\", sure: Stated),";
    case(8, negative, "8:21: per_m2, value: -1 ties per m² cannot be; it must be 0 to 10000");
}

#[test]
fn edges() {
    let lines: Vec<&str> = SOUND.lines().collect();
    let without = |n: std::ops::Range<usize>, put: &str| {
        let kept = |r: &[&str]| r.join("\n");
        format!("{}\n{put}\n{}", kept(&lines[..n.start]), kept(&lines[n.end..]))
    };
    // Rules without edge ties have to say so.
    let said = message(&without(8..14, ""));
    assert_eq!(
        said,
        "own.ron:1:1: edges: this field is missing; give (within: …, spacing: …, top: …, scope: …) or None"
    );
    let said = message(&without(8..14, "    edges: None,"));
    let expect =
        "own.ron:8:21: per_m2, value: edge ties come on top, but edges is None; give the rule for edges";
    assert_eq!(said, expect);
    let said =
        message(&without(7..14, "per_m2: (value: Minimum(2), document: \"S\", sure: Stated), edges: None,"));
    assert_eq!(said, "no error");
    let far = "        within: (value: -1, document: \"S\", sure: Stated),";
    case(10, far, "10:25: edges, within, value: -1 mm cannot be; it must be more than 0");
    let word = "        spacing: (value: near, sure: Assumed),";
    case(11, word, "11:26: edges, spacing, value: expected a number, in mm, found the word near");
    let top = "        top: (value: 0, sure: Assumed),";
    case(12, top, "12:22: edges, top, value: 0 mm cannot be; it must be more than 0");
    let scope = "        scope: (value: Upright, document: \"S\", sure: Stated),";
    let expect = "12:14: edges, top: a spacing for the top of the leaf needs scope EveryFreeEdge(corners: …), which has the top";
    case(13, scope, expect);
    let unknown = "        scope: (value: Sideways, document: \"S\", sure: Stated),";
    let expect = "13:24: edges, scope, value: unknown name Sideways; expected Upright, OpeningPerimeter or EveryFreeEdge";
    case(13, unknown, expect);
    let exempt = "        scope: (value: OpeningPerimeter(exempt: -5), document: \"S\", sure: Stated),";
    let text = SOUND.replace(lines[12], exempt).replace(lines[11], "");
    let expect = "own.ron:13:49: edges, scope, value, exempt: -5 mm cannot be; it must be 0 or more";
    assert_eq!(message(&text), expect);
    let corners = "        scope: (value: EveryFreeEdge(corners: 1), document: \"S\", sure: Stated),";
    case(13, corners, "13:47: edges, scope, value, corners: expected true or false, found 1");
}

#[test]
fn least_distances() {
    case(
        15,
        "    edge_distance: (value: -1, sure: Assumed),",
        "15:28: edge_distance, value: -1 mm cannot be; it must be 0 or more",
    );
    case(
        16,
        "    between: (value: x, sure: Assumed),",
        "16:22: between, value: expected a number, in mm, found the word x",
    );
    let bare = "    existing_clearance: (value: 9, sure: Stated),";
    let expect = "17:42: existing_clearance, sure: no document is given; name it, or say sure: Assumed or CommonPractice";
    case(17, bare, expect);
}

#[test]
fn what_is_no_file_of_rules() {
    assert_eq!(
        message(""),
        "own.ron:1:1: the file is empty; expected a file of rules, which begins with '('"
    );
    assert!(message("(format: 1,").contains("never closed"));
    let after = message(&format!("{SOUND} more"));
    assert!(after.contains("the file of rules has ended; nothing may follow its closing bracket"), "{after}");
    let project = fs::read_to_string(example("saltings-cottage.ron")).expect("an example");
    assert!(message(&project).contains("elevations: this file is a project; name a file of rules"));
    let folder = tempfile::tempdir().expect("a folder");
    let said = rule_file::read(folder.path()).map_or_else(|e| e.to_string(), |_| String::new());
    assert!(said.ends_with("this is no file; name a file of rules (.ron)"), "{said}");
    let large = folder.path().join("large.ron");
    fs::write(&large, " ".repeat((1 << 20) + 1)).expect("a file");
    let said = rule_file::read(&large).map_or_else(|e| e.to_string(), |_| String::new());
    assert!(said.ends_with("the file is too large; no file of rules is over 1 MB"), "{said}");
}

#[test]
fn a_spoilt_file_is_refused_with_a_place() {
    let with_place = |text: &str| {
        let said = message(text);
        for line in said.lines().filter(|l| *l != "no error") {
            let mut figures = line.strip_prefix("own.ron:").unwrap_or("").split(':');
            let mut figure = || figures.next().and_then(|n| n.parse::<usize>().ok()).is_some_and(|n| n > 0);
            assert!(figure() && figure(), "no place in: {said}");
        }
    };
    for at in 0..SOUND.len() {
        with_place(&SOUND[..at]);
        for put in ["", "(", "]", "\"", "\n", "7", "x", "NaN", "None", "-"] {
            with_place(&format!("{}{put}{}", &SOUND[..at], &SOUND[at + 1..]));
        }
    }
}

#[test]
fn a_file_begun_from_a_set_has_its_values() {
    for set in sets::all().into_iter().chain([sound()]) {
        let again = parse(&template(&set), "own.ron").unwrap_or_else(|e| panic!("{}: {e}", set.id));
        assert_eq!(again.id, format!("Own rules after {}", set.id));
        assert_eq!(RuleSet { id: set.id.clone(), ..again }, set);
    }
}

#[test]
fn the_command_lists_a_file_and_begins_one() {
    let file = example("rules/thrapple-wend.ron");
    let ran = tiewright(&["rules", &file]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    for words in [
        "Thrapple & Wend: open ground",
        "675 mm",
        "Thrapple & Wend, works standard 12, issue C, 2025, 4.1 (given by the user)",
        "Approved Document A (England), 2013, section 2C (published)",
        "assumed, confirm before use",
    ] {
        assert!(ran.out.contains(words), "{words}: {}", ran.out);
    }
    let folder = tempfile::tempdir().expect("a folder");
    let to = folder.path().join("site.ron").display().to_string();
    let ran = tiewright(&["rules", "au-as3700", "--ron", &to]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert_eq!(rule_file::read(Path::new(&to)).map(|s| s.id), Ok("Own rules after au-as3700".to_owned()));
    assert_eq!(tiewright(&["rules", &to]).status, 0);
    // Not over itself, not for all sets at once, not from nothing.
    assert_eq!(tiewright(&["rules", &to, "--ron", &to]).status, 2);
    assert_eq!(tiewright(&["rules", "--ron", &to]).status, 2);
    let ran = tiewright(&["rules", "no-such-set"]);
    assert!(ran.status == 2 && ran.err.contains("a file of rules is named with its ending"), "{}", ran.err);
    let ran = tiewright(&["rules", "none.ron"]);
    assert_eq!((ran.status, ran.err.trim_end()), (2, "none.ron: there is no such file"));
}

#[test]
fn every_command_shows_the_name_and_the_sources() {
    let project = example("saltings-cottage.ron");
    let name = "Thrapple & Wend: open ground";
    let ran = tiewright(&["set-out", &project]);
    assert!(ran.status == 0 && ran.out.contains(name), "{}{}", ran.out, ran.err);
    let ran = tiewright(&["take-off", &project]);
    // Long lines are broken at words.
    let flat = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [name, "works standard 12, issue C, 2025, 4.1 (given by the user)", "(published)"] {
        assert!(flat.contains(words), "{words}: {}", ran.out);
    }
    let json: serde_json::Value =
        serde_json::from_str(&tiewright(&["set-out", &project, "--json", "-"]).out).expect("JSON");
    assert_eq!(json["elevations"][0]["rules"], name);
    let read = read_checked(Path::new(&project)).unwrap_or_else(|e| panic!("{e}"));
    let plan = layout_core::plan(&read.elevations[0]).expect("a usable wall");
    assert!(plan.rules.remarks.iter().any(|r| r == "From the file rules/thrapple-wend.ron."));
}

/// A project in a folder, with rules from a file.
fn job(folder: &Path, rules: &str) -> String {
    let text = format!(
        "(format: 1, title: \"T\", elevations: [\n (name: \"Front\", outline: [(0, 0), (3000, 0), (3000, 1500), (0, 1500)],\n  rules: File({rules:?})),\n])"
    );
    let path = folder.join("job.ron");
    fs::write(&path, text).expect("a file");
    path.display().to_string()
}

#[test]
fn a_file_that_is_missing_or_broken_is_refused_with_its_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let project = job(folder.path(), "site.ron");
    let out = folder.path().join("out.pdf").display().to_string();
    for command in [
        &["set-out", &project][..],
        &["verify", &project],
        &["take-off", &project],
        &["drawing", &project, "--out", &out],
    ] {
        let ran = tiewright(command);
        assert_eq!(ran.status, 2, "{command:?}");
        let at = format!("{project}:3:10: elevation 'Front', rules: the file of rules '");
        assert!(ran.err.starts_with(&at) && ran.err.contains("there is no such file"), "{}", ran.err);
    }
    assert!(!Path::new(&out).exists());
    let site = folder.path().join("site.ron");
    fs::write(&site, SOUND.replace("value: 700", "value: wide")).expect("a file");
    let ran = tiewright(&["set-out", &project]);
    let expect =
        format!("{}:6:25: horizontal, value: expected a number, in mm, found the word wide", site.display());
    assert_eq!((ran.status, ran.err.trim_end()), (2, expect.as_str()));
    fs::write(&site, SOUND).expect("a file");
    assert!(tiewright(&["set-out", &project]).status < 2);
    // From a folder beside, and through "..".
    let beside = folder.path().join("jobs");
    fs::create_dir(&beside).expect("a folder");
    let project = job(&beside, "../site.ron");
    assert!(tiewright(&["set-out", &project]).status < 2);
}

#[test]
fn a_saved_project_keeps_the_reference() {
    let project = read_checked(Path::new(&example("saltings-cottage.ron"))).unwrap_or_else(|e| panic!("{e}"));
    let text = tiewright::document::file::to_text(&project);
    assert!(text.contains("rules: File(\"rules/thrapple-wend.ron\")"), "{text}");
    let again = tiewright::document::file::parse(&text, "p.ron").unwrap_or_else(|e| panic!("{e}"));
    let RuleChoice::File(file) = &again.elevations[0].rules else { panic!("rules in a file") };
    assert_eq!((file.path.as_str(), &file.found), ("rules/thrapple-wend.ron", &None));
}
