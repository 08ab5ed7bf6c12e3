//! What can be asked on the command line.

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use std::path::PathBuf;
use sumpwright_core::document::date::Date;

const EXIT_STATUSES: &str = "\
Exit status (the larger number wins; what was found is printed all the same):
  0  nothing against it
  1  something does not conform, or a rule with `shall` is inconclusive
  2  a document, a path or the use was at fault; or no pan was found
  3  judging could not be finished, or no rule applied and nothing was judged";

const PROVE_STATUSES: &str = "\
Exit status:
  0  every case holds and every alteration was noticed
  1  a case does not hold, or an alteration went unnoticed
  2  a document, a path or the use was at fault";

const EXPLAIN_STATUSES: &str = "\
Exit status; to explain a verdict is not to judge, so it is 0 whatever the verdict:
  0  it was explained
  2  the name is unknown, or a document, a path or the use was at fault";

const SURVEY_STATUSES: &str = "\
The rail of a mesh is put at z = 0 and its middle at the origin. A description that is printed
is meant for the folder of the file; with --output its reference to the file is written from there.

Exit status:
  0  the description was written
  2  the file, a path or the use was at fault, or the output exists already";

const DECLARE_HELP: &str = "\
Nothing is declared that is not shown: every rule with `shall` has to conform, to be covered by a
concession or not to apply, and every binding clause has to be answered. The signature is yours,
by a tool of yours; with OpenSSL and an ed25519 key:
  sumpwright declare declaration.yaml --into FOLDER
  openssl pkeyutl -sign -rawin -inkey KEY.pem -in FOLDER/declaration.to-sign -out signature.bin
  sumpwright declare FOLDER --signature signature.bin

Exit status:
  0  it can be declared, and was written where that was asked for
  1  something is not shown; nothing was written
  2  a document, a path or the use was at fault; nothing was written
  3  judging could not be finished; nothing was written";

const CONFIRM_HELP: &str = "\
Everything is judged again from the files in the folder; what was declared is only compared. No
file changes. The rulebook has to be one that you know: yours, an edition that you were told, or
the one built in here.

Exit status:
  0  confirmed
  1  it differs: something is altered, missing, added, not signed, or comes out otherwise
  2  cannot confirm: the folder, its statement or the use was at fault
  3  cannot confirm in whole: something is withheld";

const SCREEN_STATUSES: &str = "\
What counts is what makes `review` exit with another status than 0: a breach of a `shall`, a
`shall` that is inconclusive. Advice, remarks and warnings are for `review`.

Exit status (the larger number wins; what was found is printed all the same):
  0  nothing is worse than known, and nothing known has been mended
  1  something is worse than known or new, or the list holds what is no more
  2  a document, a path or the use was at fault
  3  judging could not be finished, or no rule applied to a pan";

const COMPARE_STATUSES: &str = "\
Exit status; to compare is not to judge, so it is 0 whatever differs:
  0  they were compared
  2  a document, a path or the use was at fault";

const SCHEMA_HELP: &str = "\
An editor with a YAML language server completes and checks a description by its schema. With
  sumpwright schema --folder schemas
in the folder of your pans, begin each pan with the line
  # yaml-language-server: $schema=schemas/pan.json

Exit status:
  0  the schema was written
  2  the use was at fault, or the output cannot be written";

const MAN_HELP: &str = "\
sumpwright man | man -l -         reads the page of the program
sumpwright man review | man -l -  reads the page of a verb";

/// Judges descriptions of automatic-transmission oil pans by computation, against a written rulebook.
///
/// It holds a description against rules; it approves no part and no vehicle. The vehicle maker's
/// instructions come first.
#[derive(Debug, Parser)]
#[command(name = "sumpwright", version, after_help = EXIT_STATUSES, subcommand_required = true)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) verb: Verb,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Judge one or more pans against a rulebook and write the review
    #[command(after_help = EXIT_STATUSES)]
    Review(ReviewArguments),
    /// Tell only what is worse than the known findings, for a hook; nothing where nothing is
    #[command(after_help = SCREEN_STATUSES)]
    Screen(ScreenArguments),
    /// Print every reading of one or more pans, with its uncertainty and what moves it most
    #[command(after_help = EXIT_STATUSES)]
    Measure(Common),
    /// Run the cases of a rulebook, and try to alter its rules unnoticed
    #[command(after_help = PROVE_STATUSES)]
    Prove(ProveArguments),
    /// Explain a rule or a measure, or how a rule came to its verdict on a pan; without a name, list all
    #[command(after_help = EXPLAIN_STATUSES)]
    Explain(ExplainArguments),
    /// Hold a pan beside its baseline, measure by measure; or two rulebooks beside each other
    #[command(after_help = COMPARE_STATUSES)]
    Compare(CompareArguments),
    /// Write a supplier's declaration of conformity: one folder that a customer can judge again
    #[command(after_help = DECLARE_HELP)]
    Declare(DeclareArguments),
    /// Judge a supplier's declaration again, from its folder alone
    #[command(after_help = CONFIRM_HELP)]
    Confirm(ConfirmArguments),
    /// Turn a mesh or soundings into the description of a pan to complete
    #[command(after_help = SURVEY_STATUSES)]
    Survey(SurveyArguments),
    /// Print the JSON Schema of a kind of document, for editors, or of a JSON result; without a name, list all
    #[command(after_help = SCHEMA_HELP)]
    Schema(SchemaArguments),
    /// Print the completions of a shell
    Completions(CompletionsArguments),
    /// Print the manual page of the program or of a verb
    #[command(after_help = MAN_HELP)]
    Man(ManArguments),
}

#[derive(Debug, Args)]
pub(crate) struct SchemaArguments {
    /// What the schema is of: a kind of document, or the verb whose JSON result it is
    #[arg(value_name = "NAME", value_parser = schema_names())]
    pub(crate) name: Option<String>,

    /// Write the schema to a file, in whole or not at all, instead of printing it
    #[arg(long, value_name = "FILE", requires = "name")]
    pub(crate) output: Option<PathBuf>,

    /// Write all of them into this folder, each as NAME.json; it is made if it is not there
    #[arg(long, value_name = "FOLDER", conflicts_with = "name")]
    pub(crate) folder: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct CompletionsArguments {
    /// The shell
    #[arg(value_name = "SHELL")]
    pub(crate) shell: Shell,

    /// Write to a file, in whole or not at all, instead of printing
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct ManArguments {
    /// The verb; without one, the page of the whole program
    #[arg(value_name = "VERB")]
    pub(crate) verb: Option<String>,

    /// Write the pages of the program and of every verb into this folder, which is made if it is not there
    #[arg(long, value_name = "FOLDER", conflicts_with = "verb")]
    pub(crate) folder: Option<PathBuf>,

    /// Write to a file, in whole or not at all, instead of printing
    #[arg(long, value_name = "FILE", conflicts_with = "folder")]
    pub(crate) output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct CompareArguments {
    /// A pan, and the pans that it is held beside; alone, it is held beside the baselines that it names. Or two
    /// rulebooks, the old one first: each a file, a folder, a pattern, or 'built-in'
    #[arg(value_name = "THING", required = true)]
    pub(crate) things: Vec<String>,

    /// Of two rulebooks: pan on which both are tried, a file, a folder or a pattern; may be given again
    #[arg(long, value_name = "PATH", num_args = 1..)]
    pub(crate) pans: Vec<String>,

    /// Of pans: the rulebook whose verdicts are compared, and which says what is better. Without it, the one
    /// that the nearest sumpwright.yaml names, or else the one built in
    #[arg(long, value_name = "PATH")]
    pub(crate) rules: Vec<String>,

    #[command(flatten)]
    pub(crate) page: PageArguments,
}

#[derive(Debug, Args)]
pub(crate) struct DeclareArguments {
    /// The document that says what is declared, by whom and on which day; with --signature, the folder that was
    /// written of it
    #[arg(value_name = "DECLARATION")]
    pub(crate) declaration: PathBuf,

    /// Write everything to hand over into this folder, which must not be there yet; without it, it is only said
    /// whether it can be declared
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,

    /// Put a signature of FOLDER/declaration.to-sign beside the statement: 64 bytes of ed25519, or base64 of them
    #[arg(long, value_name = "FILE", conflicts_with = "into")]
    pub(crate) signature: Option<PathBuf>,

    /// What the signature calls its key; a hint for people, which decides nothing
    #[arg(long, value_name = "WORDS", requires = "signature", default_value = "")]
    pub(crate) key_id: String,

    #[command(flatten)]
    pub(crate) page: PageArguments,
}

#[derive(Debug, Args)]
pub(crate) struct ConfirmArguments {
    /// The folder that was handed over
    #[arg(value_name = "FOLDER")]
    pub(crate) folder: PathBuf,

    /// The rulebook that you mean: a file, a folder or a pattern; may be given again. Without it, and without
    /// --edition, the one built in
    #[arg(long, value_name = "PATH")]
    pub(crate) rules: Vec<String>,

    /// The edition of the rulebook that you mean, in 64 hexadecimal digits: the folder's own is used if it is that
    #[arg(long, value_name = "DIGEST", value_parser = digest, conflicts_with = "rules")]
    pub(crate) edition: Option<String>,

    /// The issuer's public key, which you have by another way than this folder: PEM, or 64 hexadecimal digits
    #[arg(long, value_name = "FILE")]
    pub(crate) key: Option<PathBuf>,

    /// Say too whether it still stands on this day
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(crate) on: Option<Date>,

    #[command(flatten)]
    pub(crate) page: PageArguments,
}

fn digest(text: &str) -> Result<String, String> {
    let hexadecimal = text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    let lower = text.to_ascii_lowercase();
    if hexadecimal { Ok(lower) } else { Err("write its 64 hexadecimal digits".to_owned()) }
}

#[derive(Debug, Args)]
pub(crate) struct SurveyArguments {
    /// The mesh (.stl, binary or text, .obj or .3mf) or the table of soundings (.csv)
    #[arg(value_name = "FILE")]
    pub(crate) file: String,

    /// Of soundings: the rail, as a description states it, such as '{ rectangle: [412 mm, 268 mm], corner: 25 mm }'
    #[arg(long, value_name = "OUTLINE")]
    pub(crate) rail: Option<String>,

    /// Of soundings: the lean of the walls, such as '4 deg'
    #[arg(long, value_name = "ANGLE")]
    pub(crate) draft: Option<String>,

    /// Of a mesh: the unit of its coordinates; a 3MF file carries its own
    #[arg(long, value_name = "UNIT", value_parser = ["mm", "cm", "m", "in", "ft", "um"])]
    pub(crate) unit: Option<String>,

    /// Of a mesh: what it is of, the room for oil inside, closed at the rail, or the pan itself, metal and all
    #[arg(long, value_name = "WHAT", value_parser = ["oil-space", "part"])]
    pub(crate) of: Option<String>,

    /// Axis of the mesh that points forward in the pan; x if left out
    #[arg(long, value_name = "AXIS", value_parser = ["x", "-x", "y", "-y", "z", "-z"], allow_hyphen_values = true)]
    pub(crate) forward: Option<String>,

    /// Axis of the mesh that points up in the pan; z if left out
    #[arg(long, value_name = "AXIS", value_parser = ["x", "-x", "y", "-y", "z", "-z"], allow_hyphen_values = true)]
    pub(crate) up: Option<String>,

    /// Where its faces look: inward for a mesh that is known to be inside out
    #[arg(long, value_name = "SIDE", value_parser = ["outward", "inward"])]
    pub(crate) normals: Option<String>,

    /// Corners nearer than this become one, such as '0.01 mm'
    #[arg(long, value_name = "LENGTH")]
    pub(crate) weld: Option<String>,

    /// Write the description to a file that does not exist yet, instead of printing it
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct ProveArguments {
    /// Rulebook to prove: files, folders or patterns. Without one, the one built in, with its fixtures
    #[arg(value_name = "RULEBOOK")]
    pub(crate) rules: Vec<String>,

    #[command(flatten)]
    pub(crate) page: PageArguments,
}

#[derive(Debug, Args)]
pub(crate) struct ExplainArguments {
    /// Id of a rule or name of a measure, such as 'pickup.uncovered' or 'pickup.rim_depth'
    #[arg(value_name = "NAME")]
    pub(crate) name: Option<String>,

    /// Pan description on which it is explained. Without one, a measure shows what it reads in a pan of
    /// the demo
    #[arg(value_name = "PAN")]
    pub(crate) pan: Option<String>,

    /// Rulebook: a file, a folder or a pattern; may be given again. Without it, the one that the nearest
    /// sumpwright.yaml names, or else the one built in
    #[arg(long, value_name = "PATH")]
    pub(crate) rules: Vec<String>,

    #[command(flatten)]
    pub(crate) page: PageArguments,
}

#[derive(Debug, Args)]
pub(crate) struct ReviewArguments {
    /// Rulebook to judge by: a file, a folder or a pattern; may be given again. Without it, the one
    /// that the nearest sumpwright.yaml names, or else the one built in
    #[arg(long, value_name = "PATH")]
    pub(crate) rules: Vec<String>,

    /// Customer's list to hold every pan against: a file, a folder or a pattern; may be given again.
    /// Without it, those that the nearest sumpwright.yaml names
    #[arg(long, value_name = "PATH")]
    pub(crate) checklist: Vec<String>,
    /// Write a file of remarks to complete beside each pan of which something is told, such as
    /// a.remarks.yaml beside a.yaml; over no file that is there
    #[arg(long)]
    pub(crate) begin_remarks: bool,

    /// For each finding of what does not conform, compute the least single change of the pan that would make it
    /// conform and turn nothing else for the worse; takes longer than the review
    #[arg(long)]
    pub(crate) remedies: bool,

    #[command(flatten)]
    pub(crate) conceding: ConcedingArguments,

    #[command(flatten)]
    pub(crate) common: Common,
}

#[derive(Debug, Args)]
pub(crate) struct ScreenArguments {
    /// Files that have changed, of any kind, gone ones too: only pans that one of them bears on are looked at.
    /// Without one, all pans that the nearest sumpwright.yaml names
    #[arg(value_name = "FILE")]
    pub(crate) names: Vec<String>,

    /// Rulebook to judge by: a file, a folder or a pattern; may be given again. Without it, the one
    /// that the nearest sumpwright.yaml names, or else the one built in
    #[arg(long, value_name = "PATH")]
    pub(crate) rules: Vec<String>,

    /// List of known findings. Without it, the one that the nearest sumpwright.yaml names; without that, everything
    /// counts
    #[arg(long, value_name = "FILE")]
    pub(crate) known: Option<String>,

    /// Write the list of known findings anew, with everything found; known.yaml where the project names none
    #[arg(long, conflicts_with = "names")]
    pub(crate) write_known: bool,

    /// Take out of the list what is no more, and write what is better as it is now; nothing is put in
    #[arg(long, conflicts_with_all = ["names", "write_known"])]
    pub(crate) tidy_known: bool,

    /// Folder in which results are kept for the next run; .sumpwright beside the sumpwright.yaml if left out
    #[arg(long, value_name = "FOLDER")]
    pub(crate) cache: Option<PathBuf>,

    /// Judge everything anew, and keep nothing
    #[arg(long, conflicts_with = "cache")]
    pub(crate) no_cache: bool,

    #[command(flatten)]
    pub(crate) conceding: ConcedingArguments,

    #[command(flatten)]
    pub(crate) page: PageArguments,
}

/// Accepted departures, and the day by which they are judged.
#[derive(Debug, Args)]
pub(crate) struct ConcedingArguments {
    /// List of concessions and deviation permits: a file, a folder or a pattern; may be given again.
    /// Without it, those that the nearest sumpwright.yaml names
    #[arg(long, value_name = "PATH")]
    pub(crate) concessions: Vec<String>,

    /// Day to judge concessions by, such as 2026-11-25; asked for as soon as there is one
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(crate) on: Option<Date>,
}

fn day(text: &str) -> Result<Date, String> {
    Date::parse(text).ok_or_else(|| "write year, month and day, as in 2026-11-25".to_owned())
}

#[derive(Debug, Args)]
pub(crate) struct Common {
    /// Pan descriptions: files, folders (every .yaml in them) or patterns such as 'pans/*.yaml'. Without
    /// one, those that the nearest sumpwright.yaml above the working directory names
    #[arg(value_name = "PAN")]
    pub(crate) pans: Vec<String>,

    /// Write the drawings of each pan too: SVG files in this folder, which is made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(crate) figures: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) page: PageArguments,
}

/// How a result is laid out and where it goes.
#[derive(Debug, Args)]
pub(crate) struct PageArguments {
    /// How the result is written
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = format_names())]
    pub(crate) format: String,

    /// Colour the severity words; auto: on a terminal that wants it (NO_COLOR and TERM=dumb say no)
    #[arg(long, value_name = "WHEN", default_value = "auto")]
    pub(crate) color: Colour,

    /// Print ASCII only; automatic where the locale is not UTF-8
    #[arg(long)]
    pub(crate) plain: bool,

    /// Columns of the page, at least 40; without it, those of the terminal, or 100
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(40..))]
    pub(crate) width: Option<u16>,

    /// Print conforming rules, all states and whole lists too
    #[arg(long)]
    pub(crate) all: bool,

    /// Write the result to a file, in whole or not at all, instead of printing it
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,

    /// Print nothing where the exit status is 0; everything else is printed as ever
    #[arg(long)]
    pub(crate) quiet: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Colour {
    Auto,
    Always,
    Never,
}

fn format_names() -> clap::builder::PossibleValuesParser {
    clap::builder::PossibleValuesParser::new(sumpwright_report::FORMATS.iter().map(|f| f.name))
}

fn schema_names() -> clap::builder::PossibleValuesParser {
    clap::builder::PossibleValuesParser::new(sumpwright_report::SCHEMAS.iter().map(|s| s.name))
}
