//! States of the duty, and its cold start, that name a flow which the pump does not have.

use crate::model::scene::Scene;
use crate::source::{Code, Diagnostic, nearest};

/// Every unknown name of a flow. A vehicle that states no flows leaves the question open.
pub(super) fn unknown(scene: &Scene) -> Vec<Diagnostic> {
    let flows = || scene.vehicle.stated()?.pump.stated()?.flow.stated();
    let (Some(flows), Some(duty)) = (flows(), scene.duty.stated()) else { return Vec::new() };
    let states = duty.states.stated().into_iter().flat_map(|states| &states.entries);
    let of_states = states.filter_map(|state| state.value.flow.as_ref());
    let of_start = duty.cold_start.stated().and_then(|start| start.flow.as_ref());
    let names: Vec<&str> = flows.entries.iter().map(|flow| flow.name.as_str()).collect();
    let mut problems = Vec::new();
    let mut seen = std::collections::BTreeSet::new();
    for flow in of_states.chain(of_start) {
        // A swept state stands there once for each of its points.
        if !seen.insert(flow.span) {
            continue;
        }
        if !names.contains(&flow.text.as_str()) {
            let message = format!("the pump has no flow named `{}`", flow.text);
            let help = match nearest(&flow.text, names.iter().copied()) {
                Some(meant) => format!("did you mean `{meant}`?"),
                None => format!("the vehicle states {}", names.join(", ")),
            };
            problems.push(
                Diagnostic::error(Code::UnknownWord, flow.span, message)
                    .also(flows.span, "the pump's flows")
                    .help(help),
            );
        }
    }
    problems
}
