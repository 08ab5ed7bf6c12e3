//! The table of fields: for every path its form, dimension, limits, how a person gets it, and what is
//! typical. Reader, "did you mean", schema and docs all read it here, and nowhere else.

mod checklist;
mod concessions;
mod declaration;
mod duty;
mod oil;
mod pan;
mod project;
mod remarks;
mod rulebook;
mod say;
mod vehicle;

use super::DocumentKind;
use crate::quantity::{Dimension, Kind, Stiffness};
use uom::si::f64 as q;

/// A field of a document.
#[derive(Debug, Clone, Copy)]
pub struct Field {
    /// The document it stands in.
    pub document: DocumentKind,
    /// Dotted path; `*` for a name that the author chooses (`drains.*.boss`) or a place in a list.
    pub path: &'static str,
    /// What stands there.
    pub form: Form,
    /// Dimension of a quantity; none for words, mappings and the like, and for an instrument, whose
    /// dimension is that of what it measures.
    pub dimension: Option<Dimension>,
    /// What values a quantity can have at all.
    pub limits: Limits,
    /// How a person gets it, in one sentence.
    pub how_to_get: &'static str,
    /// Typical range, as two quantities in text; only with one may the value be assumed.
    pub typical: Option<(&'static str, &'static str)>,
    /// Left out counts as `none`.
    pub optional: bool,
    /// Words that may stand there in place of it, beside `none`.
    pub or_words: &'static [&'static str],
}

/// What stands at a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Form {
    /// A mapping of the keys in this table.
    Mapping,
    /// A mapping from names that the author chooses.
    Named,
    /// A list of things.
    List,
    /// A quantity.
    Quantity,
    /// A quantity, or a mapping of `from`, `to` and `steps`.
    Swept,
    /// A list of so many quantities.
    Quantities(usize),
    /// A mapping from a temperature to a quantity.
    Table,
    /// The temperature that a row of a table stands under.
    TableKey,
    /// One of these words.
    Words(&'static [&'static str]),
    /// A word or a sentence.
    Text,
    /// One text or a list of them.
    Texts,
    /// A path, relative to the file it stands in.
    Path,
    /// A whole number from 1.
    Count,
    /// A date, `2026-11-25`.
    Date,
    /// A metric thread, `M14x1.5`.
    Thread,
    /// A formula or condition.
    Formula,
    /// A value of any shape, which only the rule stage reads.
    Anything,
    /// Known, but not read by this version.
    NotYet,
}

/// What values a quantity can have at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Limits {
    /// Any.
    Any,
    /// More than nothing.
    Positive,
    /// Nothing, or more.
    NotNegative,
    /// More than 0, at most 1.
    Share,
    /// An angle from 0 to less than 60 deg: the lean of a wall.
    Draft,
    /// An angle from 0 to less than 90 deg.
    Slope,
    /// An angle between -90 deg and 90 deg.
    Tilt,
    /// A temperature above absolute zero.
    Temperature,
}

impl Field {
    const fn new(
        document: DocumentKind,
        path: &'static str,
        (form, dimension, limits): Shape,
        how_to_get: &'static str,
    ) -> Self {
        Self {
            document,
            path,
            form,
            dimension,
            limits,
            how_to_get,
            typical: None,
            optional: false,
            or_words: &[],
        }
    }

    const fn typical(self, low: &'static str, high: &'static str) -> Self {
        Self { typical: Some((low, high)), ..self }
    }

    const fn optional(self) -> Self {
        Self { optional: true, ..self }
    }

    const fn or_words(self, words: &'static [&'static str]) -> Self {
        Self { or_words: words, ..self }
    }
}

/// All fields of all documents.
pub const FIELDS: &[Field] = &all();

const COUNT_OF_FIELDS: usize = pan::FIELDS.len()
    + vehicle::FIELDS.len()
    + oil::FIELDS.len()
    + duty::FIELDS.len()
    + rulebook::FIELDS.len()
    + project::FIELDS.len()
    + checklist::FIELDS.len()
    + concessions::FIELDS.len()
    + remarks::FIELDS.len()
    + declaration::FIELDS.len();

#[expect(
    clippy::indexing_slicing,
    clippy::large_stack_arrays,
    reason = "it runs when the program is compiled, where an index that does not fit is an error"
)]
const fn all() -> [Field; COUNT_OF_FIELDS] {
    let tables = [
        pan::FIELDS,
        vehicle::FIELDS,
        oil::FIELDS,
        duty::FIELDS,
        rulebook::FIELDS,
        project::FIELDS,
        checklist::FIELDS,
        concessions::FIELDS,
        remarks::FIELDS,
        declaration::FIELDS,
    ];
    let mut fields = [pan::FIELDS[0]; COUNT_OF_FIELDS];
    let (mut at, mut table) = (0, 0);
    while table < tables.len() {
        let mut row = 0;
        while row < tables[table].len() {
            fields[at] = tables[table][row];
            at += 1;
            row += 1;
        }
        table += 1;
    }
    fields
}

/// All fields of a document, in the order they are best written.
pub fn fields(document: DocumentKind) -> &'static [Field] {
    match document {
        DocumentKind::Pan => pan::FIELDS,
        DocumentKind::Vehicle => vehicle::FIELDS,
        DocumentKind::Oil => oil::FIELDS,
        DocumentKind::Duty => duty::FIELDS,
        DocumentKind::Rulebook => rulebook::FIELDS,
        DocumentKind::Project => project::FIELDS,
        DocumentKind::Checklist => checklist::FIELDS,
        DocumentKind::Concessions => concessions::FIELDS,
        DocumentKind::Remarks => remarks::FIELDS,
        DocumentKind::Declaration => declaration::FIELDS,
    }
}

/// The row of a concrete path such as `drains.plug.boss`, or of the list that a path such as
/// `interior.rail.rectangle.1` points into.
pub fn field(document: DocumentKind, path: &str) -> Option<&'static Field> {
    let rows = fields(document);
    // Most rows are told apart by their first letter.
    let first = path.as_bytes().first();
    let mut near = rows.iter().filter(|row| row.path.as_bytes().first() == first);
    near.find(|row| matches(row.path, path)).or_else(|| {
        let (list, place) = path.rsplit_once('.')?;
        let in_list = !place.is_empty() && place.bytes().all(|b| b.is_ascii_digit());
        let row = rows.iter().find(|row| matches(row.path, list))?;
        (in_list && matches!(row.form, Form::Quantities(_) | Form::List | Form::Texts))
            .then_some(row)
    })
}

/// Whether a path is one of a pattern's: byte by byte, since every value read is looked up and most rows
/// differ from it within a few bytes. A `*` stands for one whole word.
fn matches(pattern: &str, path: &str) -> bool {
    let (mut pattern, mut path) = (pattern.as_bytes(), path.as_bytes());
    loop {
        match (pattern, path) {
            ([b'*', pattern_rest @ ..], [_, ..]) => {
                let word = path.iter().position(|b| *b == b'.').unwrap_or(path.len());
                (pattern, path) = (pattern_rest, path.get(word..).unwrap_or_default());
            }
            ([p, pattern_rest @ ..], [w, path_rest @ ..]) if p == w => {
                (pattern, path) = (pattern_rest, path_rest);
            }
            (left, right) => return left.is_empty() && right.is_empty(),
        }
    }
}

/// The verdicts that a remark can be about.
pub(super) const REMARK_VERDICTS: &[&str] =
    &["conforms", "does not conform", "inconclusive", "advisory", "conceded", "not applicable"];

/// Form, dimension and limits of a row.
type Shape = (Form, Option<Dimension>, Limits);

const fn quantity(dimension: Dimension, limits: Limits) -> Shape {
    (Form::Quantity, Some(dimension), limits)
}

/// The same, or a range of it.
const fn swept((_, dimension, limits): Shape) -> Shape {
    (Form::Swept, dimension, limits)
}

const fn words(list: &'static [&'static str]) -> Shape {
    (Form::Words(list), None, Limits::Any)
}

const fn lengths(count: usize) -> Shape {
    (Form::Quantities(count), Some(q::Length::DIMENSION), Limits::Positive)
}

const fn table(dimension: Dimension) -> Shape {
    (Form::Quantity, Some(dimension), Limits::Positive)
}

const fn plain(form: Form) -> Shape {
    (form, None, Limits::Any)
}

const MAPPING: Shape = plain(Form::Mapping);
const NAMED: Shape = plain(Form::Named);
const LIST: Shape = plain(Form::List);
const TABLE: Shape = plain(Form::Table);
const TEXT: Shape = plain(Form::Text);
const TEXTS: Shape = plain(Form::Texts);
const PATH: Shape = plain(Form::Path);
const COUNT: Shape = plain(Form::Count);
const DATE: Shape = plain(Form::Date);
const THREAD: Shape = plain(Form::Thread);
const FORMULA: Shape = plain(Form::Formula);
const ANYTHING: Shape = plain(Form::Anything);
const NOT_YET: Shape = plain(Form::NotYet);
/// A quantity whose dimension is that of what a rule measures.
const BOUND: Shape = (Form::Quantity, None, Limits::Any);
const INSTRUMENT: Shape = (Form::Quantity, None, Limits::Positive);
const TABLE_KEY: Shape =
    (Form::TableKey, Some(q::ThermodynamicTemperature::DIMENSION), Limits::Temperature);

/// A coordinate: either sign.
const PLACE: Shape = quantity(q::Length::DIMENSION, Limits::Any);
/// A size.
const SIZE: Shape = quantity(q::Length::DIMENSION, Limits::Positive);
/// A size or depth that may be nothing.
const DEPTH: Shape = quantity(q::Length::DIMENSION, Limits::NotNegative);
const DRAFT: Shape = quantity(q::Angle::DIMENSION, Limits::Draft);
const SLOPE: Shape = quantity(q::Angle::DIMENSION, Limits::Slope);
const TILT: Shape = quantity(q::Angle::DIMENSION, Limits::Tilt);
const VOLUME: Shape = quantity(q::Volume::DIMENSION, Limits::Positive);
const HELD_UP: Shape = quantity(q::Volume::DIMENSION, Limits::NotNegative);
const SHARE: Shape = quantity(q::Ratio::DIMENSION, Limits::Share);
const FREQUENCY: Shape = quantity(q::Frequency::DIMENSION, Limits::Positive);
const TIME: Shape = quantity(q::Time::DIMENSION, Limits::Positive);
const ACCELERATION: Shape = quantity(q::Acceleration::DIMENSION, Limits::NotNegative);
const FORCE: Shape = quantity(q::Force::DIMENSION, Limits::Positive);
const PRESSURE: Shape = quantity(q::Pressure::DIMENSION, Limits::Positive);
const STIFFNESS: Shape = quantity(Stiffness::DIMENSION, Limits::Positive);
const FLOW: Shape = quantity(q::VolumeRate::DIMENSION, Limits::Positive);
const FILM: Shape = quantity(q::HeatTransfer::DIMENSION, Limits::Positive);
const MASS: Shape = quantity(q::Mass::DIMENSION, Limits::Positive);
const SPEED: Shape = quantity(q::Velocity::DIMENSION, Limits::Positive);
/// A plain number of any size.
const FACTOR: Shape = quantity(q::Ratio::DIMENSION, Limits::Positive);
const VISCOSITY: Shape = quantity(q::DiffusionCoefficient::DIMENSION, Limits::Positive);
const TORQUE: Shape = quantity(q::Torque::DIMENSION, Limits::Positive);
const TEMPERATURE: Shape = quantity(q::ThermodynamicTemperature::DIMENSION, Limits::Temperature);
const EXPANSION: Shape = quantity(q::TemperatureCoefficient::DIMENSION, Limits::NotNegative);
const HEAT_CAPACITY: Shape = quantity(q::SpecificHeatCapacity::DIMENSION, Limits::Positive);
const CONDUCTIVITY: Shape = quantity(q::ThermalConductivity::DIMENSION, Limits::Positive);

/// One row a line: path, form, how to get it, and what else is to be said of it.
macro_rules! rows {
    ($document:ident; $($path:literal: $shape:expr, $how:expr $(, $more:ident $values:tt)*;)*) => {
        /// The rows, in the order the keys are best written.
        pub(super) const FIELDS: &[super::Field] = &[$(
            super::Field::new(crate::document::DocumentKind::$document, $path, $shape, $how)
                $(.$more $values)*,
        )*];
    };
}
use rows;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse_quantity;
    use crate::source::{FileId, Scalar, Span};

    const KINDS: [DocumentKind; 10] = DocumentKind::ALL;

    fn scalar(text: &str) -> Scalar {
        let span = Span { file: FileId(0), start: 0, end: 0 };
        Scalar { text: text.to_owned(), span, verbatim_at: None, plain: true }
    }

    #[test]
    fn no_path_stands_twice_and_every_row_says_something() {
        for kind in KINDS {
            let rows = fields(kind);
            for (i, row) in rows.iter().enumerate() {
                assert_eq!(row.document, kind, "{}", row.path);
                assert!(row.how_to_get.ends_with('.'), "{}", row.path);
                assert!(rows[..i].iter().all(|other| other.path != row.path), "{}", row.path);
            }
        }
    }

    #[test]
    fn the_table_of_all_is_the_tables_one_after_another() {
        let all: Vec<_> = FIELDS.iter().map(|row| (row.document, row.path)).collect();
        let each = KINDS.iter().flat_map(|kind| fields(*kind));
        assert_eq!(all, each.map(|row| (row.document, row.path)).collect::<Vec<_>>());
    }

    #[test]
    fn every_row_but_the_first_has_a_row_for_what_it_stands_in() {
        for kind in KINDS {
            for row in fields(kind) {
                let Some((above, _)) = row.path.rsplit_once('.') else { continue };
                let above = above.strip_suffix(".*").unwrap_or(above);
                assert!(fields(kind).iter().any(|r| r.path == above), "{}", row.path);
            }
        }
    }

    #[test]
    fn a_typical_range_rises_and_has_the_dimension_of_its_field() {
        for row in KINDS.iter().flat_map(|kind| fields(*kind)) {
            let Some((low, high)) = row.typical else { continue };
            let low = parse_quantity(&scalar(low)).expect(row.path);
            let high = parse_quantity(&scalar(high)).expect(row.path);
            assert_eq!(Some(low.unit.dimension), row.dimension, "{}", row.path);
            assert_eq!(Some(high.unit.dimension), row.dimension, "{}", row.path);
            assert!(low.value < high.value, "{}", row.path);
        }
    }

    #[test]
    fn a_concrete_path_finds_the_row_with_the_author_s_name_left_open() {
        let row = field(DocumentKind::Pan, "drains.plug.boss").expect("it is in the table");
        assert_eq!(row.path, "drains.*.boss");
        assert!(field(DocumentKind::Pan, "drains.plug.boss.more").is_none());
        assert!(field(DocumentKind::Pan, "drains.plug.bos").is_none());
    }

    #[test]
    fn a_place_in_a_list_finds_the_row_of_the_list() {
        let row = field(DocumentKind::Pan, "interior.rail.rectangle.1").expect("it is there");
        assert_eq!(row.path, "interior.rail.rectangle");
        assert!(field(DocumentKind::Pan, "wall.floor.1").is_none());
    }
}
