//! What a pan is made from: every question that was put to the host's files while it was judged, with the answer.
//! A judgement is a function of these answers, the rules and the program, so where all are as they were, so is it.

use crate::source::{FileProblem, Files, Recording};
use core::fmt::Write as _;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io::Read as _;
use std::sync::{Arc, Mutex, PoisonError};

/// A question to the host.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Question {
    pub(super) of: Of,
    pub(super) path: String,
    pub(super) root: Option<String>,
    pub(super) limit: u64,
}

/// What is asked of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Of {
    /// Its bytes.
    Bytes,
    /// Its bytes, one after another.
    Stream,
    /// Whether it is there.
    Being,
}

/// Questions with their answers: a digest of the bytes, or a word.
pub(super) type Trace = BTreeMap<Question, String>;

/// The host's files, with a note of everything asked.
pub(super) struct Traced<'a> {
    files: &'a dyn Files,
    trace: Mutex<(Trace, bool)>,
}

impl<'a> Traced<'a> {
    pub(super) fn new(files: &'a dyn Files) -> Self {
        Self { files, trace: Mutex::new((Trace::new(), true)) }
    }

    /// All that was asked; none where one question had two answers, so that nothing can be said of the pan later.
    pub(super) fn trace(self) -> Option<Trace> {
        let (trace, steady) = self.trace.into_inner().unwrap_or_else(PoisonError::into_inner);
        steady.then_some(trace)
    }

    fn note(&self, of: Of, path: &str, root: Option<&str>, limit: u64, answer: &str) {
        let path = path.to_owned();
        let question = Question { of, path, root: root.map(str::to_owned), limit };
        let mut kept = self.trace.lock().unwrap_or_else(PoisonError::into_inner);
        let before = kept.0.entry(question).or_insert_with(|| answer.to_owned());
        if before != answer {
            kept.1 = false;
        }
    }
}

impl Files for Traced<'_> {
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        let read = self.files.read(path, root, limit);
        self.note(Of::Bytes, path, root, limit, &answer_of(read.as_deref()));
        read
    }

    fn exists(&self, path: &str) -> bool {
        let exists = self.files.exists(path);
        self.note(Of::Being, path, None, 0, &being(exists));
        exists
    }

    fn is_same(&self, one: &str, other: &str) -> bool {
        self.files.is_same(one, other)
    }

    fn built_in(&self) -> Vec<(String, String)> {
        self.files.built_in()
    }

    fn recording(
        &self,
        path: &str,
        root: Option<&str>,
        limit: u64,
    ) -> Result<Arc<dyn Recording>, FileProblem> {
        let found = self.files.recording(path, root, limit);
        self.note(Of::Stream, path, root, limit, &streamed(&found));
        found
    }
}

/// The answers of one run: a file that many pans use is looked at once.
pub(super) struct Answers<'a> {
    files: &'a dyn Files,
    known: Mutex<Trace>,
}

impl<'a> Answers<'a> {
    pub(super) fn new(files: &'a dyn Files) -> Self {
        Self { files, known: Mutex::default() }
    }

    /// Whether all answers are still what they were.
    pub(super) fn hold(&self, trace: &[(Arc<Question>, String)]) -> bool {
        trace.iter().all(|(question, before)| self.answer(question) == *before)
    }

    fn answer(&self, question: &Question) -> String {
        let known = |known: &Trace| known.get(question).cloned();
        if let Some(known) = known(&self.known.lock().unwrap_or_else(PoisonError::into_inner)) {
            return known;
        }
        let answer = ask(self.files, question);
        let mut kept = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        kept.insert(question.clone(), answer.clone());
        answer
    }
}

/// Puts a question to the host.
pub(super) fn ask(files: &dyn Files, question: &Question) -> String {
    let Question { of, path, root, limit } = question;
    match of {
        Of::Bytes => answer_of(files.read(path, root.as_deref(), *limit).as_deref()),
        Of::Being => being(files.exists(path)),
        Of::Stream => streamed(&files.recording(path, root.as_deref(), *limit)),
    }
}

fn being(exists: bool) -> String {
    if exists { "there" } else { "not there" }.to_owned()
}

fn answer_of(read: Result<&[u8], &FileProblem>) -> String {
    read.map_or_else(problem, |bytes| hex(&Sha256::digest(bytes)))
}

fn streamed(found: &Result<Arc<dyn Recording>, FileProblem>) -> String {
    let opened = match found {
        Ok(recording) => recording.open(),
        Err(error) => return problem(error),
    };
    let mut stream = match opened {
        Ok(stream) => stream,
        Err(error) => return problem(&error),
    };
    let (mut digest, mut piece) = (Sha256::new(), vec![0; 1 << 16]);
    loop {
        match stream.read(&mut piece) {
            Ok(0) => return hex(&digest.finalize()),
            Ok(count) => digest.update(piece.get(..count).unwrap_or_default()),
            Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
            Err(error) => return format!("broken off: {error}"),
        }
    }
}

fn problem(problem: &FileProblem) -> String {
    format!("{problem:?}")
}

/// Bytes in hexadecimal digits.
pub(super) fn hex(bytes: &[u8]) -> String {
    let mut text = String::new();
    for byte in bytes {
        // Writing into a string does not fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}
