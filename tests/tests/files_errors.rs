//! What is said about a project file that cannot be read: place, field in words, what was expected.

use std::fs;
use std::path::Path;
use tiewright::document::file::{self, LARGEST_FILE};

/// A project with one elevation, into which each case puts its text at line 4, column 5.
const HEAD: &str = "(format: 1, title: \"T\", elevations: [\n  (\n    name: \"Front\", outline: [(0, 0), (9000, 0), (9000, 5000), (0, 5000)],\n    ";
const TAIL: &str = "\n  ),\n])";

fn message(text: &str) -> String {
    file::checked(text, "p.ron").map_or_else(|e| e.to_string(), |_| "no error".to_owned())
}

/// Puts text into the elevation and compares the whole message; the elevation is named once here.
#[track_caller]
fn case(inside: &str, place: &str, expect: &str) {
    let expect = format!("p.ron:{place}: elevation 'Front', {expect}");
    assert_eq!(message(&format!("{HEAD}{inside}{TAIL}")), expect, "{inside}");
}

/// Compares the message for a whole file.
#[track_caller]
fn whole(text: &str, expect: &str) {
    assert_eq!(message(text), format!("p.ron:{expect}"), "{text}");
}

#[test]
fn a_wrong_type_names_the_field_and_what_belongs_there() {
    case(
        "openings: [(name: \"W2\", shape: Rect(x: 1, y: 2, w: \"wide\", h: 4))]",
        "4:56",
        "opening 'W2', w: expected a number, in mm, found text \"wide\"",
    );
    // The name counts even where it comes later, and the number where there is none.
    case(
        "openings: [(shape: Circle(x: 1, y: 2, r: big), name: \"O1\")]",
        "4:46",
        "opening 'O1', r: expected a number, in mm, found the word big",
    );
    case(
        "keep_outs: [(shape: Circle(x: 1, y: 2, r: 3)), (shape: Circle(x: 1, y: true, r: 3))]",
        "4:76",
        "keep-out 2, y: expected a number, in mm, found true",
    );
    case(
        "pinned: [(1, 2), (1,\n \"x\")]",
        "5:2",
        "pinned tie 2, y: expected a number, in mm, found text \"x\"",
    );
    case("automatic: 1", "4:16", "automatic: expected true or false, found 1");
    case("openings: 3", "4:15", "openings: expected a list of openings in [ ], found 3");
    case("openings: [3]", "4:16", "opening 1: expected an opening (name: …, shape: …), found 3");
    case(
        "coursing: [75]",
        "4:15",
        "coursing: expected coursing (gauge: …, first_bed: …, fix: …, brick: …), found a list in [ ]",
    );
    case("coursing: (gauge: 75mm)", "4:23", "coursing, gauge: expected a number, in mm, found 75mm");
    case("coursing: (gauge: )", "4:23", "coursing, gauge: expected a number, in mm, found nothing");
    case(
        "sides: [\"Base\"]",
        "4:13",
        "side 1: expected a side condition: Base, Corner, FreeEnd, Joint, Abutment, Verge or Eaves, found text \"Base\"",
    );
    case(
        "rules: \"x\"",
        "4:12",
        "rules: expected rules: Named(\"…\"), Custom(…) or File(\"…\"), found text \"x\"",
    );
    case("rules: File(3)", "4:17", "rules: expected text in quotes, found 3");
    case("rules: Custom(edges_on_top: 1)", "4:33", "rules, edges_on_top: expected true or false, found 1");
    let edges =
        "rules: Custom(edges: (within: 225, spacing: 300, top: 0, scope: OpeningPerimeter(exempt: 1)))";
    case(edges, "4:59", "rules, edges, top: 0 mm; it must be more than 0");
    case("rules: Named(3)", "4:18", "rules: expected text in quotes, found 3");
    case(
        "openings: [(name: 'W', shape: Circle(x: 1, y: 2, r: 3))]",
        "4:23",
        "opening 1, name: expected text in quotes, found the character 'W'; text stands in double quotes",
    );
    case(
        "openings: [(name: \"P\", shape: Polygon([(0, 0), (1, x), (2, 0)]))]",
        "4:56",
        "opening 'P', point 2, y: expected a number, in mm, found the word x",
    );
    case(
        "openings: [(name: \"P\", shape: Rect(1, 2, 3, 4))]",
        "4:40",
        "opening 'P': expected a field as name: value, found 1",
    );
}

#[test]
fn locked_areas() {
    let area = "locked: [(name: \"Bay\", shape: Rect(x: 1, y: 2, w: 30, h: 40), ties: ";
    let wrong = |ties: &str| format!("{area}{ties})]");
    case(&wrong("5"), "4:73", "locked area 'Bay', ties: expected a list of points [(x, y), …], found 5");
    case(
        &wrong("[(5, x)]"),
        "4:78",
        "locked area 'Bay', tie 1, y: expected a number, in mm, found the word x",
    );
    case(&wrong("[(5)]"), "4:74", "locked area 'Bay', tie 1: expected a point (x, y) of 2 numbers, found 1");
    case(
        "locked: [5]",
        "4:14",
        "locked area 1: expected a locked area (name: …, shape: …, ties: …), found 5",
    );
    case(
        "locked: [()]",
        "4:14",
        "locked area 1, shape: this field is missing; give a shape: Rect(x, y, w, h), Arched(x, y, w, h, rise), Circle(x, y, r) or Polygon([(x, y), …]), numbers by name",
    );
    case(
        "locked: [(shape: Rect(x: 1, y: 2, w: 0, h: 4))]",
        "4:42",
        "locked area 1, w: 0 mm; it must be more than 0",
    );
}

#[test]
fn points_have_two_numbers() {
    case("pinned: [(1, 2, 3)]", "4:14", "pinned tie 1: expected a point (x, y) of 2 numbers, found 3");
    case("pinned: [(1)]", "4:14", "pinned tie 1: expected a point (x, y) of 2 numbers, found 1");
    case("style: 3", "4:12", "style: expected a style: Even or Fewest, found 3");
    case("pinned: [7]", "4:14", "pinned tie 1: expected a point (x, y), found 7");
    case("existing_ties: [(at: 5)]", "4:26", "existing tie 1, at: expected a point (x, y), found 5");
}

#[test]
fn unknown_missing_and_doubled_fields() {
    case(
        "openings: [(name: \"W2\", shape: Rect(x: 1, y: 2, wide: 3, h: 4))]",
        "4:53",
        "opening 'W2', wide: unknown field; expected x, y, w or h",
    );
    case(
        "colour: 3",
        "4:5",
        "colour: unknown field; expected name, outline, sides, openings, keep_outs, movement_joints, \
         existing_ties, pinned, locked, automatic, coursing, rules, style, pattern, exposure, substrate or tests",
    );
    case(
        "openings: [(name: \"W2\", shape: Rect(x: 1, y: 2, h: 4))]",
        "4:36",
        "opening 'W2', w: this field is missing; give a number, in mm",
    );
    case(
        "movement_joints: [(x: 1, from: 0)]",
        "4:23",
        "movement joint 1, to: this field is missing; give a number, in mm",
    );
    case("name: \"Back\"", "4:5", "name: this field is given twice; keep one");
    whole(
        "(format: 1, title: \"T\")",
        "1:1: elevations: this field is missing; give a list of elevations in [ ]",
    );
    whole("(title: \"T\", elevations: [])", "1:1: format: this field is missing; give a whole number: 1");
    whole(
        "(format: 1, title: \"T\", elevations: [(name: \"A\")])",
        "1:38: elevation 'A', outline: this field is missing; give a list of points [(x, y), …]",
    );
}

#[test]
fn unknown_names_list_the_names_there_are() {
    case(
        "sides: [Base, Cornr]",
        "4:19",
        "side 2: unknown name Cornr; expected Base, Corner, FreeEnd, Joint, Abutment, Verge or Eaves",
    );
    case(
        "openings: [(name: \"W\", shape: Oval(x: 1))]",
        "4:35",
        "opening 'W', shape: unknown name Oval; expected Rect, Arched, Circle or Polygon",
    );
    case(
        "coursing: (fix: bedjoint)",
        "4:21",
        "coursing, fix: unknown name bedjoint; expected BedJoint, BrickFace or Anywhere",
    );
    case(
        "existing_ties: [(at: (1, 2), form: Wire)]",
        "4:40",
        "existing tie 1, form: unknown name Wire; expected VerticalTwist, FlatStrip, WireButterfly, \
         WireDoubleTriangle, Other or Unknown",
    );
    case("rules: Custm(horizontal: 1)", "4:12", "rules: unknown name Custm; expected Named, Custom or File");
}

#[test]
fn brackets_quotes_and_commas() {
    case(
        "openings: [(name: \"W\"]",
        "4:26",
        "opening 'W': expected ')' to close the '(' of line 4, column 16, found ']'",
    );
    case(
        "openings: [(name: \"a\\q\", shape: Circle(x: 1, y: 1, r: 1))]",
        "4:23",
        "opening 'a\\q', name: the text has a '\\' that begins nothing known; write a backslash as '\\\\'",
    );
    whole(
        "(format: 1,\n title: \"T\", elevations: [",
        "2:26: elevations: the '[' opened here is never closed",
    );
    whole(
        "(format: 1,\n title: \"T, elevations: [])",
        "2:9: title: the text begun here is never closed; end it with '\"'",
    );
    let all = "(format: 1, title: \"T\", elevations: [])";
    whole(&format!("{all})"), "1:40: ')' closes nothing: no bracket is open here");
    for after in ["x", "\"x\"", "(format: 1)", ", "] {
        let expect = "1:41: the project has ended; nothing may follow its closing bracket";
        whole(&format!("{all} {after}"), expect);
    }
    whole(
        "(format: 1, title: \"T\" elevations: [])",
        "1:24: elevations: expected ',' between this and what stands before it",
    );
    whole("(format: 1, title: \"T\",, elevations: [])", "1:24: expected a field as name: value, found ','");
    whole("(format: 1, /* title", "1:13: the comment begun here with '/*' is never closed");
}

#[test]
fn files_that_are_no_project() {
    whole("", "1:1: the file is empty; expected a project, which begins with '('");
    whole(" \n// only a remark\n", "1:1: the file is empty; expected a project, which begins with '('");
    whole("[]", "1:1: expected a project in ( ), found a list in [ ]");
    whole("{\"format\": 1}", "1:1: expected a project in ( ), found a map in { }");
    whole("hello", "1:1: expected a project in ( ), found the word hello");
    whole(&"(".repeat(5000), "1:65: brackets are nested more than 64 deep; no project needs that");
}

#[test]
fn other_formats_are_refused_even_if_they_read_differently() {
    let newer = "written by a newer version of Tiewright; this one reads format 1";
    let reads = "this version of Tiewright reads format 1";
    whole(
        "(format: 2, title: \"T\", new_thing: 3, elevations: [])",
        &format!("1:10: format: the file is of format 2, {newer}"),
    );
    whole(
        "(format: 0, title: \"T\", elevations: [])",
        &format!("1:10: format: there is no format 0; {reads}"),
    );
    whole(
        "(format: -1, title: \"T\", elevations: [])",
        &format!("1:10: format: there is no format -1; {reads}"),
    );
    whole(
        "(format: 1.0, title: \"T\", elevations: [])",
        "1:10: format: expected a whole number: 1, found 1.0",
    );
}

#[test]
fn numbers_that_are_not_finite() {
    for word in ["NaN", "inf", "-inf", "1e999"] {
        case(
            &format!("openings: [(name: \"W2\", shape: Rect(x: 1, y: 2, w: {word}, h: 4))]"),
            "4:56",
            &format!("opening 'W2', w: expected a number, in mm, found {word}, which is not finite"),
        );
    }
}

#[test]
fn every_drawing_fault_is_listed_with_its_place() {
    case(
        "openings: [(name: \"W1\", shape: Rect(x: 1, y: 2, w: 0, h: -4))], coursing: (gauge: 5),\n rules: Named(\"moon\")",
        "4:56",
        "opening 'W1', w: 0 mm; it must be more than 0\n\
         p.ron:4:62: elevation 'Front', opening 'W1', h: -4 mm; it must be more than 0\n\
         p.ron:4:87: elevation 'Front', coursing, gauge: 5 mm; a course with its joint is 20 to 2000 mm\n\
         p.ron:5:9: elevation 'Front', rules: no rule set is called 'moon'; there are uk-approved-document-a, \
         uk-thin-leaf, uk-older-wide-cavity, uk-timber-frame, uk-timber-frame-exposed, ec6-uk-annex, \
         ec6-recommended, de-din-en-1996, de-din-en-1996-5, de-din-en-1996-8, de-din-en-1996-9, us-irc-2018, \
         us-tms402-2016, au-as3700",
    );
    case(
        "pinned: [(1, 2), (1, 2e9)]",
        "4:26",
        "pinned tie 2, y: 2000000000 mm, more than 10 km; give it in mm",
    );
    case(
        "rules: Custom(edges: (within: 0, spacing: 300))",
        "4:35",
        "rules, edges, within: 0 mm; it must be more than 0",
    );
    whole(
        "(format: 1, title: \"T\", elevations: [\n (name: \"Bow\", outline: [(0, 0), (10, 10), (10, 0), (0, 10)])])",
        "2:25: elevation 'Bow', outline: the outline crosses or touches itself: the side from (0, 0) meets the \
         side from (10, 0); give the corners in order round it",
    );
    whole(
        "(format: 1, title: \"T\", elevations: [\n (name: \"Flat\", outline: [(0, 0), (1, 0), (0, 1)])])",
        "2:26: elevation 'Flat', outline: the outline encloses no area; check its corners",
    );
}

#[test]
fn an_opening_outside_the_outline_is_no_error() {
    assert_eq!(
        message(&format!("{HEAD}openings: [(shape: Circle(x: -9000, y: 0, r: 5))]{TAIL}")),
        "no error"
    );
}

#[test]
fn what_may_be_left_out_may_also_be_written() {
    let forms = [
        "rules: Custom(name: \"S\", edges: (within: 200, spacing: 250))",
        "rules: Custom(name: \"S\", edges: Some(within: 200, spacing: 250))",
        "rules: Custom((name: \"S\", edges: Some((within: 200, spacing: 250))))",
        "rules: Custom((name: \"S\", edges: (within: 200, spacing: 250)))",
    ];
    let read = forms.map(|f| file::checked(&format!("{HEAD}{f}{TAIL}"), "p.ron"));
    assert!(read[0].is_ok(), "{:?}", read[0]);
    for other in &read[1..] {
        assert_eq!(other, &read[0]);
    }
}

#[test]
fn byte_order_mark_line_ends_and_attributes_do_not_matter() {
    let plain = format!("{HEAD}coursing: (gauge: 80){TAIL}");
    let project = file::parse(&plain, "p.ron");
    assert!(project.is_ok());
    for other in [
        format!("\u{feff}{plain}"),
        plain.replace('\n', "\r\n"),
        format!("#![enable(implicit_some)]\n{plain}"),
        format!("{plain}\n// the end"),
    ] {
        assert_eq!(file::parse(&other, "p.ron"), project);
    }
    // Places are those an editor shows: the mark takes no column.
    let marked = "\u{feff}(format: 1, title: 3, elevations: [])";
    whole(marked, "1:20: title: expected text in quotes, found 3");
}

#[test]
fn files_on_the_disk() -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    let at = |name: &str| folder.path().join(name);
    let error = |path: &Path| file::read(path).map_or_else(|e| e.to_string(), |_| "no error".to_owned());
    assert!(error(folder.path()).ends_with(": this is a folder; name a project file (.ron)"));
    assert!(error(&at("none.ron")).ends_with("none.ron: there is no such file"));
    fs::write(at("latin.ron"), b"(format: 1,\n title: \"Caf\xe9\", elevations: [])")?;
    let latin = error(&at("latin.ron"));
    assert!(
        latin.ends_with("latin.ron:2:13: the byte 0xe9 is not UTF-8 text; save the file as UTF-8"),
        "{latin}"
    );
    fs::write(at("huge.ron"), vec![b' '; LARGEST_FILE + 1])?;
    let huge = error(&at("huge.ron"));
    assert!(huge.ends_with("huge.ron: the file is too large; no project is over 16 MB"), "{huge}");
    Ok(())
}
