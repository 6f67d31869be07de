//! Tiewright: plans replacement wall ties on a drawn elevation.
//!
//! A library with a thin binary, so that the window is tested without a display.

pub mod app;
pub mod asked;
pub mod canvas;
pub mod cli;
pub mod clipboard;
pub mod commands;
pub mod derived;
pub mod document;
pub mod engineering;
pub mod export;
mod files;
pub mod firm;
mod ground;
pub mod panels;
mod perform;
pub mod preview;
pub mod recovery;
pub mod report;
pub mod rule_files;
pub mod services;
pub mod session;
pub mod settings;
pub mod sheet;
pub mod theme;
pub mod tools;
pub mod widgets;
