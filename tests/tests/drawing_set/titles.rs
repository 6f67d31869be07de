//! Title blocks and headings: which of several sheets, of what, and whether it may be drilled.

use crate::cases::{self, Case};
use crate::sheets::{inspect, of_kind, sheets, texts};
use tiewright::sheet::{PaperSize, Sheet, SheetKind};

fn said(sheet: &Sheet) -> String {
    texts(sheet).iter().map(|(t, _)| t.text.as_str()).collect::<Vec<_>>().join(" ")
}

#[test]
fn sheets_that_go_on_say_which_of_how_many_they_are() {
    let (_, case) = cases::strained().into_iter().find(|(n, _)| *n == "long").expect("the case is there");
    let all = sheets(&case, Some(PaperSize::A3), Some(50));
    for kind in [SheetKind::Record, SheetKind::Schedule] {
        let pages = of_kind(&all, kind);
        assert!(pages.len() > 1, "{kind:?}");
        for (i, page) in pages.iter().enumerate() {
            let which = format!("{} of {}", i + 1, pages.len());
            assert!(page.title.ends_with(&format!(", {which}")), "{}", page.title);
            // In the heading alone, and in the title block after the title.
            let found = texts(page).iter().filter(|(t, _)| t.text == which && t.height == 5.0).count();
            assert_eq!((found, said(page).contains(&format!(", {which}"))), (1, true), "{}", said(page));
        }
    }
    // One sheet alone says nothing of the kind; the list on the cover has each title once.
    assert!(of_kind(&all, SheetKind::Cover).iter().all(|s| s.title == "Cover"));
    assert!(!said(&all[0]).contains("record, 1 of"));
}

#[test]
fn a_long_name_is_cut_short_and_not_the_kind_of_sheet() {
    let (_, case) =
        cases::strained().into_iter().find(|(n, _)| *n == "long_names").expect("the case is there");
    let all = sheets(&case, None, None);
    for (kind, end) in
        [(SheetKind::Schedule, "setting-out schedule"), (SheetKind::Record, "as-installed record")]
    {
        for page in of_kind(&all, kind) {
            // In the title block, which is bold and 2.5 or 3.5 high, over one line or two.
            let block: Vec<String> = texts(page)
                .iter()
                .filter(|(t, l)| *l == tiewright::sheet::Layer::Frame && t.height <= 3.5)
                .map(|(t, _)| t.text.clone())
                .collect();
            let block = block.join(" ");
            assert!(block.contains(end) && block.contains('…'), "{kind:?}: {block}");
        }
    }
}

#[test]
fn breaches_are_told_on_every_sheet_of_their_elevation() {
    let mut clean = cases::gable();
    clean.name = "Clean".into();
    let mut case = Case::of(vec![cases::gable(), clean]);
    // Of four findings the third is a note.
    case.plans[0].findings = (0..4).map(|n| cases::finding(n, (700.0 + 900.0 * n as f64, 3000.0))).collect();
    for paper in [None, Some(PaperSize::A4)] {
        let all = sheets(&case, paper, None);
        let mut seen = 0;
        for sheet in all.iter().filter(|s| !matches!(s.kind, SheetKind::Cover | SheetKind::Tests)) {
            inspect("breaches", sheet);
            let told = said(sheet).contains("3 BREACHES – not to be drilled until cleared");
            assert_eq!(told, !sheet.title.contains("Clean"), "{}: {}", sheet.title, said(sheet));
            seen += usize::from(told);
        }
        // Its drawing, its schedule and its record at least.
        assert!(seen >= 3, "{seen}");
    }
}
