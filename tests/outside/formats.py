"""Reviews in open formats, held against what others say those formats are.

SARIF: every log validates against the official JSON Schema of SARIF 2.1.0 (OASIS; schemas/sarif-2.1.0.json, as it
travels in the crate serde-sarif 0.8.0). One pattern in that text has a stray bracket, ']?$', which is put right here
before it is used. A log broken on purpose must be refused, so that the check can fail.
Results on concessions and on clauses of customers' lists are of rules of their own and stand in no total of verdicts;
suppressions and clauses are those of our JSON.
JUnit XML: read by junitparser; totals by verdict, and the answers to clauses, agree with our own JSON.

Usage: formats.py PATH-OF-SUMPWRIGHT
"""

import json
import pathlib
import shutil
import subprocess
import sys
import tempfile

import jsonschema
import junitparser

ROOT = pathlib.Path(__file__).resolve().parents[2]
TOOL = pathlib.Path(sys.argv[1]).resolve()
PANS = sorted(str(p) for p in (ROOT / "fixtures/pans").glob("*.yaml"))
ENTRY = """  {name}:
    kind: deviation permit
    pan: pans/low-finned.yaml
    rule: {rule}
    bound: {bound}
    reason: <b>The first batch</b> is cast from the old pattern.
    accepted_by: {{ name: M. Quill, function: design authority, on: 2026-11-02 }}
    expires: {expires}
"""


def conceded():
    """The demo world with a list of concessions: one that holds, and one that has ended."""
    world = pathlib.Path(SCRATCH.name)
    shutil.copytree(ROOT / "fixtures", world, dirs_exist_ok=True)
    pan = world / "pans/low-finned.yaml"
    text = pan.read_text()
    pan.write_text(text.replace("pan: 1\n", "pan: 1\nobject: { state: as designed }\n", 1))
    entries = ENTRY.format(name="fins", rule="fin.breaks-at-the-strike", bound="520 MPa", expires="2027-01-31")
    entries += ENTRY.format(name="climb", rule="pickup.uncovered", bound="-18 mm", expires="2026-11-24")
    (world / "concessions.yaml").write_text(f"concessions: 1\naccepted:\n{entries}")
    lists = ["--checklist", str(world / "checklists/workshop.yaml")]
    return [str(pan)], ["--concessions", str(world / "concessions.yaml"), "--on", "2026-11-25", *lists]


SCRATCH = tempfile.TemporaryDirectory()
CASES = [
    (PANS, []),
    ([str(next((ROOT / "fixtures/documents/invalid/pan").glob("*.yaml")))], []),
    conceded(),
]


def written(pans, form):
    done = subprocess.run([TOOL, "review", *pans, "--format", form], capture_output=True, cwd=ROOT)
    assert done.returncode in (0, 1, 2), done.stderr.decode()
    return done.stdout.decode()


def sarif_schema():
    text = (ROOT / "tests/outside/schemas/sarif-2.1.0.json").read_text()
    return json.loads(text.replace("[a-zA-Z]{2}]?$", "[a-zA-Z]{2}$"))


def kinds(log):
    counts = {}
    for result in log["runs"][0]["results"]:
        if result["ruleId"].startswith(("concession.", "checklist.")):
            continue
        word = result["properties"]["verdict"].replace(" ", "_")
        counts[word] = counts.get(word, 0) + 1
    return counts


def clauses(ours):
    """Each clause on each pan: what it comes to, and whether it counts against."""
    held = [(pan, clause) for one in ours.get("checklists", []) for pan in one["pans"] for clause in pan["clauses"]]
    return sorted((pan["path"], c["name"], c["answer"].replace("_", " "), c["against"]) for pan, c in held)


def clauses_in_sarif(log):
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    for result in log["runs"][0]["results"]:
        if not result["ruleId"].startswith("checklist."):
            continue
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"], result
        of = result["properties"]["clause"]
        against = result["kind"] == "fail" and result["level"] == "error" or of["against"]
        yield of["pan"], result["ruleId"].rsplit(".", 1)[1], result["properties"]["verdict"], against


def clauses_in_junit(xml):
    for suite in xml:
        for case in suite:
            told = {p.name: p.value for list_ in case.iterchildren(junitparser.Properties) for p in list_}
            if "answer" in told:
                failed = any(isinstance(r, (junitparser.Failure, junitparser.Error)) for r in case.result)
                yield case.classname, told["clause"], told["answer"], failed


def main():
    schema = sarif_schema()
    validator = jsonschema.validators.validator_for(schema)(schema)
    for pans, extra in CASES:
        ours = json.loads(written([*pans, *extra], "json"))
        log = json.loads(written([*pans, *extra], "sarif"))
        faults = [f"{'/'.join(map(str, e.path))}: {e.message[:200]}" for e in validator.iter_errors(log)]
        assert not faults, "\n".join(faults)
        judged = {k: n for k, n in ours["counts"].items() if n and k != "not_judged"}
        assert kinds(log) == judged, (kinds(log), judged)

        against = [r["ruleId"] for r in log["runs"][0]["results"] if r["ruleId"].startswith("concession.")]
        assert len(against) == len(ours["concessions"]["findings"]), against
        marked = [r for r in log["runs"][0]["results"] if r.get("suppressions")]
        status = sorted(s["status"] for r in marked for s in r["suppressions"])
        told = [f["concession"]["status"] for p in ours["pans"] for f in p["findings"] if f["concession"]]
        assert status == sorted(told), (status, told)
        assert not extra or set(told) == {"accepted", "rejected"}, told

        xml = junitparser.JUnitXml.fromstring(written([*pans, *extra], "junit").encode())
        verdicts = {}
        for suite in xml:
            for case in suite:
                for prop in [p for list_ in case.iterchildren(junitparser.Properties) for p in list_]:
                    if prop.name == "verdict":
                        word = prop.value.replace(" ", "_")
                        verdicts[word] = verdicts.get(word, 0) + 1
        assert verdicts == {k: n for k, n in ours["counts"].items() if n}, (verdicts, ours["counts"])

        assert sorted(clauses_in_sarif(log)) == clauses(ours), (sorted(clauses_in_sarif(log)), clauses(ours))
        assert sorted(clauses_in_junit(xml)) == clauses(ours), (sorted(clauses_in_junit(xml)), clauses(ours))
        assert not extra or {against for *_, against in clauses(ours)} == {True, False}, clauses(ours)

        log["runs"][0]["columnKind"] = "bytes"
        assert any(validator.iter_errors(log)), "a broken log was not refused"
    print(f"{len(CASES)} reviews: SARIF validates, JUnit XML is read back, totals agree")


main()
