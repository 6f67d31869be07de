//! Tools: what the pointer does on the canvas, and the sizes that can be typed instead.

pub mod dims;
mod draw;
pub mod entry;
pub mod explain;
mod gaps;
mod handles;
pub mod pick;
pub mod presets;
mod select;
pub mod snap;
pub mod steps;
pub mod typed;

pub use draw::{Draft, typed, typed_corner};
pub(crate) use draw::{box_shape, pin_selected, snapped};
pub use handles::{Handle, handles};
pub use select::Drag;

use egui::{Key, KeyboardShortcut, Modifiers};

use crate::canvas::Pointer;
use crate::commands::Spec;
use crate::session::Context;

/// What the pointer does on the canvas.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Tool {
    /// Selects, moves and resizes.
    #[default]
    Select,
    /// Moves the sheet.
    Pan,
    /// Draws the outline as a rectangle.
    Wall,
    /// Draws the outline corner by corner.
    WallCorners,
    /// Draws a rectangular opening.
    Rectangle,
    /// Draws an opening with an arched head.
    Arched,
    /// Draws an opening with a pointed head.
    Pointed,
    /// Draws a round opening.
    Circle,
    /// Draws an opening corner by corner.
    Polygon,
    /// Draws an area where nothing may be drilled.
    KeepOut,
    /// Draws a round keep-out.
    RoundKeepOut,
    /// Draws a keep-out corner by corner.
    KeepOutCorners,
    /// Places a movement joint.
    Joint,
    /// Places an old tie.
    OldTie,
    /// Pins ties and lets them go.
    Pin,
    /// Locks the ties of an area.
    Lock,
}

impl Tool {
    /// All tools, as the palette shows them.
    pub const ALL: [Self; 16] = [
        Self::Select,
        Self::Pan,
        Self::Wall,
        Self::WallCorners,
        Self::Rectangle,
        Self::Arched,
        Self::Pointed,
        Self::Circle,
        Self::Polygon,
        Self::KeepOut,
        Self::RoundKeepOut,
        Self::KeepOutCorners,
        Self::Joint,
        Self::OldTie,
        Self::Pin,
        Self::Lock,
    ];

    /// Its words and key.
    #[must_use]
    pub const fn spec(self) -> Spec {
        let (label, tip, key) = match self {
            Self::Select => ("Select", "Select, move and resize", Key::V),
            Self::Pan => ("Pan", "Move the sheet; the middle button does it with any tool", Key::H),
            Self::Wall => ("Wall", "Draw the outline as a rectangle", Key::W),
            Self::WallCorners => ("Wall by corners", "Draw the outline corner by corner", Key::L),
            Self::Rectangle => ("Rectangle", "Draw a rectangular opening", Key::R),
            Self::Arched => ("Arched head", "Draw an opening with an arched head", Key::A),
            Self::Pointed => ("Pointed head", "Draw an opening with a pointed head", Key::N),
            Self::Circle => ("Circle", "Draw a round opening", Key::C),
            Self::Polygon => ("Polygon", "Draw an opening corner by corner", Key::G),
            Self::KeepOut => ("Keep-out", "Draw an area where nothing may be drilled", Key::K),
            Self::RoundKeepOut => {
                ("Round keep-out", "Draw a round area where nothing may be drilled", Key::O)
            }
            Self::KeepOutCorners => ("Keep-out by corners", "Draw such an area corner by corner", Key::Y),
            Self::Joint => ("Movement joint", "Place a vertical movement joint", Key::J),
            Self::OldTie => ("Old tie", "Place an old tie that was found", Key::T),
            Self::Pin => ("Pin tie", "Fix a tie in place, or let a pinned one go", Key::P),
            Self::Lock => {
                ("Lock area", "Keep the ties of an area as they are, whatever else changes", Key::Q)
            }
        };
        Spec { label, tip, keys: Some(KeyboardShortcut::new(Modifiers::NONE, key)) }
    }

    /// What to do now, for the status bar.
    #[must_use]
    pub fn hint(self, drafting: bool) -> &'static str {
        match (self, drafting) {
            (Self::Select, _) => {
                "Click or drag a frame to select, Shift adds. Drag to move, handles to resize. Arrows nudge 25 mm, Shift 1 mm, Ctrl a course or half brick"
            }
            (Self::Pan, _) => "Drag to move the sheet; turn the wheel to zoom",
            (Self::Wall, _) => "Drag from corner to corner, or type the size above",
            (Self::WallCorners | Self::Polygon | Self::KeepOutCorners, true) => {
                "Click each corner, or point and type how far; Enter or the first corner closes it, Backspace takes one back"
            }
            (Self::WallCorners | Self::Polygon | Self::KeepOutCorners, false) => {
                "Click the first corner, or type corners above"
            }
            (Self::Rectangle | Self::Arched | Self::Pointed | Self::KeepOut, _) => {
                "Drag from corner to corner, or type sizes while dragging; a click places the size above"
            }
            (Self::Circle | Self::RoundKeepOut, _) => {
                "Drag from the centre outwards; a click places the radius typed above"
            }
            (Self::Joint, _) => "Click where the joint stands, or drag from end to end",
            (Self::OldTie, _) => "Click where the old tie was found",
            (Self::Pin, _) => "Click a tie to pin it there, a pinned tie to let it go, or masonry to add one",
            (Self::Lock, _) => {
                "Drag a rectangle about the ties that are to stay; click a locked area's line to release it"
            }
        }
    }

    /// Whether it draws corner by corner.
    #[must_use]
    pub fn by_corners(self) -> bool {
        matches!(self, Self::WallCorners | Self::Polygon | Self::KeepOutCorners)
    }

    /// Whether it draws from the centre outwards.
    #[must_use]
    pub fn from_centre(self) -> bool {
        matches!(self, Self::Circle | Self::RoundKeepOut)
    }

    /// The tools for keep-outs, by shape.
    pub const KEEP_OUTS: [(Self, &'static str); 3] =
        [(Self::KeepOut, "rectangle"), (Self::RoundKeepOut, "circle"), (Self::KeepOutCorners, "polygon")];

    /// Whether it draws keep-outs.
    #[must_use]
    pub fn draws_keep_outs(self) -> bool {
        Self::KEEP_OUTS.iter().any(|(tool, _)| *tool == self)
    }
}

/// Lets the tool in hand act on what the pointer did this frame.
pub fn act(cx: &mut Context<'_>, pointer: &Pointer) {
    match cx.session.tool {
        Tool::Select => select::act(cx, pointer),
        Tool::Pan => {}
        _ => draw::act(cx, pointer),
    }
}

/// Closes the corners drawn so far, if there are enough.
pub fn close_corners(cx: &mut Context<'_>) {
    draw::close_corners(cx);
}

/// Lets the tool in hand take its keys. Not while the user types into a field.
pub fn keys(cx: &mut Context<'_>, ctx: &egui::Context) {
    if typed::keys(cx, ctx) {
        return;
    }
    draw::keys(cx, ctx);
    if cx.session.tool == Tool::Select {
        select::nudge_keys(cx, ctx);
    }
}
