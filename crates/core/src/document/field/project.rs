//! The fields of a project.

use super::{COUNT, PATH, TEXT, TEXTS, rows, say};

rows! { Project;
    "project": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, say::TITLE, optional();
    "pans": TEXTS, "Where the pans live: paths or patterns such as `pans/*.yaml`, from the folder of this file.";
    "rulebooks": TEXTS, "Where the rulebook lives, as paths or patterns; left out, the one built in is used.", optional();
    "checklists": TEXTS, "Where the customers' lists live that the pans are held against, as paths or patterns.", optional();
    "concessions": TEXTS, "Where the lists of accepted departures live, as paths or patterns.", optional();
    "concession_days": COUNT, "The longest term that a concession may have, in days from its acceptance.", optional();
    "known_findings": PATH, "The list of what is already known to be against the pans, which `sumpwright screen` passes over.", optional();
}
