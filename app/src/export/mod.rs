//! Writers: they take a sheet or a report and never lay anything out.

pub mod csv;
pub mod drawing;
pub mod dxf;
pub mod engineering;
pub mod json;
pub mod pdf;
pub mod png;
pub mod raster;
pub mod rule_list;
pub mod svg;
pub mod text;
