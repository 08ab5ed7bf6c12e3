//! Mesh files to bodies in the pan's frame: read, looked over, settled on the rail.
//!
//! Everything is remembered under the digest of the file and the numbers that change what is made of it, so that an
//! uncertainty step that moves the inlet reads no file again.

mod look;
mod settle;
mod trouble;

pub(crate) use look::LookedOver;
pub(crate) use settle::Settled;
pub(crate) use trouble::Trouble;

use super::scene::Scene;
use crate::document::pan::{Displaced, DisplacedMesh, InteriorMesh, InteriorShape, MeshDoc};
use crate::reading::Unknown;
use glam::DVec3;
use std::sync::Arc;
use sumpwright_physics::mesh::Mesh;

/// The numbers that a mesh is read by.
fn look_key(doc: &MeshDoc, digest: [u64; 4]) -> Vec<u64> {
    let axis = |word: Option<crate::document::pan::Word<crate::document::pan::MeshAxis>>| {
        word.map_or(9, |word| 2 * word.value.axis as u64 + u64::from(word.value.reversed))
    };
    let mut key = digest.to_vec();
    // The end of the name says the format.
    key.extend(doc.file.text.rsplit('.').next().into_iter().flat_map(str::bytes).map(u64::from));
    key.extend([
        100,
        doc.unit.map_or(99, |unit| unit.value as u64),
        doc.normals.map_or(99, |normals| normals.value as u64),
        doc.weld.map_or(0, |weld| weld.value.value.to_bits()),
        axis(doc.forward),
        axis(doc.up),
    ]);
    key
}

/// The numbers that a mesh of an interior is made of.
fn settle_key(doc: &InteriorMesh, digest: [u64; 4]) -> Vec<u64> {
    let mut key = look_key(&doc.mesh, digest);
    key.push(101 + doc.of.value as u64);
    key.extend(moved(doc).to_array().map(f64::to_bits));
    key.push(doc.surface.map_or(0, |surface| surface.value.value.to_bits()));
    key
}

/// By how much a mesh of an interior is moved, in metres.
pub(crate) fn moved(doc: &InteriorMesh) -> DVec3 {
    doc.moved.map_or(DVec3::ZERO, |by| DVec3::from_array(by.map(|along| along.value.value)))
}

/// Where the origin of a displacer's mesh lies, in metres.
pub(crate) fn placed(mesh: &DisplacedMesh) -> DVec3 {
    mesh.at.as_ref().map_or(DVec3::ZERO, super::interior::point)
}

impl Scene {
    fn digest(&self, doc: &MeshDoc) -> Result<[u64; 4], Unknown> {
        self.attached.get(&doc.file.text).map(|file| file.digest).ok_or_else(|| {
            Unknown::because(format!("the mesh {} could not be read", doc.file.text))
        })
    }

    /// A mesh file, read and looked over once.
    pub(super) fn looked_over(&self, doc: &MeshDoc) -> Result<Arc<LookedOver>, Unknown> {
        let key = look_key(doc, self.digest(doc)?);
        let file = self.attached.get(&doc.file.text);
        Ok(self.memo.looked_over(&key, || match file {
            Some(file) => look::look_over(doc, file),
            None => LookedOver::default(),
        }))
    }

    /// The mesh of the interior on its rail, or what is wrong with it.
    pub(super) fn settled(
        &self,
        doc: &InteriorMesh,
    ) -> Result<Arc<Result<Settled, Trouble>>, Unknown> {
        let key = settle_key(doc, self.digest(&doc.mesh)?);
        let looked = self.looked_over(&doc.mesh)?;
        Ok(self.memo.settled(&key, || settle::settle(doc, &looked)))
    }

    pub(super) fn settled_key(&self, doc: &InteriorMesh) -> Result<Vec<u64>, Unknown> {
        Ok(settle_key(doc, self.digest(&doc.mesh)?))
    }

    /// The numbers that a displacer's mesh is made of.
    pub(super) fn displaced_mesh_key(&self, mesh: &DisplacedMesh) -> Result<Vec<u64>, Unknown> {
        let mut key = look_key(&mesh.mesh, self.digest(&mesh.mesh)?);
        key.push(110);
        key.extend(placed(mesh).to_array().map(f64::to_bits));
        Ok(key)
    }

    /// A displacer's mesh where it stands.
    pub(super) fn placed_mesh(&self, mesh: &DisplacedMesh) -> Result<Mesh, Unknown> {
        let looked = self.looked_over(&mesh.mesh)?;
        let by = placed(mesh);
        let points = looked.mesh.points.iter().map(|p| *p + by).collect();
        Ok(Mesh { points, faces: looked.mesh.faces.clone() })
    }

    /// By how much a mesh of the interior is to be moved in all to lie as it must, where it does not.
    pub(crate) fn mesh_put_right(&self) -> Option<DVec3> {
        let InteriorShape::Mesh(mesh) = &self.interior().ok()?.shape else { return None };
        match self.settled(mesh).ok()?.as_ref() {
            Ok(settled) => settled.troubles.iter().find_map(|trouble| trouble.moved),
            Err(trouble) => trouble.moved,
        }
    }

    /// What a reader has to know of the meshes.
    pub(super) fn mesh_notes(&self) -> Vec<String> {
        let Ok(interior) = self.interior() else { return Vec::new() };
        let mut notes = Vec::new();
        if let InteriorShape::Mesh(mesh) = &interior.shape
            && let Ok(settled) = self.settled(mesh)
            && let Ok(settled) = settled.as_ref()
        {
            notes.extend(settled.notes.iter().cloned());
        }
        for item in &interior.displaced {
            if let Displaced::Mesh(mesh) = &item.value
                && let Ok(looked) = self.looked_over(&mesh.mesh)
            {
                notes.extend(looked.notes.iter().cloned());
            }
        }
        notes
    }
}
