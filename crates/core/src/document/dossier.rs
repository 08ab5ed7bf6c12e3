//! A pan with the documents it refers to: files found, texts parsed, references followed.
//!
//! Each file is read and parsed once a run, however many pans name it.

use super::attached::{ATTACHED_LIMIT, Attached, Attachments, named_in, soundings_in};
use super::project::PROJECT_FILE;
use super::recording::Log;
use super::soundings::{SoundingTable, read_soundings};
use super::watched::Parts;
use super::{DocumentKind, Text};
use crate::source::{
    Code, Diagnostic, FileId, FileProblem, Files, Node, Sources, Span, Value, parse,
};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Largest pan, vehicle, oil or duty document, in bytes: they are a few kB when written by hand.
pub const DOCUMENT_LIMIT: u64 = 4 * 1024 * 1024;

/// Largest drive log, in bytes: it is read in pieces, and an hour at 100 samples a second takes some 20 MB.
pub const LOG_LIMIT: u64 = 16 * 1024 * 1024 * 1024;

/// One parsed document.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its path as shown.
    pub path: String,
    /// Its text.
    pub file: FileId,
    /// Its tree.
    pub node: Arc<Node>,
    /// Other texts that some of its values were put in from: the rulebooks whose cases change them.
    pub also: Vec<FileId>,
    /// The files of data that it names.
    pub attached: Arc<Attachments>,
}

impl Part {
    /// Whether some of its values stand in this text.
    pub fn reads(&self, file: FileId) -> bool {
        self.file == file || self.also.contains(&file)
    }
}

/// A pan and what it refers to; a part is missing where the pan names none or it could not be read.
#[derive(Debug, Clone)]
pub struct Dossier {
    /// The pan.
    pub pan: Part,
    /// Its vehicle.
    pub vehicle: Option<Part>,
    /// Its oil.
    pub oil: Option<Part>,
    /// Its duty.
    pub duty: Option<Part>,
    /// Its baseline pans, in the order named.
    pub baselines: Vec<Part>,
    /// The recording that its duty names.
    pub log: Option<Arc<Log>>,
}

impl Dossier {
    /// The baseline pan as if it were used on this pan's vehicle, with its oil and duty.
    #[must_use]
    pub fn of_baseline(&self, baseline: &Part) -> Self {
        Self { pan: baseline.clone(), baselines: Vec::new(), ..self.clone() }
    }

    /// Whether a text is one that values were put in from.
    pub fn takes_from(&self, file: FileId) -> bool {
        let own = [Some(&self.pan), self.vehicle.as_ref(), self.oil.as_ref(), self.duty.as_ref()];
        let mut parts = own.into_iter().flatten().chain(&self.baselines);
        parts.any(|part| part.also.contains(&file))
    }

    /// Whether a text is one of those the pan itself (not its baselines) is read from.
    pub fn reads(&self, file: FileId) -> bool {
        [Some(&self.pan), self.vehicle.as_ref(), self.oil.as_ref(), self.duty.as_ref()]
            .into_iter()
            .flatten()
            .any(|part| part.reads(file))
    }
}

/// All documents of a run.
pub struct Library<'a> {
    files: &'a dyn Files,
    /// Every text read.
    pub sources: Sources,
    /// What is wrong so far.
    pub problems: Vec<Diagnostic>,
    parsed: BTreeMap<String, Option<Part>>,
    attached: BTreeMap<String, Arc<Attached>>,
    /// By the path of the duty that names them: each is gone through once a run.
    logs: BTreeMap<String, Option<Arc<Log>>>,
}

impl std::fmt::Debug for Library<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Library").field("parsed", &self.parsed).finish_non_exhaustive()
    }
}

impl<'a> Library<'a> {
    /// An empty library over the host's files.
    pub fn new(files: &'a dyn Files) -> Self {
        Self::over(files, Sources::default())
    }

    /// A library over the host's files that goes on from texts read before.
    pub(crate) fn over(files: &'a dyn Files, sources: Sources) -> Self {
        Self {
            files,
            sources,
            problems: Vec::new(),
            parsed: BTreeMap::new(),
            attached: BTreeMap::new(),
            logs: BTreeMap::new(),
        }
    }

    /// Whether the host has a file there.
    pub(crate) fn has(&self, path: &str) -> bool {
        self.files.exists(path)
    }

    /// The rulebook that the host brings along, each file parsed once.
    pub(crate) fn built_in(&mut self) -> Vec<Part> {
        let mut parts = Vec::new();
        for (path, text) in self.files.built_in() {
            let part = match self.parsed.get(&path) {
                Some(known) => known.clone(),
                None => self.keep(&path, text.as_bytes()),
            };
            parts.extend(part);
        }
        parts
    }

    /// The rulebook that one names by the path of its file.
    pub(crate) fn rulebook_named(&mut self, from: &Part, name: &Text) -> Option<Part> {
        let root = self.root_of(&tidy(&from.path));
        self.follow(from, &name.text, name.span, DocumentKind::Rulebook, &root)
    }

    /// A pan that the user named, with all it refers to.
    pub fn dossier(&mut self, path: &str) -> Option<Dossier> {
        let path = tidy(path);
        let pan = self.named_by_user(&path)?;
        Some(self.dossier_of(pan))
    }

    /// A pan, perhaps changed since it was read, with all it refers to.
    pub fn dossier_of(&mut self, pan: Part) -> Dossier {
        let root = self.root_of(&pan.path.clone());
        if super::reader::kind_of(&pan.node) != Some(DocumentKind::Pan) {
            // The reader of pans says what it is; its keys are no references.
            return Dossier {
                pan,
                vehicle: None,
                oil: None,
                duty: None,
                baselines: Vec::new(),
                log: None,
            };
        }
        let vehicle = self.referred(&pan, "vehicle", DocumentKind::Vehicle, &root);
        let oil = self.referred(&pan, "oil", DocumentKind::Oil, &root);
        let duty = self.referred(&pan, "duty", DocumentKind::Duty, &root);
        let baselines = self.baselines(&pan, &root);
        let pan = self.with_attached(pan, &root);
        let log = duty.as_ref().and_then(|duty| self.log(duty, &root));
        Dossier { pan, vehicle, oil, duty, baselines, log }
    }

    /// A document that the user named, by its tidy path.
    pub(crate) fn list_named_by_user(&mut self, path: &str) -> Option<Part> {
        self.named_by_user(&tidy(path))
    }

    /// A file that a document names as evidence, whatever it holds.
    pub(crate) fn evidence(&mut self, from: &Part, name: &Text) -> Option<Attached> {
        let root = self.root_of(&from.path);
        let path = self.path_within(from, &name.text, name.span, &root)?;
        match self.files.read(&path, Some(&root), ATTACHED_LIMIT) {
            Ok(bytes) => Some(Attached::new(path, bytes)),
            Err(problem) => {
                self.cannot_be_read(name.span, &path, &problem, &root);
                None
            }
        }
    }

    /// The path that a document names, whether or not a file is there; nothing where it is no path, which is told.
    pub(crate) fn points_to(&mut self, from: &Part, name: &Text) -> Option<String> {
        let root = self.root_of(&from.path);
        self.path_within(from, &name.text, name.span, &root)
    }

    /// The path of a file that a document names; nothing where it leads nowhere, which is told.
    pub(crate) fn leads_to(&mut self, from: &Part, name: &Text) -> Option<String> {
        let root = self.root_of(&from.path);
        let path = self.points_to(from, name)?;
        if self.files.exists(&path) {
            return Some(path);
        }
        self.cannot_be_read(name.span, &path, &FileProblem::Missing, &root);
        None
    }

    /// The path of the project that a document belongs to, if to one.
    pub(crate) fn project_of(&self, path: &str) -> Option<String> {
        let path = join(&self.root_of(&tidy(path)), PROJECT_FILE);
        self.files.exists(&path).then_some(path)
    }

    /// A text that the host brings along, such as a built-in rulebook.
    pub fn add_text(&mut self, path: &str, text: String) -> Option<Part> {
        let file = self.sources.add(path, text);
        self.parsed_part(path, file)
    }

    fn parsed_part(&mut self, path: &str, file: FileId) -> Option<Part> {
        let node = parse(&self.sources, file, &mut self.problems)?;
        Some(Part {
            path: path.to_owned(),
            file,
            node: Arc::new(node),
            also: Vec::new(),
            attached: Arc::default(),
        })
    }

    /// A document that the user named, parsed.
    pub fn named_by_user(&mut self, path: &str) -> Option<Part> {
        if let Some(known) = self.parsed.get(path) {
            return known.clone();
        }
        match self.files.read(path, None, DOCUMENT_LIMIT) {
            Ok(bytes) => self.keep(path, &bytes),
            Err(problem) => {
                let file = self.sources.add(path, String::new());
                let at = Span { file, start: 0, end: 0 };
                let message = format!("this file cannot be read: {}", words(&problem));
                self.problems.push(Diagnostic::error(Code::Unreadable, at, message));
                self.parsed.insert(path.to_owned(), None);
                None
            }
        }
    }

    fn keep(&mut self, path: &str, bytes: &[u8]) -> Option<Part> {
        let part = match self.sources.add_bytes(path, bytes) {
            Ok(file) => self.parsed_part(path, file),
            Err((_, problem)) => {
                self.problems.push(*problem);
                None
            }
        };
        self.parsed.insert(path.to_owned(), part.clone());
        part
    }

    /// The folder that references may not leave: that of the nearest `sumpwright.yaml` above the pan,
    /// without one the parent of the pan's folder.
    fn root_of(&self, pan: &str) -> String {
        let mut folder = parent(pan);
        for _ in 0..64 {
            if self.files.exists(&join(&folder, PROJECT_FILE)) {
                return folder;
            }
            let above = parent_folder(&folder);
            if above == folder {
                break;
            }
            folder = above;
        }
        parent_folder(&parent(pan))
    }

    fn referred(&mut self, pan: &Part, key: &str, kind: DocumentKind, root: &str) -> Option<Part> {
        let node = pan.node.get(key)?.clone();
        if node.is_none_word() {
            return None;
        }
        // The reader of the pan reports a value that is no text; here there is nothing to follow.
        self.follow(pan, &node.scalar()?.text, node.span, kind, root)
    }

    /// The recording that a duty names, checked.
    fn log(&mut self, duty: &Part, root: &str) -> Option<Arc<Log>> {
        if let Some(known) = self.logs.get(&duty.path) {
            return known.clone();
        }
        let log = self.checked_log(duty, root).map(Arc::new);
        self.logs.insert(duty.path.clone(), log.clone());
        log
    }

    fn checked_log(&mut self, duty: &Part, root: &str) -> Option<Log> {
        // What is wrong with the duty itself is told where it is read as one of the pan's documents.
        let mut aside = super::reader::Findings::default();
        let options =
            super::reader::ReadOptions { shifts: &[], exact: false, prefix: "", moved: Parts::ALL };
        let read = super::reader::read_duty(&duty.node, options, &mut aside)?;
        let doc = read.log.stated()?;
        let path = self.path_within(duty, &doc.file.text, doc.file.span, root)?;
        match self.files.recording(&path, Some(root), LOG_LIMIT) {
            Ok(source) => Log::check(&path, doc, source, &mut self.sources, &mut self.problems),
            Err(problem) => {
                self.cannot_be_read(doc.file.span, &path, &problem, root);
                None
            }
        }
    }

    fn baselines(&mut self, pan: &Part, root: &str) -> Vec<Part> {
        let Some(node) = pan.node.get("baseline").cloned() else { return Vec::new() };
        if node.is_none_word() {
            return Vec::new();
        }
        let nodes = match &node.value {
            Value::Sequence(items) => items.clone(),
            _ => vec![node],
        };
        let mut parts: Vec<Part> = Vec::new();
        for node in nodes {
            let Some(name) = node.scalar() else { continue };
            let followed = self.follow(pan, &name.text, node.span, DocumentKind::Pan, root);
            let Some(part) = followed else { continue };
            if parts.iter().any(|p| p.file == part.file) {
                let message = "this baseline is named twice";
                self.problems.push(Diagnostic::error(Code::Contradiction, node.span, message));
            } else if self.leads_back(&part, pan) {
                let message = format!(
                    "this baseline has {} as its own baseline, so that neither is the original",
                    pan.path
                );
                let help =
                    "compare with the pan the maker fitted; its description names no baseline";
                self.problems
                    .push(Diagnostic::error(Code::CyclicReference, node.span, message).help(help));
            } else {
                parts.push(self.with_attached(part, root));
            }
        }
        parts
    }

    /// Whether the chain of baselines from `start` reaches `pan`. Files not yet parsed are parsed for it
    /// only as far as their baselines lie beside them; a chain longer than 64 is not followed further.
    fn leads_back(&mut self, start: &Part, pan: &Part) -> bool {
        let mut front = vec![start.clone()];
        for _ in 0..64 {
            let Some(part) = front.pop() else { return false };
            for target in baseline_targets(&part) {
                if target == pan.path {
                    return true;
                }
                if let Some(Some(next)) = self.parsed.get(&target) {
                    front.push(next.clone());
                } else if !self.parsed.contains_key(&target)
                    && let Ok(bytes) = self.files.read(&target, None, DOCUMENT_LIMIT)
                    && let Ok(text) = String::from_utf8(bytes)
                {
                    let mut aside = Sources::default();
                    let file = aside.add(&target, text);
                    if let Some(node) = parse(&aside, file, &mut Vec::new()) {
                        front.push(Part {
                            path: target,
                            file,
                            node: Arc::new(node),
                            also: Vec::new(),
                            attached: Arc::default(),
                        });
                    }
                }
            }
        }
        false
    }

    /// The pan with the files of data that it names.
    fn with_attached(&mut self, pan: Part, root: &str) -> Part {
        let tree = Arc::clone(&pan.node);
        let mut attached = Attachments::new();
        for node in named_in(&tree) {
            let Some(name) = node.scalar() else { continue };
            let is_table = soundings_in(&tree).is_some_and(|table| table.span == node.span);
            if let Some(found) = self.attach(&pan, node, root, is_table) {
                attached.insert(name.text.clone(), found);
            }
        }
        Part { attached: Arc::new(attached), ..pan }
    }

    /// The file of data that a node names; a table of depths is read, and what is wrong with it said, once.
    fn attach(
        &mut self,
        pan: &Part,
        node: &Node,
        root: &str,
        is_table: bool,
    ) -> Option<Arc<Attached>> {
        // The reader of the pan reports a value that is no text; here there is nothing to follow.
        let path = self.path_within(pan, &node.scalar()?.text, node.span, root)?;
        if let Some(known) = self.attached.get(&path)
            && (known.soundings.is_some() || !is_table)
        {
            return Some(Arc::clone(known));
        }
        match self.files.read(&path, Some(root), ATTACHED_LIMIT) {
            Ok(bytes) => {
                let mut file = Attached::new(path.clone(), bytes);
                if is_table {
                    file.soundings = Some(self.table(&path, &file.bytes));
                }
                let file = Arc::new(file);
                self.attached.insert(path, Arc::clone(&file));
                Some(file)
            }
            Err(problem) => {
                self.cannot_be_read(node.span, &path, &problem, root);
                None
            }
        }
    }

    /// The rows of a table of depths; none where something is wrong with it, which is said.
    fn table(&mut self, path: &str, bytes: &[u8]) -> SoundingTable {
        match self.sources.add_bytes(path, bytes) {
            Ok(file) => read_soundings(&self.sources, file, &mut self.problems),
            Err((_, problem)) => {
                self.problems.push(*problem);
                SoundingTable::default()
            }
        }
    }

    /// The path that a reference leads to, where it is one and stays under the root; else it says why not.
    fn path_within(&mut self, from: &Part, text: &str, at: Span, root: &str) -> Option<String> {
        let error = |code, message: String| Diagnostic::error(code, at, message);
        let path = tidy(&join(&parent(&from.path), text));
        let problem = if text.starts_with('/') || text.contains('\\') || text.contains(':') {
            let message = format!("{text:?} is not a path relative to this file");
            error(Code::BadReference, message)
                .help("write it with forward slashes, from this file's folder")
        } else if path == tidy(&from.path) {
            error(Code::CyclicReference, "this reference names the file it stands in".into())
        } else if !within(&path, root) {
            let message = format!("this reference leaves the folder {}", shown_folder(root));
            error(Code::EscapingReference, message).help(
                "references stay under the folder of the nearest sumpwright.yaml, or without one \
                 under the parent of the folder that the file lies in",
            )
        } else {
            return Some(path);
        };
        self.problems.push(problem);
        None
    }

    fn cannot_be_read(&mut self, at: Span, path: &str, problem: &FileProblem, root: &str) {
        let (code, message) = match problem {
            FileProblem::OutsideRoot => {
                let folder = shown_folder(root);
                let message =
                    format!("this reference leads, through a link, out of the folder {folder}");
                (Code::EscapingReference, message)
            }
            problem => (Code::BadReference, format!("{path} cannot be read: {}", words(problem))),
        };
        let told = Diagnostic::error(code, at, message);
        let told = if *problem == FileProblem::Missing {
            told.help("a path is read from the folder of the file that it stands in")
        } else {
            told
        };
        self.problems.push(told);
    }

    /// The document that a reference at `at` leads to.
    fn follow(
        &mut self,
        from: &Part,
        text: &str,
        at: Span,
        kind: DocumentKind,
        root: &str,
    ) -> Option<Part> {
        let path = self.path_within(from, text, at, root)?;
        let part = match self.parsed.get(&path) {
            Some(known) => known.clone(),
            None => match self.files.read(&path, Some(root), DOCUMENT_LIMIT) {
                Ok(bytes) => self.keep(&path, &bytes),
                Err(problem) => {
                    self.cannot_be_read(at, &path, &problem, root);
                    return None;
                }
            },
        }?;
        self.of_kind(part, at, kind)
    }

    fn of_kind(&mut self, part: Part, at: Span, kind: DocumentKind) -> Option<Part> {
        let found = super::reader::kind_of(&part.node);
        if found == Some(kind) {
            return Some(part);
        }
        let one = |kind: DocumentKind| {
            let article = if kind == DocumentKind::Oil { "an" } else { "a" };
            format!("{article} {}", kind.key())
        };
        let is = found.map_or_else(|| "of no kind this program knows".to_owned(), one);
        let message = format!("{} was expected here, but {} is {is}", one(kind), part.path);
        let mut problem = Diagnostic::error(Code::WrongKind, at, message);
        if let Value::Mapping(entries) = &part.node.value
            && let Some(first) = entries.first()
        {
            problem = problem.also(first.key.span, "its first key says what it is");
        }
        let key = kind.key();
        self.problems.push(problem.help(match found {
            None => format!("begin that file with `{key}: 1` if it is one, or name another"),
            Some(_) => format!("name the file that begins with `{key}: 1`"),
        }));
        None
    }
}

fn baseline_targets(part: &Part) -> Vec<String> {
    let nodes: Vec<&Node> = match part.node.get("baseline") {
        None => Vec::new(),
        Some(Node { value: Value::Sequence(items), .. }) => items.iter().collect(),
        Some(node) => vec![node],
    };
    nodes
        .into_iter()
        .filter(|n| !n.is_none_word())
        .filter_map(Node::scalar)
        .map(|s| tidy(&join(&parent(&part.path), &s.text)))
        .collect()
}

fn words(problem: &FileProblem) -> String {
    match problem {
        FileProblem::Missing => "there is no such file".into(),
        FileProblem::NotAFile => "it is not a regular file".into(),
        FileProblem::TooLarge { size, limit } => {
            format!("it has {size} bytes, and the limit is {limit}")
        }
        FileProblem::OutsideRoot => "it lies outside the root folder".into(),
        FileProblem::Refused(why) => why.clone(),
    }
}

fn shown_folder(root: &str) -> &str {
    if root.is_empty() { "that this program was started in" } else { root }
}

/// A file in a folder, by its tidy path.
pub fn beside(folder: &str, file: &str) -> String {
    tidy(&join(folder, file))
}

/// The folder that a reference in a file leads to, or the file's own without one.
pub fn folder_from(file: &str, reference: Option<&str>) -> String {
    let own = parent(file);
    reference.map_or_else(|| own.clone(), |reference| tidy(&join(&own, reference)))
}

fn join(folder: &str, path: &str) -> String {
    if folder.is_empty() || path.starts_with('/') {
        path.to_owned()
    } else {
        format!("{}/{path}", folder.trim_end_matches('/'))
    }
}

/// Folder of a file; empty for the working directory.
fn parent(path: &str) -> String {
    match path.rsplit_once('/') {
        Some(("", _)) => "/".to_owned(),
        Some((folder, _)) => folder.to_owned(),
        None => String::new(),
    }
}

/// The folder above a folder, going up from the working directory by `..`.
fn parent_folder(folder: &str) -> String {
    if folder == "/" {
        "/".to_owned()
    } else if folder.is_empty() {
        "..".to_owned()
    } else if folder == ".." || folder.ends_with("/..") {
        format!("{folder}/..")
    } else {
        parent(folder)
    }
}

/// A path without `.` and without `..` after a name. Links are resolved by the host, not here.
pub fn tidy(path: &str) -> String {
    let absolute = path.starts_with('/');
    let mut parts: Vec<&str> = Vec::new();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|p| *p != "..") => {
                parts.pop();
            }
            ".." if absolute => {}
            other => parts.push(other),
        }
    }
    let joined = parts.join("/");
    if absolute { format!("/{joined}") } else { joined }
}

/// Whether a tidy path lies under a folder.
fn within(path: &str, root: &str) -> bool {
    let root = tidy(root);
    let ups = |p: &str| p.split('/').take_while(|part| *part == "..").count();
    if root.is_empty() {
        return ups(path) == 0 && !path.starts_with('/');
    }
    if root.split('/').all(|part| part == "..") {
        // The root is some folders above the working directory: what climbs no higher is inside.
        return !path.starts_with('/') && ups(path) <= ups(&root);
    }
    path.strip_prefix(&root).is_some_and(|rest| rest.starts_with('/') || root == "/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_inside_a_folder_only_if_it_stays_there() {
        for (path, root, inside) in [
            ("fixtures/oils/trail.yaml", "fixtures", true),
            ("fixtures2/oils/trail.yaml", "fixtures", false),
            ("oils/trail.yaml", "", true),
            ("../oils/trail.yaml", "", false),
            ("../oils/trail.yaml", "..", true),
            ("../../oils/trail.yaml", "..", false),
            ("/a/b", "/", true),
            ("/a/b", "/a", true),
            ("/ab/b", "/a", false),
        ] {
            assert_eq!(within(&tidy(path), root), inside, "{path} in {root:?}");
        }
    }

    #[test]
    fn dots_are_taken_out_of_a_path() {
        assert_eq!(
            tidy("fixtures/pans/../vehicles/./brindle.yaml"),
            "fixtures/vehicles/brindle.yaml"
        );
        assert_eq!(tidy("pans/../../a"), "../a");
        assert_eq!(tidy("/../a"), "/a");
    }

    #[test]
    fn the_folder_above_goes_up_from_the_working_directory() {
        assert_eq!(parent_folder("fixtures/pans"), "fixtures");
        assert_eq!(parent_folder("fixtures"), "");
        assert_eq!(parent_folder(""), "..");
        assert_eq!(parent_folder(".."), "../..");
        assert_eq!(parent_folder("/"), "/");
    }
}
