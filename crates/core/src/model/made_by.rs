//! The process words of documents as the strength tables know them.

use crate::document::pan;
use sumpwright_physics::strength::process::Process;

/// The same process in the tables.
pub fn made_by(process: pan::Process) -> Process {
    match process {
        pan::Process::SandCasting => Process::SandCasting,
        pan::Process::PermanentMould => Process::PermanentMouldCasting,
        pan::Process::DieCasting => Process::DieCasting,
        pan::Process::Stamping => Process::Stamping,
        pan::Process::Fabrication => Process::Fabrication,
        pan::Process::Machining => Process::Machining,
    }
}
