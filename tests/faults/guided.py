"""Fuzzing that follows what of the program an input reaches: python -m tests.faults.guided --minutes 5 requests

Targets: requests, cards, tables, workbooks. Needs atheris (pip install atheris), which the tests themselves do not. What makes
a target let out an exception, or takes longer than ten seconds, is kept in --found, and told at the end. An input of `workbooks`
that ends the process itself is tried as the command reads it, in a process apart: only what gets through that is a finding.
"""

from __future__ import annotations

import argparse
import contextlib
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

LONGEST = {"requests": 600, "cards": 4000, "tables": 1500, "workbooks": 12_000}  # bytes of an input
SECONDS = 10  # that one input may take
CHILD = "--child"


def main() -> int:
    """Run a target for so many minutes, a process after the other; 1 where something was found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("target", choices=sorted(LONGEST))
    parser.add_argument("--minutes", type=float, default=5.0)
    parser.add_argument("--found", type=Path, default=Path(tempfile.gettempdir()) / "askplant-found")
    given = parser.parse_args()
    try:
        import atheris  # noqa: F401
    except ImportError:
        print("atheris is missing: pip install atheris", file=sys.stderr)
        return 2
    given.found.mkdir(parents=True, exist_ok=True)
    tried, found, reached = fuzz(given.target, given.minutes * 60, given.found)
    print(f"{given.target}: {tried} inputs, {reached} edges reached, {len(found)} findings")
    for path, said in found.items():
        print(f"  {path}: {said}")
    return 1 if found else 0


def fuzz(target: str, seconds: float, folder: Path) -> tuple[int, dict[Path, str], int]:
    """How many inputs were tried, what was found, and how many edges of the program were reached."""
    tried = reached = 0
    found: dict[Path, str] = {}
    until = time.monotonic() + seconds
    with tempfile.TemporaryDirectory() as place:
        corpus = Path(place)
        _sow(target, corpus)
        while (left := until - time.monotonic()) > 1:
            command = [sys.executable, "-m", __spec__.name, CHILD, target, place, f"-max_total_time={int(left)}"]
            bounds = [f"-max_len={LONGEST[target]}", f"-timeout={SECONDS}", "-rss_limit_mb=4096"]
            kept = f"-artifact_prefix={folder}/{target}-"
            before = set(folder.glob(f"{target}-*"))
            done = subprocess.run(
                [*command, *bounds, kept], stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, check=False
            )
            said = done.stderr.decode(errors="replace")
            tried += max(map(int, re.findall(r"^#(\d+)", said, re.M)), default=0)
            reached = max([reached, *map(int, re.findall(r"cov: (\d+)", said))])
            if done.returncode == 0:
                break
            # What is told of it may have gone nowhere with what the reader of workbooks prints.
            kept_as = sorted(set(folder.glob(f"{target}-*")) - before)
            if not kept_as:
                found[folder] = said[-300:]
                break
            for path in kept_as:
                if trouble := _judged(target, path, said):
                    found[path] = trouble
    return tried, found, reached


def _sow(target: str, corpus: Path) -> None:
    from tests.faults.targets import seeds

    for number, seed in enumerate(seeds(target)):
        (corpus / f"seed{number}").write_bytes(seed)


def _judged(target: str, path: Path, said: str) -> str:
    """What is wrong with an input that ended a process; nothing where the command itself says one line of it."""
    lines = [line for line in said.splitlines() if re.match(r"\w*(Error|Exception|ERROR)", line.strip())]
    if target == "workbooks":
        from askplant.errors import UserError
        from askplant.sheets.read import read
        from tests.faults.targets import packed

        data = path.read_bytes()
        book = path.with_name(f"tried-{path.name}.xlsx")
        book.write_bytes(data if data.startswith(b"PK\x03\x04") else packed(data))
        try:
            read(str(book), lambda _: False)
        except UserError:
            return ""
        except Exception as problem:
            return repr(problem)
        return "" if not lines else lines[-1]
    return lines[-1] if lines else said[-300:]


def _child() -> None:
    import atheris

    target = sys.argv[2]
    with atheris.instrument_imports(include=["askplant", "csv", "zipfile", "xml.etree"]):
        from tests.faults.targets import EXPECTED, TARGETS
    put_through, expected = TARGETS[target], EXPECTED[target]

    def one(data: bytes) -> None:
        with contextlib.suppress(*expected):
            put_through(data)

    atheris.Setup([sys.argv[0], *sys.argv[3:]], one)
    atheris.Fuzz()


if __name__ == "__main__":
    if sys.argv[1:2] == [CHILD]:
        _child()
    else:
        sys.exit(main())
