//! Where things stand in a project file.
//!
//! A tolerant scan of RON text into a tree of values with their places. It reads no types and
//! accepts what the real reader refuses, so that any fault can be given its line, column and field.

use super::holds::Holds;

/// Values nested deeper than this are refused: a project needs ten levels.
const DEEPEST: usize = 64;

/// No more values than this are kept; places beyond are given by their surroundings.
const MOST_NODES: usize = 2_000_000;

/// A line and a column, both from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LineColumn {
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1.
    pub column: usize,
}

/// The line and column of a byte of a text.
#[must_use]
pub fn line_column(text: &str, byte: usize) -> LineColumn {
    let mut end = byte.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let before = &text[..end];
    let line = 1 + before.bytes().filter(|&b| b == b'\n').count();
    let column = 1 + before.chars().rev().take_while(|&c| c != '\n').count();
    LineColumn { line, column }
}

/// The byte at a line and column of a text; the end of the text if it has no such place.
#[must_use]
pub fn byte_at(text: &str, at: LineColumn) -> usize {
    let mut start = 0;
    for _ in 1..at.line {
        match text[start..].find('\n') {
            Some(i) => start += i + 1,
            None => return text.len(),
        }
    }
    text[start..].char_indices().nth(at.column.saturating_sub(1)).map_or(text.len(), |(i, _)| start + i)
}

/// What a value looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// A group, list or map, by its opening bracket.
    Bracket(char),
    /// Text in quotes.
    Text,
    /// A character in single quotes.
    Character,
    /// A number or a bare word.
    Bare,
}

/// A value in the text.
#[derive(Clone, Debug)]
pub struct Node {
    /// What it looks like.
    pub look: Look,
    /// First byte; of the word before the bracket, if there is one.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
    /// The opening bracket, where it has one.
    pub open: usize,
    /// The field name before it.
    pub key: Option<(usize, usize)>,
    /// The value it is part of.
    pub parent: Option<usize>,
    /// Which part of its parent it is, from 0.
    pub index: usize,
    /// Its parts.
    pub children: Vec<usize>,
}

/// A fault of brackets, quotes or comments.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken {
    /// Where, as a byte.
    pub at: usize,
    /// What is wrong.
    pub message: String,
}

/// The values of a text as a tree.
#[derive(Debug, Default)]
pub struct Tree {
    /// What the file holds.
    pub holds: Holds,
    /// All values; the first is the whole project, if there is any.
    pub nodes: Vec<Node>,
    /// The first fault of brackets, quotes or comments.
    pub broken: Option<Broken>,
}

impl Tree {
    /// Scans the text of a project.
    #[must_use]
    pub fn scan(text: &str) -> Self {
        Self::scan_as(Holds::Project, text)
    }

    /// Scans a text.
    #[must_use]
    pub fn scan_as(holds: Holds, text: &str) -> Self {
        let tree = Self { holds, ..Self::default() };
        let mut scan = Scan { text, at: 0, tree, open: Vec::new(), last: None, key: None };
        if let Err(broken) = scan.run() {
            scan.at = broken.at;
            scan.value_left_out();
            scan.tree.broken = Some(broken);
            // What was still open reaches to the end.
            for i in scan.open {
                scan.tree.nodes[i].end = text.len();
            }
        }
        scan.tree
    }

    /// The innermost value with this byte in it or in its field name.
    #[must_use]
    pub fn innermost(&self, byte: usize) -> Option<usize> {
        // A value left out still covers the byte it should have stood at.
        let covers = |n: &Node| (n.key.map_or(n.start, |k| k.0)..n.end.max(n.start + 1)).contains(&byte);
        let mut at = 0;
        self.nodes.first().filter(|n| covers(n))?;
        loop {
            let children = &self.nodes[at].children;
            // Children stand in order: the last that begins at or before the byte is the only one.
            let after =
                children.partition_point(|&c| self.nodes[c].key.map_or(self.nodes[c].start, |k| k.0) <= byte);
            match after.checked_sub(1).map(|i| children[i]).filter(|&c| covers(&self.nodes[c])) {
                Some(c) => at = c,
                None => return Some(at),
            }
        }
    }

    /// The field of a value with this name.
    #[must_use]
    pub fn field(&self, text: &str, node: usize, name: &str) -> Option<usize> {
        let children = &self.nodes.get(node)?.children;
        children.iter().copied().find(|&c| self.key(text, c) == Some(name))
    }

    /// The field name before a value.
    #[must_use]
    pub fn key<'t>(&self, text: &'t str, node: usize) -> Option<&'t str> {
        self.nodes.get(node)?.key.and_then(|(a, b)| text.get(a..b))
    }

    /// The text of a value.
    #[must_use]
    pub fn text_of<'t>(&self, text: &'t str, node: usize) -> &'t str {
        self.nodes.get(node).and_then(|n| text.get(n.start..n.end)).unwrap_or("")
    }

    /// The word before the bracket of a value: `Rect` of `Rect(…)`.
    #[must_use]
    pub fn head<'t>(&self, text: &'t str, node: usize) -> Option<&'t str> {
        let n = self.nodes.get(node)?;
        matches!(n.look, Look::Bracket(_))
            .then(|| text.get(n.start..n.open).map(str::trim))
            .flatten()
            .filter(|h| !h.is_empty())
    }
}

struct Scan<'t> {
    text: &'t str,
    at: usize,
    tree: Tree,
    /// Brackets still open, innermost last.
    open: Vec<usize>,
    /// The value since the last comma or bracket, which a `:` or `(` may turn out to belong to.
    last: Option<usize>,
    /// The field name since the last comma or bracket.
    key: Option<(usize, usize)>,
}

impl Scan<'_> {
    fn run(&mut self) -> Result<(), Broken> {
        self.skip_attribute();
        loop {
            self.skip_blank()?;
            let Some(c) = self.text[self.at..].chars().next() else { break };
            let ended = self.open.is_empty()
                && self.tree.nodes.first().is_some_and(|n| matches!(n.look, Look::Bracket(_)));
            if ended && !")]}".contains(c) {
                return Err(Broken { at: self.at, message: after_end(self.tree.holds) });
            }
            match c {
                '(' | '[' | '{' => self.open_bracket(c)?,
                ')' | ']' | '}' => self.close_bracket(c)?,
                ',' => {
                    self.value_left_out();
                    self.at += 1;
                    (self.last, self.key) = (None, None);
                }
                ':' => self.colon(),
                '"' => self.quoted(self.at, self.at)?,
                '\'' => self.character(),
                _ => self.bare()?,
            }
        }
        match self.open.last() {
            Some(&i) => {
                let open = self.tree.nodes[i].open;
                Err(Broken {
                    at: open,
                    message: format!("the '{}' opened here is never closed", &self.text[open..=open]),
                })
            }
            None => Ok(()),
        }
    }

    /// Passes over `#![enable(…)]` at the head.
    fn skip_attribute(&mut self) {
        while self.text[self.at..].trim_start().starts_with("#!") {
            match self.text[self.at..].find(']') {
                Some(i) => self.at += i + 1,
                None => return,
            }
        }
    }

    fn skip_blank(&mut self) -> Result<(), Broken> {
        loop {
            let rest = &self.text[self.at..];
            let trimmed = rest.trim_start();
            self.at += rest.len() - trimmed.len();
            if trimmed.starts_with("//") {
                self.at += trimmed.find('\n').unwrap_or(trimmed.len());
            } else if trimmed.starts_with("/*") {
                self.skip_block_comment()?;
            } else {
                return Ok(());
            }
        }
    }

    /// Block comments nest.
    fn skip_block_comment(&mut self) -> Result<(), Broken> {
        let bytes = self.text.as_bytes();
        let (start, mut i, mut depth) = (self.at, self.at + 2, 1);
        while depth > 0 {
            match bytes.get(i..i + 2) {
                None => {
                    return Err(Broken {
                        at: start,
                        message: "the comment begun here with '/*' is never closed".to_owned(),
                    });
                }
                Some(b"/*") => (depth, i) = (depth + 1, i + 2),
                Some(b"*/") => (depth, i) = (depth - 1, i + 2),
                Some(_) => i += 1,
            }
        }
        self.at = i;
        Ok(())
    }

    fn push(&mut self, look: Look, start: usize, end: usize, open: usize) -> Option<usize> {
        if self.tree.nodes.len() >= MOST_NODES {
            return None;
        }
        let parent = self.open.last().copied();
        if parent.is_none() && !self.tree.nodes.is_empty() {
            return None; // after the project's closing bracket
        }
        let id = self.tree.nodes.len();
        let index = parent.map_or(0, |p| self.tree.nodes[p].children.len());
        let key = self.key.take();
        self.tree.nodes.push(Node { look, start, end, open, key, parent, index, children: Vec::new() });
        if let Some(p) = parent {
            self.tree.nodes[p].children.push(id);
        }
        self.last = Some(id);
        Some(id)
    }

    fn open_bracket(&mut self, c: char) -> Result<(), Broken> {
        if self.open.len() >= DEEPEST {
            let holds = self.tree.holds.words();
            let message = format!("brackets are nested more than {DEEPEST} deep; no {holds} needs that");
            return Err(Broken { at: self.at, message });
        }
        let word = self.last.filter(|&l| c == '(' && self.tree.nodes[l].look == Look::Bare);
        let id = match word {
            Some(l) => {
                let node = &mut self.tree.nodes[l];
                (node.look, node.open, node.end) = (Look::Bracket(c), self.at, self.at + 1);
                Some(l)
            }
            None => self.push(Look::Bracket(c), self.at, self.at + 1, self.at),
        };
        match id {
            Some(id) => self.open.push(id),
            None => {
                return Err(Broken {
                    at: self.at,
                    message: format!("there is more here than a {} can hold", self.tree.holds.words()),
                });
            }
        }
        self.at += 1;
        (self.last, self.key) = (None, None);
        Ok(())
    }

    /// A field name with no value after it still has its place.
    fn value_left_out(&mut self) {
        if self.key.is_some() {
            self.push(Look::Bare, self.at, self.at, self.at);
        }
    }

    fn close_bracket(&mut self, c: char) -> Result<(), Broken> {
        self.value_left_out();
        let Some(id) = self.open.pop() else {
            return Err(Broken {
                at: self.at,
                message: format!("'{c}' closes nothing: no bracket is open here"),
            });
        };
        let open = self.tree.nodes[id].open;
        let fits = match self.text.as_bytes().get(open) {
            Some(b'(') => ')',
            Some(b'[') => ']',
            _ => '}',
        };
        if fits != c {
            self.open.push(id);
            let from = line_column(self.text, open);
            let message = format!(
                "expected '{fits}' to close the '{}' of line {}, column {}, found '{c}'",
                &self.text[open..=open],
                from.line,
                from.column
            );
            return Err(Broken { at: self.at, message });
        }
        self.at += 1;
        self.tree.nodes[id].end = self.at;
        (self.last, self.key) = (None, None);
        Ok(())
    }

    /// The bare word before a `:` was a field name.
    fn colon(&mut self) {
        self.at += 1;
        let Some(l) = self.last.take() else { return };
        let node = &self.tree.nodes[l];
        if node.look == Look::Bare && l + 1 == self.tree.nodes.len() && node.parent.is_some() {
            self.key = Some((node.start, node.end));
            if let Some(p) = node.parent {
                self.tree.nodes[p].children.pop();
            }
            self.tree.nodes.pop();
        }
    }

    /// Text in quotes; `start` is before any prefix, `quote` at the opening quote.
    fn quoted(&mut self, start: usize, quote: usize) -> Result<(), Broken> {
        let bytes = self.text.as_bytes();
        let mut i = quote + 1;
        loop {
            match bytes.get(i) {
                None => return Err(open_text(start)),
                Some(b'"') => break,
                Some(b'\\') => i += 2,
                Some(_) => i += 1,
            }
        }
        self.at = i + 1;
        self.push(Look::Text, start, i + 1, start);
        Ok(())
    }

    /// `r"…"`, `r#"…"#` and so on; `None` if there is none here.
    fn raw_text(&mut self, start: usize) -> Option<Result<(), Broken>> {
        let rest = self.text.get(start..)?;
        let body = rest.strip_prefix("br").or_else(|| rest.strip_prefix('r'))?;
        let hashes = body.len() - body.trim_start_matches('#').len();
        if body.as_bytes().get(hashes) != Some(&b'"') {
            return None;
        }
        let from = self.text.len() - body.len() + hashes + 1;
        let close = format!("\"{}", "#".repeat(hashes));
        Some(match self.text.get(from..).and_then(|t| t.find(&close)) {
            None => Err(open_text(start)),
            Some(i) => {
                self.at = from + i + close.len();
                self.push(Look::Text, start, self.at, start);
                Ok(())
            }
        })
    }

    fn character(&mut self) {
        let start = self.at;
        let rest = &self.text[start + 1..];
        // A lone quote is one character; 'x' and '\n' end at the next quote close by.
        let close = rest.char_indices().skip(1).take(10).find(|&(_, c)| c == '\'').map(|(i, _)| i + 1);
        self.at = start + 1 + close.unwrap_or(0);
        self.push(Look::Character, start, self.at, start);
    }

    fn bare(&mut self) -> Result<(), Broken> {
        let start = self.at;
        if let Some(done) = self.raw_text(start) {
            return done;
        }
        let rest = &self.text[start..];
        if rest.starts_with("b\"") {
            return self.quoted(start, start + 1);
        }
        let ends = |(i, c): (usize, char)| {
            let comment = c == '/' && matches!(rest.as_bytes().get(i + 1), Some(b'/' | b'*'));
            (comment || c.is_whitespace() || "()[]{},:\"'".contains(c)).then_some(i)
        };
        let length = rest.char_indices().skip(1).find_map(ends).unwrap_or(rest.len());
        self.at = start + length;
        self.push(Look::Bare, start, self.at, start);
        Ok(())
    }
}

pub(super) fn after_end(holds: Holds) -> String {
    format!("the {} has ended; nothing may follow its closing bracket", holds.words())
}

fn open_text(at: usize) -> Broken {
    Broken { at, message: "the text begun here is never closed; end it with '\"'".to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "(a: 1, // one, (two)\n b: [Rect(x: 2.5, \"y)\"), (3, 4)], c: r#\"a\"b\"#)";

    #[test]
    fn finds_values_by_byte_and_by_name() {
        let tree = Tree::scan(TEXT);
        assert_eq!(tree.broken, None);
        let b = tree.field(TEXT, 0, "b").map(|n| tree.text_of(TEXT, n));
        assert_eq!(b, Some("[Rect(x: 2.5, \"y)\"), (3, 4)]"));
        assert_eq!(tree.field(TEXT, 0, "c").map(|n| tree.text_of(TEXT, n)), Some("r#\"a\"b\"#"));
        let at = tree.innermost(TEXT.find("2.5").unwrap_or(0)).unwrap_or(0);
        assert_eq!(tree.key(TEXT, at), Some("x"));
        let rect = tree.nodes[at].parent.unwrap_or(0);
        assert_eq!(tree.head(TEXT, rect), Some("Rect"));
    }

    #[test]
    fn lines_and_columns_go_both_ways() {
        let text = "é(\n\tx: \"ü\",\r\n y";
        for (byte, _) in text.char_indices() {
            assert_eq!(byte_at(text, line_column(text, byte)), byte);
        }
        // The second line is a tab, then x: column 2.
        assert_eq!(line_column(text, 5), LineColumn { line: 2, column: 2 });
    }

    #[track_caller]
    fn broken(text: &str, at: usize, says: &str) {
        let found = Tree::scan(text).broken.map(|b| (b.at, b.message));
        let (place, message) = found.unwrap_or_default();
        assert_eq!(place, at, "{message}");
        assert!(message.contains(says), "{message}");
    }

    #[test]
    fn says_which_bracket_is_at_fault() {
        broken("(a: [1, 2)", 9, "expected ']' to close the '[' of line 1, column 5");
        broken("(a: [1, 2]", 0, "never closed");
        broken("(a: \"b)", 4, "text begun here");
        broken("(a: 1))", 6, "closes nothing");
        broken("(a: 1) b", 7, "nothing may follow");
        broken("(a: 1 /* b)", 6, "comment");
        broken(&"(".repeat(100), 64, "nested more than 64");
    }
}
