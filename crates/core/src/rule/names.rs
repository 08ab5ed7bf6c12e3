//! What a name in a formula or condition can mean: a measure, or a path into a document.

use super::{DocumentPath, ForEach};
use crate::document::DocumentKind;
use crate::document::field::Field;
use crate::measure::{ObjectKind, Spec};
use crate::source::{Code, Diagnostic, Span, nearest};

/// The names that are known.
#[derive(Debug, Clone, Copy)]
pub(super) struct Names<'a> {
    /// The measures.
    pub measures: &'static [Spec],
    /// The fields of the documents.
    pub fields: &'a [Field],
}

/// The documents that a pan refers to: each is a path of its own, stated or not.
const REFERENCES: [(&str, DocumentKind); 4] = [
    ("vehicle", DocumentKind::Vehicle),
    ("oil", DocumentKind::Oil),
    ("duty", DocumentKind::Duty),
    ("baseline", DocumentKind::Pan),
];

/// Stands for the object's own name in a path such as `drain.boss` while it is looked up.
const ANY_OBJECT: &str = "name";

impl Names<'_> {
    /// The measure of a name.
    pub(super) fn measure(&self, name: &str) -> Option<&'static Spec> {
        self.measures.iter().find(|spec| spec.name == name)
    }

    /// The measure whose name is so near that it was probably meant.
    pub(super) fn nearest_measure(&self, name: &str) -> Option<&'static str> {
        nearest(name, self.measures.iter().map(|spec| spec.name))
    }

    /// Reads a name as a path into a document.
    pub(super) fn path(&self, written: &str, span: Span) -> Result<DocumentPath, Box<Diagnostic>> {
        let each = self.object_of(written).map(|kind| ForEach { kind, span });
        let path = DocumentPath { written: written.to_owned(), each, span };
        if self.knows(&path.for_object(ANY_OBJECT)) {
            return Ok(path);
        }
        let problem = Diagnostic::error(
            Code::UnknownName,
            span,
            format!("`{written}` is no path of a document"),
        );
        Err(Box::new(if self.measure(written).is_some() {
            problem.help(
                "this is a measure, which is computed; ask for the values that the document states",
            )
        } else if let Some(meant) = self.nearest_path(&path) {
            problem.help(format!("did you mean `{meant}`?"))
        } else {
            problem.help("a condition asks for a path of the pan, or of its vehicle, oil or duty")
        }))
    }

    /// The field at a path; none for what is not in the table by itself.
    pub(super) fn field(&self, path: &DocumentPath) -> Option<&Field> {
        let path = path.for_object(ANY_OBJECT);
        let (document, rest) = split_document(&path);
        self.fields.iter().find(|field| {
            field.document == document
                && field.path.split('.').count() == rest.split('.').count()
                && leads_to(rest, field.path)
        })
    }

    /// The kind of object whose word a path starts with.
    fn object_of(&self, path: &str) -> Option<ObjectKind> {
        let first = path.split('.').next()?;
        let mut kinds = self.measures.iter().map(|spec| spec.kind);
        kinds.find(|kind| *kind != ObjectKind::Pan && kind.word() == first)
    }

    /// Whether a path is that of a field, or of a mapping that holds one.
    fn knows(&self, path: &str) -> bool {
        if REFERENCES.iter().any(|(word, _)| *word == path) {
            return true;
        }
        let (document, rest) = split_document(path);
        self.fields.iter().any(|field| field.document == document && leads_to(rest, field.path))
    }

    fn nearest_path(&self, path: &DocumentPath) -> Option<String> {
        let full = path.for_object(ANY_OBJECT);
        let (document, rest) = split_document(&full);
        let prefix = full.strip_suffix(rest).unwrap_or_default();
        let mut candidates: Vec<String> = REFERENCES.map(|(word, _)| word.to_owned()).into();
        for field in self.fields.iter().filter(|field| field.document == document) {
            candidates.push(format!("{prefix}{}", with_names_of(rest, field.path)));
        }
        let meant = nearest(&full, candidates.iter().map(String::as_str))?;
        let inside = path.each.and_then(|each| {
            let object = format!("{}.{ANY_OBJECT}", each.kind.family());
            meant.strip_prefix(&object).map(|rest| format!("{}{rest}", each.kind.word()))
        });
        Some(inside.unwrap_or_else(|| meant.to_owned()))
    }
}

/// The document that a path walks into, and the rest of the path.
fn split_document(path: &str) -> (DocumentKind, &str) {
    let reference = path.split_once('.').and_then(|(first, rest)| {
        let (_, document) = REFERENCES.iter().find(|(word, _)| *word == first)?;
        Some((*document, rest))
    });
    reference.unwrap_or((DocumentKind::Pan, path))
}

/// Whether a concrete path is a field's or the beginning of it; `*` stands for any one word.
fn leads_to(path: &str, field: &str) -> bool {
    let mut field = field.split('.');
    path.split('.').all(|word| field.next().is_some_and(|known| known == "*" || known == word))
}

/// The path of a field with the names that an author chose in a path near to it.
fn with_names_of(path: &str, field: &str) -> String {
    let mut chosen = path.split('.');
    let words = field.split('.').map(|known| match (known, chosen.next()) {
        ("*", Some(name)) => name,
        ("*", None) => ANY_OBJECT,
        _ => known,
    });
    words.collect::<Vec<_>>().join(".")
}
