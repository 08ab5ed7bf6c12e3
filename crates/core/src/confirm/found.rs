//! What comes of confirming, as plain data.

use crate::compare::Comparison;
use crate::declare::Record;
use crate::review::Review;

/// What comes of judging a declaration again.
#[derive(Debug)]
pub struct Confirmation {
    /// The folder as it was named.
    pub folder: String,
    /// What it comes to.
    pub outcome: Outcome,
    /// Why it comes to that, most weighty first; whole sentences.
    pub reasons: Vec<String>,
    /// What is declared; nothing where it cannot be read.
    pub record: Option<Record>,
    /// Whether it is known who signed.
    pub authenticity: Authenticity,
    /// Every file that is not as it was declared, and those withheld, by name.
    pub files: Vec<FileFound>,
    /// How many files are as they were declared.
    pub same_files: usize,
    /// The rulebook.
    pub rulebook: RulebookFound,
    /// Every clause of the customers' lists, in the order declared.
    pub clauses: Vec<Item>,
    /// Every rule on every object, in the order declared.
    pub rules: Vec<Item>,
    /// What was made anew from the folder and is not what lies in it: name, and where they differ.
    pub remade: Vec<(String, Vec<String>)>,
    /// Whether anything was made anew; not where something is withheld, at fault, or no longer shown.
    pub is_made_anew: bool,
    /// Version of the program that judged again.
    pub engine: String,
    /// What stands against it on another day than that of issue.
    pub by_day: Option<(String, Vec<String>)>,
    /// The review of now, with what is wrong with the documents.
    pub review: Review,
}

/// What a declaration comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// All that can be computed was computed again and came out the same.
    Confirmed,
    /// Something is not as declared.
    Differs,
    /// It cannot be said: something is missing that the reader has to give, or cannot be read.
    CannotConfirm,
    /// It cannot be said in whole: something is withheld.
    NotInWhole,
}

impl Outcome {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Confirmed => "confirmed",
            Self::Differs => "differs",
            Self::CannotConfirm => "cannot confirm",
            Self::NotInWhole => "cannot confirm in whole",
        }
    }
}

/// Whether it is known who signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Authenticity {
    /// No key was given.
    NotAsked,
    /// Signed by the key given, which is this.
    Signed(String),
    /// Not signed by it.
    NotSigned(String),
}

/// One file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileFound {
    /// Its path in the folder.
    pub name: String,
    /// How it is.
    pub state: FileState,
}

/// How a file is beside what was declared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FileState {
    /// Its digest is another.
    Changed,
    /// Its lines end otherwise; nothing else differs.
    LineEndings,
    /// It is not there.
    Missing,
    /// It was not declared.
    Extra,
    /// Withheld by the supplier, and not there: why.
    Withheld(String),
    /// Something that is no regular file: what.
    NoFile(String),
    /// The signed statement, which is not of the statement beside it: why.
    NotTheStatement(String),
}

impl FileState {
    /// In words.
    pub fn words(&self) -> String {
        match self {
            Self::Changed => "altered: its digest is another".to_owned(),
            Self::LineEndings => {
                "altered: only its line endings differ, as after a conversion by a copying program"
                    .to_owned()
            }
            Self::Missing => "missing".to_owned(),
            Self::Extra => "not declared".to_owned(),
            Self::Withheld(because) => format!("withheld by the supplier: {because}"),
            Self::NoFile(what) => format!("{what}, which is not read"),
            Self::NotTheStatement(why) => format!("altered: {why}"),
        }
    }

    /// Whether it stands against the folder.
    pub fn is_against(&self) -> bool {
        !matches!(self, Self::Withheld(_))
    }
}

/// The rulebook of a folder.
#[derive(Debug, Default)]
pub struct RulebookFound {
    /// The edition that is declared.
    pub declared: String,
    /// The edition of the files in the folder, computed anew.
    pub found: String,
    /// By whom the reader knows the edition to be the one meant; nothing where it is another.
    pub known_by: Option<&'static str>,
    /// Whether the reader gave a rulebook or an edition.
    pub given: bool,
    /// What the reader has in place of it.
    pub wanted: Option<String>,
    /// How the folder's rulebook differs from the reader's.
    pub beside: Option<Comparison>,
}

/// A clause, or a rule on an object of a pan.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Path of the pan.
    pub pan: String,
    /// Name of the clause (its number, where it has one) or id of the rule.
    pub name: String,
    /// Path of the object, for a rule on a kind.
    pub object: Option<String>,
    /// Path of the list, for a clause.
    pub list: Option<String>,
    /// What was declared.
    pub declared: Option<String>,
    /// What comes out now.
    pub now: Option<String>,
    /// What that comes to.
    pub outcome: ItemOutcome,
    /// What else there is to say; a sentence without a stop, or nothing.
    pub why: String,
}

/// What judging one thing again comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ItemOutcome {
    /// The same.
    Same,
    /// It cannot be judged again.
    NotReproducible,
    /// What it rests on is not what was declared.
    Altered,
    /// Another verdict or value.
    Different,
}

impl ItemOutcome {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Same => "same",
            Self::NotReproducible => "not reproducible",
            Self::Altered => "altered",
            Self::Different => "different",
        }
    }
}
