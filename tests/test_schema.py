"""What is printed as JSON has the published form, and nothing beside it."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from askplant.answer import single
from askplant.desk import Desk
from askplant.reading.reading import as_json
from askplant.render.wording import worded_portrait
from tests.commands.made import JSON

FOLDER = Path(__file__).parent / "schema"
SCHEMAS = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.json"))}
REGISTRY: Registry[Any] = Registry().with_resources(
    (schema["$id"], Resource.from_contents(schema)) for schema in SCHEMAS.values()
)

REQUESTS = (
    "evergreen, 10–15 ft, narrow, zone 7, deer-proof, part shade",
    "evergren shrub at most 3' wide for Ohio, ideally fragrant, no holly, safe for dogs, frobnicated",
    "a row of 60 ft, pink or white flowers in June, like a Leyland but narrower; we considered inkberry",
    "a palm for zone 2, at least 90 ft tall, evergreen, full shade",
    "pH 7.5, wet clay, hardy to -10 °F, 3 plants within 5 years, native, evergreen or at least very dense",
    "tall and small, evergreen and deciduous",
    "",
)


@pytest.fixture(scope="module")
def desk() -> Desk:
    """A desk over the base of the trait files."""
    return Desk()


def faults(name: str, told: object) -> list[str]:
    """What of a JSON value is not in the published form."""
    validator = Draft202012Validator(SCHEMAS[name], registry=REGISTRY)
    return [
        f"{'/'.join(map(str, fault.absolute_path))}: {fault.message[:200]}" for fault in validator.iter_errors(told)
    ]


@pytest.mark.parametrize("name", SCHEMAS)
def test_the_forms_are_well_formed(name: str) -> None:
    """Each form is itself a valid schema."""
    Draft202012Validator.check_schema(SCHEMAS[name])


@pytest.mark.parametrize("text", REQUESTS)
def test_readings(desk: Desk, text: str) -> None:
    """A reading has the published form."""
    assert faults("reading", as_json(desk.read(text))) == []


@pytest.mark.parametrize("every", [False, True])
@pytest.mark.parametrize("text", REQUESTS)
def test_answers(desk: Desk, text: str, every: bool) -> None:
    """An answer has the published form, all excluded plants told or not, and passes through JSON unchanged."""
    told = desk.worded(desk.ask(text, all=every)).json
    assert faults("answer", json.loads(json.dumps(told, allow_nan=False))) == []


@pytest.mark.parametrize("text", REQUESTS)
def test_numbers_point_at_conditions(desk: Desk, text: str) -> None:
    """Every condition number is one of the reading's, and each plant judged is judged on all of them."""
    told = desk.worded(desk.ask(text)).json
    conditions = range(len(told["reading"]["conditions"]))
    for one in [*told["matches"], *told["named"]]:
        assert [verdict["condition"] for verdict in one["verdicts"]] in ([*conditions], [])
    numbers = [price["condition"] for price in told["excluded"]["by_condition"]]
    numbers += [miss["condition"] for near in told["excluded"]["near"] for miss in near["misses"]]
    numbers += [change["condition"] for one in told["loosen"] for change in one["changes"]]
    assert set(numbers) <= set(conditions)


def test_plants(desk: Desk) -> None:
    """Every plant of the base can be shown in the published form."""
    for n in range(0, desk.base.count, max(desk.base.count // 200, 1)):
        assert faults("plant", worded_portrait(single.show(desk.base, n), desk.base)) == []


def test_the_made_answer_has_the_form_too() -> None:
    """The answer that other tests set out is one that could be."""
    assert faults("answer", JSON) == []


def test_the_form_knows_every_condition() -> None:
    """What a request can ask is what the form lets it ask."""
    asked = tomllib.loads((Path(__file__).parent.parent / "traits" / "conditions.toml").read_text(encoding="utf-8"))
    assert SCHEMAS["reading"]["$defs"]["condition"]["properties"]["trait"]["enum"] == list(asked)


@pytest.mark.parametrize(
    "path, value",
    [
        (("matches", 0, "verdicts", 0, "verdict"), "perhaps"),
        (("matches", 1, "verdicts", 1, "how"), ""),
        (("matches", 0, "size", "height", "grown"), [1.0]),
        (("matches", 0, "extra"), 1),
        (("excluded", "total"), -1),
        (("reading", "conditions", 0, "trait"), "mood"),
        (("ask_back", 0, "splits"), {"yes": 1}),
        (("loosen", 0, "changes"), []),
    ],
)
def test_the_form_refuses(path: tuple[Any, ...], value: object) -> None:
    """A value that is not as published is found."""
    told = json.loads(json.dumps(JSON))
    place = told
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    assert faults("answer", told)
