//! Lengths typed while something is being drawn: the width and height of a box, the way to the next corner.

use egui::{Event, Key, Modifiers};
use layout_core::elevation::Point;

use super::Tool;
use super::draw::{Draft, add_point, finish_box};
use crate::session::Context;
use crate::widgets::number::{Habits, Must, checked};

/// What is typed so far: one length, or two parted by a Tab.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Typed {
    /// The first length.
    pub first: String,
    /// The second, once Tab was pressed.
    pub second: Option<String>,
    /// Why it was refused.
    pub error: Option<String>,
}

impl Typed {
    fn last(&mut self) -> &mut String {
        self.second.as_mut().unwrap_or(&mut self.first)
    }

    /// What the slip beside the pointer says.
    #[must_use]
    pub fn words(&self, tool: Tool) -> String {
        if tool.by_corners() {
            return format!("Next corner after {}▏ Enter", self.first);
        }
        if tool.from_centre() {
            return format!("Radius {}▏ Enter", self.first);
        }
        match &self.second {
            None => format!("Width {}▏ Tab for the height", self.first),
            Some(second) => format!("Width {}, height {second}▏ Enter", self.first),
        }
    }
}

/// Takes what is typed while something is being drawn; whether it took the keyboard.
pub(super) fn keys(cx: &mut Context<'_>, ctx: &egui::Context) -> bool {
    if cx.session.draft.is_none() {
        cx.session.typed = None;
        return false;
    }
    let begun = cx.session.typed.is_some();
    let (mut enter, mut tab, mut leave, mut back) = (false, false, false, false);
    let mut typed = cx.session.typed.take().unwrap_or_default();
    let mut taken = begun;
    ctx.input_mut(|i| {
        i.events.retain(|event| match event {
            Event::Text(text) if taken || text.starts_with(|c: char| c.is_ascii_digit()) => {
                taken = true;
                typed.error = None;
                typed.last().push_str(text);
                false
            }
            Event::Key { key, pressed: true, modifiers, .. } if taken && !modifiers.command => {
                match key {
                    Key::Enter => enter = true,
                    Key::Tab => tab = true,
                    Key::Escape => leave = true,
                    Key::Backspace => back = true,
                    _ => {}
                }
                false
            }
            _ => true,
        });
        if taken {
            // The egui focus must not move on with the Tab.
            i.consume_key(Modifiers::NONE, Key::Tab);
        }
    });
    if back && typed.last().pop().is_none() {
        typed.second = None;
    }
    if leave || !taken || (typed.first.is_empty() && typed.second.is_none() && !enter) {
        return begun || leave;
    }
    if tab && typed.second.is_none() {
        typed.second = Some(String::new());
    }
    if enter {
        match commit(cx, &typed, Habits::in_force(ctx)) {
            Ok(()) => return true,
            Err(message) => typed.error = Some(message),
        }
    }
    cx.session.typed = Some(typed);
    true
}

fn commit(cx: &mut Context<'_>, typed: &Typed, habits: Habits) -> Result<(), String> {
    let tool = cx.session.tool;
    let first = checked(&typed.first, Must::BeSize, habits)?;
    match cx.session.draft.clone() {
        Some(Draft::Corners(points)) => {
            let Some(last) = points.last().copied() else { return Ok(()) };
            let aim = cx.session.aim.ok_or("point where the next corner lies")?;
            let to = onwards(last, aim, first).ok_or("point where the next corner lies")?;
            add_point(cx, points, to);
        }
        Some(Draft::Box(from, to)) => {
            let second = match typed.second.as_deref().filter(|t| !t.trim().is_empty()) {
                Some(text) => checked(text, Must::BeSize, habits)?,
                // The height as it was dragged.
                None => (to.1 - from.1).abs(),
            };
            let towards = |v: f64, size: f64| if v < 0.0 { -size } else { size };
            let to = if tool.from_centre() {
                (from.0 + first, from.1)
            } else if tool == Tool::Joint {
                (from.0, from.1 + towards(to.1 - from.1, first))
            } else {
                (from.0 + towards(to.0 - from.0, first), from.1 + towards(to.1 - from.1, second))
            };
            cx.session.draft = None;
            finish_box(cx, from, to);
        }
        None => {}
    }
    Ok(())
}

/// The place so far from a point towards another; level or upright where that is nearly so.
fn onwards(from: Point, towards: Point, length: f64) -> Option<Point> {
    let (dx, dy) = (towards.0 - from.0, towards.1 - from.1);
    let way = dx.hypot(dy);
    if way < 1.0 {
        return None;
    }
    // Within 1 in 8 of level or upright, level or upright is meant.
    let (ux, uy) = if dy.abs() * 8.0 < dx.abs() {
        (dx.signum(), 0.0)
    } else if dx.abs() * 8.0 < dy.abs() {
        (0.0, dy.signum())
    } else {
        (dx / way, dy / way)
    };
    let tidy = layout_core::units::tidy_mm;
    Some((tidy(from.0 + ux * length), tidy(from.1 + uy * length)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearly_level_is_level() {
        assert_eq!(onwards((0.0, 0.0), (1000.0, 60.0), 2250.0), Some((2250.0, 0.0)));
        assert_eq!(onwards((100.0, 100.0), (90.0, -900.0), 600.0), Some((100.0, -500.0)));
        // 3, 4, 5.
        assert_eq!(onwards((0.0, 0.0), (300.0, 400.0), 1000.0), Some((600.0, 800.0)));
        assert_eq!(onwards((5.0, 5.0), (5.0, 5.0), 100.0), None);
    }
}
