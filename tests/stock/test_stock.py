"""A stock list in answers: what is in stock, in which container, for how much; what stands in for what is not; and its tags."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from askplant import cli, statuses, where
from askplant.answer import compose
from askplant.answer.substitute import substitute
from askplant.base.opened import Base
from askplant.desk import Desk
from askplant.errors import FileError
from askplant.reading.reading import Condition, Purchase, Reading, Task
from askplant.stock import Line, Offer, Stock, kept, load
from askplant.stock.tags import checked
from askplant.verdicts.availability import keeping
from tests.answer.small_bases import bases, readings
from tests.sheets import files
from tests.test_schema import faults

LIST = """\
Spring availability,,,,,
Botanical Name,Common Name,Size,Price,Qty Avail,Mature Ht
Ilex glabra 'Shamrock',inkberry,#3,$24.50,12,4-5 ft
ILEX GLABRA SHAMROCK,,#5,38.00,5,
Thuja occ. nonesuch Smaragd,,7 gal,49,100+,10-15'
Hydrangea panniculata 'Limelight',,#3,32,sold out,6-8 ft
holly,,#3,20,5,
zzqxw frobnicata,,#1,9,9-May,
Ilex opaca,,#15,150,call,15 ft
"""


@pytest.fixture
def listed(tmp_path: Path) -> Path:
    """The list as a file."""
    path = tmp_path / "list.csv"
    path.write_text(LIST)
    return path


@pytest.fixture
def stocked(listed: Path, real_base: Base) -> Desk:
    """A desk with the list."""
    return Desk(real_base.path, stock=listed)


@pytest.fixture(autouse=True)
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Each test has a folder of its own for what it sets."""
    monkeypatch.setenv(where.OWN_VARIABLE, str(tmp_path / "own"))
    return tmp_path / "own"


def test_a_list_is_read(listed: Path, real_base: Base) -> None:
    """Offers are sure lines with any left; the others are kept aside, and cells that are not read are named."""
    stock = load(listed, real_base)
    named = [(real_base.plant(one.plant).botanical, one.container, one.price, one.quantity) for one in stock.offers]
    assert named == [
        ("Ilex glabra 'Shamrock'", "#3", 24.5, 12),
        ("Ilex glabra 'Shamrock'", "#5", 38.0, 5),
        ("Ilex opaca", "#15", 150.0, None),
    ]
    assert [(one.row, one.name) for one in stock.unmatched] == [
        (5, "Thuja occ. nonesuch Smaragd"),
        (7, "holly"),
        (8, "zzqxw frobnicata"),
    ]
    assert [(line.row, line.wrong) for line in stock.lines if line.wrong] == [
        (8, (("Qty Avail", "9-May"),)),
        (9, (("Qty Avail", "call"),)),
    ]
    assert stock.columns[0] == ("Botanical Name", "botanical")


def test_every_kind_of_file(tmp_path: Path, real_base: Base) -> None:
    """Workbooks too, with the column of names told by what it holds where no heading tells."""
    rows = [["Artikel", "x", "Preis"], ["Ilex glabra", "#3", 12.5], ["Ilex opaca", "#5", 30]]
    for stock in (
        load(files.xlsx(tmp_path / "a.xlsx", {"s": rows}), real_base),
        load(files.ods(tmp_path / "a.ods", "s", rows), real_base),
        load(files.xls(tmp_path / "a.xls", "s", rows), real_base),
    ):
        assert [real_base.plant(offer.plant).botanical for offer in stock.offers] == ["Ilex glabra", "Ilex opaca"]
    with pytest.raises(FileError, match="expected a column of plant names"):
        load(files.xlsx(tmp_path / "b.xlsx", {"s": [["x", "y"], [1, 2]]}), real_base)


def test_files_beside_the_list(listed: Path, real_base: Base) -> None:
    """Settled names and named columns are found there."""
    Path(f"{listed}.names.toml").write_text(
        '[names]\n"Thuja occ. nonesuch Smaragd" = "Thuja occidentalis \'Smaragd\'"\n"holly" = ""\n'
    )
    stock = load(listed, real_base)
    assert [line.name for line in stock.lines if line.sureness != "sure"] == ["holly", "zzqxw frobnicata"]
    Path(f"{listed}.columns.toml").write_text('[[column]]\nheading = "Common Name"\nrole = "botanical"\n')
    assert [line.name for line in load(listed, real_base).lines] == ["inkberry"]
    Path(f"{listed}.names.toml").write_text("[names")
    with pytest.raises(FileError, match='expected lines of the form "name in the list"'):
        load(listed, real_base)


def test_in_stock_is_judged(stocked: Desk) -> None:
    """In stock meets, not in stock misses, and without a list nothing is known."""
    answer = stocked.ask("evergreen, in stock, zone 7")
    assert sorted(stocked.plant(match.plant).botanical for match in answer.matches) == [
        "Ilex glabra 'Shamrock'",
        "Ilex opaca",
    ]
    price = next(price for price in answer.prices if price.condition == 1)
    assert price.misses == stocked.base.count - 2
    without = Desk(stocked.base.path).ask("evergreen, in stock, zone 7")
    assert {match.judgements[1].verdict for match in without.matches} == {"unknown"}
    assert stocked.why("inkberry", "in stock").judgements[0].verdict == "misses"
    assert stocked.why("Ilex opaca", "in stock").rank is not None


@pytest.mark.parametrize(
    "text, meet",
    [
        ("in stock, 5 gallon", ["Ilex glabra 'Shamrock'"]),
        ("in stock, #15", ["Ilex opaca"]),
        ("in stock under $30", ["Ilex glabra 'Shamrock'"]),
        ("in stock, 5 gallon under $30", []),
        ("in stock, 12 of them", ["Ilex glabra 'Shamrock'", "Ilex opaca"]),
        ("not in stock, Ilex opaca", []),
    ],
)
def test_container_price_and_quantity_are_asked(stocked: Desk, text: str, meet: list[str]) -> None:
    """Each is held against one offer; a number that the list does not give is not known, and excludes nothing."""
    answer = stocked.ask(text)
    assert sorted(stocked.plant(match.plant).botanical for match in answer.matches) == meet
    assert answer.reading.unread == ()


@pytest.mark.parametrize(
    "text, buy",
    [
        ("evergreen, 5 gallon, under $40", Purchase(("#5",), 40.0, None)),
        ("need 12 of them in #3 at $25 or less", Purchase(("#3",), 25.0, 12)),
        ("in stock, at least 20", Purchase((), None, 20)),
        ("shrub, $30 each", Purchase((), 30.0, None, each=True)),
        ("budget $500 for everything, shrub", Purchase(total=500.0)),
        ("in stock, 10-15 ft tall, evergreen", Purchase()),
        ("b&b trees, 2 in caliper", Purchase(("2 in caliper", "B&B"), None, None)),
    ],
)
def test_what_is_said_of_buying(real_base: Base, text: str, buy: Purchase) -> None:
    """Read beside the conditions; a sum for everything bounds no plant's price."""
    assert Desk(real_base.path).read(text).task.buy == buy


def test_a_list_ranks_its_plants_before_their_like(stocked: Desk) -> None:
    """Being in stock counts where nobody asked for it; without a list it does not."""
    text = "evergreen shrub, zone 7, part shade"
    plant = stocked.one("Ilex glabra 'Shamrock'")
    before = next(match.rank for match in Desk(stocked.base.path).ask(text).matches if match.plant == plant)
    after = next(match.rank for match in stocked.ask(text).matches if match.plant == plant)
    assert after < before


def test_what_stands_in_for_what_is_not_in_stock(stocked: Desk) -> None:
    """The match in stock that is most like it, and how it differs; in words and in the published form."""
    said = stocked.worded(stocked.ask("evergreen shrub, zone 7, inkberry", count=8))
    match = next(match for match in said.json["matches"] if match["botanical"] == "Ilex glabra")
    assert match["stock"]["in"] is False
    assert match["stock"]["offers"] == []
    assert match["stock"]["instead"]["botanical"] == "Ilex glabra 'Shamrock'"
    assert match["stock"]["instead"]["differs"][0] == "3–5 ft tall, not 6–8 ft"
    assert match["stock"]["instead"]["offers"][0] == {"container": "#3", "price": 24.5, "quantity": 12}
    spoken = next(one for one in said.shown if one.botanical == "Ilex glabra")
    assert spoken.stock is not None
    assert spoken.stock.startswith(
        "not in stock; nearest that is: Ilex glabra 'Shamrock' (#3 at 24.50 (12 there); #5 at 38.00 (5 there))"
    )
    assert "Not in stock; nearest that is" in spoken.aloud


def test_nothing_stands_in_where_nothing_fits(stocked: Desk) -> None:
    """And that is said."""
    said = stocked.worded(stocked.ask("fern, zone 5"))
    assert said.shown[0].stock == "not in stock, nor is any plant that fits"


def test_the_published_form(stocked: Desk) -> None:
    """A stock object stands in every match, and only where there is a list."""
    for text in ("evergreen, in stock", "evergreen shrub, zone 7", "not in stock, fern", "fern, in stock, $3 each"):
        told = json.loads(json.dumps(stocked.worded(stocked.ask(text, all=True)).json))
        assert faults("answer", told) == []
        assert all("stock" in match for match in told["matches"])
        assert not any(
            "stock" in match
            for match in Desk(stocked.base.path).worded(stocked.ask(text)._replace(stock=None)).json["matches"]
        )


def test_the_command(listed: Path, capsys: pytest.CaptureFixture[str], own: Path) -> None:
    """A list is named once, or set; one that is set and gone is said, and the answer comes without it."""
    assert cli.main(["ask", "evergreen, zone 7, in stock", "--stock", str(listed)]) == statuses.FITS
    assert "stock    in stock: #3 at 24.50 (12 there)" in capsys.readouterr().out
    assert cli.main(["ask", "evergreen, zone 7, in stock"]) == statuses.FITS
    assert "No stock list is set" in " ".join(capsys.readouterr().out.split())
    assert cli.main(["stock", "use", str(listed)]) == statuses.FITS
    assert "2 plants in stock; 3 lines are doubtful or unmatched" in capsys.readouterr().out
    assert [path.name for path in own.iterdir()] == ["stock.toml"]
    assert cli.main(["ask", "evergreen, zone 7, in stock"]) == statuses.FITS
    assert "in stock: #3 at 24.50" in capsys.readouterr().out
    assert cli.main(["ask", "evergreen, zone 7, in stock", "--stock", "none"]) == statuses.FITS
    assert "in stock: #3" not in capsys.readouterr().out
    listed.unlink()
    assert cli.main(["ask", "evergreen, zone 7"]) == statuses.FITS
    assert (
        "list.csv: found no such file or directory; expected a file that can be read; answered without it"
        in capsys.readouterr().err
    )
    assert cli.main(["stock", "forget"]) == statuses.FITS
    assert cli.main(["stock", "forget"]) == statuses.FITS
    assert capsys.readouterr().out == "no stock list is taken in any more\nno stock list was set\n"
    assert cli.main(["ask", "evergreen", "--stock", str(listed)]) == statuses.WRONG_USE


def test_a_list_that_is_kept_is_the_list(listed: Path, real_base: Base) -> None:
    """What is kept is told alike, and a change of the list or of the settled names is taken in."""
    setting = kept.Setting(str(listed))
    first = kept.ready(setting, real_base)
    again = kept.ready(setting, real_base)
    assert (first.lines, first.columns, first.how, first.notes) == (again.lines, again.columns, again.how, again.notes)
    listed.write_text(LIST + "Ilex glabra,,#1,5,5,\n")
    assert len(kept.ready(setting, real_base).lines) == len(first.lines) + 1
    Path(f"{listed}.names.toml").write_text('[names]\n"Ilex glabra" = ""\n')
    assert kept.ready(setting, real_base).lines[-1].sureness == "left out"


def test_check(listed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Doubtful and unmatched lines are told, and a file is written in which they are settled once."""
    names = tmp_path / "n.toml"
    assert cli.main(["stock", "check", str(listed), "--write-names", str(names), "--width", "200"]) == statuses.FITS
    said = capsys.readouterr().out
    assert "7 lines: 4 sure, 2 doubtful, 1 unmatched" in said
    assert "row 5 Thuja occ. nonesuch Smaragd: some of its words say nothing: Thuja occidentalis 'Smaragd'" in said
    assert "row 6 Hydrangea panniculata 'Limelight' → Hydrangea paniculata 'Limelight'" in said
    assert "row 8 zzqxw frobnicata: Qty Avail `9-May`" in said
    lines = names.read_text().splitlines()
    assert '# "Thuja occ. nonesuch Smaragd" = "Thuja occidentalis \'Smaragd\'"' in lines
    names.write_text("\n".join(line.removeprefix("# ") if "Smaragd" in line else line for line in lines))
    assert cli.main(["stock", "check", str(listed), "--names", str(names), "--json"]) == statuses.FITS
    told = json.loads(capsys.readouterr().out)
    assert (told["sure"], told["doubtful"], told["unmatched"], told["left_out"]) == (5, 1, 1, 0)
    assert told["lines"][2]["plants"] == ["Thuja occidentalis 'Smaragd'"]
    assert cli.main(["stock", "check", str(listed), "--write-names", str(names)]) == statuses.WRONG_USE
    assert "is there already" in capsys.readouterr().err
    mapping = tmp_path / "m.toml"
    assert cli.main(["stock", "check", str(listed), "--write-mapping", str(mapping)]) == statuses.FITS
    assert cli.main(["stock", "check", str(listed), "--mapping", str(mapping)]) == statuses.FITS


def test_tags(listed: Path, real_base: Base, capsys: pytest.CaptureFixture[str]) -> None:
    """A tag that promises another plant than grows is told, with the years it takes to pass it."""
    listed.write_text(
        "plant,mature height (ft),spread\nIlex opaca,6-8,\nIlex glabra,6-8,\nThuja plicata,,\n"
        "Thuja occidentalis 'Smaragd',30,\nIlex glabra,6-8,\n"
    )
    found = checked(load(listed, real_base), real_base)
    assert [
        (tag.line.name, tag.axis, tag.smaller, tag.by_list)
        for tag in found.tags
        if tag.axis == "height" and tag.by_list
    ] == [
        ("Ilex opaca", "height", True, True),
        ("Thuja occidentalis 'Smaragd'", "height", False, True),
    ]
    assert (found.held, found.agreed + len({tag.line.row for tag in found.tags})) == (4, 4)
    assert cli.main(["stock", "tags", str(listed), "--width", "200"]) == statuses.FITS
    said = capsys.readouterr().out
    assert (
        "row 2 Ilex opaca: the tag says 6–8 ft tall, it grows to 15–30 ft and to 50 ft when old; it is past the tag in about"
        in said
    )
    assert "it stays smaller than promised" in said
    assert cli.main(["stock", "tags", str(listed), "--json"]) == statuses.FITS
    told = json.loads(capsys.readouterr().out)
    assert told["differ"][0]["tag"] == [1.8288, 2.4384]
    assert told["differ"][0]["from"] == "list"


@pytest.mark.parametrize(
    "arguments, said",
    [
        (["check"], "stock check needs a FILE"),
        (["forget", "x"], "stock forget takes no FILE"),
        (["tags", "x", "--write-names", "y"], "are for stock check, not for tags"),
        (["use", "absent.csv"], "found no such file"),
        (["check", "in.csv", "--names", "absent.toml"], "expected lines of the form"),
        (["use", "in.csv"], "no line of it is surely matched and in stock"),
    ],
)
def test_wrong_use(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    """One line that says what was expected."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "in.csv").write_text("plant,qty\nzzqxw,3\n")
    assert cli.main(["stock", *arguments]) == statuses.WRONG_USE
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert said in err


def line(plant: int, quantity: int | None = 1) -> Line:
    """A sure line of one plant."""
    return Line(plant + 2, "x", "#3", 10.0, quantity, "sure", "name", (plant,))


@given(bases, readings, st.lists(st.integers(0, 9), unique=True))
def test_what_always_holds(base: Any, reading: Reading, numbers: list[int]) -> None:
    """With a list as without one, the same plants fit where stock is not asked for; where it is, just those that are there; what
    stands in for a match is a match in stock.
    """
    stock = Stock("x", tuple(line(n) for n in numbers if n < base.count))
    plain, held = compose.answer(reading, base), compose.answer(reading, base, stock=stock)
    assert {match.plant for match in held.matches} == {match.plant for match in plain.matches}
    there = {match.plant for match in held.matches if match.offers}
    assert there == {match.plant for match in plain.matches} & set(stock.by_plant)
    for match in held.matches[: held.shown]:
        assert (match.instead is None) == (bool(match.offers) or not there)
        assert match.instead is None or match.instead.plant in there
    asked = Reading("x", (*reading.conditions, Condition("stock", "any_of", ("in",))))
    assert {match.plant for match in compose.answer(asked, base, stock=stock).matches} == there


@given(
    st.lists(
        st.builds(
            Offer,
            st.just(0),
            st.sampled_from(["#3", "5 gal", ""]),
            st.none() | st.floats(1, 99),
            st.none() | st.integers(1, 30),
        ),
        max_size=4,
    )
)
def test_loosening_a_purchase_loses_no_offer(offers: list[Offer]) -> None:
    """A dearer price or a smaller number never turns a yes into a no."""
    order = ("no", "unknown", "yes")
    for buy, milder in (
        (Purchase(("#3",), 20.0, 5), Purchase(("#3",), 40.0, 5)),
        (Purchase((), 20.0, 5), Purchase((), 20.0, 2)),
        (Purchase(("#3",)), Purchase(("#3", "#5"))),
    ):
        assert order.index(keeping(offers, buy)) <= order.index(keeping(offers, milder))
    assert keeping(offers, Purchase()) == ("yes" if offers else "no")


def test_the_nearest_substitute_is_the_same_species_first(real_base: Base) -> None:
    """Of plants of a size, kin stand before strangers."""
    number = {plant.botanical: plant.n for plant in real_base.plants()}
    among = [number["Abelia × grandiflora"], number["Ilex glabra 'Shamrock'"], number["Acer rubrum"]]
    found = substitute(real_base, number["Ilex glabra"], among)
    assert found is not None
    assert real_base.plant(found.plant).botanical == "Ilex glabra 'Shamrock'"
    assert substitute(real_base, number["Ilex glabra"], []) is None


def test_a_task_without_a_purchase_is_as_before() -> None:
    """Nothing of buying is in the published reading."""
    assert Task() == Task(buy=Purchase())


def test_show_tells_what_is_in_stock(listed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its offers; for a plant that is not there the one most like it that is, and how it differs; nothing without a list."""
    assert cli.main(["show", "Ilex opaca", "--stock", str(listed)]) == statuses.FITS
    assert "in stock: #15 at 150.00 (number not given)" in " ".join(capsys.readouterr().out.split())
    assert cli.main(["show", "Ilex cornuta", "--stock", str(listed), "--json"]) == statuses.FITS
    told = json.loads(capsys.readouterr().out)
    assert not told["stock"]["in"]
    assert told["stock"]["instead"]["botanical"] in told["stock"]["text"]
    assert told["stock"]["instead"]["offers"]
    assert cli.main(["show", "Ilex opaca", "--json"]) == statuses.FITS
    assert "stock" not in json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(
    "row, price, quantity, wrong",
    [
        ("Ilex opaca,call,lots", None, None, ("Price", "Qty")),
        ('Ilex opaca,$12.50/ea,"1,200"', 12.5, 1200, ()),
        ("Ilex opaca,-4,-5", None, None, ("Price", "Qty")),
        ("Ilex opaca 40 avail @ $9,,", 9.0, 40, ()),
        ("Ilex opaca - sold out,9,40", 9.0, 0, ()),
    ],
)
def test_cells_as_they_are_typed(
    tmp_path: Path, real_base: Base, row: str, price: float | None, quantity: int | None, wrong: tuple[str, ...]
) -> None:
    """What can be read is, what cannot is told with its column."""
    path = tmp_path / "list.csv"
    path.write_text(f"Item,Price,Qty\n{row}\n")
    (line,) = load(path, real_base).lines
    assert (line.sureness, line.price, line.quantity) == ("sure", price, quantity)
    assert tuple(heading for heading, _ in line.wrong) == wrong


@pytest.mark.parametrize("command", ["ask", "plan", "sheet"])
def test_a_list_that_is_set_and_gone(
    listed: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path, command: str
) -> None:
    """One line says so, and what is asked is answered without it."""
    assert cli.main(["stock", "use", str(listed)]) == statuses.FITS
    listed.unlink()
    capsys.readouterr()
    plan = ["--plan", "-o", str(tmp_path / "page.html")] if command == "sheet" else []
    cli.main([command, "60 ft evergreen screen, 10 ft tall, zone 6b", *plan])
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "stock list:" in said
    assert "answered without it" in said


def test_an_empty_list_and_one_without_names(tmp_path: Path, real_base: Base) -> None:
    """Are refused with what was found."""
    path = tmp_path / "list.csv"
    for text in ("", "Price,Qty\n4,5\n"):
        path.write_text(text)
        with pytest.raises(FileError) as problem:
            load(path, real_base)
        assert str(problem.value).startswith(str(path))
