//! What a declaration states, as plain data: the content that ISO/IEC 17050-1 asks for and the list of the supporting
//! file of ISO/IEC 17050-2 (both from memory).

/// A declaration as it is handed over.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Its number.
    pub number: String,
    /// The number of the one it takes the place of.
    pub supersedes: Option<String>,
    /// Who declares.
    pub issuer: Issuer,
    /// What is declared.
    pub objects: Vec<Object>,
    /// The pieces it is for.
    pub serials: Vec<String>,
    /// That it conforms, in one sentence.
    pub statement: String,
    /// What it conforms to.
    pub requirements: Requirements,
    /// Day of issue, by which it was judged.
    pub issued_on: String,
    /// Place of issue.
    pub issued_at: String,
    /// Who signs.
    pub signatory: Person,
    /// The use that it is limited to.
    pub limited_to: Option<String>,
    /// The last day on which it is valid.
    pub valid_until: Option<String>,
    /// Who judged the design.
    pub assessed_by: Option<Assessor>,
    /// How making is kept in line.
    pub kept_in_line: Option<String>,
    /// The day until which the supporting file is kept.
    pub kept_until: Option<String>,
    /// Further documents.
    pub evidence: Vec<Evidence>,
    /// What every rule came to, by pan, rule and object.
    pub results: Vec<RuleResult>,
    /// What every clause of the customers' lists came to.
    pub clauses: Vec<ClauseResult>,
    /// Version of the program that judged.
    pub engine: String,
    /// The path of the document that was declared from.
    pub source: String,
    /// Every file that is handed over with it, by name, and those that are withheld.
    pub files: Vec<Listed>,
}

/// Who declares.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Issuer {
    /// Name.
    pub name: String,
    /// Address.
    pub address: String,
}

/// A person in a function.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// Name.
    pub name: String,
    /// Function.
    pub function: String,
}

/// Who judged, and why this person can.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assessor {
    /// Who.
    pub person: Person,
    /// Training, years, works.
    pub competence: String,
}

/// One pan that is declared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Object {
    /// Path of its description in the folder.
    pub pan: String,
    /// Its name.
    pub name: String,
    /// Its revision.
    pub revision: Option<String>,
    /// Its part number.
    pub part_number: Option<String>,
    /// As designed, or as made.
    pub state: String,
}

/// What is conformed to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Requirements {
    /// Paths of the rulebook's files in the folder, in the order in which they are taken.
    pub rulebook: Vec<String>,
    /// The edition: the digest of all rules.
    pub edition: String,
    /// Every rule with its own digest, in the order of the rulebook.
    pub rules: Vec<(String, String)>,
    /// Paths of the customers' lists.
    pub checklists: Vec<String>,
    /// Paths of the lists of concessions.
    pub concessions: Vec<String>,
}

/// A further document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Evidence {
    /// Its name.
    pub name: String,
    /// Its path in the folder.
    pub path: String,
    /// Its digest.
    pub sha256: String,
    /// What it shows.
    pub shows: String,
}

/// What one rule came to on one object of one pan.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleResult {
    /// Path of the pan.
    pub pan: String,
    /// Id of the rule.
    pub rule: String,
    /// Path of the object, for a rule on a kind.
    pub object: Option<String>,
    /// The verdict, in words.
    pub verdict: String,
    /// Bounds of the reading in SI base units; a value has both alike.
    pub low: Option<f64>,
    /// The upper one.
    pub high: Option<f64>,
}

/// What one clause came to on one pan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClauseResult {
    /// Path of the list.
    pub list: String,
    /// Path of the pan.
    pub pan: String,
    /// Name of the clause.
    pub clause: String,
    /// Its number in the customer's text.
    pub number: Option<String>,
    /// What it asks, in the customer's words.
    pub says: String,
    /// Whether it must be met.
    pub binding: bool,
    /// What answers it, in words.
    pub answer: String,
    /// The document and what it shows, or the person and the words, where no rule answers it.
    pub word: Option<String>,
    /// The ids of the rules that answer it; none where a document or a person does.
    pub rules: Vec<String>,
}

/// A file of the folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// Its path in the folder.
    pub name: String,
    /// What it is for.
    pub role: Role,
    /// Its SHA-256 digest, in 64 hexadecimal digits.
    pub sha256: String,
    /// Why it is not handed over, where it is not.
    pub withheld: Option<String>,
}

macro_rules! roles {
    ($($(#[$doc:meta])* $variant:ident $words:literal,)*) => {
        /// What a file of the folder is for.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Role { $($(#[$doc])* $variant,)* }

        impl Role {
            /// In words.
            pub fn words(self) -> &'static str {
                match self { $(Self::$variant => $words,)* }
            }

            /// The role of these words.
            pub fn of_words(words: &str) -> Option<Self> {
                match words { $($words => Some(Self::$variant),)* _ => None }
            }
        }
    };
}

roles! {
    /// The description of a pan that is declared.
    Pan "pan",
    /// What it was judged with: vehicle, oil, duty, baseline, mesh, table, log, project.
    Input "input",
    /// A file of the rulebook.
    Rulebook "rulebook",
    /// A customer's list.
    Checklist "checklist",
    /// A list of concessions.
    Concessions "concessions",
    /// A document that shows something no program can.
    Evidence "evidence",
    /// The document that was declared from.
    Declaration "declaration",
    /// The review, for programs.
    Results "results",
    /// Every measure, for programs.
    Measures "measures",
    /// A page for people.
    Page "page",
}
