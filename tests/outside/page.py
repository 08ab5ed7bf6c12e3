"""The HTML review, opened in a real browser with networking off, and held against the JSON of the same review.

Chromium reads the page, and its own tree (--dump-dom) is looked at by Python's reader of HTML: no code of ours reads what
our code wrote. Held: each pan's counts by verdict; the place, the identity and the reading of every finding that is told, with its
limits; what was accepted and remarked; each clause of a customer's list with its answer; a chart of coverage for each pan; that nothing is fetched and no script, handler or frame is there; that names made to
be markup come out as text. A page broken on purpose must fail.

Usage: page.py PATH-OF-SUMPWRIGHT [PATH-OF-CHROMIUM]
Chromium is found by its usual names; on Debian: apt-get install chromium. Without one this fails.
"""

import html.parser
import json
import math
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
TOOL = pathlib.Path(sys.argv[1]).resolve()
NAMES = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"]
EVIL = "</h2></title><script>document.title='run'</script><img src=x onerror=document.title='run'>"
LIST = """concessions: 1
accepted:
  fins:
    kind: deviation permit
    pan: pans/low-finned.yaml
    rule: fin.breaks-at-the-strike
    bound: 520 MPa
    reason: "<script>document.title='run'</script> The first batch is cast from the old pattern."
    accepted_by: { name: M. Quill, function: design authority, on: 2026-11-02 }
    expires: 2027-01-31
  climb:
    kind: deviation permit
    pan: pans/low-finned.yaml
    rule: pickup.uncovered
    bound: -18 mm
    reason: Level ground only.
    accepted_by: { name: M. Quill, function: design authority, on: 2026-11-02 }
    expires: 2026-11-24
"""
REMARKS = """remarks: 1
by: R. Tarn
findings:
  - rule: pickup.uncovered
    remark: <b>Ask</b> for a deeper pan.
"""


def browser():
    if len(sys.argv) > 2:
        return sys.argv[2]
    found = next((path for path in map(shutil.which, NAMES) if path), None)
    assert found, "there is no Chromium here; on Debian: apt-get install chromium"
    return found


def opened(page, scratch):
    """The tree of the page as the browser has it, once it has been read."""
    options = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-extensions", "--disable-background-networking"]
    # Every name leads nowhere, and the profile is thrown away.
    options += ["--host-resolver-rules=MAP * ~NOTFOUND", "--proxy-server=127.0.0.1:9", f"--user-data-dir={scratch}/profile"]
    done = subprocess.run(
        [browser(), *options, "--dump-dom", page.as_uri()], capture_output=True, timeout=120, check=True
    )
    return done.stdout.decode()


class Tree(html.parser.HTMLParser):
    """Text of the page by section, its tags and their attributes."""

    def __init__(self):
        super().__init__()
        self.tags, self.attributes, self.title = [], [], ""
        self.parts = {"": []}
        self.depth, self.part, self.hidden, self.in_title = 0, "", False, False

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        self.attributes += [(tag, name, value or "") for name, value in attributes]
        if tag == "section":
            self.part = dict(attributes).get("id", "") or ""
            self.parts.setdefault(self.part, [])
        self.hidden = self.hidden or tag == "style"
        self.in_title = self.in_title or tag == "title"

    def handle_endtag(self, tag):
        self.hidden = self.hidden and tag != "style"
        self.in_title = self.in_title and tag != "title"

    def handle_data(self, data):
        if self.in_title:
            self.title += data
        elif not self.hidden:
            self.parts[self.part].append(data)

    def text(self, part=None):
        parts = self.parts if part is None else [part]
        return squeezed(" ".join(word for name in parts for word in self.parts[name]))


def squeezed(text):
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ")).strip()


def written(world, arguments, form):
    done = subprocess.run([TOOL, "review", *arguments, "--format", form], capture_output=True, cwd=world)
    assert done.returncode in (0, 1, 2), done.stderr.decode()
    return done.stdout.decode()


def counted(counts):
    """As the page says counts: what is zero is left out."""
    for word, count in counts.items():
        if count:
            plural = {"does_not_conform": "do not conform", "conforms": "conform"}
            yield f"{count} {plural.get(word, word.replace('_', ' ')) if count > 1 else word.replace('_', ' ')}"


# Units in which the page may write a value, in SI base units.
UNITS = {
    "": 1, "%": 0.01, "mm": 1e-3, "cm": 1e-2, "m": 1, "mm^2": 1e-6, "cm^2": 1e-4, "m^2": 1, "L": 1e-3, "m^3": 1,
    "s": 1, "min": 60, "h": 3600, "Hz": 1, "deg": math.pi / 180, "rad": 1, "N": 1, "kN": 1e3, "N/mm": 1e3,
    "Pa": 1, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "W": 1, "kW": 1e3, "K": 1, "m/s": 1, "mm/s": 1e-3, "L/min": 1e-3 / 60,
    "mm^2/s": 1e-6, "kg/m^3": 1, "W/K": 1, "W/(m·K)": 1, "kJ/(kg·K)": 1e3, "gn": 9.80665, "g": 1e-3, "kg": 1,
}
NUMBER = r"(-?\d+(?:\.(\d+))?(?:e(-?\d+))?)"


def shown_as(finding, article):
    """Whether the article says the finding's value, to the digits that it prints."""
    value, start = finding["reading"]["value"], f"{squeezed(finding['measure'])} = "
    if value is None:
        return finding["reading"]["kind"] in ("unknown", "at least", "at most", "between") or start not in article
    said = article.split(start, 1)[1]
    found = re.match(NUMBER + r"(?: ([^ ()]+(?:\([^ ]*\))?))?", said)
    number, decimals, power, unit = found.groups()
    unit = unit if unit in UNITS else ("degC" if unit == "degC" else "")
    there = (value - 273.15) if unit == "degC" else value / UNITS[unit]
    half = 0.5 * 10.0 ** (int(power or 0) - len(decimals or ""))
    # Where uncertainty leaves no decimals, the last whole digits are rounded away.
    whole = number.partition(".")[0].lstrip("-")
    if not decimals and not power:
        half *= 10 ** (len(whole) - len(whole.rstrip("0")))
    return abs(there - float(number)) <= half * 1.000001


def check(tree, ours):
    text = tree.text()
    assert tree.title != "run", "a script ran"
    for said in counted(ours["counts"]):
        assert said in text, said
    for number, pan in enumerate(ours["pans"]):
        part = tree.text(f"pan-{number}")
        for said in counted(pan["counts"]):
            assert said in part, (pan["path"], said)
        for finding in pan["findings"]:
            identity = f"{finding['rule']} · {finding['object']}" if finding["object"] else finding["rule"]
            assert identity in part, identity
            if finding["verdict"] in ("conforms", "not applicable"):
                continue
            article = next(piece for piece in part.split(identity)[1:] if "why " in piece)
            article = article.split("why ", 1)[0]
            place = finding["place"]
            assert f"{place['path']}:{place['line']}:{place['column']}" in article, identity
            assert shown_as(finding, article), (identity, finding["reading"], article)
            for limit in finding["limits"]:
                assert squeezed(limit["text"]) in article, (identity, limit["text"])
            if finding["concession"]:
                told = finding["concession"]
                assert told["name"] in article and told["expires"] in article and told["by"] in article, told
                assert squeezed(told["reason"]) in article, told
            for remark in finding["remarks"]:
                assert squeezed(remark["text"]) in article, remark
    for finding in ours["concessions"]["findings"]:
        assert squeezed(f"{finding['name']}: {finding['message']}") in text, finding


    for number, held in enumerate(ours["checklists"]):
        part = tree.text(f"checklist-{number}")
        assert squeezed(held["title"]) in part and squeezed(held["customer"]) in part, held["title"]
        # One table after the other, the pans in their order.
        for pan in held["pans"]:
            for clause in pan["clauses"]:
                row = f"{clause['number'] or clause['name']} "
                row += "" if clause["binding"] else "not binding "
                row += squeezed(clause["says"])
                assert row in part, (row, part)
                part = part.split(row, 1)[1]
                at = f"{clause['place']['path']}:{clause['place']['line']}:{clause['place']['column']} "
                answer = (at if clause["against"] else "") + clause["answer"].replace("_", " ")
                assert part.strip().startswith(answer), (row, part[:120])


def closed(tree):
    for tag in ("script", "iframe", "img", "object", "embed", "link", "form", "base", "video", "audio"):
        assert tag not in tree.tags, tag
    for tag, name, value in tree.attributes:
        assert not name.startswith("on"), (tag, name)
        if name in ("src", "href", "xlink:href", "srcset", "action", "data"):
            assert value.startswith("#"), (tag, name, value)


def main():
    with tempfile.TemporaryDirectory() as scratch:
        world = pathlib.Path(scratch) / "world"
        shutil.copytree(ROOT / "fixtures", world)
        pan = world / "pans/low-finned.yaml"
        stated = "pan: 1\nobject: { state: as designed }\n"
        text = pan.read_text().replace("pan: 1\n", stated, 1)
        pan.write_text(text.replace("title: Low finned pan", f'title: "{EVIL}"', 1))
        (world / "concessions.yaml").write_text(LIST)
        (world / "pans/low-finned.remarks.yaml").write_text(REMARKS)
        pans = [f"pans/{name}.yaml" for name in ("deep-cast", "low-finned", "stock-stamped")]
        arguments = [*pans, "--concessions", "concessions.yaml", "--on", "2026-11-25"]
        arguments += ["--checklist", "checklists/workshop.yaml"]
        ours = json.loads(written(world, arguments, "json"))
        assert ours["counts"]["conceded"] == 1 and len(ours["concessions"]["findings"]) == 1
        page = world / "page.html"
        page.write_text(written(world, arguments, "html"))
        tree = Tree()
        tree.feed(opened(page, scratch))
        closed(tree)
        check(tree, ours)
        charts = tree.text().count("Coverage map, oil at ")
        assert charts == 4 * len(pans), "a cold and a hot chart for each pan, each with its text and its caption"
        assert squeezed(EVIL) in tree.text(), "a hostile name was lost"
        # The checks can fail: another count, another value.
        for wrong in (altered_count(ours), altered_limit(ours), altered_value(ours), altered_answer(ours)):
            try:
                check(tree, wrong)
            except AssertionError:
                continue
            raise SystemExit("a wrong page was not noticed")
    print(f"{len(pans)} pans on a page in Chromium: counts, readings, limits, marks and lists agree with JSON; nothing is fetched")


def altered_count(ours):
    wrong = json.loads(json.dumps(ours))
    wrong["counts"]["conforms"] += 1
    return wrong


def fins(review):
    findings = [f for pan in review["pans"] for f in pan["findings"] if f["rule"] == "fin.breaks-at-the-strike"]
    return next(f for f in findings if f["verdict"] not in ("conforms", "not applicable"))


def altered_limit(ours):
    wrong = json.loads(json.dumps(ours))
    fins(wrong)["limits"][0]["text"] = "a number that nobody wrote"
    return wrong


def altered_answer(ours):
    wrong = json.loads(json.dumps(ours))
    wrong["checklists"][0]["pans"][-1]["clauses"][0]["answer"] = "unanswered"
    return wrong


def altered_value(ours):
    wrong = json.loads(json.dumps(ours))
    fins(wrong)["reading"]["value"] *= 1.01
    return wrong


main()
