//! The coverage map of a pan for the least, the stated and the most oil, cold and hot.

use super::sweep::Sweep;
use crate::coverage::{CoverageMap, FillCase, coverage_case, duty_marks};
use crate::measure::Unknown;
use crate::model::Scene;

/// The map. The least and the most oil are the check's value moved by its half-width, √3 standard uncertainties
/// (JCGM 100, 4.3.7); a check that is taken as exact has one fill.
///
/// # Errors
/// Says what is not stated.
pub(super) fn coverage_map(sweep: &Sweep) -> Result<CoverageMap, Unknown> {
    let stated = sweep.nominal.own.scene()?;
    let (coldest, hottest) = (stated.coldest()?, stated.hottest()?);
    let mut temperatures = vec![coldest];
    if hottest > coldest {
        temperatures.push(hottest);
    }
    let mut fills = vec![(FillCase::Stated, sweep.nominal.clone())];
    let at = stated.fill_span()?;
    if let Some(input) = sweep.inputs.iter().find(|input| input.span == at && input.u > 0.0) {
        let width = input.u * 3.0_f64.sqrt();
        let [one, other] = [width, -width].map(|by| sweep.moved_by(at, by));
        if let (Ok(first), Ok(second)) = (one.own.scene(), other.own.scene()) {
            // A level is stated downward, a volume upward: which of the two is more oil is seen from the oil.
            let first_is_less = oil(first)? < oil(second)?;
            let (least, most) = if first_is_less { (one, other) } else { (other, one) };
            fills.insert(0, (FillCase::Least, least));
            fills.push((FillCase::Most, most));
        }
    }
    let duty = duty_marks(stated)?;
    let mut cases = Vec::new();
    for (fill, situation) in &fills {
        for temperature in &temperatures {
            cases.push(coverage_case(situation.own.scene()?, *fill, *temperature, &duty)?);
        }
    }
    Ok(CoverageMap { cases, duty })
}

fn oil(scene: &Scene) -> Result<f64, Unknown> {
    let world = scene.worlds()?.first().ok_or_else(|| Unknown::because("there is no oil space"))?;
    Ok(scene.fill(world)?.running.value)
}
