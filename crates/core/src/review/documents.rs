//! A dossier read at some set of values: typed documents, the inputs they state, and what is wrong.

use crate::document::DocumentKind;
use crate::document::dossier::{Dossier, Part};
use crate::document::reader::{
    Findings, ReadOptions, Shift, duty_like, oil_like, pan_like, vehicle_like,
};
use crate::document::watched::Parts;
use crate::model::{Looked, Memo, Scene};
use crate::quantity::{Given, Missing};
use crate::source::{Node, Span, Value};
use std::sync::Arc;

/// Reads a pan and what it refers to; nothing where the pan itself cannot be understood. What `like` holds of
/// documents that no shift lies in, or of parts that none moves, is shared with it and not read again.
pub(crate) fn read_scene(
    dossier: &Dossier,
    shifts: &[Shift],
    prefix: &str,
    like: Option<(&Scene, Looked)>,
    memo: &Arc<Memo>,
    out: &mut Findings,
) -> Option<Scene> {
    let options = |prefix, document| {
        let moved = like.map_or(Parts::ALL, |(_, moved)| moved.in_document(document));
        ReadOptions { shifts, exact: false, prefix, moved }
    };
    let like = like.map(|(scene, _)| scene);
    let moved = |part: Option<&Part>| {
        part.is_none_or(|part| shifts.iter().any(|shift| part.reads(shift.at.file)))
    };
    let same = |part: Option<&Part>| like.filter(|_| !moved(part));
    let pan = match same(Some(&dossier.pan)) {
        Some(like) => Some(Arc::clone(&like.pan)),
        None => {
            let options = options(prefix, DocumentKind::Pan);
            let before = like.map(|like| &*like.pan);
            pan_like(&dossier.pan.node, options, before, out).map(Arc::new)
        }
    };
    let vehicle = match same(dossier.vehicle.as_ref()) {
        Some(like) => Arc::clone(&like.vehicle),
        None => Arc::new(part(dossier, "vehicle", dossier.vehicle.as_ref(), |node| {
            let before = like.and_then(|like| like.vehicle.stated());
            vehicle_like(node, options("vehicle.", DocumentKind::Vehicle), before, out)
        })),
    };
    let oil = match same(dossier.oil.as_ref()) {
        Some(like) => Arc::clone(&like.oil),
        None => Arc::new(part(dossier, "oil", dossier.oil.as_ref(), |node| {
            let before = like.and_then(|like| like.oil.stated());
            oil_like(node, options("oil.", DocumentKind::Oil), before, out)
        })),
    };
    let duty = match same(dossier.duty.as_ref()) {
        Some(like) => Arc::clone(&like.duty),
        None => Arc::new(part(dossier, "duty", dossier.duty.as_ref(), |node| {
            let before = like.and_then(|like| like.duty.stated());
            duty_like(node, options("duty.", DocumentKind::Duty), before, out)
        })),
    };
    let attached = Arc::clone(&dossier.pan.attached);
    let scene = Scene::new(pan?, vehicle, oil, duty, attached, Arc::clone(memo));
    if shifts.is_empty()
        && let Some((span, doubt)) = scene.between_soundings()
    {
        // What lies between soundings is an input like any other, but how uncertain it is follows from them.
        for input in out.inputs.iter_mut().filter(|input| input.span == span) {
            input.u = doubt.value;
        }
    }
    Some(scene.along(dossier.log.clone()).moved_from(like))
}

fn part<T>(
    dossier: &Dossier,
    key: &str,
    part: Option<&Part>,
    read: impl FnOnce(&Node) -> Option<T>,
) -> Given<T> {
    if let Some(document) = part.and_then(|p| read(&p.node)) {
        return Given::Stated(document);
    }
    match dossier.pan.node.get(key) {
        Some(node) if node.is_none_word() => Given::Absent(node.span),
        _ => Given::LeftOut(Missing { path: key.to_owned(), within: kind_key(&dossier.pan.node) }),
    }
}

/// The key that says the kind: the short place that stands for a whole document.
pub(super) fn kind_key(node: &Node) -> Span {
    match &node.value {
        Value::Mapping(entries) => entries.first().map_or(node.span, |e| e.key.span),
        _ => node.span,
    }
}
