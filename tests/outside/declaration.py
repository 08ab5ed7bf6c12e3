"""Declares the demo pan, signs it with another program, and judges it again: the statement, its digests, the bytes to
sign and the envelope are made once more with other libraries.

usage: declaration.py SUMPWRIGHT
"""

import base64
import hashlib
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile

from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

DECLARATION = "fixtures/declarations/stock-stamped.yaml"
TYPE = "application/vnd.in-toto+json"


def main(program: str) -> None:
    with tempfile.TemporaryDirectory() as scratch:
        scratch = pathlib.Path(scratch)
        folder = scratch / "declared"
        run(0, program, "declare", DECLARATION, "--into", str(folder))
        statement = (folder / "declaration.json").read_bytes()
        checked_statement(folder, json.loads(statement))

        # The bytes to sign, from the protocol's own words: DSSEv1, type and body, each with its length before it.
        body = b"DSSEv1 %d %s %d %s" % (len(TYPE), TYPE.encode(), len(statement), statement)
        assert (folder / "declaration.to-sign").read_bytes() == body

        key = Ed25519PrivateKey.generate()
        public = scratch / "issuer.pem"
        public.write_bytes(pem(key))
        signature = scratch / "signature.bin"
        signature.write_bytes(key.sign(body))
        run(0, program, "declare", str(folder), "--signature", str(signature))
        checked_envelope(folder, statement, key)

        before = tree(folder)
        told = run(0, program, "confirm", str(folder), "--key", str(public))
        assert "Signed by the key given" in told, told
        assert tree(folder) == before, "confirming changed a file"

        other = scratch / "other.pem"
        other.write_bytes(pem(Ed25519PrivateKey.generate()))
        run(1, program, "confirm", str(folder), "--key", str(other))
        run(1, program, "confirm", str(folder), "--edition", "0" * 64)
        run(2, program, "confirm", str(scratch / "absent"))
        run(2, program, "declare", DECLARATION, "--into", str(folder))
        assert tree(folder) == before, "a folder that was there was written over"

        tampered = 0
        for path in sorted(folder.rglob("*")):
            if not path.is_file() or path.name == "declaration.dsse.json":
                continue
            copy = scratch / "copy"
            shutil.copytree(folder, copy)
            target = copy / path.relative_to(folder)
            target.write_bytes(target.read_bytes()[:-1])
            told = subprocess.run([program, "confirm", str(copy), "--key", str(public)], capture_output=True, text=True)
            assert told.returncode in (1, 2), (path, told.returncode, told.stdout, told.stderr)
            tampered += 1
            shutil.rmtree(copy)
        print(f"declared, signed and confirmed; {tampered} files cut short by a byte, each noticed")


def checked_statement(folder: pathlib.Path, statement: dict) -> None:
    """Every digest by another library; every file listed once, and none that is not."""
    listed = {}
    for file in statement["predicate"]["files"]:
        assert file["name"] not in listed, file
        listed[file["name"]] = file["sha256"]
        assert hashlib.sha256((folder / file["name"]).read_bytes()).hexdigest() == file["sha256"], file
    there = {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}
    assert there - set(listed) == {"declaration.json", "declaration.to-sign"}, there - set(listed)
    for subject in statement["subject"]:
        assert listed[subject["name"]] == subject["digest"]["sha256"], subject
    verdicts = {result["verdict"] for result in statement["predicate"]["results"]}
    assert "does not conform" not in verdicts, verdicts
    review = json.loads((folder / "review.json").read_text())
    counted = sum(review["counts"].values())
    assert counted == len(statement["predicate"]["results"]), counted


def checked_envelope(folder: pathlib.Path, statement: bytes, key: Ed25519PrivateKey) -> None:
    envelope = json.loads((folder / "declaration.dsse.json").read_text())
    assert envelope["payloadType"] == TYPE
    payload = base64.standard_b64decode(envelope["payload"])
    assert payload == statement
    body = b"DSSEv1 %d %s %d %s" % (len(TYPE), TYPE.encode(), len(payload), payload)
    (signature,) = envelope["signatures"]
    key.public_key().verify(base64.standard_b64decode(signature["sig"]), body)


def pem(key: Ed25519PrivateKey) -> bytes:
    form = serialization.PublicFormat.SubjectPublicKeyInfo
    return key.public_key().public_bytes(serialization.Encoding.PEM, form)


def tree(folder: pathlib.Path) -> dict:
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def run(wanted: int, *command: str) -> str:
    told = subprocess.run(command, capture_output=True, text=True)
    assert told.returncode == wanted, (command, told.returncode, told.stdout, told.stderr)
    return told.stdout


if __name__ == "__main__":
    main(sys.argv[1])
