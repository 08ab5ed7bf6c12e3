//! From the bytes of a file to text.

use super::{Code, Diagnostic, FileId, Sources, Span};

/// Why bytes are not a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotText {
    /// What was found, in one sentence.
    pub message: String,
    /// The byte at which it was found, from 0.
    pub byte: usize,
    /// What to do.
    pub help: &'static str,
}

/// Bytes as UTF-8 text. A byte order mark is kept, so that every span counts it.
///
/// # Errors
/// Names the encoding where a byte order mark tells it, else the first byte that is not UTF-8, or
/// the first NUL.
pub fn decode(bytes: &[u8]) -> Result<String, NotText> {
    let save_as = "save the file as UTF-8 text";
    let other = match bytes {
        [0xFF, 0xFE, 0, 0, ..] | [0, 0, 0xFE, 0xFF, ..] => Some("UTF-32"),
        [0xFF, 0xFE, ..] | [0xFE, 0xFF, ..] => Some("UTF-16"),
        _ => None,
    };
    if let Some(name) = other {
        let message = format!("the file begins with the mark of {name} text, only UTF-8 is read");
        return Err(NotText { message, byte: 0, help: save_as });
    }
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let byte = error.valid_up_to();
        let found = bytes.get(byte).copied().unwrap_or(0);
        let message = format!("byte {byte} (0x{found:02X}) is not UTF-8 text");
        NotText { message, byte, help: save_as }
    })?;
    match text.find('\0') {
        Some(byte) => Err(NotText {
            message: format!("byte {byte} is a NUL, so the file is not a text"),
            byte,
            help: "name a text file; a mesh is named under `interior`, not read as a description",
        }),
        None => Ok(text.to_owned()),
    }
}

impl Sources {
    /// Decodes and keeps a file. What cannot be decoded is kept up to the byte at fault, so that
    /// the diagnostic has a line and a column.
    ///
    /// # Errors
    /// The diagnostic, and the file it stands in.
    pub fn add_bytes(
        &mut self,
        path: &str,
        bytes: &[u8],
    ) -> Result<FileId, (FileId, Box<Diagnostic>)> {
        let problem = match decode(bytes) {
            Ok(text) => return Ok(self.add(path, text)),
            Err(problem) => problem,
        };
        let before = bytes.get(..problem.byte).unwrap_or_default();
        let file = self.add(path, String::from_utf8_lossy(before).into_owned());
        let at = u32::try_from(problem.byte).unwrap_or(u32::MAX);
        let span = Span { file, start: at, end: at };
        let diagnostic = Diagnostic::error(Code::NotText, span, problem.message).help(problem.help);
        Err((file, Box::new(diagnostic)))
    }
}

/// The first control character that a description may not hold, and the byte it stands at. Line
/// ends are LF or CRLF; tabs are left to the grammar.
pub(super) fn first_control(text: &str) -> Option<(usize, char)> {
    let mut characters = text.char_indices().peekable();
    while let Some((start, found)) = characters.next() {
        let allowed = match found {
            '\n' | '\t' | '\u{85}' => true,
            '\r' => characters.peek().is_some_and(|(_, next)| *next == '\n'),
            _ => !found.is_control(),
        };
        if !allowed {
            return Some((start, found));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_that_are_no_text_are_named_with_their_place() {
        let cases: Vec<(&[u8], usize, &str)> = vec![
            (b"pan: 1\ntitle: \xff\n", 14, "byte 14 (0xFF) is not UTF-8 text"),
            (b"pan: 1\0", 6, "byte 6 is a NUL, so the file is not a text"),
            (b"\xff\xfep\0", 0, "the file begins with the mark of UTF-16 text, only UTF-8 is read"),
            (b"\xfe\xff\0p", 0, "the file begins with the mark of UTF-16 text, only UTF-8 is read"),
            (
                b"\xff\xfe\0\0",
                0,
                "the file begins with the mark of UTF-32 text, only UTF-8 is read",
            ),
        ];
        for (bytes, byte, message) in cases {
            let problem = decode(bytes).unwrap_err();
            assert_eq!((problem.byte, problem.message.as_str()), (byte, message));
        }
        assert_eq!(decode("\u{feff}a: ±".as_bytes()).unwrap(), "\u{feff}a: ±");
    }

    #[test]
    fn a_file_that_is_no_text_still_has_line_and_column() {
        let mut sources = Sources::default();
        let (file, problem) = sources.add_bytes("a.yaml", b"pan: 1\ntitle: \xff\n").unwrap_err();
        let place = sources.place(problem.primary.span);
        assert_eq!((problem.primary.span.file, place.line, place.column), (file, 2, 8));
    }
}
