"""Reviews in open formats, held against what others say those formats are.

SARIF: every log validates against the official JSON Schema of SARIF 2.1.0 (OASIS; schemas/sarif-2.1.0.json, as it
travels in the crate serde-sarif 0.8.0). One pattern in that text has a stray bracket, ']?$', which is put right here
before it is used. A log broken on purpose must be refused, so that the check can fail.
JUnit XML: read by junitparser; totals by verdict agree with our own JSON.

Usage: formats.py PATH-OF-SUMPWRIGHT
"""

import json
import pathlib
import subprocess
import sys

import jsonschema
import junitparser

ROOT = pathlib.Path(__file__).resolve().parents[2]
TOOL = pathlib.Path(sys.argv[1]).resolve()
CASES = [
    sorted(str(p) for p in (ROOT / "fixtures/pans").glob("*.yaml")),
    [str(next((ROOT / "fixtures/documents/invalid/pan").glob("*.yaml")))],
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
        word = result["properties"]["verdict"].replace(" ", "_")
        counts[word] = counts.get(word, 0) + 1
    return counts


def main():
    schema = sarif_schema()
    validator = jsonschema.validators.validator_for(schema)(schema)
    for pans in CASES:
        ours = json.loads(written(pans, "json"))
        log = json.loads(written(pans, "sarif"))
        faults = [f"{'/'.join(map(str, e.path))}: {e.message[:200]}" for e in validator.iter_errors(log)]
        assert not faults, "\n".join(faults)
        judged = {k: n for k, n in ours["counts"].items() if n and k != "not_judged"}
        assert kinds(log) == judged, (kinds(log), judged)

        xml = junitparser.JUnitXml.fromstring(written(pans, "junit").encode())
        verdicts = {}
        for suite in xml:
            for case in suite:
                for prop in [p for list_ in case.iterchildren(junitparser.Properties) for p in list_]:
                    if prop.name == "verdict":
                        word = prop.value.replace(" ", "_")
                        verdicts[word] = verdicts.get(word, 0) + 1
        assert verdicts == {k: n for k, n in ours["counts"].items() if n}, (verdicts, ours["counts"])

        log["runs"][0]["columnKind"] = "bytes"
        assert any(validator.iter_errors(log)), "a broken log was not refused"
    print(f"{len(CASES)} reviews: SARIF validates, JUnit XML is read back, totals agree")


main()
