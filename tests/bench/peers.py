"""The same questions put by hand to other tools: SQLite, DuckDB and pandas, over one flat table of the same base.

What they are asked is what can be said in one comparison a condition, and they give back the names of the plants that meet
it all, or are not known to miss it: no reasons, no counts, no near misses, no plants that would do with care, no order of merit.
"""

from __future__ import annotations

import importlib
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

from askplant.quantities import zones
from askplant.verdicts.columns import columns_of
from tests.bench.many import Many

FOOT = 0.3048
LIGHT = ("full sun", "part sun", "part shade", "full shade")
DEER = ("frequently severely damaged", "occasionally severely damaged", "seldom severely damaged", "rarely damaged")
FORMS = ("narrow", "columnar", "upright", "pyramidal")
COLUMNS = ("name", "tree", "shrub", "evergreen", "low", "high", "wide", "narrow", "cold", "warm", "deer", "light", "red",
           "drought", "dogs")  # fmt: skip


class Question(NamedTuple):
    """A request, the same by hand in SQL, and in pandas over the table `t`."""

    request: str
    sql: str
    pandas: Callable[[Any], Any]


ZONE_7, ZONE_6B, ZONE_5 = zones.index("7a"), zones.index("6b"), zones.index("5a")
QUESTIONS = (
    Question(
        "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade",
        "(evergreen = 1 OR evergreen IS NULL)"
        f" AND (low IS NULL OR min(high, {15 * FOOT}) - max(low, {10 * FOOT}) >= (high - low) / 2)"
        f" AND (narrow = 1 OR narrow IS NULL) AND (cold IS NULL OR cold <= {ZONE_7})"
        f" AND (warm IS NULL OR warm >= {ZONE_7}) AND (deer = 3 OR deer IS NULL) AND (light & 4 OR light IS NULL)",
        lambda t: t[
            (t.evergreen.isna() | (t.evergreen == 1))
            & (t.low.isna() | (t.high.clip(upper=15 * FOOT) - t.low.clip(lower=10 * FOOT) >= (t.high - t.low) / 2))
            & (t.narrow.isna() | (t.narrow == 1))
            & (t.cold.isna() | (t.cold <= ZONE_7))
            & (t.warm.isna() | (t.warm >= ZONE_7))
            & (t.deer.isna() | (t.deer == 3))
            & (t.light.isna() | t.light.isin((4, 5, 6, 7, 12, 13, 14, 15)))
        ],
    ),
    Question(
        "tree at most 30 ft, red fall color, zone 5",
        f"(tree = 1 OR tree IS NULL) AND (high <= {30 * FOOT} OR high IS NULL) AND (red = 1 OR red IS NULL)"
        f" AND (cold <= {ZONE_5} OR cold IS NULL) AND (warm >= {ZONE_5} OR warm IS NULL)",
        lambda t: t[
            (t.tree.isna() | (t.tree == 1))
            & (t.high.isna() | (t.high <= 30 * FOOT))
            & (t.red.isna() | (t.red == 1))
            & (t.cold.isna() | (t.cold <= ZONE_5))
            & (t.warm.isna() | (t.warm >= ZONE_5))
        ],
    ),
    Question(
        "evergreen shrub, 3-6 ft tall, at most 4 ft wide, zone 6b, full sun, drought tolerant, safe for dogs",
        "(evergreen = 1 OR evergreen IS NULL) AND (shrub = 1 OR shrub IS NULL)"
        f" AND (low IS NULL OR min(high, {6 * FOOT}) - max(low, {3 * FOOT}) >= (high - low) / 2)"
        f" AND (wide <= {4 * FOOT} OR wide IS NULL) AND (cold <= {ZONE_6B} OR cold IS NULL)"
        f" AND (warm >= {ZONE_6B} OR warm IS NULL) AND (light & 1 OR light IS NULL) AND (drought = 2 OR drought IS NULL)"
        " AND (dogs = 1 OR dogs IS NULL)",
        lambda t: t[
            (t.evergreen.isna() | (t.evergreen == 1))
            & (t.shrub.isna() | (t.shrub == 1))
            & (t.low.isna() | (t.high.clip(upper=6 * FOOT) - t.low.clip(lower=3 * FOOT) >= (t.high - t.low) / 2))
            & (t.wide.isna() | (t.wide <= 4 * FOOT))
            & (t.cold.isna() | (t.cold <= ZONE_6B))
            & (t.warm.isna() | (t.warm >= ZONE_6B))
            & (t.light.isna() | (t.light % 2 == 1))
            & (t.drought.isna() | (t.drought == 2))
            & (t.dogs.isna() | (t.dogs == 1))
        ],
    ),
)


def rows(base: Many) -> Iterator[tuple[Any, ...]]:
    """The flat table, in the order of COLUMNS; nothing where nothing is known."""
    columns = columns_of(base)
    columns.want(base.everyone)
    for n in range(base.count):
        kinds = columns.value("kind", n)[0]
        leaf, height = columns.value("persistence", n)[0], columns.value("height", n)[0]
        width, form = columns.value("width", n)[0], columns.value("form", n)[0]
        cold, _, warm = columns.value("zone", n)
        deer, light = columns.value("deer", n)[0], columns.value("light", n)[0]
        fall, drought = columns.value("fall_colour", n)[0], columns.value("drought", n)[0]
        poison = columns.value("safe_for", n)[0]
        yield (
            base.plant(n).botanical,
            None if kinds is None else int("tree" in kinds),
            None if kinds is None else int("shrub" in kinds),
            None if leaf is None else int("evergreen" in leaf),
            height[0] if height else None,
            height[1] if height else None,
            width[1] if width else None,
            None if form is None else int(any(one in FORMS for one in form)),
            cold,
            warm,
            DEER.index(deer) if deer else None,
            sum(1 << LIGHT.index(one) for one in light) if light else None,
            None if fall is None else int("red" in fall),
            ("sensitive", "moderate", "tolerant").index(drought) if drought else None,
            None if poison is None else int(not any(entry[0] in ("dogs", "pets") for entry in poison)),
        )


def table(base: Many, path: Path) -> None:
    """The flat table as a SQLite file."""
    with sqlite3.connect(path) as db:
        db.execute(f"CREATE TABLE t ({', '.join(COLUMNS)})")
        db.executemany(f"INSERT INTO t VALUES ({', '.join('?' * len(COLUMNS))})", rows(base))
    db.close()


Ask = Callable[[Question], list[str]]


def sqlite(path: Path) -> Ask:
    """The names that SQLite gives back."""
    db = sqlite3.connect(path)
    return lambda question: [row[0] for row in db.execute(f"SELECT name FROM t WHERE {question.sql}")]


def duckdb(path: Path) -> Ask:
    """The same of DuckDB, from a table of its own."""
    duck = importlib.import_module("duckdb")
    frame = _frame(path)
    db = duck.connect()
    db.register("frame", frame)
    db.execute("CREATE TABLE t AS SELECT * FROM frame")

    def ask(question: Question) -> list[str]:
        sql = question.sql.replace("min(", "least(").replace("max(", "greatest(")
        for bit in (4, 1):  # what SQLite takes for true is a number here, and all numbers came as fractions
            sql = sql.replace(f"light & {bit} OR", f"light::INT & {bit} <> 0 OR")
        return [row[0] for row in db.execute(f"SELECT name FROM t WHERE {sql}").fetchall()]

    return ask


def pandas(path: Path) -> Ask:
    """The same of a pandas filter."""
    frame = _frame(path)
    return lambda question: list(question.pandas(frame)["name"])


def _frame(path: Path) -> Any:
    library = importlib.import_module("pandas")
    db = sqlite3.connect(path)
    try:
        frame = library.read_sql_query("SELECT * FROM t", db)
    finally:
        db.close()
    numbers = [column for column in COLUMNS if column != "name"]
    frame[numbers] = frame[numbers].astype(float)
    return frame


PEERS: dict[str, Callable[[Path], Ask]] = {"SQLite": sqlite, "DuckDB": duckdb, "pandas": pandas}
