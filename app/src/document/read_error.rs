//! What is wrong with a project file, in words, with its place.

use super::field_words::{belongs, belongs_at, found, is_point, one_of, path, path_of_missing, shorten};
use super::holds::Holds;
use super::locate::{LineColumn, Look, Tree, after_end, byte_at, line_column};
use super::rule_words;
use layout_core::elevation::{FORMAT, Fault};
use ron::error::{Error, SpannedError};
use std::fmt;

/// Everything found wrong with one file. Shows as one line for each fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadErrors {
    /// The file as the user named it.
    pub file: String,
    /// The faults, in the order of the file; never empty.
    pub errors: Vec<ReadError>,
}

/// One fault of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError {
    /// Where, if it has a place in the file.
    pub at: Option<LineColumn>,
    /// The field path in words; empty if it is about the whole file.
    pub field: String,
    /// What was expected, or what is wrong.
    pub message: String,
}

impl ReadErrors {
    /// One fault of the file as a whole.
    #[must_use]
    pub fn whole(file: &str, message: impl Into<String>) -> Self {
        let error = ReadError { at: None, field: String::new(), message: message.into() };
        Self { file: file.to_owned(), errors: vec![error] }
    }
}

impl fmt::Display for ReadErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, e) in self.errors.iter().enumerate() {
            if i > 0 {
                writeln!(f)?;
            }
            write!(f, "{}:", self.file)?;
            if let Some(at) = e.at {
                write!(f, "{}:{}:", at.line, at.column)?;
            }
            if !e.field.is_empty() {
                write!(f, " {}:", e.field)?;
            }
            // A name from the file may have a line's end in it.
            let message: String = e.message.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
            write!(f, " {message}")?;
        }
        Ok(())
    }
}

impl std::error::Error for ReadErrors {}

/// A text with its tree, to say where faults are.
pub(super) struct Places<'t> {
    text: &'t str,
    tree: Tree,
}

impl<'t> Places<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Self::of(Holds::Project, text)
    }

    pub(super) fn of(holds: Holds, text: &'t str) -> Self {
        Self { text, tree: Tree::scan_as(holds, text) }
    }

    /// An error at a field, named from the outermost; at what holds it where it is left out.
    pub(super) fn at_field(&self, path: &[&str], message: impl Into<String>) -> ReadError {
        let node = path.iter().fold(0, |n, name| self.tree.field(self.text, n, name).unwrap_or(n));
        let byte = self.tree.nodes.get(node).map_or(0, |n| n.start);
        let error = self.error(byte, Some(node), message);
        ReadError { field: path.join(", "), ..error }
    }

    /// Whether the outermost group has a field of this name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.tree.field(self.text, 0, name).is_some()
    }

    fn error(&self, byte: usize, node: Option<usize>, message: impl Into<String>) -> ReadError {
        let field = node.map(|n| path(&self.tree, self.text, n)).unwrap_or_default();
        ReadError { at: Some(line_column(self.text, byte)), field, message: message.into() }
    }

    /// The error for a file of another format, if its `format` says so.
    pub(super) fn other_format(&self) -> Option<ReadError> {
        let node = self.tree.field(self.text, 0, "format")?;
        let value: i64 = self.tree.text_of(self.text, node).parse().ok()?;
        let message = match value {
            v if v == i64::from(FORMAT) => return None,
            v if v > i64::from(FORMAT) => format!(
                "the file is of format {v}, written by a newer version of Tiewright; this one reads format {FORMAT}"
            ),
            v => format!("there is no format {v}; this version of Tiewright reads format {FORMAT}"),
        };
        Some(self.error(self.tree.nodes[node].start, Some(node), message))
    }

    /// Every number in the text that is not finite.
    pub(super) fn not_finite(&self) -> Vec<ReadError> {
        let bare = self.tree.nodes.iter().enumerate().filter(|(_, n)| n.look == Look::Bare);
        bare.filter(|&(i, _)| self.tree.text_of(self.text, i).parse::<f64>().is_ok_and(|v| !v.is_finite()))
            .map(|(i, n)| {
                let wanted = belongs(&self.tree, self.text, i);
                let got = shorten(self.tree.text_of(self.text, i));
                self.error(n.start, Some(i), format!("expected {wanted}, found {got}, which is not finite"))
            })
            .collect()
    }

    /// The error for a drawing fault of an elevation.
    pub(super) fn fault(&self, elevation: usize, fault: &Fault) -> ReadError {
        let node = self.fault_node(elevation, fault);
        let byte = node.and_then(|n| self.tree.nodes.get(n)).map_or(0, |n| n.start);
        let mut error = self.error(byte, node, fault.message.clone());
        // "opening 'W2', w: w is -5 mm" says w once too often.
        let last = error.field.rsplit([',', ' ']).next().unwrap_or("");
        if let Some((_, rest)) = fault.message.split_once(" is ").filter(|(what, _)| what.ends_with(last)) {
            error.message = rest.to_owned();
        }
        error
    }

    fn fault_node(&self, elevation: usize, fault: &Fault) -> Option<usize> {
        let item = |n: usize, i: usize| self.tree.nodes.get(n)?.children.get(i).copied();
        let field = |n: usize, name: &str| self.tree.field(self.text, n, name);
        let elevation = field(0, "elevations").and_then(|e| item(e, elevation))?;
        let mut node = field(elevation, fault.place.field).unwrap_or(elevation);
        if let Some(inner) = fault.place.index.and_then(|i| item(node, i)) {
            node = inner;
        }
        if let Some(inner) = fault.place.part.and_then(|p| field(node, p)) {
            node = inner;
        }
        // "w is …" and "edges: within is …" name a field further in.
        let what = fault.message.split(" is ").next().unwrap_or("");
        for name in what.split(": ") {
            let named = field(node, name);
            let component = || {
                let i = ["x", "y"].iter().position(|&c| c == name)?;
                is_point(&self.tree, self.text, node).then(|| item(node, i)).flatten()
            };
            node = named.or_else(component).unwrap_or(node);
        }
        Some(node)
    }

    /// The error for what the RON reader found.
    pub(super) fn syntax(&self, e: &SpannedError) -> ReadError {
        let (tree, text) = (&self.tree, self.text);
        if tree.nodes.is_empty() && tree.broken.is_none() {
            let holds = tree.holds.words();
            return self.error(
                0,
                None,
                format!("the file is empty; expected a {holds}, which begins with '('"),
            );
        }
        if let Some(broken) = &tree.broken {
            return self.error(broken.at, tree.innermost(broken.at), broken.message.clone());
        }
        let start = LineColumn { line: e.span.start.line, column: e.span.start.col };
        let byte = byte_at(text, start);
        let Some(node) = tree.innermost(byte) else {
            return self.error(byte, None, self.outside(&e.code, byte));
        };
        let at = tree.nodes[node].start;
        let key_at = tree.nodes[node].key.map_or(at, |k| k.0);
        match &e.code {
            Error::NoSuchStructField { expected, .. } => {
                self.error(key_at, Some(node), format!("unknown field; expected {}", one_of(expected)))
            }
            Error::DuplicateStructField { .. } => {
                self.error(key_at, Some(node), "this field is given twice; keep one")
            }
            Error::MissingStructField { field, .. } => self.missing(node, field),
            Error::NoSuchEnumVariant { expected, found, .. } => {
                let message = format!("unknown name {}; expected {}", shorten(found), one_of(expected));
                self.error(at, Some(node), message)
            }
            Error::InvalidEscape(_) => {
                let message = "the text has a '\\' that begins nothing known; write a backslash as '\\\\'";
                self.error(at, Some(node), message)
            }
            _ => self.misfit(&e.code, node, byte),
        }
    }

    /// A fault outside the project's brackets.
    fn outside(&self, code: &Error, byte: usize) -> String {
        match code {
            Error::NoSuchExtension(name) => format!("unknown extension {}", shorten(name)),
            _ if self.tree.nodes.first().is_some_and(|n| byte >= n.end) => after_end(self.tree.holds),
            _ => format!("expected a {}, which begins with '('", self.tree.holds.words()),
        }
    }

    fn missing(&self, node: usize, field: &str) -> ReadError {
        let holder = self.tree.key(self.text, node);
        let wanted = match self.tree.holds {
            Holds::Project => belongs_at(field),
            Holds::Rules => rule_words::belongs_at(holder, field),
        };
        let message = format!("this field is missing; give {wanted}");
        let path = path_of_missing(&self.tree, self.text, node, field);
        ReadError { field: path, ..self.error(self.tree.nodes[node].start, None, message) }
    }

    /// A value of the wrong kind, or something between values that does not belong there.
    fn misfit(&self, code: &Error, node: usize, byte: usize) -> ReadError {
        let (tree, text) = (&self.tree, self.text);
        let point = Some(node).filter(|&n| is_point(tree, text, n));
        let point = point.or(tree.nodes[node].parent.filter(|&p| is_point(tree, text, p)));
        if let (Error::ExpectedStructLikeEnd | Error::ExpectedDifferentLength { .. }, Some(p)) = (code, point)
        {
            let n = &tree.nodes[p];
            let message = format!("expected a point (x, y) of 2 numbers, found {}", n.children.len());
            return self.error(n.start, Some(p), message);
        }
        let n = &tree.nodes[node];
        let is_leaf = !matches!(n.look, Look::Bracket(_));
        let begins = byte == n.key.map_or(n.start, |k| k.0);
        if matches!(code, Error::ExpectedComma) && begins {
            let message = "expected ',' between this and what stands before it";
            return self.error(byte, Some(node), message);
        }
        if byte > n.start && !is_leaf {
            // Past the opening bracket, before or after the parts.
            let wanted = match code {
                Error::ExpectedComma => "',' or the closing bracket",
                Error::ExpectedMapColon => "':' after the field's name",
                Error::ExpectedIdentifier => "a field as name: value",
                _ if byte <= n.open => return self.wrong(node),
                _ => "a value",
            };
            let rest = text.get(byte..).unwrap_or("").trim_start();
            let got = rest.chars().next().map_or_else(|| "the end".to_owned(), |c| format!("'{c}'"));
            return self.error(byte, Some(node), format!("expected {wanted}, found {got}"));
        }
        self.wrong(node)
    }

    fn wrong(&self, node: usize) -> ReadError {
        let wanted = belongs(&self.tree, self.text, node);
        let got = found(&self.tree, self.text, node);
        self.error(self.tree.nodes[node].start, Some(node), format!("expected {wanted}, found {got}"))
    }
}
