//! The working in words: each figure with its formula, numbers and source; cautions; what was not checked.

use super::walls::WallZone;
use super::wind::{AIR, HIGHEST, altitude_factor, roughness, wind_at};
use super::zones::{Building, Resistance, inside};
use super::{DemandZone, Governs, Step};
use crate::elevation::{Elevation, Exposure, GivenPressure, InternalPressure};
use crate::rules::RuleSet;
use crate::source::Source;
use crate::source::Sureness::{self, FromMemory, Published, Recomputed, SecondHand, Stated};

const EN: &str = "EN 1991-1-4:2005 + A1:2010";

/// The working so far.
#[derive(Default)]
pub(super) struct Sums {
    pub steps: Vec<Step>,
}

impl Sums {
    fn add(
        &mut self,
        what: impl Into<String>,
        how: String,
        value: f64,
        unit: &'static str,
        document: impl Into<String>,
        sureness: Sureness,
    ) {
        let source = Source::new(document, sureness);
        self.steps.push(Step { what: what.into(), how, value, unit, source });
    }
}

fn clause(clause: &str) -> String {
    format!("{EN}, {clause}, recommended value")
}

pub(super) fn method(x: &Exposure) -> &'static str {
    if x.given.is_some() {
        "Pressures given by an engineer; ties by EN 1996-1-1:2005, 6.5"
    } else {
        "Wind by EN 1991-1-4:2005 + A1:2010, recommended values (national annexes differ); ties by EN 1996-1-1:2005, 6.5"
    }
}

pub(super) fn given(sums: &mut Sums, g: &GivenPressure) {
    let from = if g.source.is_empty() { "the user, no source stated" } else { g.source.as_str() };
    sums.add("Design pressure outwards", "as given, factored".to_owned(), g.outward, "kN/m²", from, Stated);
    sums.add("Design pressure inwards", "as given, factored".to_owned(), g.inward, "kN/m²", from, Stated);
}

pub(super) fn wind(sums: &mut Sums, x: &Exposure, b: &Building) {
    let mut how = format!("c_dir {} x c_season {} x v_b,0 {} m/s", x.direction, x.season, x.basic_wind);
    if let Some(altitude) = x.altitude {
        let factor = altitude_factor(altitude, b.height);
        // The low branch of the formula was not seen.
        let (formula, sureness) = if b.height >= 10.0 {
            ("1 + 0.001 A (10/z)^0.2", Published)
        } else {
            ("1 + 0.001 A", FromMemory)
        };
        let how = format!("{formula}, A {altitude} m, z {:.2} m", b.height);
        sums.add("Altitude factor c_alt", how, factor, "", "UK annex to EN 1991-1-4", sureness);
    }
    if x.altitude.is_some() {
        how.push_str(" x c_alt");
    }
    sums.add("Basic wind velocity v_b", how, b.basic, "m/s", clause("4.2"), Published);
    let (z0, z_min) = roughness(x.terrain);
    let w = wind_at(b.basic, x.terrain, x.orography, b.height);
    sums.add(
        format!("Terrain {}: roughness length z0", x.terrain.name()),
        format!("least height z_min {z_min} m; worked out at z {:.2} m", w.z),
        z0,
        "m",
        format!("{EN}, Table 4.1"),
        Published,
    );
    let how = format!("0.19 x ({z0}/0.05)^0.07");
    sums.add("Terrain factor k_r", how, w.terrain_factor, "", clause("4.3.2"), Published);
    let how = format!("k_r x ln({:.2}/{z0})", w.z);
    sums.add("Roughness factor c_r", how, w.roughness_factor, "", clause("4.3.2"), Published);
    let how = format!("c_r x c_o {} x v_b", x.orography);
    sums.add("Mean wind velocity v_m", how, w.mean, "m/s", clause("4.3.1"), Published);
    let how = format!("1 / (c_o x ln({:.2}/{z0}))", w.z);
    sums.add("Turbulence intensity I_v", how, w.turbulence, "", clause("4.4"), Published);
    let how = format!("(1 + 7 I_v) x 0.5 x {AIR} x v_m² / 1000");
    sums.add("Peak velocity pressure q_p", how, w.peak / 1000.0, "kN/m²", clause("4.5"), Published);
}

pub(super) fn strips(sums: &mut Sums, b: &Building, heights: &[f64]) {
    let list: Vec<String> = heights.iter().map(|z| format!("{z:.2}")).collect();
    sums.add(
        "Parts of the wall for wind onto it",
        format!(
            "h {:.2} m is more than b {:.2} m: reference heights {} m; suction is that of the top all over",
            b.height,
            b.length,
            list.join(", ")
        ),
        heights.len() as f64,
        "parts",
        format!("{EN}, 7.2.2 (1), Figure 7.4"),
        SecondHand,
    );
}

pub(super) fn coefficients(sums: &mut Sums, x: &Exposure, b: &Building, zones: &[DemandZone]) {
    let figure = format!("{EN}, 7.2.2, Figure 7.5");
    let how = format!("lesser of depth {:.2} m and 2 x height {:.2} m", b.depth, b.height);
    sums.add("e, wind along the wall", how, b.zone_length(), "m", figure.clone(), Published);
    let [a, bb, c] = b.widths();
    for (name, width) in [("A", a), ("B", bb), ("C", c)].into_iter().filter(|(_, w)| *w > 0.0) {
        let how = "from the corner the wind meets first; taken from both ends".to_owned();
        sums.add(format!("Width of zone {name}"), how, width, "m", figure.clone(), Published);
    }
    let ratio = b.slenderness();
    let how = format!(
        "height {:.2} m over depth {:.2} m; the wall is b = {:.2} m broad to this wind",
        b.height, b.depth, b.length
    );
    sums.add("h/d, wind onto the wall", how, ratio, "", figure.clone(), Published);
    let table = format!("{EN}, Table 7.1");
    let mut seen: Vec<&str> = zones.iter().map(|z| z.name.as_str()).collect();
    seen.sort_unstable();
    seen.dedup();
    for zone in [WallZone::A, WallZone::B, WallZone::C, WallZone::D, WallZone::E] {
        if matches!(zone, WallZone::D | WallZone::E) || seen.contains(&zone.letter()) {
            let value = super::walls::coefficient_for(zone, ratio, 0.4);
            let how = format!("a tie serves less than 1 m², so c_pe,1 holds; h/d {ratio:.3}");
            sums.add(format!("c_pe, zone {}", zone.letter()), how, value, "", table.clone(), Published);
        }
    }
    let (out, into) = inside(x.internal);
    let why = match x.internal {
        InternalPressure::Unknown => {
            "openings are not known, and the cavity is taken to be open to the rooms: the worse of +0.2 and -0.3 \
             acts on the outer leaf too"
        }
        InternalPressure::InnerLeafAlone => {
            "the inner leaf is taken to be airtight and the cavity shut off from the rooms: the inner leaf \
             carries it, and the ties do not"
        }
    };
    let document = format!("{EN}, 7.2.9 (6) note 2");
    sums.add("c_pi, adding to suction", why.to_owned(), out, "", document.clone(), SecondHand);
    sums.add("c_pi, adding to pressure", why.to_owned(), into, "", document, SecondHand);
    sums.add(
        "Partial factor for the wind",
        "multiplies the characteristic pressure".to_owned(),
        x.load_factor,
        "",
        "EN 1990, variable action",
        FromMemory,
    );
}

pub(super) fn resistance(sums: &mut Sums, r: &Resistance, x: &Exposure) {
    let from = r.source.as_str();
    let from = if from.is_empty() { "the user, no source stated" } else { from };
    if let Some(load) = r.tested {
        sums.add(
            "Lowest load at which a tested tie failed",
            "less than declared, so it stands in for the declared values: our reading, an engineer confirms"
                .to_owned(),
            load,
            "N",
            "pull tests entered for this elevation",
            Stated,
        );
    }
    let how = |name: &str| format!("characteristic {name} of one tie");
    sums.add("Tension of one tie", how("tension"), r.tension, "N", from, Stated);
    sums.add("Compression of one tie", how("compression"), r.compression, "N", from, Stated);
    // 3.0 is the value of the UK annex; another is the user's own.
    let (document, sureness) = if x.gamma_m == 3.0 {
        ("UK annex to EN 1996-1-1, Table NA.1", Published)
    } else {
        ("the user", Stated)
    };
    sums.add(
        "Partial factor for the ties",
        "divides the resistance".to_owned(),
        x.gamma_m,
        "",
        document,
        sureness,
    );
    sums.add(
        "Design resistance F_d of one tie",
        format!("the smaller of {:.0} and {:.0} N / {}", r.tension, r.compression, x.gamma_m),
        r.design,
        "N",
        "EN 1996-1-1:2005, 6.5",
        SecondHand,
    );
}

/// Pressure and ties per m² of each kind of zone.
pub(super) fn needed(sums: &mut Sums, zones: &[DemandZone], design: Option<f64>, rules: &RuleSet) {
    let mut told: Vec<(&str, f64)> = Vec::new();
    for z in zones {
        let worst = z.outward.max(z.inward);
        if told.iter().any(|(n, w)| *n == z.name && (w - worst).abs() < 1e-9) {
            continue;
        }
        told.push((&z.name, worst));
        let name = if z.name == "given" { "the elevation".to_owned() } else { format!("zone {}", z.name) };
        sums.add(
            format!("Design pressure, {name}"),
            format!("the greater of {:.3} outwards and {:.3} inwards", z.outward, z.inward),
            worst,
            "kN/m²",
            format!("{EN}, 5.2"),
            Recomputed,
        );
        let (Some(per_m2), Some(design)) = (z.per_m2, design) else { continue };
        let then = match z.governs {
            Governs::Prescription => format!(
                "the rules' {} x {} mm has {:.3}: rules govern",
                rules.horizontal.value,
                rules.vertical.value,
                rules.grid_density()
            ),
            Governs::Wind => format!(
                "more than the rules' {:.3}: wind governs, {} x {} mm in whole courses",
                rules.grid_density(),
                z.horizontal,
                z.vertical
            ),
            _ => "no spacing that can be drilled is close enough: use a stronger fixing".to_owned(),
        };
        sums.add(
            format!("Ties needed, {name}"),
            format!("{worst:.3} kN/m² / {design:.1} N; {then}"),
            per_m2,
            "per m²",
            "EN 1996-1-1:2005, 6.5 (6.21)",
            SecondHand,
        );
    }
}

pub(super) fn cautions(
    elevation: &Elevation,
    x: &Exposure,
    resistance: Option<&Resistance>,
    zones: &[DemandZone],
) -> Vec<String> {
    let mut out = Vec::new();
    let mut say = |yes: bool, text: &str| {
        if yes {
            out.push(text.to_owned());
        }
    };
    let bare = |source: &str| source.trim().is_empty();
    say(
        resistance.is_none(),
        "The resistance of a tie is not given: enter a declared or tested value. Until then the spacing of the rules stands unproved.",
    );
    say(
        zones.iter().any(|z| z.governs == Governs::TooMuch),
        "No spacing that can be drilled carries the pressure with these ties: choose a stronger fixing, or have an engineer say what is to be done.",
    );
    say(
        resistance.is_some_and(|r| r.tested.is_some()),
        "Tests came out below the declared value and the spacing follows the lowest of them: confirm with a competent engineer.",
    );
    say(resistance.is_some_and(|r| bare(&r.source)), "No source is stated for the resistance of a tie.");
    if let Some(g) = &x.given {
        say(bare(&g.source), "No source is stated for the pressures.");
    } else {
        let (h, d) = (x.height / 1000.0, x.depth / 1000.0);
        say(h > HIGHEST, "Higher than 200 m: outside the method. Confirm with a competent engineer.");
        say(
            h > 15.0,
            "Higher than 15 m or about three storeys: beyond the use common ties are published for. Confirm with a competent engineer.",
        );
        say(
            h / d > 5.0,
            "Height over depth is above 5: outside Table 7.1. Confirm with a competent engineer.",
        );
        say(
            x.orography == 1.0,
            "The ground is taken to slope by less than 3 degrees; on a hill or scarp enter the orography factor.",
        );
        say(
            true,
            "Recommended values of the standard, not those of a national annex; the UK annex finds terrain by distance to the sea and into town. Confirm with a competent engineer.",
        );
        say(
            x.altitude.is_some() && h < 10.0,
            "The altitude factor below 10 m is from memory, confirm before use.",
        );
        say(x.load_factor == 1.5, "The partial factor 1.5 is from memory, confirm before use.");
        say(
            elevation.outline.iter().any(|p| p.1 > x.height + 1.0),
            "The drawing reaches higher than the height entered for the building.",
        );
    }
    say(
        elevation.substrate.as_ref().is_some_and(|s| s.bulge > 0.0),
        "The outer leaf bulges: whether it can be kept and tied is for a competent engineer.",
    );
    out
}

pub(super) fn not_checked(x: &Exposure) -> Vec<String> {
    let mut out = vec![
        "bending of the leaves between ties, and the inner leaf itself".to_owned(),
        "movement of the leaves against each other, corrosion, fire".to_owned(),
        "edge ties beyond the distances of the rules".to_owned(),
    ];
    if x.given.is_none() {
        out.push("neighbouring taller buildings, funnelling, plans that are not rectangles".to_owned());
        out.push("parapets, canopies and roofs".to_owned());
    }
    out
}
