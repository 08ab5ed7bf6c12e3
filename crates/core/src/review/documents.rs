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
    let pan = if let Some(like) = same(Some(&dossier.pan)) {
        Some(Arc::clone(&like.pan))
    } else {
        let options = options(prefix, DocumentKind::Pan);
        let before = like.map(|like| &*like.pan);
        pan_like(&dossier.pan.node, options, before, out).map(Arc::new)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::dossier::Library;
    use crate::source::{FileProblem, Files};
    use std::path::Path;

    struct Project;

    impl Files for Project {
        fn read(&self, path: &str, _: Option<&str>, _: u64) -> Result<Vec<u8>, FileProblem> {
            let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
            std::fs::read(root.join(path)).map_err(|_| FileProblem::Missing)
        }

        fn exists(&self, path: &str) -> bool {
            self.read(path, None, 0).is_ok()
        }
    }

    fn words(scene: &Scene) -> String {
        // What was looked at so far is no part of what was read.
        let _ = scene.take_looked();
        format!("{:?} {:?} {:?} {:?}", scene.pan, scene.vehicle, scene.oil, scene.duty)
    }

    #[test]
    fn what_is_read_like_something_read_before_is_what_is_read_anew() {
        for pan in ["deep-cast", "drain-retrofit"] {
            let mut library = Library::new(&Project);
            let dossier = library.dossier(&format!("fixtures/pans/{pan}.yaml")).expect("a pan");
            let (memo, mut found) = (Arc::default(), Findings::default());
            let stated = read_scene(&dossier, &[], "", None, &memo, &mut found).expect("a scene");
            let as_stated = words(&stated);
            let inputs = found.inputs.clone();
            assert!(inputs.len() > 100, "{} inputs", inputs.len());
            for input in inputs {
                let shifts = [Shift { at: input.span, by: 1e-3 * input.value.abs() + 1e-6 }];
                let of = found.stands.iter().filter(|(span, ..)| *span == input.span);
                let parts = of.map(|(_, document, parts)| Looked::of(*document, *parts));
                let parts = parts.fold(Looked::default(), |all, more| all.with(&more));
                let read = |like| {
                    let aside = &mut Findings::default();
                    let scene = read_scene(&dossier, &shifts, "", like, &memo, aside);
                    words(&scene.expect("a scene"))
                };
                let anew = read(None);
                assert!(anew != as_stated, "{} moves nothing", input.path);
                assert!(read(Some((&stated, parts))) == anew, "{}", input.path);
            }
        }
    }
}
