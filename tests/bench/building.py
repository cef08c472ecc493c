"""Building the base against putting the same rows into SQLite by hand: same tables, same indexes, one statement a table.

The peer reads no card, checks nothing and resolves nothing: what is above it is the price of that.
"""

from __future__ import annotations

import sqlite3
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from askplant import where
from askplant.base.build import build

Table = tuple[str, list[tuple[object, ...]]]


def lines() -> Iterator[str]:
    """What to print."""
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "base.sqlite"
        start = time.process_time()
        build(path, where.folder("traits"), "bench")
        own = time.process_time() - start
        tables, indexes = content(path)
        peer = min(_by_hand(Path(place) / f"{turn}.sqlite", tables, indexes) for turn in range(3))
    rows = sum(len(rows) for _, rows in tables)
    yield "\nBuilding the base of the cards that ship with the program, once after each change of them"
    yield f"  askplant: {own:.1f} s of processor time for {rows} rows, cards read, checked and resolved"
    yield f"  sqlite3 with the rows at hand: {peer:.1f} s; building takes {own / peer:.1f} times that"


def content(path: Path) -> tuple[list[Table], list[str]]:
    """The tables of a base, each as its definition with its rows, and its indexes."""
    db = sqlite3.connect(path)
    made = db.execute("SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL").fetchall()
    tables = [(sql, db.execute(f"SELECT * FROM [{name}]").fetchall()) for kind, name, sql in made if kind == "table"]
    db.close()
    return tables, [sql for kind, _, sql in made if kind == "index"]


def _by_hand(path: Path, tables: list[Table], indexes: list[str]) -> float:
    start = time.process_time()
    db = sqlite3.connect(path)
    db.execute("PRAGMA journal_mode = OFF")
    db.execute("PRAGMA synchronous = OFF")
    with db:
        for sql, rows in tables:
            db.execute(sql)
            if rows:
                name = sql.split("(")[0].split()[-1]
                db.executemany(f"INSERT INTO {name} VALUES ({', '.join('?' * len(rows[0]))})", rows)
        for sql in indexes:
            db.execute(sql)
    db.execute("VACUUM")
    db.close()
    return time.process_time() - start
