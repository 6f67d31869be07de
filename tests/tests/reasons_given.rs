//! Where a rule cannot be met, the finding says which, where, by how much, and what would mend it.

use layout_core::check::Rule;
use layout_core::elevation::{ExistingTie, KeepOut, MovementJoint, RuleChoice, TieForm};
use tiewright_tests::expect::{best, rect, rectangle, says, sound, with};

#[test]
fn pinned_ties_anywhere() {
    let mut e = with(rectangle(4500.0, 2700.0), [rect(1500.0, 900.0, 900.0, 900.0)]);
    e.keep_outs.push(KeepOut {
        name: "Meter".into(),
        shape: rect(3600.0, 450.0, 300.0, 300.0),
        clearance: 50.0,
    });
    e.existing_ties.push(ExistingTie {
        at: (600.0, 600.0),
        form: TieForm::Unknown,
        ..ExistingTie::default()
    });
    // Outside, in the opening, on a side, in the keep-out, on an old tie, off the course, twice in one place.
    e.pinned = vec![
        (-500.0, 225.0),
        (9e6, 9e6),
        (1800.0, 1200.0),
        (0.0, 225.0),
        (3700.0, 525.0),
        (600.0, 600.0),
        (300.0, 1234.5),
        (3000.0, 2250.0),
        (3000.0, 2250.0),
    ];
    let plan = best(&e);
    for (rule, words) in [
        (
            Rule::EdgeDistance,
            "tie at (-500, 225) stands off the masonry and holds nothing: move it onto the wall",
        ),
        (Rule::EdgeDistance, "tie at (1800, 1200) stands off the masonry"),
        (
            Rule::EdgeDistance,
            "tie at (0, 225) is 0 mm from the nearest side of the wall; at least 75 is asked for: move it 75 mm",
        ),
        (
            Rule::KeepOut,
            "tie at (3700, 525) stands in the keep-out 'Meter'; it has to be clear of it by 50 mm: move it 125 mm",
        ),
        (
            Rule::ExistingTies,
            "tie at (600, 600) is 0 mm from the old tie at (600, 600); at least 100 is asked for: move it 100 mm",
        ),
        (
            Rule::Coursing,
            "tie at (300, 1234.5) is 34.5 mm off its bed joint; the nearest, number 16, is at 1200 mm",
        ),
        (
            Rule::SpacingBetween,
            "tie at (3000, 2250) is 0 mm from the tie at (3000, 2250); at least 100 is asked for: move one",
        ),
    ] {
        says(&plan, rule, &[words]);
    }
}

#[test]
fn a_keep_out_over_everything_leaves_the_pinned_ties() {
    let mut e = rectangle(3000.0, 1800.0);
    e.keep_outs.push(KeepOut {
        name: "Render".into(),
        shape: rect(-100.0, -100.0, 3200.0, 2000.0),
        clearance: 0.0,
    });
    e.pinned = vec![(1500.0, 900.0)];
    let plan = best(&e);
    assert_eq!(plan.ties.len(), 1);
    says(
        &plan,
        Rule::Coverage,
        &[
            "m² of masonry",
            "the keep-out 'Render' leaves no place",
            "mm too near",
            "make it that much smaller",
        ],
    );
}

#[test]
fn what_cannot_be_done_is_said_with_rule_place_amount_and_mend() {
    // A pier 130 wide between two doors.
    let doors = [rect(900.0, 0.0, 900.0, 2100.0), rect(1930.0, 0.0, 900.0, 2100.0)];
    let plan = best(&with(rectangle(3730.0, 2700.0), doors));
    let pier = "pier 130 mm wide: a tie needs 150 (75 from either side); reduce the edge distance to 65, or restrain the pier otherwise";
    says(&plan, Rule::EdgeTies, &["the jamb at x 1800", "225 mm", "300 mm", pier]);
    says(&plan, Rule::EdgeTies, &["the jamb at x 1930", pier]);
    says(&plan, Rule::Coverage, &["between x 1800 and 1930", pier]);
    // A spandrel 120 high over a window that goes from side to side.
    let strip = best(&with(rectangle(1800.0, 1620.0), [rect(0.0, 900.0, 1800.0, 600.0)]));
    says(
        &strip,
        Rule::Coverage,
        &["y 1500 and 1620", "strip of wall 120 mm high: a tie needs 150", "reduce the edge distance to 60"],
    );
    // Courses a metre apart.
    let mut coarse = rectangle(1800.0, 2700.0);
    coarse.coursing.gauge = 1000.0;
    says(
        &best(&coarse),
        Rule::Coverage,
        &["no bed joint lies within 225 mm", "is", "away; reduce the gauge"],
    );
    // Old ties all over a short wall.
    let mut old = rectangle(900.0, 450.0);
    for x in 1..9 {
        for y in 1..5 {
            old.existing_ties.push(ExistingTie {
                at: (f64::from(x) * 100.0, f64::from(y) * 90.0),
                form: TieForm::Unknown,
                ..ExistingTie::default()
            });
        }
    }
    says(
        &best(&old),
        Rule::Coverage,
        &["old ties leave no place for a tie", "and 100 is asked for", "take it out"],
    );
    // More ties a m² than fit with that much between them.
    let mut dense = rectangle(1800.0, 900.0);
    dense.rules = RuleChoice::Custom(layout_core::elevation::CustomRules {
        per_m2: 40.0,
        between: 300.0,
        edges: None,
        ..Default::default()
    });
    // 40 x 1.62 = 64.8.
    says(
        &sound(&dense),
        Rule::Density,
        &["makes 65: no place was found for", "reduce the edge distance or the distance between ties"],
    );
}

#[test]
fn what_is_left_between_two_joints_is_no_pier() {
    // 2 mm between two joints: none of the four faces is at fault but the two that look at it.
    let mut e = rectangle(3000.0, 1800.0);
    e.movement_joints = [1500.0, 1502.0].map(|x| MovementJoint { x, from: 0.0, to: 1800.0 }).to_vec();
    let plan = sound(&e);
    let words = "pier 2 mm wide: no tie can stand in it; draw it as part of what is beside it, or restrain it otherwise";
    says(&plan, Rule::EdgeTies, &["the movement joint at x 1500", words]);
    says(&plan, Rule::EdgeTies, &["the movement joint at x 1502", words]);
    assert_eq!(plan.findings.len(), 2);
}
