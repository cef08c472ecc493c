"""Any input at all: the project's own errors or a result, nothing dropped in silence. `guided.py` goes on where this ends."""

from __future__ import annotations

import tempfile
import time
from contextlib import suppress
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from askplant.base import postcodes, tables
from askplant.base.cards import CardError
from askplant.errors import AskplantError, UserError
from askplant.reading.read import MOST_CHARACTERS, read
from askplant.sheets.read import read as read_sheet
from askplant.sitting import calls
from askplant.sitting.journal import opened
from askplant.stock import load
from askplant.stock.loading import settled_names
from tests.faults import targets

FEW = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
UNITS = ("ft", "'", '"', "m", "cm", "inches", "gallon", "zone", "F", "years", "$", "%", "hours", "pH", "")
JUNK = st.text(st.characters(codec="utf-8"), max_size=12)
NUMBERS = st.one_of(
    st.integers(-5, 10**9).map(str), st.floats(0, 99).map(str), st.sampled_from(["½", "5½", "1/2", "٣", "²"])
)


@cache
def words() -> list[str]:
    """Every word that vocabulary and names know."""
    return sorted(targets.base().known_words())


REQUESTS = st.lists(
    st.one_of(
        st.deferred(lambda: st.sampled_from(words())),
        st.deferred(lambda: st.sampled_from(words())),
        st.tuples(NUMBERS, st.sampled_from(["", " ", "-", "–", " to "]), NUMBERS, st.sampled_from(UNITS)).map("".join),
        st.sampled_from(["not", "no", "or", "but", ",", ";", "(", ")", "instead of", "and for the back,", "under", "at least"]),
        JUNK,
    ),
    max_size=25,
).map(" ".join)  # fmt: skip


def mutated(seeds: list[bytes]) -> st.SearchStrategy[bytes]:
    """Real inputs with stretches cut out, doubled, or overwritten."""
    edit = st.tuples(st.floats(0, 1), st.integers(0, 40), st.one_of(st.binary(max_size=8), JUNK.map(str.encode)))

    def edited(seed: bytes, edits: list[tuple[float, int, bytes]]) -> bytes:
        for where, cut, put in edits:
            at = int(where * len(seed))
            seed = seed[:at] + put + seed[at + cut :]
        return seed

    return st.builds(edited, st.sampled_from(seeds), st.lists(edit, max_size=6))


@FEW
@given(REQUESTS)
def test_requests(text: str) -> None:
    """Each word is accounted for."""
    targets.request(text.encode("utf-8", "surrogatepass"))


@settings(FEW, max_examples=6)
@given(REQUESTS.filter(lambda text: len(text) > 5))
def test_long_requests_take_time_by_their_length(text: str) -> None:
    """Four times as long takes nowhere near sixteen times as long."""
    base = targets.base()

    def seconds(length: int) -> float:
        whole = (f"{text}, " * length)[:length]
        begun = time.process_time()
        with suppress(UserError):
            read(whole, base)
        return time.process_time() - begun

    seconds(600)
    assert seconds(2400) < 10 * min(seconds(600), seconds(600)) + 0.2


def test_one_too_long_is_refused() -> None:
    """In one line."""
    with pytest.raises(UserError, match=str(MOST_CHARACTERS)):
        read("x " * MOST_CHARACTERS, targets.base())


@FEW
@given(mutated(targets.seeds("cards")))
def test_cards(data: bytes) -> None:
    """Each line is a value, a remark, or a fault."""
    targets.card(data)


@FEW
@given(mutated(targets.seeds("tables")))
def test_tables(data: bytes) -> None:
    """Read or refused; what a request cell holds is in the request of its row."""
    targets.table(data)


@settings(FEW, max_examples=40)
@given(mutated(targets.seeds("workbooks")))
def test_workbooks(data: bytes) -> None:
    """As the process apart reads them: rows, or one word of trouble."""
    with suppress(AskplantError):
        targets.workbook(data)


STOCK = [b"Botanical name,Size,Price,Qty\nIlex glabra,5 gal,$40,12\nThuja 'Green Giant',#3,29.99,4+\n"]


@settings(FEW, max_examples=40)
@given(mutated(STOCK))
def test_stock_lists(data: bytes) -> None:
    """Each row with a name is a line of the list."""
    with tempfile.TemporaryDirectory() as folder, suppress(UserError):
        path = Path(folder) / "list.csv"
        path.write_bytes(data)
        load(path, targets.base())
        assert read_sheet(str(path), lambda _: False).rows is not None


@FEW
@given(mutated([b"code,zone\n21201,7b\nM5V,6b\n", b'"code","zone"\r\n"00501",7\r\n']))
def test_postal_codes(data: bytes) -> None:
    """Every row is in the table or named."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / postcodes.NAME).write_bytes(data)
        table, faults = postcodes.read(Path(folder), "own")
    assert (
        table or faults or data.removeprefix(b"\xef\xbb\xbf").count(b"\n") <= 1 or not data.partition(b"\n")[2].strip()
    )


SITTING = [
    b'{"at":"2026-05-31T10:00:00","happened":"state","line":"fern","reading":{"request":"fern","conditions":[{"trait":"kind",'
    b'"test":"any_of","values":["fern"],"text":"fern","at":[0,4]}],"task":{}},"off":[0]}\n{"happened":"undo"}\n'
    b'{"happened":"shortlist","plants":[["ilex-glabra","by the gate"]]}\n'
]
CALL = [
    b'{"at":"2026-05-31T10:00:00","request":"fern","asked":["fern"],"fit":3,"plants":["x"],"unread":["y"],"dearest":null}\n'
]


@settings(FEW, max_examples=200)
@given(mutated(SITTING), mutated(CALL))
def test_what_the_desk_keeps(sitting: bytes, log: bytes) -> None:
    """A line that is spoilt costs itself alone, and whatever is opened can be summed up."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.jsonl"
        path.write_bytes(sitting + SITTING[0])
        found = opened(path)
        assert found.shortlist.plants[-1].plant == "ilex-glabra"
        path.write_bytes(log + b"\n" + CALL[0])
        told = calls.calls(path)
    assert told[-1].request == "fern"
    calls.summary(told)


@FEW
@given(mutated([b'[names]\n"a" = "b"\n', b'[one]\ntitle = "x"\nbasis = "opened"\n', b"a = [[[[1]]]]\n"]))
def test_toml(data: bytes) -> None:
    """Read, or refused by the project's own errors."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.toml"
        path.write_bytes(data)
        with suppress(UserError):
            settled_names(path, must=True)
        with suppress(CardError):
            tables.read(path, "x.toml")
