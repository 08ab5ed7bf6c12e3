//! What of a scene's documents was looked at: a reading is moved by nothing else.

use super::scene::Scene;
use crate::document::DocumentKind;
use crate::document::watched::Parts;

/// Parts of the documents of a scene.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Looked {
    pan: Parts,
    vehicle: Parts,
    oil: Parts,
    duty: Parts,
}

impl Looked {
    /// All parts of all documents.
    pub const ALL: Self =
        Self { pan: Parts::ALL, vehicle: Parts::ALL, oil: Parts::ALL, duty: Parts::ALL };

    /// Some parts of one document.
    pub fn of(document: DocumentKind, parts: Parts) -> Self {
        let none = Self::default();
        match document {
            DocumentKind::Pan => Self { pan: parts, ..none },
            DocumentKind::Vehicle => Self { vehicle: parts, ..none },
            DocumentKind::Oil => Self { oil: parts, ..none },
            DocumentKind::Duty => Self { duty: parts, ..none },
            _ => Self::ALL,
        }
    }

    /// The parts of one document.
    pub fn in_document(&self, document: DocumentKind) -> Parts {
        match document {
            DocumentKind::Pan => self.pan,
            DocumentKind::Vehicle => self.vehicle,
            DocumentKind::Oil => self.oil,
            DocumentKind::Duty => self.duty,
            _ => Parts::ALL,
        }
    }

    /// Both together.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self {
            pan: self.pan.with(other.pan),
            vehicle: self.vehicle.with(other.vehicle),
            oil: self.oil.with(other.oil),
            duty: self.duty.with(other.duty),
        }
    }

    /// Whether they have a part in common.
    pub fn meets(&self, other: &Self) -> bool {
        self.pan.meets(other.pan)
            || self.vehicle.meets(other.vehicle)
            || self.oil.meets(other.oil)
            || self.duty.meets(other.duty)
    }
}

impl Scene {
    /// What was looked at since this was last asked.
    pub fn take_looked(&self) -> Looked {
        let vehicle = self.vehicle.stated().map(|document| document.notebook.take());
        let oil = self.oil.stated().map(|document| document.notebook.take());
        let duty = self.duty.stated().map(|document| document.notebook.take());
        Looked {
            pan: self.pan.notebook.take(),
            vehicle: vehicle.unwrap_or_default(),
            oil: oil.unwrap_or_default(),
            duty: duty.unwrap_or_default(),
        }
    }

    /// Notes what was looked at to make something that is kept, for whoever uses it.
    pub(super) fn note(&self, looked: &Looked) {
        self.pan.notebook.note(looked.pan);
        if let Some(document) = self.vehicle.stated() {
            document.notebook.note(looked.vehicle);
        }
        if let Some(document) = self.oil.stated() {
            document.notebook.note(looked.oil);
        }
        if let Some(document) = self.duty.stated() {
            document.notebook.note(looked.duty);
        }
    }
}
