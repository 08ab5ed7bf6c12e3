//! Which share of the resistance the oil makes.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Outside, Scene, Stream};
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "heat.oil_side_share",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Share of the drop of temperature from oil to air that lies in the film between oil and pan: between a smooth and a stirred stream",
    formula: "q/(h_oil A)/(T_oil - T_air)",
    source: "energy balance through oil film, wall, fins and air film, with radiation (Incropera, chapters 3, 5 and 7, from memory)",
    range: "Oil at the duty's hottest, the stated oil film; air as under a plate along the rail; neighbours that shade the pan and hot ones are not counted. An estimate: a gauge in the oil decides. Fins outside cannot beat what the oil film lets through.",
    checked_against: "energy balance",
    checked_by: "catalogue::drop_share_and_time_constant_follow_from_the_heat",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let wall = scene.heat_wall(Outside::Finned)?;
    let sides = scene.heat_sides()?;
    let share = |stream: Stream| {
        let heat = scene.shed(stream, Outside::Finned)?.heat.value;
        let film = sides.oil_film.value * wall.area.value;
        Ok(heat / film / (sides.oil.value - sides.air.value))
    };
    let (smooth, stirred) = (share(Stream::Laminar)?, share(Stream::Turbulent)?);
    Ok(Sample::of(Bounds::between(smooth, stirred), scene.heat_subject()?))
}
