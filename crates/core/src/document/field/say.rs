//! Sentences that several documents share: how a person gets a value.

pub(super) const X: &str =
    "A tape along the rail from the middle of the rail's bounding rectangle, + forward.";
pub(super) const Y: &str =
    "A tape across the rail from the middle of the rail's bounding rectangle, + to the left.";
pub(super) const DEPTH: &str =
    "A depth gauge, or a tape, from a straight edge laid across the rail.";
pub(super) const ABOVE: &str =
    "A straight edge across the case's gasket face and a rule upwards from it.";
pub(super) const RECTANGLE: &str =
    "Callipers or a tape along and across, inside edge to inside edge.";
pub(super) const CORNER: &str = "A radius gauge, or a coin of known diameter held into the corner.";
pub(super) const CIRCLE: &str = "Callipers across the circle, twice at right angles.";
pub(super) const POLYGON: &str =
    "Trace the edge on paper and read the corners off squared paper under it.";
pub(super) const AT: &str = "Where its middle stands from the middle of the rail.";
pub(super) const SLOT: &str = "Callipers: overall length with the round ends, then width.";
pub(super) const SLOT_ALONG: &str = "The axis a slot lies along; x if left out.";
pub(super) const BOX: &str = "Callipers along, across and upright.";
pub(super) const CYLINDER: &str = "Callipers: its diameter, then its length.";
pub(super) const ALONG: &str = "The axis it lies along; left out, it stands upright.";
pub(super) const CHECK: &str = "The maker's manual: how the oil level is checked.";
pub(super) const LEVEL: &str =
    "Check hole or dipstick mark: its distance below the rail on the removed pan or the case.";
pub(super) const CHECK_AT: &str = "Where in the plan the mark or the check hole stands.";
pub(super) const FILL: &str = "What a jug shows that pan and case hold in that state: everything that \
     drains, with filter and case emptied, not what a refill takes.";
pub(super) const OIL_AT: &str = "The oil temperature that the maker's manual names for the check.";
pub(super) const ENGINE: &str = "The maker's manual says whether the engine runs at the check.";
pub(super) const TORQUE_FACTOR: &str = "Torque over preload times diameter: about 0.20 dry, 0.15 to 0.18 oiled, or by a washer that reads the force.";
pub(super) const STEPS: &str = "How many values, both ends counted: 2 or more.";
pub(super) const TITLE: &str = "What you call it.";
pub(super) const INSTRUMENTS: &str =
    "What you measured with: each name with its half-width, not exceeded in practice.";
pub(super) const INSTRUMENT: &str =
    "The maker's statement of accuracy, or the largest miss when it measures a known thing.";
