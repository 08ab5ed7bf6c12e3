"""Kills the program at random moments: what it writes is the old file, the new one or none, never a part; what it remembers
of earlier runs changes no result; a folder that is declared is whole or not there.

usage: killed.py SUMPWRIGHT [TIMES]
"""

import pathlib
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
PAN = "fixtures/pans/stock-stamped.yaml"


def main(program: str, times: int) -> None:
    chance = random.Random(7)
    with tempfile.TemporaryDirectory() as scratch:
        scratch = pathlib.Path(scratch)
        shutil.copytree(ROOT / "fixtures", scratch / "fixtures")
        (scratch / "sumpwright.yaml").write_text("project: 1\npans: fixtures/pans/*.yaml\n")
        print("output:", output(program, scratch, times, chance))
        print("memory:", memory(program, scratch, times, chance))
        print("declared:", declared(program, scratch, times, chance))


def killed(command: list[str], folder: pathlib.Path, longest: float, chance: random.Random) -> bool:
    """Whether it was killed before it ended by itself."""
    running = subprocess.Popen(command, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    time.sleep(chance.uniform(0, longest))
    running.send_signal(signal.SIGKILL)
    return running.wait() == -signal.SIGKILL


def takes(command: list[str], folder: pathlib.Path) -> float:
    begun = time.monotonic()
    subprocess.run(command, cwd=folder, capture_output=True, check=False)
    return 1.1 * (time.monotonic() - begun)


def output(program: str, folder: pathlib.Path, times: int, chance: random.Random) -> str:
    command = [program, "review", PAN, "--format", "html", "--output", "page.html"]
    page = folder / "page.html"
    longest = takes(command, folder)
    new = page.read_bytes()
    count = 0
    for _ in range(times):
        page.write_bytes(b"old")
        count += killed(command, folder, longest, chance)
        assert page.read_bytes() in (b"old", new), "a part of a page"
    assert count, "nothing was killed"
    return f"killed {count} of {times} times"


def memory(program: str, folder: pathlib.Path, times: int, chance: random.Random) -> str:
    screen = [program, "screen", "--format", "json"]
    told = lambda *more: subprocess.run([*screen, *more], cwd=folder, capture_output=True, check=False)
    right = told("--no-cache")
    longest = takes(screen, folder)
    count = 0
    for turn in range(times):
        if turn % 10 == 0:
            shutil.rmtree(folder / ".sumpwright", ignore_errors=True)
        # Two at once, one of which goes on.
        other = subprocess.Popen(screen, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        count += killed(screen, folder, longest, chance)
        assert other.communicate()[0] == right.stdout, "another killed run changed what is told"
        found = told()
        assert (found.returncode, found.stdout) == (right.returncode, right.stdout), found.stderr
    assert count, "nothing was killed"
    return f"killed {count} of {times} times"


def declared(program: str, folder: pathlib.Path, times: int, chance: random.Random) -> str:
    into = folder / "declared"
    command = [program, "declare", "fixtures/declarations/stock-stamped.yaml", "--into", "declared"]
    longest = takes(command, folder)
    shutil.rmtree(into)
    count = whole = 0
    for _ in range(times):
        count += killed(command, folder, longest, chance)
        if into.exists():
            confirmed = subprocess.run([program, "confirm", "declared"], cwd=folder, capture_output=True, check=False)
            assert confirmed.returncode == 0, confirmed.stdout
            shutil.rmtree(into)
            whole += 1
    assert count, "nothing was killed"
    return f"killed {count} of {times} times, {whole} folders whole"


if __name__ == "__main__":
    main(str(pathlib.Path(sys.argv[1]).resolve()), int(sys.argv[2]) if len(sys.argv) > 2 else 60)
