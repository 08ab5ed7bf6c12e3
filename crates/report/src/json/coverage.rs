//! The coverage map for programs: angles in radians, accelerations in m/s²; what no attitude reaches is left out.

use super::wire::{PlaceWire, number, place};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::coverage::{CoverageMap, CoverageRay};
use sumpwright_core::measure::{Bounds, Unknown};
use sumpwright_core::source::Sources;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct CoverageWire {
    /// Why there is no map.
    reason: Option<String>,
    cases: Vec<CaseWire>,
    duty: Vec<MarkWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct CaseWire {
    fill: &'static str,
    /// In kelvin.
    oil_temperature: Option<f64>,
    least_tilt: Option<f64>,
    least_azimuth: Option<f64>,
    directions: Vec<RayWire>,
    /// The tilt to 10 mm on the way of each state under `duty`, in their order.
    on_the_ways_of_the_duty: Vec<RangeWire>,
    /// In each state under `duty` whether oil kept apart from the inlet leaves it less than 10 mm; of the stated oil only.
    kept_apart: Vec<Option<bool>>,
}

/// Where the oil runs to the azimuth, 0 forward, a quarter turn to the left.
#[derive(Debug, Serialize, JsonSchema)]
struct RayWire {
    azimuth: Option<f64>,
    tilt_to_10_mm: RangeWire,
    tilt_to_uncovered: RangeWire,
    acceleration_to_10_mm: RangeWire,
    acceleration_to_uncovered: RangeWire,
}

#[derive(Debug, Serialize, JsonSchema)]
struct RangeWire {
    low: Option<f64>,
    high: Option<f64>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct MarkWire {
    state: String,
    place: PlaceWire,
    azimuth: Option<f64>,
    tilt: Option<f64>,
}

pub(super) fn coverage(sources: &Sources, map: &Result<CoverageMap, Unknown>) -> CoverageWire {
    let map = match map {
        Ok(map) => map,
        Err(unknown) => {
            let reason = Some(unknown.reason.clone());
            return CoverageWire { reason, cases: Vec::new(), duty: Vec::new() };
        }
    };
    let cases = map.cases.iter().map(|case| CaseWire {
        fill: case.fill.words(),
        oil_temperature: number(case.oil_temperature),
        least_tilt: number(case.least),
        least_azimuth: number(case.least_azimuth),
        directions: case.rays.iter().map(ray).collect(),
        kept_apart: case.kept_apart.clone(),
        on_the_ways_of_the_duty: case.on_the_ways.iter().map(|bounds| range(*bounds)).collect(),
    });
    let marks = map.duty.iter().map(|mark| MarkWire {
        state: mark.state.clone(),
        place: place(sources, mark.span),
        azimuth: number(mark.azimuth),
        tilt: number(mark.tilt),
    });
    CoverageWire { reason: None, cases: cases.collect(), duty: marks.collect() }
}

fn ray(ray: &CoverageRay) -> RayWire {
    let accelerations = |bounds: Bounds| RangeWire {
        low: number(CoverageRay::acceleration(bounds.low)),
        high: number(CoverageRay::acceleration(bounds.high)),
    };
    RayWire {
        azimuth: number(ray.azimuth),
        tilt_to_10_mm: range(ray.to_floor),
        tilt_to_uncovered: range(ray.to_dry),
        acceleration_to_10_mm: accelerations(ray.to_floor),
        acceleration_to_uncovered: accelerations(ray.to_dry),
    }
}

fn range(bounds: Bounds) -> RangeWire {
    RangeWire { low: number(bounds.low), high: number(bounds.high) }
}
