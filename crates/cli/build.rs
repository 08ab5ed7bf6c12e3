//! What the program is made of, as one digest, so that results of another program are never taken for its own.

use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Sources, rules and what else is compiled in; the versions of everything from elsewhere stand in the lock file.
const MADE_OF: [&str; 5] = ["crates", "rules", "fixtures", "Cargo.toml", "Cargo.lock"];

fn main() -> io::Result<()> {
    let mut files = Vec::new();
    for part in MADE_OF {
        println!("cargo:rerun-if-changed={part}");
        // A package without the sources of the others has their versions and checksums in its lock file.
        if Path::new(part).exists() {
            collect(Path::new(part), &mut files)?;
        }
    }
    files.sort();
    let mut digest = Sha256::new();
    for path in files {
        let text = fs::read(&path)?;
        digest.update(path.to_string_lossy().replace('\\', "/"));
        digest.update(u64::try_from(text.len()).unwrap_or(u64::MAX).to_le_bytes());
        digest.update(text);
    }
    let mut hex = String::new();
    for byte in digest.finalize() {
        // Writing into a string does not fail.
        let _ = write!(hex, "{byte:02x}");
    }
    println!("cargo:rustc-env=SUMPWRIGHT_ENGINE={hex}");
    Ok(())
}

fn collect(path: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    if path.is_dir() {
        for entry in fs::read_dir(path)? {
            collect(&entry?.path(), files)?;
        }
    } else {
        files.push(path.to_owned());
    }
    Ok(())
}
