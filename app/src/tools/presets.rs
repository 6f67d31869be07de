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
            opening("Small window, 3 bricks: 685 × 1050", Tool::Rectangle, (685.0, 1050.0, 0.0), 1050.0),
            opening("One light, 4 bricks: 910 × 1200", Tool::Rectangle, (910.0, 1200.0, 0.0), 900.0),
            opening("Two lights, 6 bricks: 1360 × 1200", Tool::Rectangle, (1360.0, 1200.0, 0.0), 900.0),
            opening("Three lights, 8 bricks: 1810 × 1350", Tool::Rectangle, (1810.0, 1350.0, 0.0), 900.0),
            opening("Four lights, 11 bricks: 2485 × 1350", Tool::Rectangle, (2485.0, 1350.0, 0.0), 900.0),
            opening("Landing window: 685 × 1950", Tool::Rectangle, (685.0, 1950.0, 0.0), 2100.0),
        ],
    ),
    (
        "Doors",
        &[
            opening("Door, 4 bricks: 910 × 2100", Tool::Rectangle, (910.0, 2100.0, 0.0), 0.0),
            opening("Door and side light: 1360 × 2100", Tool::Rectangle, (1360.0, 2100.0, 0.0), 0.0),
            opening("Pair of doors: 1585 × 2100", Tool::Rectangle, (1585.0, 2100.0, 0.0), 0.0),
            opening("Sliding doors: 2260 × 2100", Tool::Rectangle, (2260.0, 2100.0, 0.0), 0.0),
            opening("Garage door: 2260 × 2100", Tool::Rectangle, (2260.0, 2100.0, 0.0), 0.0),
            opening("Wide garage door: 4285 × 2100", Tool::Rectangle, (4285.0, 2100.0, 0.0), 0.0),
        ],
    ),
    (
        "Arched and round",
        &[
            opening("Segmental window: 910 × 1350", Tool::Arched, (910.0, 1200.0, 150.0), 900.0),
            opening("Segmental door: 910 × 2175", Tool::Arched, (910.0, 2025.0, 150.0), 0.0),
            opening("Half-round window: 910 × 1505", Tool::Arched, (910.0, 1050.0, 455.0), 900.0),
            opening("Half-round door: 1000 × 2450", Tool::Arched, (1000.0, 1950.0, 500.0), 0.0),
            opening("Pointed window: 685 × 1793", Tool::Pointed, (685.0, 1200.0, 593.0), 900.0),
            opening("Round window: 900 across", Tool::Circle, (900.0, 900.0, 0.0), 3150.0),
        ],
    ),
    (
        "Kept clear of",
        &[
            keep_out("Air brick: 215 × 65", "Air brick", Tool::KeepOut, (215.0, 65.0, 50.0), 155.0),
            keep_out("Tall air brick: 215 × 140", "Air brick", Tool::KeepOut, (215.0, 140.0, 50.0), 155.0),
            keep_out("Meter box: 450 × 600", "Meter box", Tool::KeepOut, (450.0, 600.0, 100.0), 450.0),
            keep_out("Flue: 125 across", "Flue", Tool::RoundKeepOut, (125.0, 125.0, 100.0), 1800.0),
            keep_out("Outside tap: 100 across", "Tap", Tool::RoundKeepOut, (100.0, 100.0, 100.0), 450.0),
        ],
    ),
];

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
    fn every_preset_draws_what_its_label_says() {
        let e = Elevation::new("Front", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
        for preset in PRESETS.iter().flat_map(|(_, list)| *list) {
            let mut entry = Entry::default();
            entry.take(preset);
            let y = entry.get(preset.tool, Field::Y, None);
            let change = entry.change(preset.tool, (4000.0, y), &e);
            let Some(Change::Add(object)) = change else { panic!("{}", preset.label) };
            let (l, b, r, t) = shape_bounds(object.shape().expect("a shape"));
            let size = match preset.label.split_once(": ").map(|(_, s)| s) {
                Some(s) if s.contains('×') => s.replace(" ×", ""),
                Some(s) => format!("{0} {0}", s.trim_end_matches(" across")),
                None => panic!("{} gives no size", preset.label),
            };
            // Arcs are flattened to within 1 mm.
            let got = format!("{:.0} {:.0}", r - l, t - b);
            assert_eq!(got, size, "{}", preset.label);
            assert!((b - preset.foot).abs() < 0.01);
            if let Object::KeepOut(k) = object {
                assert_eq!((k.name.as_str(), k.clearance), (preset.name, preset.extra));
            }
        }
    }
}
