//! A record to a statement, and back.

use super::wire::{
    AssessorWire, ClauseWire, DescriptorWire, DigestWire, EvidenceWire, FileWire, IssuedWire,
    IssuerWire, JudgedWire, LimitsWire, ObjectWire, PREDICATE_TYPE, PersonWire, PredicateWire,
    RequirementsWire, ResultWire, RuleWire, STATEMENT_TYPE, StatementWire, TEST_RESULT_TYPE,
    TestResultWire,
};
use crate::json::pretty;
use sumpwright_core::declare::{
    Assessor, ClauseResult, Evidence, Issuer, Listed, Object, Person, Record, Requirements, Role,
    RuleResult,
};

/// The name by which the program says that it judged.
const PROGRAM: &str = "sumpwright";

/// What a statement is about: the pans, and what they were judged with.
fn subject(record: &Record) -> Vec<DescriptorWire> {
    let about = |file: &&Listed| matches!(file.role, Role::Pan | Role::Input);
    record.files.iter().filter(about).map(descriptor).collect()
}

fn descriptor(file: &Listed) -> DescriptorWire {
    let digest = DigestWire { sha256: file.sha256.clone() };
    DescriptorWire { name: file.name.clone(), digest }
}

/// The statement of a declaration.
pub(super) fn statement(record: &Record) -> String {
    pretty(&StatementWire {
        kind: STATEMENT_TYPE.to_owned(),
        subject: subject(record),
        predicate_type: PREDICATE_TYPE.to_owned(),
        predicate: predicate(record),
    })
}

/// The outcome alone, in a shape that programs without any idea of pans read.
pub(super) fn test_result(record: &Record) -> String {
    let name = |result: &RuleResult| match &result.object {
        Some(object) => format!("{}: {} · {object}", result.pan, result.rule),
        None => format!("{}: {}", result.pan, result.rule),
    };
    let with = |words: &[&str]| -> Vec<String> {
        let results = record.results.iter().filter(|r| words.contains(&r.verdict.as_str()));
        results.map(name).collect()
    };
    let rulebook = |file: &&Listed| file.role == Role::Rulebook;
    pretty(&StatementWire {
        kind: STATEMENT_TYPE.to_owned(),
        subject: subject(record),
        predicate_type: TEST_RESULT_TYPE.to_owned(),
        predicate: TestResultWire {
            result: "PASSED",
            configuration: record.files.iter().filter(rulebook).map(descriptor).collect(),
            passed: with(&["conforms"]),
            warned: with(&["conceded", "advisory", "inconclusive"]),
            failed: Vec::new(),
        },
    })
}

fn predicate(record: &Record) -> PredicateWire {
    let person = |p: &Person| PersonWire { name: p.name.clone(), function: p.function.clone() };
    PredicateWire {
        number: record.number.clone(),
        supersedes: record.supersedes.clone(),
        issuer: IssuerWire {
            name: record.issuer.name.clone(),
            address: record.issuer.address.clone(),
        },
        objects: record.objects.iter().map(object).collect(),
        serials: record.serials.clone(),
        statement: record.statement.clone(),
        requirements: requirements(&record.requirements),
        issued: IssuedWire { on: record.issued_on.clone(), at: record.issued_at.clone() },
        signatory: person(&record.signatory),
        limits: LimitsWire {
            purpose: record.limited_to.clone(),
            until: record.valid_until.clone(),
        },
        assessed_by: record.assessed_by.as_ref().map(|assessor| AssessorWire {
            name: assessor.person.name.clone(),
            function: assessor.person.function.clone(),
            competence: assessor.competence.clone(),
        }),
        kept_in_line: record.kept_in_line.clone(),
        kept_until: record.kept_until.clone(),
        evidence: record.evidence.iter().map(evidence).collect(),
        judged: JudgedWire {
            by: PROGRAM.to_owned(),
            version: record.engine.clone(),
            from: record.source.clone(),
        },
        results: record.results.iter().map(result).collect(),
        clauses: record.clauses.iter().map(clause).collect(),
        files: record.files.iter().map(file).collect(),
    }
}

fn object(object: &Object) -> ObjectWire {
    let Object { pan, name, revision, part_number, state } = object.clone();
    ObjectWire { pan, name, revision, part_number, state }
}

fn requirements(asked: &Requirements) -> RequirementsWire {
    let Requirements { rulebook, edition, rules, checklists, concessions } = asked.clone();
    let rules = rules.into_iter().map(|(id, edition)| RuleWire { id, edition }).collect();
    RequirementsWire { rulebook, edition, rules, checklists, concessions }
}

fn evidence(evidence: &Evidence) -> EvidenceWire {
    let Evidence { name, path, sha256, shows } = evidence.clone();
    EvidenceWire { name, path, sha256, shows }
}

fn result(result: &RuleResult) -> ResultWire {
    let RuleResult { pan, rule, object, verdict, low, high } = result.clone();
    ResultWire { pan, rule, object, verdict, low, high }
}

fn clause(clause: &ClauseResult) -> ClauseWire {
    let ClauseResult { list, pan, clause, number, says, binding, answer, word, rules } =
        clause.clone();
    ClauseWire { list, pan, clause, number, says, binding, answer, word, rules }
}

fn file(file: &Listed) -> FileWire {
    let Listed { name, role, sha256, withheld } = file.clone();
    FileWire { name, role: role.words().to_owned(), sha256, withheld }
}

/// Reads a statement.
///
/// # Errors
/// Says in a sentence without a stop what it is instead.
pub fn read_statement(bytes: &[u8]) -> Result<Record, String> {
    let value: serde_json::Value = serde_json::from_slice(bytes)
        .map_err(|error| format!("it is no JSON, in line {}", error.line()))?;
    let kind = |key: &str| value.get(key).and_then(serde_json::Value::as_str).unwrap_or("nothing");
    if kind("_type") != STATEMENT_TYPE {
        return Err(format!("it is no statement of {STATEMENT_TYPE}"));
    }
    if kind("predicateType") != PREDICATE_TYPE {
        let found = crate::visible::visible(kind("predicateType")).into_owned();
        return Err(format!("it states {found}, and this version reads {PREDICATE_TYPE}"));
    }
    let read: StatementWire<PredicateWire> = serde_json::from_slice(bytes)
        .map_err(|error| format!("its content is not as it has to be: {error}"))?;
    let record = record(read.predicate)?;
    if subject(&record) != read.subject {
        return Err("its subject is not what its list of files says".to_owned());
    }
    Ok(record)
}

fn record(read: PredicateWire) -> Result<Record, String> {
    let person = |p: PersonWire| Person { name: p.name, function: p.function };
    let files: Result<Vec<Listed>, String> = read.files.into_iter().map(listed).collect();
    Ok(Record {
        number: read.number,
        supersedes: read.supersedes,
        issuer: Issuer { name: read.issuer.name, address: read.issuer.address },
        objects: read.objects.into_iter().map(read_object).collect(),
        serials: read.serials,
        statement: read.statement,
        requirements: Requirements {
            rulebook: read.requirements.rulebook,
            edition: read.requirements.edition,
            rules: read.requirements.rules.into_iter().map(|r| (r.id, r.edition)).collect(),
            checklists: read.requirements.checklists,
            concessions: read.requirements.concessions,
        },
        issued_on: read.issued.on,
        issued_at: read.issued.at,
        signatory: person(read.signatory),
        limited_to: read.limits.purpose,
        valid_until: read.limits.until,
        assessed_by: read.assessed_by.map(|assessor| Assessor {
            person: Person { name: assessor.name, function: assessor.function },
            competence: assessor.competence,
        }),
        kept_in_line: read.kept_in_line,
        kept_until: read.kept_until,
        evidence: read.evidence.into_iter().map(read_evidence).collect(),
        results: read.results.into_iter().map(read_result).collect(),
        clauses: read.clauses.into_iter().map(read_clause).collect(),
        engine: read.judged.version,
        source: path(read.judged.from)?,
        files: files?,
    })
}

fn read_object(read: ObjectWire) -> Object {
    let ObjectWire { pan, name, revision, part_number, state } = read;
    Object { pan, name, revision, part_number, state }
}

fn read_evidence(read: EvidenceWire) -> Evidence {
    let EvidenceWire { name, path, sha256, shows } = read;
    Evidence { name, path, sha256, shows }
}

fn read_result(read: ResultWire) -> RuleResult {
    let ResultWire { pan, rule, object, verdict, low, high } = read;
    RuleResult { pan, rule, object, verdict, low, high }
}

fn read_clause(read: ClauseWire) -> ClauseResult {
    let ClauseWire { list, pan, clause, number, says, binding, answer, word, rules } = read;
    ClauseResult { list, pan, clause, number, says, binding, answer, word, rules }
}

fn listed(read: FileWire) -> Result<Listed, String> {
    let role = Role::of_words(&read.role).ok_or_else(|| {
        format!("it lists a file as `{}`, which is nothing", crate::visible::visible(&read.role))
    })?;
    Ok(Listed { name: path(read.name)?, role, sha256: read.sha256, withheld: read.withheld })
}

/// A path that stays in the folder.
fn path(name: String) -> Result<String, String> {
    let inside = !name.is_empty()
        && !name.contains('\\')
        && name.split('/').all(|part| !matches!(part, "" | "." | ".."));
    if inside {
        Ok(name)
    } else {
        Err(format!("it names `{}`, which leads out of the folder", crate::visible::visible(&name)))
    }
}
