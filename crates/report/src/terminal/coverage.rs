//! The coverage map as text: eight directions, of each the tilt and the acceleration on level ground.

use super::page::Page;
use crate::said;
use sumpwright_core::coverage::{CoverageCase, CoverageMap, CoverageRay, toward};
use sumpwright_core::measure::{Bounds, Unknown};
use sumpwright_core::quantity::{Dimension, print_amount};

const DEGREES: f64 = 180.0 / core::f64::consts::PI;
const STANDARD_GRAVITY: f64 = 9.806_65;

/// Writes the map.
pub(super) fn write(page: &mut Page, map: &Result<CoverageMap, Unknown>) {
    page.gap();
    page.heading(
        "Coverage map: lean of apparent gravity from level ground, where the oil runs each way",
    );
    let map = match map {
        Ok(map) => map,
        Err(unknown) => {
            page.paragraph(&format!("There is none: {}.", unknown.reason));
            return;
        }
    };
    for case in &map.cases {
        let point = Dimension { temperature: 1, point: true, ..Dimension::default() };
        let at = print_amount(case.oil_temperature, 0.0, point);
        page.entry(&format!("{}, {at}", case.fill.words()), &least(case));
        // Of equal steps round the turn, those nearest to the eighths.
        for eighth in 0..8_u32 {
            let azimuth = f64::from(eighth) * core::f64::consts::FRAC_PI_4;
            let off = |ray: &CoverageRay| (ray.azimuth - azimuth).abs();
            let ray = case.rays.iter().reduce(|a, b| if off(b) < off(a) { b } else { a });
            if let Some(ray) = ray {
                page.row(&format!("{:.0} deg", ray.azimuth * DEGREES), &direction(ray));
            }
        }
    }
    let marks = map.duty.iter().map(|mark| {
        format!(
            "{} {:.1} deg at {:.0} deg",
            mark.state,
            mark.tilt * DEGREES,
            mark.azimuth * DEGREES
        )
    });
    let marks: Vec<String> = marks.take(12).collect();
    let more = map.duty.len() - marks.len();
    let more = if more > 0 {
        format!("; and {} more", said::number_of(more, "state"))
    } else {
        String::new()
    };
    page.row("duty", &format!("{}{more}", marks.join("; ")));
}

fn least(case: &CoverageCase) -> String {
    if case.least.is_infinite() {
        return "covered by 10 mm in every direction as far as is looked".to_owned();
    }
    format!(
        "10 mm over the rim up to {} in every direction, least with the oil {}",
        lean(Bounds::exactly(case.least)),
        toward(case.least_azimuth)
    )
}

fn direction(ray: &CoverageRay) -> String {
    format!(
        "oil {}: 10 mm to {}, uncovered at {}",
        toward(ray.azimuth),
        lean(ray.to_floor),
        lean(ray.to_dry)
    )
}

/// A tilt with the acceleration that leans as far.
fn lean(tilt: Bounds) -> String {
    let one = |tilt: f64| {
        if tilt.is_infinite() {
            return "no attitude looked at".to_owned();
        }
        let acceleration = CoverageRay::acceleration(tilt) / STANDARD_GRAVITY;
        format!("{:.1} deg ({acceleration:.2} gn)", tilt * DEGREES)
    };
    match tilt.value() {
        Some(value) => one(value),
        None => format!("between {} and {}", one(tilt.low), one(tilt.high)),
    }
}
