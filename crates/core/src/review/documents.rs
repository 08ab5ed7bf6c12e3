//! A dossier read at some set of values: typed documents, the inputs they state, and what is wrong.

use crate::document::dossier::{Dossier, Part};
use crate::document::reader::{
    Findings, ReadOptions, Shift, read_duty, read_oil, read_pan, read_vehicle,
};
use crate::model::{Memo, Scene};
use crate::quantity::{Given, Missing};
use crate::source::{Node, Span, Value};
use std::sync::Arc;

/// Reads a pan and what it refers to; nothing where the pan itself cannot be understood. What `like` holds of
/// documents that no shift lies in is shared with it and not read again.
pub(crate) fn read_scene(
    dossier: &Dossier,
    shifts: &[Shift],
    prefix: &str,
    like: Option<&Scene>,
    memo: &Arc<Memo>,
    out: &mut Findings,
) -> Option<Scene> {
    let options = |prefix| ReadOptions { shifts, exact: false, prefix };
    let moved = |part: Option<&Part>| {
        part.is_none_or(|part| shifts.iter().any(|shift| part.reads(shift.at.file)))
    };
    let same = |part: Option<&Part>| like.filter(|_| !moved(part));
    let pan = match same(Some(&dossier.pan)) {
        Some(like) => Some(Arc::clone(&like.pan)),
        None => read_pan(&dossier.pan.node, options(prefix), out).map(Arc::new),
    };
    let vehicle = match same(dossier.vehicle.as_ref()) {
        Some(like) => Arc::clone(&like.vehicle),
        None => Arc::new(part(dossier, "vehicle", dossier.vehicle.as_ref(), |node| {
            read_vehicle(node, options("vehicle."), out)
        })),
    };
    let oil = match same(dossier.oil.as_ref()) {
        Some(like) => Arc::clone(&like.oil),
        None => Arc::new(part(dossier, "oil", dossier.oil.as_ref(), |node| {
            read_oil(node, options("oil."), out)
        })),
    };
    let duty = match same(dossier.duty.as_ref()) {
        Some(like) => Arc::clone(&like.duty),
        None => Arc::new(part(dossier, "duty", dossier.duty.as_ref(), |node| {
            read_duty(node, options("duty."), out)
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
