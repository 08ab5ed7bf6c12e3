"""What an editor shows: a YAML language server, over its own protocol, with the schemas that the program prints.

Sound documents get no complaint from it, broken ones get theirs at the line that is wrong, and completion and hover
say what the table of fields says. The server is yaml-language-server from the npm registry; it is found on the path, or
given.

Usage: editor.py PATH-OF-SUMPWRIGHT [PATH-OF-YAML-LANGUAGE-SERVER]
"""

import json
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
TOOL = pathlib.Path(sys.argv[1]).resolve()
SERVER = sys.argv[2] if len(sys.argv) > 2 else "yaml-language-server"


class Server:
    """A language server over its standard input and output."""

    def __init__(self, folder):
        self.process = subprocess.Popen([SERVER, "--stdio"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        self.number = 0
        self.told = {}
        self.ask("initialize", {
            "processId": None, "rootUri": folder.as_uri(),
            "capabilities": {"textDocument": {
                "completion": {"completionItem": {"documentationFormat": ["markdown"]}},
                "hover": {"contentFormat": ["markdown"]},
            }},
        })
        self.say("initialized", {})

    def send(self, message):
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self.process.stdin.flush()

    def receive(self):
        length = 0
        while (line := self.process.stdout.readline().strip()):
            if line.lower().startswith(b"content-length:"):
                length = int(line.split(b":")[1])
        return json.loads(self.process.stdout.read(length))

    def handle(self, message):
        if message.get("method") == "textDocument/publishDiagnostics":
            self.told[message["params"]["uri"]] = message["params"]["diagnostics"]
        elif "method" in message and "id" in message:
            settings = {"validate": True, "completion": True, "hover": True, "schemaStore": {"enable": False}}
            is_settings = message["method"] == "workspace/configuration"
            asked = message.get("params", {}).get("items", []) if is_settings else None
            result = [settings if item.get("section") == "yaml" else None for item in asked] if is_settings else None
            self.send({"id": message["id"], "result": result})

    def say(self, method, params):
        self.send({"method": method, "params": params})

    def ask(self, method, params):
        self.number += 1
        self.send({"id": self.number, "method": method, "params": params})
        while True:
            message = self.receive()
            if message.get("id") == self.number and "method" not in message:
                assert "error" not in message, message
                return message["result"]
            self.handle(message)

    def open(self, path):
        self.told.pop(path.as_uri(), None)
        self.say("textDocument/didOpen", {"textDocument": {
            "uri": path.as_uri(), "languageId": "yaml", "version": 1, "text": path.read_text(),
        }})
        while path.as_uri() not in self.told:
            self.handle(self.receive())
        return self.told[path.as_uri()]

    def at(self, method, path, needle, after=0):
        before, _, _ = path.read_text().partition(needle)
        line = before.count("\n")
        column = len(before) - before.rfind("\n") - 1 + after
        where = {"textDocument": {"uri": path.as_uri()}, "position": {"line": line, "character": column}}
        return self.ask(f"textDocument/{method}", where)

    def labels(self, path, needle, after):
        found = self.at("completion", path, needle, after)
        return [item["label"] for item in (found["items"] if isinstance(found, dict) else found)]

    def hover(self, path, needle):
        found = self.at("hover", path, needle, 1)
        return found["contents"]["value"] if found else ""


def written(folder, name, kind, text):
    path = folder / f"{name}.yaml"
    path.write_text(f"# yaml-language-server: $schema=schemas/{kind}.json\n{text}")
    return path


def check_sound(server, folder):
    count = 0
    for kind, places in {
        "pan": ["fixtures/pans", "fixtures/documents/valid/pan"],
        "vehicle": ["fixtures/vehicles", "fixtures/documents/valid/vehicle"],
        "oil": ["fixtures/oils", "fixtures/documents/valid/oil"],
        "duty": ["fixtures/duties", "fixtures/documents/valid/duty"],
        "rulebook": ["rules", "fixtures/documents/valid/rulebook"],
    }.items():
        for place in places:
            for file in sorted((ROOT / place).glob("*.yaml")):
                told = server.open(written(folder, f"{kind}-{file.stem}-{count}", kind, file.read_text()))
                assert not told, (file.name, [d["message"] for d in told])
                count += 1
    return count


def check_broken(server, folder):
    cases = [
        ("key", "wall: { flor: 5 mm }", 2, "flor"),
        ("unit", "wall: { floor: 5 deg }", 2, "a length was expected"),
        ("no-unit", "wall: { floor: 5 }", 2, "a length was expected"),
        ("symbol", "pickup: { filter: { at_flow: 12 L/mn } }", 2, "number and its unit"),
        ("word", "pickup: { fixed_to: bell }", 2, "case"),
        ("sign", "mass: -3 kg", 2, "more than 0"),
        ("assumed", "drains: { plug: { engaged: 18 mm assumed } }", 2, "cannot be assumed"),
        ("list", "interior: { rail: { rectangle: [412 mm] } }", 2, ""),
    ]
    for name, line, at, words in cases:
        told = server.open(written(folder, f"broken-{name}", "pan", f"pan: 1\n{line}\n"))
        assert told, f"nothing is said of {line}"
        assert all(d["range"]["start"]["line"] == at for d in told), told
        assert any(words in d["message"] for d in told), (words, [d["message"] for d in told])
    return len(cases)


def check_help(server, folder):
    text = "pan: 1\nwall:\n  floor: 5 mm\n  \nmaterial:\n  process: \n  yield: 165 MPa assumed\npic\n"
    path = written(folder, "help", "pan", text)
    server.open(path)
    keys = server.labels(path, "  \nmaterial", 2)
    assert "sides" in keys and "floor" not in keys, keys
    words = server.labels(path, "process: ", 9)
    assert {"sand casting", "stamping"} <= set(words), words
    top = server.labels(path, "pic\n", 3)
    assert {"pickup", "interior", "drains"} <= set(top), top
    hover = server.hover(path, "yield: 165")
    assert "supplier's certificate" in hover and "100 MPa to 260 MPa" in hover, hover
    hover = server.hover(path, "floor: 5 mm")
    assert "Callipers through the drain hole" in hover, hover
    return 5


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name).resolve()
        subprocess.run([TOOL, "schema", "--folder", folder / "schemas"], check=True)
        server = Server(folder)
        try:
            sound, broken, helped = check_sound(server, folder), check_broken(server, folder), check_help(server, folder)
        finally:
            server.process.kill()
    print(f"editor: {sound} sound documents without a complaint, {broken} faults told at their line, "
          f"{helped} answers of completion and hover")


main()
