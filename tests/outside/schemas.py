"""The JSON Schemas that the program prints, held against another reader of YAML and another validator.

Documents: every valid one of the fixtures, the demo and the built-in rulebook passes the schema of its kind, and of the
broken ones those whose fault a schema can see are refused: how many is asserted, so that it does not fall unseen. Results:
what every verb writes as JSON, on sound and on broken documents, passes the schema of that verb, and does not once it is
damaged.

Usage: schemas.py PATH-OF-SUMPWRIGHT
"""

import json
import pathlib
import re
import subprocess
import sys

import jsonschema
import yaml

ROOT = pathlib.Path(__file__).resolve().parents[2]
TOOL = pathlib.Path(sys.argv[1]).resolve()
KINDS = ["pan", "vehicle", "oil", "duty", "rulebook", "project", "checklist", "concessions", "remarks", "declaration"]
# Broken documents that a schema refuses, of those that a reader of YAML can read at all.
REFUSED_AT_LEAST = 98


class Loader(yaml.SafeLoader):
    """The core schema of YAML 1.2: no dates, no `yes` and `on`, no numbers to the base of 60."""

    yaml_implicit_resolvers = {}


for tag, pattern, first in [
    ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("null", r"~|null|Null|NULL|", "~nN\0"),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+0123456789."),
]:
    Loader.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{pattern})$"), list(first) + [""])


def run(*arguments):
    done = subprocess.run([TOOL, *arguments], capture_output=True, cwd=ROOT)
    assert done.returncode in (0, 1, 2), (arguments, done.stderr.decode())
    return done.stdout.decode()


def validator(name):
    schema = json.loads(run("schema", name))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def faults(validator, document):
    return [f"{e.json_path}: {e.message[:200]}" for e in validator.iter_errors(document)]


def kind_of(document):
    first = next(iter(document), None) if isinstance(document, dict) else None
    return first if first in KINDS else None


def documents(of):
    sound = [ROOT / "fixtures" / part for part in ("pans", "vehicles", "oils", "duties", "documents/valid")]
    folders = [ROOT / "fixtures/documents/invalid"] if of == "broken" else [*sound, ROOT / "rules"]
    for folder in folders:
        for path in sorted(folder.rglob("*.yaml")):
            broken = "# expect: " in path.read_text(encoding="utf-8", errors="replace")
            if of == "sound" or broken:
                yield path


def check_documents(validators):
    count = 0
    for path in documents("sound"):
        document = yaml.load(path.read_text(), Loader)
        wrong = faults(validators[kind_of(document)], document)
        assert not wrong, f"{path.relative_to(ROOT)} is refused:\n" + "\n".join(wrong)
        count += 1
    refused, passed, unread = [], [], []
    for path in documents("broken"):
        name = str(path.relative_to(ROOT / "fixtures/documents/invalid"))
        try:
            document = yaml.load(path.read_text(), Loader)
        except (yaml.YAMLError, UnicodeDecodeError, ValueError):
            unread.append(name)
            continue
        # The folder says what the file should have been.
        wrong = faults(validators[path.parent.name], document)
        (refused if wrong else passed).append(name)
    if "--list" in sys.argv:
        print("\n".join(["passed:", *passed, "no YAML:", *unread]))
    assert len(refused) >= REFUSED_AT_LEAST, f"only {len(refused)} are refused; --list says which pass"
    print(f"{count} sound documents pass; of the broken ones {len(refused)} are refused, "
          f"{len(passed)} need the program, {len(unread)} are no YAML")


def check_results():
    pans = [str(p.relative_to(ROOT)) for p in sorted((ROOT / "fixtures/pans").glob("*.yaml"))]
    broken = "fixtures/documents/invalid/pan/several-at-once.yaml"
    low = "fixtures/pans/low-finned.yaml"
    proofs = "tests/proofs"
    results = {
        "compare_pans": [[low], ["fixtures/pans/stock-stamped.yaml", *pans[:2]], [broken, low], [low, low]],
        "review": [pans, [broken], [low, "--rules", f"{proofs}/ours.yaml"], ["no-such-file.yaml"]],
        "measure": [pans, [broken], [low, "--all"]],
        "prove": [[f"{proofs}/{n}.yaml"] for n in ("base", "loose", "wrong", "newcomer", "ours")],
        "explain": [[], ["pickup.uncovered"], ["pickup.rim_depth"], ["pickup.uncovered", low],
                    ["pickup.rim_depth", low], ["no.such-rule"]],
        "compare": [["built-in", f"{proofs}/ours.yaml", "--pans", low], [f"{proofs}/base.yaml", f"{proofs}/loose.yaml"]],
    }
    count = 0
    for verb, cases in results.items():
        check = validator(verb)
        for case in cases:
            text = run(verb.split("_")[0], *case, "--format", "json")
            if not text:
                continue
            result = json.loads(text)
            wrong = faults(check, result)
            assert not wrong, f"{verb} {case}:\n" + "\n".join(wrong)
            for key in list(result):
                damaged = {k: v for k, v in result.items() if k != key}
                assert faults(check, damaged) or key not in check.schema["required"], (verb, key)
            assert faults(check, {**result, "schema": "sumpwright.review/0"}), verb
            count += 1
    print(f"{count} results pass the schema of their verb")


check_documents({kind: validator(kind) for kind in KINDS})
check_results()
