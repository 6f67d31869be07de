//! Common sizes of openings and of what else is found in a wall: whole bricks wide, whole courses high.

use super::Tool;
use super::entry::{Entry, Field};

/// A thing of a common size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Preset {
    /// What it is called.
    pub label: &'static str,
    /// What the drawing calls it, where it is no opening.
    pub name: &'static str,
    /// The tool that draws it.
    pub tool: Tool,
    /// Width, or twice the radius, mm.
    pub width: f64,
    /// Height to the head or the springing, mm.
    pub height: f64,
    /// Rise of the head; for a keep-out its clearance, mm.
    pub extra: f64,
    /// Height of the sill or the foot, mm.
    pub foot: f64,
}

const fn opening(
    label: &'static str,
    tool: Tool,
    (width, height, extra): (f64, f64, f64),
    foot: f64,
) -> Preset {
    Preset { label, name: "", tool, width, height, extra, foot }
}

const fn keep_out(
    label: &'static str,
    name: &'static str,
    tool: Tool,
    size: (f64, f64, f64),
    foot: f64,
) -> Preset {
    Preset { label, name, tool, width: size.0, height: size.1, extra: size.2, foot }
}

/// The list, in groups: windows, doors, arched and round heads, what is kept clear of.
pub const PRESETS: [(&str, &[Preset]); 4] = [
    (
        "Windows",
        &[
            opening("Small window, 3 bricks", Tool::Rectangle, (685.0, 1050.0, 0.0), 1050.0),
            opening("One light, 4 bricks", Tool::Rectangle, (910.0, 1200.0, 0.0), 900.0),
            opening("Two lights, 6 bricks", Tool::Rectangle, (1360.0, 1200.0, 0.0), 900.0),
            opening("Three lights, 8 bricks", Tool::Rectangle, (1810.0, 1350.0, 0.0), 900.0),
            opening("Four lights, 11 bricks", Tool::Rectangle, (2485.0, 1350.0, 0.0), 900.0),
            opening("Landing window", Tool::Rectangle, (685.0, 1950.0, 0.0), 2100.0),
        ],
    ),
    (
        "Doors",
        &[
            opening("Door, 4 bricks", Tool::Rectangle, (910.0, 2100.0, 0.0), 0.0),
            opening("Door and side light", Tool::Rectangle, (1360.0, 2100.0, 0.0), 0.0),
            opening("Pair of doors", Tool::Rectangle, (1585.0, 2100.0, 0.0), 0.0),
            opening("Sliding doors", Tool::Rectangle, (2260.0, 2100.0, 0.0), 0.0),
            opening("Garage door", Tool::Rectangle, (2260.0, 2100.0, 0.0), 0.0),
            opening("Wide garage door", Tool::Rectangle, (4285.0, 2100.0, 0.0), 0.0),
        ],
    ),
    (
        "Arched and round",
        &[
            opening("Segmental window", Tool::Arched, (910.0, 1200.0, 150.0), 900.0),
            opening("Segmental door", Tool::Arched, (910.0, 2025.0, 150.0), 0.0),
            opening("Half-round window", Tool::Arched, (910.0, 1050.0, 455.0), 900.0),
            opening("Half-round door", Tool::Arched, (1000.0, 1950.0, 500.0), 0.0),
            opening("Pointed window", Tool::Pointed, (685.0, 1200.0, 593.0), 900.0),
            opening("Round window", Tool::Circle, (900.0, 900.0, 0.0), 3150.0),
        ],
    ),
    (
        "Kept clear of",
        &[
            keep_out("Air brick", "Air brick", Tool::KeepOut, (215.0, 65.0, 50.0), 155.0),
            keep_out("Tall air brick", "Air brick", Tool::KeepOut, (215.0, 140.0, 50.0), 155.0),
            keep_out("Meter box", "Meter box", Tool::KeepOut, (450.0, 600.0, 100.0), 450.0),
            keep_out("Flue", "Flue", Tool::RoundKeepOut, (125.0, 125.0, 100.0), 1800.0),
            keep_out("Outside tap", "Tap", Tool::RoundKeepOut, (100.0, 100.0, 100.0), 450.0),
        ],
    ),
];

impl Preset {
    /// What it is called, with its size.
    #[must_use]
    pub fn words(&self) -> String {
        let Self { label, tool, width, height, extra, .. } = *self;
        match tool {
            tool if tool.from_centre() => format!("{label}: {width} across"),
            Tool::Arched | Tool::Pointed => format!("{label}: {width} × {}", height + extra),
            _ => format!("{label}: {width} × {height}"),
        }
    }
}

impl Entry {
    /// Takes the sizes of a preset for its tool.
    pub fn take(&mut self, preset: &Preset) {
        let Preset { tool, width, height, extra, foot, name, .. } = *preset;
        self.set(tool, Field::Y, if tool.from_centre() { foot + width / 2.0 } else { foot });
        self.set(tool, Field::Width, width);
        self.set(tool, Field::Height, height);
        self.set(tool, Field::Radius, width / 2.0);
        self.set(tool, if tool.draws_keep_outs() { Field::Clearance } else { Field::Rise }, extra);
        name.clone_into(&mut self.name);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Change, Object};
    use layout_core::elevation::{Elevation, shape_bounds};

    #[test]
    fn every_preset_draws_what_its_words_say() {
        let e = Elevation::new("Front", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
        for preset in PRESETS.iter().flat_map(|(_, list)| *list) {
            let mut entry = Entry::default();
            entry.take(preset);
            let y = entry.get(preset.tool, Field::Y, None);
            let change = entry.change(preset.tool, (4000.0, y), &e);
            let words = preset.words();
            let Some(Change::Add(object)) = change else { panic!("{words}") };
            let (l, b, r, t) = shape_bounds(object.shape().expect("a shape"));
            let size = match words.split_once(": ").map(|(_, s)| s) {
                Some(s) if s.contains('×') => s.replace(" ×", ""),
                Some(s) => format!("{0} {0}", s.trim_end_matches(" across")),
                None => panic!("{words} gives no size"),
            };
            // Arcs are flattened to within 1 mm.
            let got = format!("{:.0} {:.0}", r - l, t - b);
            assert_eq!(got, size, "{words}");
            assert!((b - preset.foot).abs() < 0.01);
            if let Object::KeepOut(k) = object {
                assert_eq!((k.name.as_str(), k.clearance), (preset.name, preset.extra));
            }
        }
    }
}
