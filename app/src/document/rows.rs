//! Openings as rows of a table: read from pasted text, written as text to paste elsewhere.
//!
//! One opening a row: name, from left, sill, width, height, head. Cells are parted by tabs, semicolons or
//! commas; a first row of column names puts the columns in any order.

use layout_core::elevation::{Elevation, Opening, shape_bounds};
use layout_core::units::{Bricks, LARGEST_COORDINATE, feet_and_inches, read_length, tidy_mm};

use super::edit::Change;
use super::heads::Head;
use super::item::{Item, Object};

/// A column of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Name,
    Left,
    Sill,
    Width,
    Height,
    Head,
}

/// The order without a row of column names.
const USUAL: [Column; 6] =
    [Column::Name, Column::Left, Column::Sill, Column::Width, Column::Height, Column::Head];

impl Column {
    fn words(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Left => "from left",
            Self::Sill => "sill",
            Self::Width => "width",
            Self::Height => "height",
            Self::Head => "head",
        }
    }

    fn read(word: &str) -> Option<Self> {
        Some(match word.trim().to_lowercase().trim_end_matches(" (mm)") {
            "name" | "mark" | "opening" | "ref" | "no" | "window" => Self::Name,
            "from left" | "left" | "x" | "along" | "from" => Self::Left,
            "sill" | "cill" | "bottom" | "y" | "foot" => Self::Sill,
            "width" | "w" | "wide" => Self::Width,
            "height" | "h" | "high" => Self::Height,
            "head" | "shape" | "arch" => Self::Head,
            _ => return None,
        })
    }
}

/// One opening as pasted; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its name; empty for one to be given.
    pub name: String,
    /// From the left end of the wall to its left jamb.
    pub left: f64,
    /// Height of its sill.
    pub sill: f64,
    /// Width, more than 0.
    pub width: f64,
    /// Whole height, more than 0.
    pub height: f64,
    /// Its head.
    pub head: Head,
}

/// Whether a text looks like rows of a table rather than words.
#[must_use]
pub fn looks_like_rows(text: &str) -> bool {
    let cells = text.lines().map(|l| cells(l, parting(text)).len());
    text.chars().any(|c| c.is_ascii_digit()) && cells.max().unwrap_or(0) >= 4
}

/// What parts the cells of a text.
fn parting(text: &str) -> char {
    ['\t', ';'].into_iter().find(|c| text.contains(*c)).unwrap_or(',')
}

fn cells(line: &str, parting: char) -> Vec<&str> {
    line.split(parting).map(|c| c.trim().trim_matches('"').trim()).collect()
}

/// Reads rows. Lengths may be written as in any field; a sill in courses counts from the bed joint.
///
/// # Errors
///
/// What is wrong, a line for each row, with its number from 1.
pub fn read(text: &str, elevation: &Elevation) -> Result<Vec<Row>, Vec<String>> {
    let by = parting(text);
    let mut columns: Option<Vec<Option<Column>>> = None;
    let (mut rows, mut wrong) = (Vec::new(), Vec::new());
    for (i, line) in text.lines().enumerate().filter(|(_, l)| !l.trim().is_empty()) {
        let cells = cells(line, by);
        if columns.is_none() {
            let named: Vec<_> = cells.iter().map(|c| Column::read(c)).collect();
            if named.iter().flatten().count() >= 3 {
                columns = Some(named);
                continue;
            }
            // Without names of columns: the name of the opening may be left out.
            let begins_with_length = read_length(cells.first().unwrap_or(&""), Bricks::default()).is_ok();
            let from = usize::from(begins_with_length && cells.len() < USUAL.len());
            columns = Some(USUAL[from..].iter().copied().map(Some).collect());
        }
        match row(&cells, columns.as_deref().unwrap_or_default(), elevation) {
            Ok(row) => rows.push(row),
            Err(what) => wrong.push(format!("row {}: {what}", i + 1)),
        }
    }
    if rows.is_empty() && wrong.is_empty() {
        wrong.push("no rows: one opening a line, as name, from left, sill, width, height".to_owned());
    }
    if wrong.is_empty() { Ok(rows) } else { Err(wrong) }
}

fn row(cells: &[&str], columns: &[Option<Column>], e: &Elevation) -> Result<Row, String> {
    let cell = |column: Column| {
        let i = columns.iter().position(|c| *c == Some(column));
        i.and_then(|i| cells.get(i)).copied().filter(|c| !c.is_empty())
    };
    let bricks = Bricks { gauge: e.coursing.gauge, length: e.coursing.brick };
    let length = |column: Column| {
        let text = cell(column).ok_or_else(|| format!("{} is missing", column.words()))?;
        let read = read_length(text, bricks).map_err(|m| format!("{}: {m}", column.words()))?;
        let from = if column == Column::Sill && read.in_courses { e.coursing.first_bed } else { 0.0 };
        let v = tidy_mm(read.mm + from);
        if v.abs() > LARGEST_COORDINATE {
            return Err(format!("{} is more than 10 km", column.words()));
        }
        let is_size = matches!(column, Column::Width | Column::Height);
        if is_size && v <= 0.0 { Err(format!("{} has to be more than 0", column.words())) } else { Ok(v) }
    };
    let head = match cell(Column::Head) {
        None => Head::Square,
        Some(word) => Head::read(word).ok_or_else(|| {
            let known: Vec<&str> =
                Head::ALL.iter().filter(|h| **h != Head::Free).map(|h| h.words()).collect();
            format!("'{word}' is no head: {}", known.join(", "))
        })?,
    };
    Ok(Row {
        name: cell(Column::Name).unwrap_or_default().to_owned(),
        left: length(Column::Left)?,
        sill: length(Column::Sill)?,
        width: length(Column::Width)?,
        height: length(Column::Height)?,
        head,
    })
}

/// The change that puts rows on an elevation, and how many it adds: a row named as an opening that is
/// there takes its place, every other one is added.
#[must_use]
pub fn change(rows: &[Row], e: &Elevation) -> (Change, usize) {
    let left = left_end(e);
    let mut added = 0;
    let changes = rows
        .iter()
        .map(|r| {
            let x = left + r.left;
            let shape = r.head.filling((x, r.sill, x + r.width, r.sill + r.height));
            let opening = Object::Opening(Opening { name: r.name.clone(), shape });
            match e.openings.iter().position(|o| !r.name.is_empty() && o.name == r.name) {
                Some(i) => Change::Replace(Item::Opening(i), opening),
                None => {
                    added += 1;
                    Change::Add(opening)
                }
            }
        })
        .collect();
    let s = if rows.len() == 1 { "" } else { "s" };
    (Change::Group(format!("Paste {} opening{s}", rows.len()), changes), added)
}

/// The left end of a wall, mm; 0 where nothing is drawn.
#[must_use]
pub fn left_end(e: &Elevation) -> f64 {
    let left = e.outline.iter().map(|p| p.0).filter(|x| x.is_finite()).fold(f64::INFINITY, f64::min);
    if left.is_finite() { left } else { 0.0 }
}

/// Openings as a table to paste elsewhere: column names, then a row each, parted by tabs.
#[must_use]
pub fn write(openings: &[Opening], e: &Elevation, feet: bool) -> String {
    let left = left_end(e);
    let length = |v: f64| if feet { feet_and_inches(v) } else { tidy_mm(v).to_string() };
    let mut out = USUAL.map(Column::words).join("\t");
    for o in openings {
        let (l, b, r, t) = shape_bounds(&o.shape);
        let name = o.name.replace(['\t', '\n', '\r'], " ");
        let cells = [name, length(l - left), length(b), length(r - l), length(t - b)];
        out.push('\n');
        out.push_str(&cells.join("\t"));
        out.push('\t');
        out.push_str(Head::of(&o.shape).words());
    }
    out.push('\n');
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::elevation::Shape;

    fn wall() -> Elevation {
        let mut e =
            Elevation::new("Front", vec![(100.0, 0.0), (9100.0, 0.0), (9100.0, 5250.0), (100.0, 5250.0)]);
        e.coursing.first_bed = 15.0;
        e
    }

    fn w1() -> Row {
        Row { name: "W1".into(), left: 910.0, sill: 900.0, width: 1200.0, height: 1350.0, head: Head::Square }
    }

    #[test]
    fn tabs_commas_and_semicolons() {
        for text in [
            "W1\t910\t900\t1200\t1350",
            "W1, 4b+10, 0.9 m, 1.2m, 18c",
            "\"W1\";910;900;1,2 m;1350;square\n\n",
            "sill,from left,height,width,name\n900,910,1350,1200,W1",
        ] {
            assert_eq!(read(text, &wall()), Ok(vec![w1()]), "{text}");
            assert!(looks_like_rows(text), "{text}");
        }
        let unnamed = read("910,12c,1200,1350", &wall()).expect("four lengths");
        assert_eq!(
            (unnamed[0].name.as_str(), unnamed[0].sill),
            ("", 915.0),
            "12 courses up from the bed at 15"
        );
        assert!(!looks_like_rows("Larkspur Row 3") && !looks_like_rows("1200"));
    }

    #[test]
    fn each_wrong_row_is_told() {
        let text = "W1,910,900,1200\nW2,910,900,0,1350\nW3,910,900,1200,1350,crooked\nW4,1,2,3 yards,4";
        let wrong = read(text, &wall()).expect_err("four wrong rows");
        let expect =
            ["row 1: height is missing", "row 2: width has", "row 3: 'crooked'", "row 4: width: 'yards'"];
        assert_eq!(wrong.len(), 4);
        for (got, begins) in wrong.iter().zip(expect) {
            assert!(got.starts_with(begins), "{got}");
        }
        assert!(read(" \n", &wall()).is_err());
    }

    #[test]
    fn what_is_written_is_read() {
        let mut e = wall();
        let (change, added) = super::change(&[w1()], &e);
        assert_eq!(added, 1);
        let mut project =
            layout_core::elevation::Project { elevations: vec![e.clone()], ..Default::default() };
        super::super::Edit::In(0, change).apply(&mut project).expect("an opening is added");
        e = project.elevations.remove(0);
        // 910 from the left end at 100.
        assert_eq!(e.openings[0].shape, Shape::Rect { x: 1010.0, y: 900.0, w: 1200.0, h: 1350.0 });
        let text = write(&e.openings, &e, false);
        assert_eq!(text, "name\tfrom left\tsill\twidth\theight\thead\nW1\t910\t900\t1200\t1350\tsquare\n");
        assert_eq!(read(&text, &e), Ok(vec![w1()]));
        assert_eq!(super::change(&[w1()], &e).1, 0, "the opening of that name is replaced");
    }
}
