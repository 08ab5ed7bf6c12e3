//! Builds the tree from events. The open mappings and lists are a stack, never recursion.

use super::anchors::{Anchors, Budget, Size, merge};
use super::limits::{self, reached};
use super::places::Text;
use super::syntax;
use crate::source::{Code, Diagnostic, Entry, FileId, Key, Node, Scalar, Span, Value};
use granit_parser::{Event, ScalarStyle, ScanError, StructureStyle};
use std::collections::BTreeMap;

/// What follows an event.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Next {
    /// The next event.
    Event,
    /// Nothing: what comes is not read.
    Stop,
}

type Step = Result<Next, Box<Diagnostic>>;

/// What the next node of a mapping is.
#[derive(Debug)]
enum Awaits {
    Key,
    Value(Key),
    MergeValue,
    /// The value of a key that cannot be used and was reported.
    Nothing,
}

#[derive(Debug)]
enum Kind {
    Sequence(Vec<Node>),
    Mapping { entries: Vec<Entry>, merges: Vec<Node>, awaits: Awaits },
}

/// A mapping or list that is still open.
#[derive(Debug)]
struct Frame {
    kind: Kind,
    /// Whether it is written in brackets, and so ends with one.
    bracketed: bool,
    start: u32,
    /// End of what was last put in.
    end: u32,
    anchor: usize,
    size: Size,
}

/// The tree under construction.
#[derive(Debug)]
pub(super) struct Builder<'a> {
    source: Text<'a>,
    problems: &'a mut Vec<Diagnostic>,
    open: Vec<Frame>,
    root: Option<Node>,
    anchors: Anchors,
    budget: Budget,
    /// The single value or key read last: says where a syntax error comes from.
    last: Option<Span>,
    documents: usize,
    /// A part could not be read at all, so a tree would raise false alarms.
    broken: bool,
}

impl<'a> Builder<'a> {
    pub(super) fn new(text: &'a str, file: FileId, problems: &'a mut Vec<Diagnostic>) -> Self {
        Self {
            source: Text { text, file },
            problems,
            open: Vec::new(),
            root: None,
            anchors: Anchors::default(),
            budget: Budget::default(),
            last: None,
            documents: 0,
            broken: false,
        }
    }

    /// Takes one event.
    pub(super) fn event(&mut self, event: Event<'_>, at: &granit_parser::Span) -> Step {
        let span = self.source.span(at);
        match event {
            Event::DocumentStart(..) => return Ok(self.document(span)),
            Event::Scalar(text, style, anchor, tag) => {
                self.refuse_tag(tag.is_some(), at, span);
                self.scalar(&text, style, anchor, span)?;
            }
            Event::SequenceStart(style, anchor, tag) => {
                self.refuse_tag(tag.is_some(), at, span);
                self.start(Kind::Sequence(Vec::new()), style, anchor, span)?;
            }
            Event::MappingStart(style, anchor, tag) => {
                self.refuse_tag(tag.is_some(), at, span);
                let kind =
                    Kind::Mapping { entries: Vec::new(), merges: Vec::new(), awaits: Awaits::Key };
                self.start(kind, style, anchor, span)?;
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(span)?,
            Event::Alias(id) => self.alias(id, span)?,
            Event::UnresolvedAlias(name) => {
                self.cannot_use(
                    Diagnostic::error(
                        Code::YamlSyntax,
                        span,
                        format!("nothing before this is anchored as `&{name}`"),
                    )
                    .help(format!("write `&{name}` before the value it stands for, further up, or quote this text")),
                    span,
                )?;
            }
            _ => {}
        }
        Ok(Next::Event)
    }

    /// The tree, once the text is at its end.
    pub(super) fn finish(self) -> Option<Node> {
        let empty = match &self.root {
            Some(node) => matches!(node.value, Value::Null) && !self.broken,
            None => true,
        };
        if empty {
            let start = Span { file: self.source.file, start: 0, end: 0 };
            self.problems.push(
                Diagnostic::error(Code::EmptyFile, start, "the file holds no document")
                    .help("begin with the kind of document it is, such as `pan: 1`, and its title"),
            );
            return None;
        }
        if self.broken { None } else { self.root }
    }

    /// Reports what ended the reading.
    pub(super) fn give_up(self, problem: Diagnostic) {
        self.problems.push(problem);
    }

    /// What the parser refused, in our words.
    pub(super) fn syntax_error(&self, error: &ScanError) -> Diagnostic {
        let brackets = self
            .open
            .iter()
            .rev()
            .find(|f| f.bracketed)
            .map(|f| self.source.at(f.start, f.start + 1));
        let start = self.source.byte(error.marker());
        syntax::describe(
            self.source.text,
            self.source.file,
            error.kind(),
            start as usize,
            brackets,
            self.last,
        )
    }

    fn document(&mut self, span: Span) -> Next {
        self.documents += 1;
        if self.documents == 1 {
            return Next::Event;
        }
        let begins = match self.root.as_ref() {
            Some(root) => format!("a second document begins here; the first is {}", root.shape()),
            None => "a second document begins here".to_owned(),
        };
        self.problems.push(
            Diagnostic::error(Code::YamlSyntax, span, begins)
                .help("keep one document in a file: move what follows into a file of its own"),
        );
        Next::Stop
    }

    fn refuse_tag(&mut self, tagged: bool, at: &granit_parser::Span, span: Span) {
        if tagged {
            let span = at.tag_span().map_or(span, |tag| self.source.span(&tag));
            let tag = self.source.slice(span).to_owned();
            self.problems.push(
                Diagnostic::error(Code::YamlSyntax, span, format!("the tag `{tag}` is not read"))
                    .help("delete it: every value is read as what its place asks for; text that begins with `!` is quoted"),
            );
        }
    }

    fn scalar(
        &mut self,
        text: &str,
        style: ScalarStyle,
        anchor: usize,
        span: Span,
    ) -> Result<(), Box<Diagnostic>> {
        let size = Size { nodes: 1, bytes: text.len(), depth: 0 };
        if text.len() > limits::SCALAR_BYTES {
            let what = "bytes in one value";
            return Err(Box::new(reached(
                span,
                "scalar bytes",
                text.len(),
                limits::SCALAR_BYTES,
                what,
            )));
        }
        self.budget.charge(size, span)?;
        let plain = style == ScalarStyle::Plain;
        let span = self.source.scalar(span, style);
        let null =
            plain && (span.start == span.end || matches!(text, "~" | "null" | "Null" | "NULL"));
        let value = if null {
            Value::Null
        } else {
            self.refuse_controls(text, span);
            self.last = Some(span);
            Value::Scalar(Scalar {
                text: text.to_owned(),
                span,
                verbatim_at: self.source.verbatim(text, style, span),
                plain,
            })
        };
        let node = Node { span, defined: span, value };
        self.anchors.keep(anchor, &node, size)?;
        self.put(node, size)
    }

    fn refuse_controls(&mut self, text: &str, span: Span) {
        if let Some(found) = text.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t')) {
            self.problems.push(
                Diagnostic::error(
                    Code::YamlSyntax,
                    span,
                    format!("the text holds the control character U+{:04X}", u32::from(found)),
                )
                .help("leave the escape out"),
            );
        }
    }

    fn start(
        &mut self,
        kind: Kind,
        style: StructureStyle,
        anchor: usize,
        span: Span,
    ) -> Result<(), Box<Diagnostic>> {
        let size = Size { nodes: 1, bytes: 0, depth: 1 };
        self.budget.charge(size, span)?;
        if self.open.len() >= limits::DEPTH {
            let what = "mappings and lists one within another";
            return Err(Box::new(reached(span, "depth", self.open.len() + 1, limits::DEPTH, what)));
        }
        // In `[a: 1]` the mapping has no brackets of its own and the parser gives it no extent.
        let bracketed = style == StructureStyle::Flow && span.start < span.end;
        let start = match kind {
            Kind::Sequence(_) if !bracketed => match self.open.last() {
                Some(Frame { kind: Kind::Mapping { awaits: Awaits::Value(key), .. }, .. }) => {
                    self.source.first_dash(key.span.end, span.start)
                }
                _ => span.start,
            },
            _ => span.start,
        };
        self.open.push(Frame { kind, bracketed, start, end: span.end, anchor, size });
        Ok(())
    }

    fn end(&mut self, span: Span) -> Result<(), Box<Diagnostic>> {
        let Some(frame) = self.open.pop() else { return Ok(()) };
        let end = if frame.bracketed { span.end } else { frame.end };
        let span = self.source.at(frame.start, end);
        let value = match frame.kind {
            Kind::Sequence(items) => Value::Sequence(items),
            Kind::Mapping { mut entries, merges, .. } => {
                self.drop_duplicates(&mut entries);
                merge(&mut entries, merges, self.problems)?;
                Value::Mapping(entries)
            }
        };
        let node = Node { span, defined: span, value };
        self.anchors.keep(frame.anchor, &node, frame.size)?;
        self.put(node, frame.size)
    }

    /// Keeps the first of keys that stand twice.
    fn drop_duplicates(&mut self, entries: &mut Vec<Entry>) {
        let mut first: BTreeMap<String, Span> = BTreeMap::new();
        entries.retain(|entry| {
            let key = &entry.key;
            let Some(before) = first.get(&key.text) else {
                first.insert(key.text.clone(), key.span);
                return true;
            };
            self.problems.push(duplicate(&key.text, key.span, *before));
            false
        });
    }

    fn alias(&mut self, id: usize, span: Span) -> Result<(), Box<Diagnostic>> {
        self.anchors.count_alias(span)?;
        let Some((anchored, size)) = self.anchors.get(id) else {
            let problem = Diagnostic::error(
                Code::YamlSyntax,
                span,
                "the alias stands within the value it names, which would never end",
            )
            .help("write the value out");
            return self.cannot_use(problem, span);
        };
        let size = *size;
        self.budget.charge(size, span)?;
        let depth = self.open.len() + size.depth;
        if depth > limits::DEPTH {
            let what = "mappings and lists one within another, with the alias written out";
            return Err(Box::new(reached(span, "depth", depth, limits::DEPTH, what)));
        }
        let mut node = anchored.clone();
        node.span = span;
        self.put(node, size)
    }

    /// Reports a value that cannot be read, and goes on as if it were empty.
    fn cannot_use(&mut self, problem: Diagnostic, span: Span) -> Result<(), Box<Diagnostic>> {
        self.problems.push(problem);
        self.broken = true;
        if let Some(Frame { kind: Kind::Mapping { awaits, .. }, .. }) = self.open.last_mut()
            && matches!(awaits, Awaits::MergeValue)
        {
            *awaits = Awaits::Nothing;
        }
        self.put(Node { span, defined: span, value: Value::Null }, Size::default())
    }

    /// Puts a finished node where it belongs: as key, value, item or root.
    fn put(&mut self, node: Node, size: Size) -> Result<(), Box<Diagnostic>> {
        let put_at = node.span;
        let Some(frame) = self.open.last_mut() else {
            self.root = Some(node);
            return Ok(());
        };
        frame.size.add(size);
        frame.end = if node.span.end > frame.end { node.span.end } else { frame.end };
        match &mut frame.kind {
            Kind::Sequence(items) => items.push(node),
            Kind::Mapping { entries, merges, awaits } => {
                match std::mem::replace(awaits, Awaits::Key) {
                    Awaits::Key => {
                        self.key(node);
                        return Ok(());
                    }
                    Awaits::Value(key) => entries.push(Entry { key, value: node }),
                    Awaits::MergeValue => merges.push(node),
                    Awaits::Nothing => {}
                }
                if entries.len() > limits::KEYS {
                    let span = entries.last().map_or(put_at, |e| e.key.span);
                    let what = "keys in one mapping";
                    return Err(Box::new(reached(
                        span,
                        "keys",
                        limits::KEYS + 1,
                        limits::KEYS,
                        what,
                    )));
                }
            }
        }
        Ok(())
    }

    /// Takes a node as a key.
    fn key(&mut self, node: Node) {
        let span = node.span;
        let shape = node.shape();
        let next = match node.value {
            Value::Scalar(scalar) if scalar.plain && scalar.text == "<<" => Awaits::MergeValue,
            Value::Scalar(scalar) => Awaits::Value(Key { text: scalar.text, span }),
            Value::Null if span.start < span.end => {
                Awaits::Value(Key { text: self.source.slice(span).to_owned(), span })
            }
            _ => {
                self.broken = true;
                self.problems.push(
                    Diagnostic::error(Code::YamlSyntax, span, format!("a key must be a single text, found {shape}"))
                        .help("give the value a name before the colon, and quote a name that begins with a bracket"),
                );
                Awaits::Nothing
            }
        };
        if let Some(Frame { kind: Kind::Mapping { awaits, .. }, .. }) = self.open.last_mut() {
            *awaits = next;
        }
    }
}

fn duplicate(key: &str, second: Span, first: Span) -> Diagnostic {
    Diagnostic::error(
        Code::DuplicateKey,
        second,
        format!("the key `{key}` stands twice in one mapping"),
    )
    .labelled("again here; this one is not read")
    .also(first, "first here")
    .help("delete one of them, or give it another name")
}
