//! What a computation says at one set of inputs: a value, bounds, or why there is none.

use crate::quantity::Missing;
use crate::source::Span;

/// A value known exactly or only to lie between two bounds (which may be infinite), in SI base units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Not less than this.
    pub low: f64,
    /// Not more than this.
    pub high: f64,
}

impl Bounds {
    /// Exactly this value.
    pub fn exactly(value: f64) -> Self {
        Self { low: value, high: value }
    }

    /// Anything up to this value.
    pub fn at_most(value: f64) -> Self {
        Self { low: f64::NEG_INFINITY, high: value }
    }

    /// Anything from this value.
    pub fn at_least(value: f64) -> Self {
        Self { low: value, high: f64::INFINITY }
    }

    /// Between two values, in either order.
    pub fn between(a: f64, b: f64) -> Self {
        if a <= b { Self { low: a, high: b } } else { Self { low: b, high: a } }
    }

    /// The value, where both bounds are one.
    pub fn value(self) -> Option<f64> {
        (self.low >= self.high).then_some(self.low)
    }
}

/// Why there is no reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unknown {
    /// In one sentence, lower case, no final stop.
    pub reason: String,
    /// What would have to be stated; empty where stating does not help.
    pub missing: Vec<Missing>,
    /// What a reader would change where nothing is missing, if that is one place.
    pub at: Option<Span>,
}

impl Unknown {
    /// A reason that no stated value would remove.
    pub fn because(reason: impl Into<String>) -> Self {
        Self { reason: reason.into(), missing: Vec::new(), at: None }
    }

    /// The place that says so.
    #[must_use]
    pub fn at(self, span: Span) -> Self {
        Self { at: Some(span), ..self }
    }

    /// A value that is not stated.
    pub fn not_stated(missing: Missing) -> Self {
        Self { reason: format!("{} is not stated", missing.path), missing: vec![missing], at: None }
    }
}

/// The state of the duty that decides.
#[derive(Debug, Clone, PartialEq)]
pub struct Worst {
    /// Its name.
    pub state: String,
    /// For a swept state, the values at which it decides, in words.
    pub point: Option<String>,
    /// Where it stands.
    pub span: Span,
    /// Oil temperature in kelvin.
    pub oil_temperature: f64,
}

impl Worst {
    /// The state, and for a swept one where in it: `rocks at climb 15 deg`.
    pub fn words(&self) -> String {
        match &self.point {
            Some(point) => format!("{} at {point}", self.state),
            None => self.state.clone(),
        }
    }
}

/// A measure in one state of the duty.
#[derive(Debug, Clone, PartialEq)]
pub struct StateValue {
    /// The state.
    pub at: Worst,
    /// Its value there, or why there is none.
    pub bounds: Result<Bounds, Unknown>,
}

/// A reading at one set of inputs.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// The value or its bounds.
    pub bounds: Bounds,
    /// The input that a reader would change.
    pub subject: Span,
    /// The state that decides, for a measure over the duty.
    pub worst: Option<Worst>,
    /// Every state, for a measure over the duty.
    pub states: Vec<StateValue>,
    /// What a reader has to know beside the number; whole sentences.
    pub notes: Vec<String>,
}

impl Sample {
    /// A value with what a reader would change, and nothing else.
    pub fn of(bounds: Bounds, subject: Span) -> Self {
        Self { bounds, subject, worst: None, states: Vec::new(), notes: Vec::new() }
    }
}

/// A reading, or why there is none.
pub type Outcome = Result<Sample, Unknown>;
