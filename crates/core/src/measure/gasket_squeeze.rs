//! How much of its thickness the gasket loses.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need, need_or};
use crate::quantity::Kind;
use sumpwright_physics::gasket::squeeze;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "gasket.squeeze",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Share of its thickness that limiters or a groove squeeze the gasket by",
    formula: "1 - clamped / free thickness",
    source: "plain geometry",
    range: "Limiters that bear all that the bolts pull beyond; unknown without them.",
    checked_against: "the squeeze sets the stress",
    checked_by: "catalogue::the_rail_presses_its_gasket_as_hetenyi_has_it",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let gasket = &scene.flange()?.gasket;
    let clamped =
        need_or(&gasket.clamped, "the bolts alone decide how far the gasket is squeezed")?;
    let share = squeeze(need(&gasket.thickness)?.value, clamped.value);
    Ok(Sample::of(Bounds::exactly(share.value), clamped.span))
}
