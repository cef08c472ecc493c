"""How long things take, each beside a peer in the same run: `python -m tests.bench [--sizes 1000,10000] [--only PART]`.

What is told are ratios, as other work on the machine slows both sides down. Peers that are not installed are left out with a line
that says so.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys

from tests.bench import asking, batches, reading, starting

PARTS = ("starting", "reading", "asking", "batch")
SIZES = "1000,10000,100000"


def main() -> int:
    """Print one part after the other."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--sizes", default=SIZES, help=f"plants of the invented bases, {SIZES} unless said")
    parser.add_argument("--only", choices=PARTS, help="one part alone")
    parser.add_argument("--base", help="an invented base that stands already, instead of --sizes")
    given = parser.parse_args()
    print(f"{platform.platform()}, Python {platform.python_version()}, {os.cpu_count()} processors")
    sizes = [int(size) for size in given.sizes.split(",")]
    parts = {
        "starting": starting.lines,
        "reading": reading.lines,
        "batch": batches.lines,
        "asking": lambda: asking.of_file(given.base) if given.base else asking.lines(sizes),
    }
    for name, lines in parts.items():
        if given.only in (None, name):
            for line in lines():
                print(line, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
