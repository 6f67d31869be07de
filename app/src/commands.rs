//! Every command: its words, its tooltip and its shortcut, in one table.

use egui::{Key, KeyboardShortcut, Modifiers};

use crate::document::arrange::Arrange;
use crate::session::Page;
use crate::tools::Tool;

/// Something the user can ask for from a menu, a button or the keyboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Command {
    /// Starts an empty project.
    New,
    /// Opens a project file.
    Open,
    /// Saves to the project's file.
    Save,
    /// Saves to another file.
    SaveAs,
    /// Writes the drawing set.
    Export,
    /// Shows the drawing set as it would be written.
    Preview,
    /// Shows what the firm puts on all its drawings.
    Firm,
    /// Shows the words of the project: title, client and so on.
    Details,
    /// Closes the window.
    Quit,
    /// Takes the latest step back.
    Undo,
    /// Makes the latest undone step again.
    Redo,
    /// Copies what is selected.
    Duplicate,
    /// Takes out what is selected.
    Delete,
    /// Leaves the tool, the drag or the selection.
    Cancel,
    /// Shows the whole elevation.
    Fit,
    /// Shows what is selected.
    ZoomToSelection,
    /// Nearer.
    ZoomIn,
    /// Further off.
    ZoomOut,
    /// Changes between light and dark.
    Theme,
    /// Shows or hides the marks of ties.
    Marks,
    /// Shows or hides bed joints.
    BedJoints,
    /// Changes between mm and feet and inches.
    Feet,
    /// Chooses a wall to start from.
    StartShape,
    /// Shows or hides the table of openings.
    Table,
    /// Reads rows of openings.
    PasteRows,
    /// Copies what is selected to the clipboard.
    Copy,
    /// Copies what is selected and takes it out.
    Cut,
    /// Pastes what was copied.
    Paste,
    /// Selects everything on the elevation.
    SelectAll,
    /// Repeats what is selected at a spacing.
    Repeat,
    /// Puts what is selected in order.
    Arrange(Arrange),
    /// Steps along the wall by half bricks or by 25 mm.
    HalfBricks,
    /// Shows or hides dimension chains.
    Dimensions,
    /// Mirrors the elevation.
    MirrorElevation,
    /// Strikes the selected tie out, for a reason.
    StrikeOut,
    /// Shows or hides what each tie serves.
    Served,
    /// Shows or hides what no tie serves.
    Untied,
    /// Shows or hides old ties.
    OldTies,
    /// Shows or hides the tools and lists at the left.
    LeftPanel,
    /// Shows or hides the sidebar at the right.
    RightPanel,
    /// Shows a page of the sidebar.
    Page(Page),
    /// Finds a command by its words.
    Find,
    /// Takes the rules of the elevation from a file.
    RulesFromFile,
    /// Explains the rules.
    RulesExplained,
    /// Stronger colours.
    Contrast,
    /// Adds an elevation.
    AddElevation,
    /// Goes to the name field of the elevation.
    RenameElevation,
    /// Copies the elevation.
    DuplicateElevation,
    /// Takes the elevation out.
    DeleteElevation,
    /// Moves the elevation up in the drawing order.
    ElevationUp,
    /// Moves the elevation down in the drawing order.
    ElevationDown,
    /// Shows the next elevation.
    NextElevation,
    /// Shows the elevation before.
    PreviousElevation,
    /// Pins the selected tie, or unpins it.
    PinSelected,
    /// Lists the shortcuts.
    Shortcuts,
    /// Shows what to mind before drilling.
    Cautions,
    /// Picks a tool.
    Pick(Tool),
}

/// Words and keys of a command.
#[derive(Clone, Copy, Debug)]
pub struct Spec {
    /// What menus and buttons say.
    pub label: &'static str,
    /// What it does, in a sentence.
    pub tip: &'static str,
    /// The keys for it.
    pub keys: Option<KeyboardShortcut>,
}

const fn ctrl(key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(Modifiers::COMMAND, key))
}
const fn ctrl_shift(key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), key))
}
const fn plain(key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(Modifiers::NONE, key))
}
const fn alt(key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(Modifiers::ALT, key))
}
const fn ctrl_alt(key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::ALT), key))
}
const fn page_keys(page: Page) -> Option<KeyboardShortcut> {
    match page {
        Page::Layout => alt(Key::Num1),
        Page::Wind => alt(Key::Num2),
        Page::Fixing => alt(Key::Num3),
        Page::Tests => alt(Key::Num4),
        Page::OldTies => alt(Key::Num5),
        Page::Price => alt(Key::Num6),
    }
}
// Many desktops keep the arrows with Ctrl and Alt for themselves.
const fn arrange_keys(how: Arrange) -> Option<KeyboardShortcut> {
    match how {
        Arrange::Left => ctrl_shift(Key::ArrowLeft),
        Arrange::Right => ctrl_shift(Key::ArrowRight),
        Arrange::Head => ctrl_shift(Key::ArrowUp),
        Arrange::Sill => ctrl_shift(Key::ArrowDown),
        Arrange::Centre => ctrl_alt(Key::C),
        Arrange::Middle => ctrl_alt(Key::M),
        Arrange::SpaceAlong => ctrl_alt(Key::A),
        Arrange::SpaceUp => ctrl_alt(Key::U),
        Arrange::Mirror => plain(Key::X),
        Arrange::MirrorCopies => plain(Key::S),
    }
}
const fn spec(label: &'static str, tip: &'static str, keys: Option<KeyboardShortcut>) -> Spec {
    Spec { label, tip, keys }
}

impl Command {
    /// Every command, by menu.
    pub const ALL: [Self; 86] = [
        Self::New,
        Self::Open,
        Self::Save,
        Self::SaveAs,
        Self::Export,
        Self::Preview,
        Self::Firm,
        Self::Details,
        Self::Quit,
        Self::Undo,
        Self::Redo,
        Self::Duplicate,
        Self::Delete,
        Self::PinSelected,
        Self::Cancel,
        Self::Fit,
        Self::ZoomToSelection,
        Self::ZoomIn,
        Self::ZoomOut,
        Self::Marks,
        Self::BedJoints,
        Self::Theme,
        Self::Feet,
        Self::StartShape,
        Self::Table,
        Self::PasteRows,
        Self::Copy,
        Self::Cut,
        Self::Paste,
        Self::SelectAll,
        Self::Repeat,
        Self::Arrange(Arrange::Left),
        Self::Arrange(Arrange::Centre),
        Self::Arrange(Arrange::Right),
        Self::Arrange(Arrange::Head),
        Self::Arrange(Arrange::Middle),
        Self::Arrange(Arrange::Sill),
        Self::Arrange(Arrange::SpaceAlong),
        Self::Arrange(Arrange::SpaceUp),
        Self::Arrange(Arrange::Mirror),
        Self::Arrange(Arrange::MirrorCopies),
        Self::HalfBricks,
        Self::Dimensions,
        Self::MirrorElevation,
        Self::StrikeOut,
        Self::Served,
        Self::Untied,
        Self::OldTies,
        Self::LeftPanel,
        Self::RightPanel,
        Self::Page(Page::Layout),
        Self::Page(Page::Wind),
        Self::Page(Page::Fixing),
        Self::Page(Page::Tests),
        Self::Page(Page::OldTies),
        Self::Page(Page::Price),
        Self::Find,
        Self::RulesFromFile,
        Self::RulesExplained,
        Self::Contrast,
        Self::AddElevation,
        Self::RenameElevation,
        Self::DuplicateElevation,
        Self::DeleteElevation,
        Self::ElevationUp,
        Self::ElevationDown,
        Self::NextElevation,
        Self::PreviousElevation,
        Self::Shortcuts,
        Self::Cautions,
        Self::Pick(Tool::Select),
        Self::Pick(Tool::Pan),
        Self::Pick(Tool::Wall),
        Self::Pick(Tool::WallCorners),
        Self::Pick(Tool::Rectangle),
        Self::Pick(Tool::Arched),
        Self::Pick(Tool::Pointed),
        Self::Pick(Tool::Circle),
        Self::Pick(Tool::Polygon),
        Self::Pick(Tool::KeepOut),
        Self::Pick(Tool::RoundKeepOut),
        Self::Pick(Tool::KeepOutCorners),
        Self::Pick(Tool::Joint),
        Self::Pick(Tool::OldTie),
        Self::Pick(Tool::Pin),
        Self::Pick(Tool::Lock),
    ];

    /// Its words and keys.
    #[must_use]
    pub const fn spec(self) -> Spec {
        match self {
            Self::New => spec("New project", "Start an empty project", ctrl(Key::N)),
            Self::Open => spec("Open…", "Open a project file", ctrl(Key::O)),
            Self::Save => spec("Save", "Save the project to its file", ctrl(Key::S)),
            Self::SaveAs => spec("Save as…", "Save the project to another file", ctrl_shift(Key::S)),
            Self::Export => spec(
                "Export drawing…",
                "Write the drawing set: PDF, SVG, DXF or PNG by the name",
                ctrl(Key::E),
            ),
            Self::Preview => {
                spec("Print preview", "Show the drawing set as it would be written", ctrl_shift(Key::E))
            }
            Self::Firm => spec(
                "Firm settings…",
                "Name, logo, paper and sheets of all your drawings",
                ctrl_shift(Key::I),
            ),
            Self::Details => {
                spec("Project details…", "Title, site, client and notes on the drawing", ctrl(Key::I))
            }
            Self::Quit => spec("Quit", "Close the window", ctrl(Key::Q)),
            Self::Undo => spec("Undo", "Take back the latest step", ctrl(Key::Z)),
            Self::Redo => spec("Redo", "Make the latest undone step again", ctrl_shift(Key::Z)),
            Self::Duplicate => spec("Duplicate", "Copy what is selected", ctrl(Key::D)),
            Self::Delete => spec("Delete", "Take out what is selected", plain(Key::Delete)),
            Self::PinSelected => {
                spec("Pin or unpin tie", "Fix the selected tie in place, or let it go", ctrl(Key::P))
            }
            Self::Cancel => spec("Cancel", "Leave the tool, the drag or the selection", plain(Key::Escape)),
            Self::Fit => spec("Whole elevation", "Show the whole elevation", plain(Key::F)),
            Self::ZoomToSelection => spec("Zoom to selection", "Show what is selected", plain(Key::Z)),
            Self::ZoomIn => spec("Zoom in", "Look nearer; the wheel does it too", ctrl(Key::Equals)),
            Self::ZoomOut => spec("Zoom out", "Look from further off", ctrl(Key::Minus)),
            Self::Marks => spec("Tie marks", "Show the mark of each tie when zoomed in", plain(Key::M)),
            Self::BedJoints => spec("Bed joints", "Show bed joints when zoomed in", plain(Key::B)),
            Self::Theme => spec("Light or dark", "Change the theme between light and dark", ctrl(Key::T)),
            Self::Feet => {
                spec("Feet and inches", "Show lengths in feet and inches instead of mm", ctrl(Key::U))
            }
            Self::StartShape => spec(
                "Start from a shape…",
                "A plain wall, gable, lean-to and so on by its sizes",
                ctrl_shift(Key::W),
            ),
            Self::Table => spec("Table of openings", "Show every opening as a row of sizes", plain(Key::F4)),
            Self::PasteRows => {
                spec("Openings from rows…", "Read openings from rows of a spreadsheet", ctrl_shift(Key::V))
            }
            Self::Copy => spec("Copy", "Copy what is selected, for this or another elevation", ctrl(Key::C)),
            Self::Cut => spec("Cut", "Copy what is selected and take it out", ctrl(Key::X)),
            Self::Paste => {
                spec("Paste", "Paste what was copied, or rows of openings from a spreadsheet", ctrl(Key::V))
            }
            Self::SelectAll => spec("Select all", "Select everything on the elevation", ctrl(Key::A)),
            Self::Repeat => {
                spec("Repeat…", "A row of windows, or the floors of a block, at a spacing", ctrl(Key::R))
            }
            Self::Arrange(how) => {
                let (label, tip) = how.words();
                spec(label, tip, arrange_keys(how))
            }
            Self::HalfBricks => spec(
                "Step by half bricks",
                "Drag along the wall by half bricks instead of 25 mm",
                ctrl(Key::H),
            ),
            Self::Dimensions => {
                spec("Dimensions", "Show dimension chains; click a figure to type it anew", plain(Key::D))
            }
            Self::MirrorElevation => spec(
                "Mirror elevation",
                "Turn this elevation with all on it left to right",
                ctrl_shift(Key::M),
            ),
            Self::StrikeOut => {
                spec("Strike out tie…", "No tie here, for a reason that is kept", ctrl(Key::Delete))
            }
            Self::Served => spec("Served areas", "Wash the masonry that each tie serves", plain(Key::E)),
            Self::Untied => spec("Untied areas", "Mark the masonry that no tie serves", plain(Key::U)),
            Self::OldTies => spec("Old ties", "Show the old ties that were found", plain(Key::I)),
            Self::LeftPanel => {
                spec("Tools and lists", "Show the tools and lists at the left", plain(Key::F7))
            }
            Self::RightPanel => spec("Sidebar", "Show the sidebar at the right", plain(Key::F8)),
            Self::Page(page) => spec(page.command(), page.tip(), page_keys(page)),
            Self::Find => spec("Find a command…", "Every command by a few letters", ctrl(Key::J)),
            Self::RulesFromFile => {
                spec("Rules from a file…", "Take the rules of this elevation from a file", ctrl(Key::L))
            }
            Self::RulesExplained => {
                spec("The rules explained", "What each rule asks for, with a picture", ctrl(Key::F1))
            }
            Self::Contrast => {
                spec("High contrast", "Theme in black and white with strong colours", ctrl_shift(Key::T))
            }
            Self::AddElevation => {
                spec("Add elevation", "Add an elevation to the project", ctrl_shift(Key::N))
            }
            Self::RenameElevation => {
                spec("Rename elevation", "Go to the name of the elevation", plain(Key::F2))
            }
            Self::DuplicateElevation => {
                spec("Duplicate elevation", "Copy this elevation with all on it", ctrl_shift(Key::D))
            }
            Self::DeleteElevation => {
                spec("Delete elevation", "Take this elevation out of the project", ctrl_shift(Key::Delete))
            }
            Self::ElevationUp => {
                spec("Move elevation up", "Draw this elevation before the one above", alt(Key::PageUp))
            }
            Self::ElevationDown => {
                spec("Move elevation down", "Draw this elevation after the one below", alt(Key::PageDown))
            }
            Self::NextElevation => spec("Next elevation", "Show the next elevation", ctrl(Key::PageDown)),
            Self::PreviousElevation => {
                spec("Previous elevation", "Show the elevation before", ctrl(Key::PageUp))
            }
            Self::Shortcuts => spec("Keyboard shortcuts", "List every shortcut", plain(Key::F1)),
            Self::Cautions => spec("Before you drill", "What to mind on site before drilling", ctrl(Key::B)),
            Self::Pick(tool) => tool.spec(),
        }
    }

    /// Its keys as a person reads them; empty if it has none.
    #[must_use]
    pub fn keys_text(self, ctx: &egui::Context) -> String {
        let text = self.spec().keys.map_or_else(String::new, |k| ctx.format_shortcut(&k));
        // As they stand on the keys.
        text.replace("Equals", "=").replace("Minus", "-")
    }

    /// Its tooltip with its keys.
    #[must_use]
    pub fn tip_text(self, ctx: &egui::Context) -> String {
        let keys = self.keys_text(ctx);
        if keys.is_empty() { self.spec().tip.to_owned() } else { format!("{}  ({keys})", self.spec().tip) }
    }

    /// Whether it takes back a step or makes it again.
    #[must_use]
    pub fn is_step(self) -> bool {
        matches!(self, Self::Undo | Self::Redo)
    }

    /// Whether it may run while the user types into a field. Keys that text itself uses may not.
    #[must_use]
    pub fn while_typing(self) -> bool {
        let text_keys =
            matches!(self, Self::Undo | Self::Redo | Self::Copy | Self::Cut | Self::Paste | Self::SelectAll);
        let has_command = self.spec().keys.is_some_and(|k| k.modifiers.command || k.modifiers.alt);
        let function_key = matches!(
            self,
            Self::Shortcuts | Self::RenameElevation | Self::Table | Self::LeftPanel | Self::RightPanel
        );
        (has_command && !text_keys) || function_key
    }
}

/// The commands whose keys were pressed this frame; their key events are used up. `typing`: a field has the
/// keyboard; `typed`: and holds what is not committed, which undo and redo are then about.
pub fn pressed(ctx: &egui::Context, typing: bool, typed: bool) -> Vec<Command> {
    let mine = |c: &Command| !typing || c.while_typing() || (c.is_step() && !typed);
    let mut by_keys: Vec<(Command, KeyboardShortcut)> = Command::ALL
        .into_iter()
        .filter(mine)
        .filter_map(|c| c.spec().keys.map(|k| (c, k)))
        .chain(EXTRA.into_iter().filter(|(c, _)| mine(c)))
        .collect();
    // Extra Shift and Alt are let pass in matching: the longest combination goes first.
    by_keys.sort_by_key(|(_, k)| {
        std::cmp::Reverse(
            u8::from(k.modifiers.shift) + u8::from(k.modifiers.alt) + u8::from(k.modifiers.command),
        )
    });
    ctx.input_mut(|i| by_keys.into_iter().filter(|(_, k)| i.consume_shortcut(k)).map(|(c, _)| c).collect())
}

/// Second keys for some commands.
const EXTRA: [(Command, KeyboardShortcut); 3] = [
    (Command::Redo, KeyboardShortcut::new(Modifiers::COMMAND, Key::Y)),
    (Command::Delete, KeyboardShortcut::new(Modifiers::NONE, Key::Backspace)),
    (Command::ZoomIn, KeyboardShortcut::new(Modifiers::COMMAND, Key::Plus)),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_keys() {
        let mut seen: Vec<(KeyboardShortcut, Command)> = Vec::new();
        let main = Command::ALL.into_iter().filter_map(|c| c.spec().keys.map(|k| (c, k)));
        for (command, keys) in main.chain(EXTRA) {
            let other = seen.iter().find(|(k, _)| *k == keys);
            assert!(other.is_none(), "{command:?} and {other:?}");
            seen.push((keys, command));
        }
    }

    #[test]
    fn every_command_says_what_it_does() {
        for command in Command::ALL {
            let spec = command.spec();
            assert!(!spec.label.is_empty() && spec.tip.len() > 5, "{command:?}");
        }
    }

    #[test]
    fn single_letters_do_not_run_while_typing() {
        assert!(!Command::Pick(Tool::Wall).while_typing());
        assert!(!Command::Delete.while_typing());
        assert!(Command::Save.while_typing());
    }
}
