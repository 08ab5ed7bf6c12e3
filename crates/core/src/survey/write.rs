//! The description as text: what is known as keys, what was found as comments.

use super::SurveyRequest;
use super::found::{Floor, Found};
use crate::document::DocumentKind;
use crate::document::field::{Field, Form, fields};
use crate::model::millimetres;
use glam::{DVec2, DVec3};

/// Families that the shape gives, or that say nothing of the pan's working.
const SAID_ALREADY: [&str; 5] = ["pan", "title", "object", "instruments", "interior"];
/// Names of zones from the rail down; deeper ones are counted.
const NAMES: [&str; 3] = ["shelf", "sump", "well"];

fn add(text: &mut String, more: &str) {
    text.push_str(more);
}

/// The lines of the interior.
pub(super) fn interior(request: SurveyRequest<'_>, moved: Option<DVec3>) -> String {
    let mut lines = format!("interior:\n  {}:\n", request.shape);
    for (key, value) in request.keys {
        add(&mut lines, &format!("    {key}: {value}\n"));
    }
    if let Some(by) = moved {
        add(
            &mut lines,
            &format!(
                "    moved: {{ x: {}, y: {}, z: {} }}\n",
                millimetres(by.x),
                millimetres(by.y),
                millimetres(by.z)
            ),
        );
    }
    lines
}

pub(super) fn description(request: SurveyRequest<'_>, interior: &str, found: &Found) -> String {
    let file = request.keys.iter().find(|(key, _)| *key == "file").map_or("", |(_, file)| file);
    let file = file.trim_matches('"');
    let name = file.rsplit('/').next().unwrap_or(file);
    let mut text = format!(
        "# A survey of {name}, to be completed: families left out are told at the end.\n\
         pan: 1\ntitle: Surveyed from {}\n{interior}",
        quoted(name)
    );
    text.push_str(&shape(found));
    text.push_str(&zones(request, found));
    text.push_str(&left_out());
    text
}

/// A title in quotes where YAML would read it as something else.
fn quoted(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() || "._-".contains(c) { c } else { '-' }).collect()
}

fn shape(found: &Found) -> String {
    let [low, high] = found.rail_bounds;
    let size = high - low;
    let mut text = format!(
        "\n# Found in it:\n\
         #   rail      {} along x, {} along y, {:.0} cm²\n\
         #   deepest   {} below the rail, at x {}, y {}\n\
         #   volume    {:.3} L below the rail\n",
        millimetres(size.x),
        millimetres(size.y),
        found.rail_area * 1e4,
        millimetres(-found.deepest.z),
        millimetres(found.deepest.x),
        millimetres(found.deepest.y),
        found.volume * 1e3
    );
    if found.doubt > 0.0 {
        add(
            &mut text,
            &format!(
                "#   doubt     {} of depth on the average between soundings (standard uncertainty), {:.3} L; traced\n\
                 #             edges and more soundings where the floor bends make it less\n",
                millimetres(found.doubt),
                found.doubt * found.rail_area * 1e3
            ),
        );
    }
    if found.overhangs {
        text.push_str(
            "#   walls     overhang in places, so that zones cannot be exactly this shape\n",
        );
    }
    for floor in &found.floors {
        let [low, high] = floor.bounds;
        add(
            &mut text,
            &format!(
                "#   floor     at depth {}: {:.0} cm², x {} to {}, y {} to {}\n",
                millimetres(floor.depth),
                floor.area * 1e4,
                millimetres(low.x),
                millimetres(high.x),
                millimetres(low.y),
                millimetres(high.y)
            ),
        );
    }
    if found.floors.is_empty() {
        text.push_str("#   floor     none is level\n");
    }
    text.push_str("#\n#   depth of a level surface   litres below it\n");
    for (depth, volume) in &found.volumes {
        add(&mut text, &format!("#   {:>24}   {:>15.3}\n", millimetres(*depth), volume * 1e3));
    }
    text
}

/// Zones that would come near the shape, as comments: a person decides.
fn zones(request: SurveyRequest<'_>, found: &Found) -> String {
    let mut text = String::from(
        "\n# As zones it would be about this; each floor's rectangle is round the section where the zone opens, its draft\n\
         # from that rectangle and its floor's. Compare the volumes before it takes the place of the interior above.\n\
         # interior:\n",
    );
    // An outline that was stated is better than the chords of its arcs.
    match request.keys.iter().find(|(key, _)| *key == "rail") {
        Some((_, stated)) => add(&mut text, &format!("#   rail: {stated}\n")),
        None => add(&mut text, &polygon(&found.rail)),
    }
    text.push_str("#   zones:\n");
    for (number, floor) in found.floors.iter().enumerate() {
        let name =
            NAMES.get(number).map_or_else(|| format!("floor-{}", number + 1), |n| (*n).to_owned());
        let inside = if number > 1 {
            format!(
                ", in: {}",
                NAMES
                    .get(number - 1)
                    .map_or_else(|| format!("floor-{number}"), |n| (*n).to_owned())
            )
        } else {
            String::new()
        };
        add(
            &mut text,
            &format!(
                "#     {name}: {{ outline: {}, depth: {}, draft: {:.1} deg{inside} }}\n",
                if number == 0 { "rail".to_owned() } else { rectangle(floor.mouth) },
                millimetres(floor.depth),
                draft(floor)
            ),
        );
    }
    text
}

fn polygon(rail: &[DVec2]) -> String {
    let mut text = String::from("#   rail: { polygon: [\n");
    for row in rail.chunks(3) {
        let row: Vec<String> = row
            .iter()
            .map(|p| format!("{{ x: {}, y: {} }}", millimetres(p.x), millimetres(p.y)))
            .collect();
        add(&mut text, &format!("#     {},\n", row.join(", ")));
    }
    text.push_str("#   ] }\n");
    text
}

fn rectangle([low, high]: [DVec2; 2]) -> String {
    let (size, middle) = (high - low, (low + high) / 2.0);
    format!(
        "{{ rectangle: [{}, {}], at: {{ x: {}, y: {} }} }}",
        millimetres(size.x),
        millimetres(size.y),
        millimetres(middle.x),
        millimetres(middle.y)
    )
}

/// The lean of the walls, from the rectangles round the mouth and round the floor, in degrees.
fn draft(floor: &Floor) -> f64 {
    let (mouth, bottom) = (floor.mouth[1] - floor.mouth[0], floor.bounds[1] - floor.bounds[0]);
    let inward = ((mouth.x - bottom.x) + (mouth.y - bottom.y)) / 4.0;
    let lean = libm::atan2(inward, floor.depth - floor.opens_at) * 180.0 / core::f64::consts::PI;
    lean.clamp(0.0, 59.0)
}

/// Every family that no shape tells, with how a person gets what is in it.
fn left_out() -> String {
    let rows = fields(DocumentKind::Pan);
    let mut text = String::from(
        "\n# Left out: a rule that needs one of these is inconclusive until it is stated, or said to be `none`.\n",
    );
    for family in rows.iter().filter(|row| !row.path.contains('.')) {
        if SAID_ALREADY.contains(&family.path) {
            continue;
        }
        add(&mut text, &format!("#\n# {}: …  # {}\n", family.path, family.how_to_get));
        let below = rows.iter().filter(|row| {
            row.path.strip_prefix(family.path).is_some_and(|rest| rest.starts_with('.'))
        });
        for row in below.filter(|row| is_asked(row)) {
            let key = row.path.get(family.path.len() + 1..).unwrap_or(row.path);
            add(&mut text, &format!("#   {key}: {}\n", row.how_to_get));
        }
    }
    text
}

/// Rows that hold a value of their own and say how to get it.
fn is_asked(row: &Field) -> bool {
    !matches!(row.form, Form::Mapping | Form::Named | Form::List | Form::TableKey)
        && ![".x", ".y", ".below_rail", ".above_rail"].iter().any(|end| row.path.ends_with(end))
}
