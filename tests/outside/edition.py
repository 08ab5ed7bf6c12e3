"""The edition of rulebooks against a general-purpose YAML reader, JSON writer and SHA-256.

Usage: edition.py PROGRAM RULEBOOK...   (files; each is a rulebook of its own, and all of rules/ is one more)

The canonical text is built from the file as it is parsed by PyYAML with every value as text, written by the
standard library's json (keys sorted, no blanks: RFC 8785 for text without numbers), and digested by hashlib.
"""

import hashlib
import json
import subprocess
import sys
from pathlib import Path

import yaml


def case(stated):
    kept = {"fixture": stated["fixture"], "expect": stated["expect"], "set": stated.get("set", {})}
    if stated.get("exact") == "true":
        kept["exact"] = "true"
    if "drop" in stated:
        dropped = stated["drop"]
        kept["drop"] = dropped if isinstance(dropped, list) else [dropped]
    return kept


def decision(stated):
    if isinstance(stated, str):
        return stated
    share = stated["probability"]
    number = float(share.rstrip(" %")) / (100 if share.endswith("%") else 1)
    return {"probability": repr(number)}


def rule(stated, of_book):
    kept = {key: value for key, value in stated.items() if key != "within"}
    if "within" in stated:
        kept["at_least"], kept["at_most"] = stated["within"]
    kept["decision"] = decision(stated.get("decision", of_book))
    kept["cases"] = [case(one) for one in stated.get("cases", [])]
    kept.setdefault("equivalent", {})
    return kept


def edition(paths):
    rules = {}
    books = [yaml.load(Path(path).read_text(encoding="utf-8"), Loader=yaml.BaseLoader) for path in paths]
    of_book = next((book["decision"] for book in books if "decision" in book), "guarded")
    for book in books:
        for name, stated in book["rules"].items():
            rules[name] = rule(stated, of_book)
    text = json.dumps(rules, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def printed(program, arguments):
    out = subprocess.run([program, "explain", "--format", "json", *arguments], capture_output=True, check=True)
    return json.loads(out.stdout)["rulebook"]["edition"]


def main():
    program, *books = sys.argv[1:]
    shipped = sorted(Path("rules").glob("*.yaml"))
    pairs = [(edition([book]), printed(program, ["--rules", book]), book) for book in books]
    pairs.append((edition(shipped), printed(program, []), "the built-in rulebook"))
    wrong = [name for meant, found, name in pairs if meant != found]
    for meant, found, name in pairs:
        print(f"{name}: {found}" + ("" if meant == found else f" instead of {meant}"))
    sys.exit(1 if wrong else 0)


main()
