//! Which of the German sets a building has: asked, worked out, and chosen by a button.

use egui::{Id, Ui};
use layout_core::elevation::RuleChoice;
use layout_core::rules::{WindPlace, german_density, sets};

use crate::document::Change;
use crate::session::Context;
use crate::widgets::number::{self, Must};
use crate::widgets::{choose, labelled, quiet};

/// Ids of the German sets begin so.
pub(super) const FAMILY: &str = "de-din-en-1996";

const PLACES: [(WindPlace, &str); 3] = [
    (WindPlace::Inland, "inland"),
    (WindPlace::Coast, "on the coast"),
    (WindPlace::NorthSeaIsland, "North Sea island"),
];

/// Asks for the building and offers the set with its number of ties; `now` is the set chosen so far.
pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>, now: &str) {
    quiet(ui, "The number per m² follows from the building:");
    let b = &mut cx.session.building;
    if let Some(v) = labelled(ui, "Height", |ui| {
        number::field(ui, Id::unique("building height"), "Height of the building", b.height, Must::BeSize)
    }) {
        b.height = v;
    }
    let zones = [(1, "wind zone 1"), (2, "wind zone 2"), (3, "wind zone 3"), (4, "wind zone 4")];
    if let Some(zone) = labelled(ui, "Wind zone", |ui| choose(ui, "Wind zone", 150.0, b.zone, &zones)) {
        b.zone = zone;
    }
    if let Some(place) = labelled(ui, "Stands", |ui| choose(ui, "Stands", 150.0, b.place, &PLACES)) {
        b.place = place;
    }
    // Only there does the plan tell.
    if b.place == WindPlace::Coast && b.zone == 4 && b.height > 18_000.0 {
        let id = Id::unique("building side");
        let name = "Shortest side of the plan";
        if let Some(v) =
            labelled(ui, "Shortest side", |ui| number::field(ui, id, name, b.shortest_side, Must::BeSize))
        {
            b.shortest_side = v;
        }
    }
    let Some(density) = german_density(b.height, b.zone, b.place, b.shortest_side) else {
        let most = if b.place == WindPlace::NorthSeaIsland { "18 m on a North Sea island" } else { "25 m" };
        quiet(
            ui,
            format!("The table allows no such wall: it ends at {most}. Have an engineer design the ties."),
        );
        return;
    };
    let fits = |id: &String| sets::by_id(id).is_some_and(|s| s.density.value.per_m2() == density);
    let Some(id) = sets::ids().into_iter().filter(|id| id.starts_with(FAMILY)).find(fits) else { return };
    let per_m2 = number::show(density);
    if id == now {
        quiet(ui, format!("{per_m2} per m² for this building: this is its set."));
    } else if ui.button(format!("Use {per_m2} per m²")).clicked() {
        cx.change(Change::Rules(RuleChoice::Named(id)));
    }
    ui.add_space(4.0);
}
