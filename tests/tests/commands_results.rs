//! What the commands give: JSON, summaries, quantities, breaches, statuses.

use layout_core::Role;
use layout_core::check::Rule;
use serde_json::Value;
use std::fs;
use tiewright::document::file::read_checked;
use tiewright::report::Report;
use tiewright_tests::console::{example, examples, tiewright};

/// Keys of a JSON object in the order of the text.
fn keys(text: &str, indent: usize) -> Vec<String> {
    let start = format!("{}\"", " ".repeat(indent));
    let mut keys: Vec<String> = Vec::new();
    for line in text.lines().filter_map(|l| l.strip_prefix(&start)) {
        let key = line.split('"').next().unwrap_or("").to_owned();
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys
}

#[test]
fn the_examples_are_set_out_without_breach_but_for_the_one_by_hand() {
    let paths = examples().expect("the examples are listed");
    assert!(paths.len() >= 5);
    for path in paths {
        let project = read_checked(&path).unwrap_or_else(|e| panic!("{e}"));
        let by_hand = project.elevations.iter().any(|e| !e.automatic);
        let report = Report::of(project).unwrap_or_else(|e| panic!("{}: {e:?}", path.display()));
        assert_eq!(report.has_breach(), by_hand, "{}", path.display());
        assert!(report.plans.iter().all(|p| !p.ties.is_empty()), "{}", path.display());
        for (elevation, plan) in report.elevations().filter(|(e, _)| !e.automatic) {
            assert_eq!(plan.ties.len(), elevation.pinned.len(), "only the pinned ties stand");
        }
    }
}

#[test]
fn json_has_the_documented_keys_in_order_and_says_what_the_plan_says() {
    for path in examples().expect("the examples are listed") {
        let file = path.display().to_string();
        let ran = tiewright(&["set-out", &file, "--json", "-"]);
        assert_eq!(ran.err, "");
        assert_eq!(keys(&ran.out, 2), ["format", "title", "elevations"]);
        let mut told = keys(&ran.out, 6);
        // What was worked out beyond the places of ties comes last, and only where there is something.
        let more = told.split_off(told.len().min(11));
        let known = ["wind", "fixing", "lengths", "resin_ml", "tests", "old_ties"];
        assert!(more.iter().all(|k| known.contains(&k.as_str())), "{more:?}");
        assert_eq!(
            told,
            [
                "name",
                "rules",
                "gross_area_m2",
                "net_area_m2",
                "opening_area_m2",
                "tie_count",
                "density_per_m2",
                "lower_bound",
                "marking",
                "ties",
                "findings"
            ]
        );
        let json: Value = serde_json::from_str(&ran.out).expect("valid JSON");
        let report = Report::of(read_checked(&path).expect("an example")).expect("an example");
        assert_eq!(ran.status, u8::from(report.has_breach()));
        assert_eq!(json["format"], 1);
        assert_eq!(json["title"], report.project.title.as_str());
        for (i, (elevation, plan)) in report.elevations().enumerate() {
            let shown = &json["elevations"][i];
            assert_eq!(shown["name"], elevation.name.as_str());
            assert_eq!(shown["tie_count"], plan.ties.len());
            let ties = shown["ties"].as_array().expect("ties");
            assert_eq!(ties.len(), plan.ties.len());
            for (tie, of) in ties.iter().zip(&plan.ties) {
                assert_eq!(tie["mark"], of.mark.as_str());
                assert_eq!(tie["role"], of.role.id());
                assert_eq!(tie["pinned"], of.pinned);
                assert_eq!(tie["locked"], of.locked);
                // Rounded to 0.001 mm, so at most half of that off.
                assert!((tie["x"].as_f64().unwrap_or(f64::NAN) - of.at.0).abs() <= 0.000_501);
                assert!((tie["y"].as_f64().unwrap_or(f64::NAN) - of.at.1).abs() <= 0.000_501);
            }
            assert_eq!(shown["marking"]["rows"], plan.row_heights().len());
            assert_eq!(shown["marking"]["repeated_openings"], plan.marking.repeated_openings);
            let on_grid = shown["marking"]["on_grid"].as_f64().unwrap_or(f64::NAN);
            // To four places.
            assert!((on_grid - plan.marking.grid_share()).abs() < 1e-4, "{on_grid}");
            let findings = shown["findings"].as_array().expect("findings");
            assert_eq!(findings.len(), plan.findings.len());
            for (finding, of) in findings.iter().zip(&plan.findings) {
                let members: Vec<&str> =
                    finding.as_object().expect("a finding").keys().map(String::as_str).collect();
                assert_eq!(members.len(), 5);
                assert_eq!(finding["rule"], of.rule.id());
                assert_eq!(finding["severity"], of.severity.id());
                assert_eq!(finding["message"], of.message.as_str());
            }
            let area = |key: &str| shown[key].as_f64().unwrap_or(f64::NAN);
            let left = area("gross_area_m2") - area("opening_area_m2") - area("net_area_m2");
            // Three figures, each rounded to 1e-6.
            assert!(left.abs() < 3e-6, "{left}");
        }
        // One tie a line, members in the documented order.
        let line = ran.out.lines().find(|l| l.contains("\"mark\"")).expect("a tie");
        let order: Vec<_> =
            ["mark", "x", "y", "role", "pinned", "locked"].iter().filter_map(|k| line.find(k)).collect();
        assert!(order.len() == 6 && order.is_sorted(), "{line}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    for path in examples().expect("the examples are listed") {
        let file = path.display().to_string();
        for command in
            [&["set-out", &file, "--json", "-"][..], &["take-off", &file, "--csv", "-"], &["verify", &file]]
        {
            assert_eq!(tiewright(command).out, tiewright(command).out);
        }
    }
}

#[test]
fn results_go_to_a_file_with_a_line_that_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let to = folder.path().join("out.json").display().to_string();
    let file = example("garden-wall-by-hand.ron");
    let ran = tiewright(&["set-out", &file, "--json", &to]);
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
    assert_eq!(ran.out, format!("Wrote {to}: 1 elevation, 25 ties, 2 breaches.\n"));
    let written = fs::read_to_string(&to).expect("the result");
    assert_eq!(written, tiewright(&["set-out", &file, "--json", "-"]).out);
}

#[test]
fn drawing_writes_a_pdf_and_the_same_bytes_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let to = folder.path().join("out.pdf").display().to_string();
    let file = example("garden-wall-by-hand.ron");
    let ran = tiewright(&["drawing", &file, "--out", &to, "--sheet", "a2", "--scale", "1:20"]);
    // The drawing is made all the same; the breaches are on it and in the status.
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
    assert_eq!(ran.out, format!("Wrote {to}: 1 elevation, 25 ties, 2 breaches.\n"));
    let first = fs::read(&to).expect("the drawing");
    assert!(first.starts_with(b"%PDF-"));
    assert_eq!(tiewright(&["drawing", &file, "--out", &to, "--sheet", "A2", "--scale", "20"]).status, 1);
    assert!(fs::read(&to).expect("the drawing") == first, "drawn again, it has other bytes");
    // 18 m of wall at 1:10 are 1.8 m of paper.
    let ran = tiewright(&["drawing", &example("ravenhill-flats.ron"), "--out", &to, "--scale", "10"]);
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("does not fit"), "{}", ran.err);
    assert!(fs::read(&to).expect("the drawing") == first, "what was there stays");
}

#[test]
fn bad_input_leaves_an_existing_result_as_it_was() {
    let folder = tempfile::tempdir().expect("a folder");
    let bad = folder.path().join("bad.ron");
    fs::write(&bad, "(format: 1, title: 3, elevations: [])").expect("written");
    let bad = bad.display().to_string();
    let to = folder.path().join("out").display().to_string();
    fs::write(&to, "kept").expect("written");
    for command in [
        &["set-out", &bad, "--json", &to][..],
        &["take-off", &bad, "--csv", &to],
        &["drawing", &bad, "--out", &to],
    ] {
        let ran = tiewright(command);
        assert_eq!((ran.status, ran.out.as_str()), (2, ""), "{command:?}");
        assert_eq!(ran.err, format!("{bad}:1:20: title: expected text in quotes, found 3\n"));
        assert_eq!(fs::read_to_string(&to).expect("still there"), "kept");
    }
    // The project itself is never overwritten.
    for command in [&["set-out", &bad, "--json", &bad][..], &["drawing", &bad, "--out", &bad]] {
        let ran = tiewright(command);
        assert_eq!(ran.status, 2);
        assert!(ran.err.contains("this is the project itself"), "{}", ran.err);
    }
    let nowhere = folder.path().join("no/such/out.json").display().to_string();
    let ran = tiewright(&["set-out", &example("larkspur-semi.ron"), "--json", &nowhere]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("the folder to write to does not exist"), "{}", ran.err);
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 2, "nothing is left behind");
}

#[test]
fn an_outline_that_crosses_itself_is_bad_input_and_an_opening_outside_a_note() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("p.ron");
    let name = path.display().to_string();
    let put = |elevation: &str| {
        fs::write(&path, format!("(format: 1, title: \"T\", elevations: [\n({elevation})])"))
            .expect("written");
    };
    put("name: \"A\", outline: [(0, 0), (900, 900), (900, 0), (0, 900)]");
    for command in ["set-out", "verify", "take-off"] {
        let ran = tiewright(&[command, &name]);
        assert_eq!((ran.status, ran.out.as_str()), (2, ""));
        assert!(
            ran.err.starts_with(&format!("{name}:2:22: elevation 'A', outline: the outline crosses")),
            "{}",
            ran.err
        );
    }
    put(
        "name: \"A\", outline: [(0, 0), (1800, 0), (1800, 900), (0, 900)], openings: [(shape: Circle(x: -999, y: 0, r: 9))]",
    );
    let ran = tiewright(&["set-out", &name]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert_eq!(ran.out.matches("note: ").count(), 1, "{}", ran.out);
}

#[test]
fn the_summary_tells_counts_areas_rows_and_findings() {
    let ran = tiewright(&["set-out", &example("garden-wall-by-hand.ron")]);
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
    // 4.5 x 1.8 m; 25 ties are placed, at the heights in the file, and 25 / 8.1 is 3.086.
    for part in [
        "Lane side\n",
        "8.10 m² of masonry (8.10 less openings of 0.00)",
        "25 (",
        "25 of them pinned",
        "3.09 per m²",
        "10 at 150, 225, 450, 675, 750, 1050, 1125, 1350, 1575, 1650 mm",
        "2 breaches",
        "breach: coverage at (1800, 750)",
        "breach: edge distance at (4450, 1350)",
        "hidden services",
        "asbestos",
    ] {
        assert!(ran.out.contains(part), "no '{part}' in\n{}", ran.out);
    }
}

#[test]
fn verify_lists_each_breach_with_figures_and_source() {
    let ran = tiewright(&["verify", &example("garden-wall-by-hand.ron")]);
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
    for part in [
        "measured 50 mm, required 75 mm",
        "source: common practice, no source",
        // The tie left out served 900 x 450 mm.
        "measured 0.41 m², required 0 m²",
        "source: Approved Document A (England) 2013",
        "2 breaches.",
    ] {
        assert!(ran.out.contains(part), "no '{part}' in\n{}", ran.out);
    }
    let ran = tiewright(&["verify", &example("larkspur-semi.ron")]);
    assert_eq!(ran.status, 0);
    assert!(ran.out.ends_with("\nNo breach.\n"), "{}", ran.out);
}

#[test]
fn take_off_adds_up() {
    for path in examples().expect("the examples are listed") {
        let file = path.display().to_string();
        let csv = tiewright(&["take-off", &file, "--csv", "-"]).out;
        let rows: Vec<Vec<&str>> = csv.lines().map(|l| l.split(',').collect()).collect();
        let head = &rows[0];
        let report = Report::of(read_checked(&path).expect("an example")).expect("an example");
        assert_eq!(rows.len(), report.plans.len() + 2);
        // Figures are counted from the right: a name may hold a comma.
        let figure = |row: &[&str], key: &str| -> f64 {
            let i = head.iter().rev().position(|h| *h == key).expect("a column");
            row[row.len() - 1 - i].parse().expect("a figure")
        };
        for (row, plan) in rows[1..].iter().zip(&report.plans) {
            let by_role: f64 = Role::ALL.iter().map(|r| figure(row, &format!("{}_ties", r.id()))).sum();
            assert!((by_role - figure(row, "ties")).abs() < 0.5);
            assert!((figure(row, "ties") - plan.ties.len() as f64).abs() < 0.5);
        }
        let last = rows.last().expect("totals");
        for key in ["ties", "verge_ties", "field_ties", "old_ties", "breaches"] {
            let sum: f64 = rows[1..rows.len() - 1].iter().map(|r| figure(r, key)).sum();
            assert!((sum - figure(last, key)).abs() < 0.5, "{key}");
        }
        let text = tiewright(&["take-off", &file]).out;
        assert!(text.contains("All elevations"), "{text}");
    }
    // 5 % of 25 is 1.25: two spare ties.
    let spare = tiewright(&["take-off", &example("garden-wall-by-hand.ron"), "--spare", "5%"]).out;
    assert!(spare.contains("27 with 5% spare"), "{spare}");
}

#[test]
fn rules_shows_every_value_with_its_source() {
    let all = tiewright(&["rules"]);
    assert_eq!((all.status, all.err.as_str()), (0, ""));
    for set in layout_core::rules::sets::all() {
        assert!(
            all.out.contains(&format!("{}\n", set.id)) || all.out.contains(&format!("{}  (default)", set.id))
        );
        let one = tiewright(&["rules", &set.id]);
        assert_eq!(one.status, 0);
        assert!(all.out.contains(&one.out));
        let mut sources = vec![&set.horizontal.source, &set.vertical.source, &set.density.source];
        sources.extend(set.edges.iter().flat_map(|e| [&e.within.source, &e.spacing.source]));
        sources.extend(set.edges.iter().filter_map(|e| e.top.as_ref()).map(|t| &t.source));
        sources.extend([&set.edge_distance.source, &set.between.source, &set.existing_clearance.source]);
        let lines: Vec<&str> =
            one.out.lines().filter(|l| l.starts_with("    ") && !l.starts_with("     ")).collect();
        for (line, source) in lines.iter().zip(&sources) {
            assert!(line.ends_with(&source.to_string()), "{line}");
        }
        assert!(lines.len() >= sources.len());
        for remark in &set.remarks {
            let words = |s: &str| s.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(words(&one.out).contains(&words(remark)), "{remark}");
        }
    }
    let unknown = tiewright(&["rules", "moon"]);
    assert_eq!((unknown.status, unknown.out.as_str()), (2, ""));
    assert!(unknown.err.contains("no rule set is called 'moon'; there are uk-approved-document-a"));
}

#[test]
fn every_rule_has_an_id_that_results_use() {
    let ids: Vec<&str> = Rule::ALL.iter().map(|r| r.id()).collect();
    assert_eq!(
        ids,
        [
            "coverage",
            "density",
            "edge_ties",
            "edge_distance",
            "keep_out",
            "spacing_between",
            "existing_ties",
            "coursing",
            "wind",
            "fixing",
            "tie_length",
            "site_tests"
        ]
    );
}

#[test]
fn drawing_says_which_characters_its_lettering_has_not() {
    let folder = tempfile::tempdir().expect("a folder");
    let to = folder.path().join("out.svg").display().to_string();
    let project = fs::read_to_string(example("garden-wall-by-hand.ron")).expect("the example");
    let file = folder.path().join("named.ron");
    fs::write(&file, project.replacen("title: \"", "title: \"Mauer 壁, Größe ≥ 1 m², ", 1)).expect("written");
    let ran = tiewright(&["drawing", &file.display().to_string(), "--out", &to]);
    // The other signs of the title are in the typeface.
    assert_eq!(ran.err, "Drawn as a question mark, having no letter in the typeface: 壁 (U+58C1)\n");
    assert_eq!(ran.status, 1);
}
