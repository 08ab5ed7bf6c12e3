//! A table of depths to a terrain.

use super::outlines;
use super::scene::Scene;
use crate::document::pan::{InteriorShape, InteriorSoundings};
use crate::document::soundings::SoundingTable;
use crate::quantity::{Given, si};
use crate::source::Span;
use glam::DVec2;
use std::sync::Arc;
use sumpwright_physics::terrain::{Sounding, Soundings, Terrain, TerrainError};
use uom::si::f64::Length;

impl Scene {
    /// The rows of the table; none where it could not be read, which has been said.
    pub(super) fn table(&self, doc: &InteriorSoundings) -> Option<&SoundingTable> {
        let table = self.attached.get(&doc.file.text)?.soundings.as_ref()?;
        (!table.rows.is_empty()).then_some(table)
    }

    /// The soundings as geometry; the place and why where the rail cannot be made.
    pub(super) fn soundings(&self, doc: &InteriorSoundings) -> Result<Soundings, (Span, String)> {
        let outline = outlines::outline(&doc.rail, None)?;
        let unread = || (doc.file.span, "the table of depths could not be read".to_owned());
        let table = self.table(doc).ok_or_else(unread)?;
        let points = table.rows.iter().map(|row| {
            let depth = row.depth - doc.zero.value;
            // An uncertainty step of the gauge's zero does not lift a depth at the rail above it.
            let depth = if depth.value < 0.0 { si(0.0) } else { depth };
            Sounding { at: DVec2::new(row.x.value, row.y.value), depth }
        });
        Ok(Soundings {
            outline,
            draft: doc.draft.map_or(si(0.0), |draft| draft.value),
            points: points.collect(),
            lines: table.lines(),
            tip: doc.tip.map_or(si(0.0), |tip| tip.value),
            deeper: doc.deeper,
        })
    }

    /// The numbers that the terrain of soundings is made of.
    pub(super) fn soundings_key(&self, doc: &InteriorSoundings) -> Vec<u64> {
        // A word that no outline of zones starts with.
        let mut key = vec![90];
        outlines::key(&doc.rail, &mut key);
        key.extend(self.attached.get(&doc.file.text).map_or([0; 4], |file| file.digest));
        key.push(doc.draft.map_or(0.0, |draft| draft.value.value).to_bits());
        key.push(doc.tip.map_or(0.0, |tip| tip.value.value).to_bits());
        key.extend([doc.zero.value.value, doc.deeper.value].map(f64::to_bits));
        key
    }

    /// The terrain of these soundings, built once.
    pub(super) fn sounded(
        &self,
        doc: &InteriorSoundings,
        soundings: &Soundings,
    ) -> Arc<Result<Terrain, TerrainError>> {
        self.memo.terrain(&self.soundings_key(doc), || {
            Terrain::from_soundings(soundings).map_err(TerrainError::Soundings)
        })
    }

    /// Where a pan is described by soundings, the place that stands for what lies between them, and how far that may
    /// be from the truth, as a standard uncertainty.
    pub(crate) fn between_soundings(&self) -> Option<(Span, Length)> {
        let Given::Stated(interior) = &*self.pan.interior else { return None };
        let InteriorShape::Soundings(doc) = &interior.shape else { return None };
        let doubt = self.with_terrain(|terrain| Ok(terrain.doubt())).ok()?;
        Some((doc.file.span, doubt))
    }
}
