"""How long things take, each beside a peer in the same run: `python -m tests.bench [--sizes 1000,10000] [--only PART]`.

What is told are ratios, as other work on the machine slows both sides down. Peers that are not installed are left out with a line
that says so.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys

from tests.bench import asking, batches, building, keys, reading, starting

PARTS = ("starting", "building", "reading", "asking", "keys", "batch")
SIZES = "1000,10000,100000"


def main() -> int:
    """Print one part after the other."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--sizes", default=SIZES, help=f"plants of the bases that are asked, {SIZES} unless said")
    parser.add_argument("--only", choices=PARTS, help="one part alone")
    given = parser.parse_args()
    print(f"{platform.platform()}, Python {platform.python_version()}, {os.cpu_count()} processors")
    sizes = [int(size) for size in given.sizes.split(",")]
    parts = {
        "starting": starting.lines,
        "building": building.lines,
        "reading": reading.lines,
        "asking": lambda: asking.lines(sizes),
        "keys": lambda: keys.lines(sizes),
        "batch": batches.lines,
    }
    for name, lines in parts.items():
        if given.only in (None, name):
            for line in lines():
                print(line, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
