//! The commands that print text or write data. Each gives the exit status, or why it was refused.

use super::output::{Console, keep_apart};
use super::{BREACHES, DONE};
use crate::document::file::read_checked;
use crate::document::{rule_file, rule_template};
use crate::export::{csv, engineering, json, rule_list, text};
use crate::report::{Report, breaches};
use layout_core::rules::{RuleSet, sets};
use std::path::Path;

/// Reads a project and plans every elevation.
pub(super) fn report_of(file: &Path) -> Result<Report, String> {
    let project = read_checked(file).map_err(|e| e.to_string())?;
    let names: Vec<String> = project.elevations.iter().map(|e| e.name.clone()).collect();
    Report::of(project).map_err(|(i, faults)| {
        let name = names.get(i).map_or("", String::as_str);
        let lines = faults.iter().map(|f| format!("{}: elevation '{name}': {}", file.display(), f.message));
        lines.collect::<Vec<_>>().join("\n")
    })
}

pub(super) fn status(report: &Report) -> u8 {
    if report.has_breach() { BREACHES } else { DONE }
}

/// Ties and breaches in a few words.
pub(super) fn in_short(report: &Report) -> String {
    let ties = report.tie_count();
    let elevations = report.plans.len();
    let broken: usize = report.plans.iter().map(|p| breaches(p).count()).sum();
    let found = match broken {
        0 => "no breach".to_owned(),
        1 => "1 breach".to_owned(),
        n => format!("{n} breaches"),
    };
    let s = |n: usize| if n == 1 { "" } else { "s" };
    format!("{elevations} elevation{}, {ties} tie{}, {found}", s(elevations), s(ties))
}

pub(super) fn set_out(console: &mut Console<'_>, file: &Path, to: Option<&Path>) -> Result<u8, String> {
    if let Some(to) = to {
        keep_apart(file, to)?;
    }
    let report = report_of(file)?;
    match to {
        Some(to) => console.deliver(to, json::set_out(&report).as_bytes(), &in_short(&report))?,
        None => console.print(&text::set_out(&report)),
    }
    Ok(status(&report))
}

pub(super) fn take_off(
    console: &mut Console<'_>,
    file: &Path,
    to: Option<&Path>,
    spare: f64,
) -> Result<u8, String> {
    if let Some(to) = to {
        keep_apart(file, to)?;
    }
    let report = report_of(file)?;
    match to {
        Some(to) => console.deliver(to, csv::take_off(&report).as_bytes(), &in_short(&report))?,
        None => console.print(&text::take_off(&report, spare)),
    }
    Ok(status(&report))
}

pub(super) fn verify(console: &mut Console<'_>, file: &Path) -> Result<u8, String> {
    let report = report_of(file)?;
    console.print(&text::verify(&report));
    Ok(status(&report))
}

pub(super) fn engineering(console: &mut Console<'_>, file: &Path) -> Result<u8, String> {
    let report = report_of(file)?;
    console.print(&engineering::account(&report));
    Ok(status(&report))
}

pub(super) fn rules(console: &mut Console<'_>, name: Option<&str>, to: Option<&Path>) -> Result<u8, String> {
    let sets = match name {
        None => sets::all(),
        Some(name) => vec![rules_of(name)?],
    };
    match (to, sets.as_slice()) {
        (Some(to), [set]) => {
            if let Some(name) = name {
                keep_apart(Path::new(name), to)?;
            }
            let what = format!("the rules of {}, to begin your own from", text::one_line(&set.id));
            console.deliver(to, rule_template::template(set).as_bytes(), &what)?;
        }
        _ => console.print(&rule_list::rule_list(&sets)),
    }
    Ok(DONE)
}

/// A published set by its id, or the rules in a file.
fn rules_of(name: &str) -> Result<RuleSet, String> {
    if let Some(set) = sets::by_id(name) {
        return Ok(set);
    }
    let path = Path::new(name);
    let is_file = path.exists() || path.extension().is_some() || path.components().count() > 1;
    if is_file {
        return rule_file::read(path).map_err(|e| e.to_string());
    }
    Err(format!(
        "no rule set is called '{}'; there are {}; a file of rules is named with its ending, .ron",
        text::one_line(name),
        sets::ids().join(", ")
    ))
}
