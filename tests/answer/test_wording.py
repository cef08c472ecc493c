"""Answers in words: the published form, and sentences a caller understands."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from askplant.answer.compose import answer
from askplant.answer.single import compare, show, why
from askplant.reading.reading import Condition, Mention, Reading, Task
from askplant.render.advice import TEXTS, advised
from askplant.render.asked import asked
from askplant.render.facts import stated
from askplant.render.wording import worded, worded_comparison, worded_portrait, worded_reasons
from askplant.verdicts.scales import GRADES
from askplant.verdicts.verdict import Advice, Fact

from ..verdicts.conditions import any_of, at_least, none_of, size
from ..verdicts.invented import InventedBase, feet

SCHEMA = Path(__file__).parent.parent / "schema"
BASE = InventedBase(
    {
        "Fictia alta": {
            "kind": ["tree"],
            "persistence": ["evergreen"],
            "height_grown": feet(40, 60),
            "width_grown": feet(20),
            "height_label": feet(15, 20),
            "invasive": "NY: regulated",
            "pests": "few",
        },
        "Fictia alta 'Nana'": {
            "kind": ["shrub"],
            "persistence": ["evergreen"],
            "height_grown": feet(12, 16),
            "width_grown": feet(4, 5),
            "height_old": feet(25),
            "shearing": "yes",
            "growth": "moderate",
            "light": ["full sun", "part sun"],
            "deer": "occasionally severely damaged",
            "fragrance": ["yes"],
            "poison": [["people", "serious", "seeds"]],
            "prune_when": ["late winter"],
        },
        "Inventa parva": {"kind": ["shrub"], "persistence": ["deciduous"], "height_grown": feet(3, 4)},
    },
    common={"Fictia alta 'Nana'": ["dwarf fiction"]},
    claims=[("nana", "small", "latin")],
)
READING = Reading(
    "evergreen, 8-10 ft, part shade, deer resistant, ideally fragrant",
    (
        any_of("persistence", "evergreen", text="evergreen", at=(0, 9)),
        size("height", "within", 8, 10, basis="grown", text="8-10 ft", at=(11, 18)),
        any_of("light", "part shade", text="part shade", at=(20, 30)),
        at_least("deer", "seldom severely damaged")._replace(text="deer resistant", at=(32, 46)),
        any_of("fragrance", "yes", strength="wish", text="fragrant", at=(56, 64)),
    ),
    named=(Mention("Inventa parva", "considered", "it", (0, 0)), Mention("Nowhere tree", "seen", "it", (0, 0))),
)


def validator(name: str) -> Draft202012Validator:
    """The published form as a schema, with what it refers to."""
    schemas = [json.loads(path.read_text(encoding="utf-8")) for path in SCHEMA.glob("*.json")]
    registry: Registry[Any] = Registry().with_resources((one["$id"], Resource.from_contents(one)) for one in schemas)
    wanted = next(one for one in schemas if one["$id"] == f"urn:askplant:{name}")
    return Draft202012Validator(wanted, registry=registry)


def test_an_answer_has_the_published_form() -> None:
    """JSON of an answer, and of one plant."""
    validator("answer").validate(json.loads(json.dumps(worded(answer(READING, BASE), BASE).json)))
    for plant in range(BASE.count):
        validator("plant").validate(json.loads(json.dumps(worded_portrait(show(BASE, plant), BASE))))


def test_a_match_is_told_with_what_to_do() -> None:
    """How it is held, what shade does to it, what keeps deer off, what its name hides, and that its seeds poison."""
    (match,) = worded(answer(READING, BASE), BASE).json["matches"]
    hows = {verdict["condition"]: verdict.get("how") for verdict in match["verdicts"]}
    assert hows[1].startswith("hold at 8–10 ft with ")
    assert "late winter" in hows[1] or "a year" in hows[1]
    assert "fence or repellent" in hows[3]
    assert [verdict["has"] for verdict in match["verdicts"]][1] == "grown 12–16 ft"
    (note,) = match["name_notes"]
    assert "3 ft or less" in note["text"]
    assert "small only beside its species (40–60 ft)" in note["text"]
    assert "poison center" in match["cautions"][0]["text"]
    assert match["why_here"].startswith("Meets 1 of 4 requirements outright and meets the wish; with care: ")


def test_a_shown_match_is_said_in_one_or_two_sentences() -> None:
    """Height by width, a virtue, a drawback and its remedy, derived where the card has no words of its own."""
    (shown,) = worded(answer(READING, BASE), BASE).shown
    assert shown.size == "12–16 ft × 4–5 ft; old 25 ft"
    assert shown.aloud.startswith("dwarf fiction, Fictia alta 'Nana': 12–16 ft by 4–5 ft, ")
    assert "Deer browse it at times" in shown.aloud
    assert len(shown.to_do) == 3
    metric = worded(answer(READING, BASE), BASE, units="metric").shown[0]
    assert metric.size == "3.7–4.9 m × 1.2–1.5 m; old 7.6 m"


def test_a_height_by_a_year_is_told_from_the_curve_and_what_was_measured() -> None:
    """A plant measured small at its age is told smaller; one that was cut when measured only a little."""
    card = {"kind": ["shrub"], "height_grown": feet(10, 14), "growth": "moderate"}
    seen = {"Alba alba": [(6.0, 1.2)], "Blanda blanda": [], "Canora canora": [(6.0, 1.2, None, "", "yes")]}
    base = InventedBase({name: card | {"observed": some} for name, some in seen.items()})
    reading = Reading("", (any_of("kind", "shrub"),), task=Task(by_year=5))
    found = answer(reading, base)
    then = {base.botanical[match.plant]: match.then for match in found.matches}
    free, card, cut = (then[name] for name in ("Alba alba", "Blanda blanda", "Canora canora"))
    assert free is not None
    assert card is not None
    assert cut is not None
    assert free.middle < cut.middle < card.middle
    assert worded(found, base).shown[0].size.endswith(" in 5 years")
    assert answer(Reading("", reading.conditions), base).matches[0].then is None


def test_what_does_not_fit_is_told_with_what_was_asked() -> None:
    """Near misses name what the plant has, what was asked and how far off; named plants get their sentence."""
    said = worded(answer(READING, BASE), BASE).json
    tall = next(one for one in said["excluded"]["near"] if one["plant"] == "fictia-alta")
    assert tall["misses"] == [
        {"condition": 1, "has": "grown 40–60 ft", "asked": "height 8–10 ft", "off_by": 12.19, "unit": "m"}
    ]
    considered, seen = said["named"]
    assert considered["text"].startswith("Inventa parva would not do here: it misses evergreen (deciduous)")
    assert seen["text"] == "Nowhere tree is not in the base, so nothing is said of it."


def test_reasons_and_comparisons_in_words() -> None:
    """One plant's verdicts, and plants side by side."""
    reasons = worded_reasons(why(BASE, READING, 0), BASE)
    assert (reasons["matches"], [miss["condition"] for miss in reasons["misses"]]) == (False, [1])
    sides = worded_comparison(compare(BASE, (0, 1)), BASE)
    assert {"trait": "height_grown", "values": ["40–60 ft", "12–16 ft"], "differs": True} in sides["traits"]


@pytest.mark.parametrize(
    ("condition", "said"),
    [
        (size("height", "within", 10, 15), "height 10–15 ft"),
        (size("width", "at_most", None, 4), "at most 4 ft wide"),
        (size("height", "at_least", 15), "at least 15 ft tall"),
        (size("height", "about", 5, 5), "about 5 ft tall"),
        (size("height", "at_most", None, 6, basis="held"), "kept to at most 6 ft tall"),
        (size("size", "any_of", None, 15), " (at most 15 ft tall)"),
        (any_of("zone", "7a", "7b"), "zone 7a–7b"),
        (at_least("deer", "seldom severely damaged"), "deer: at least seldom severely damaged"),
        (any_of("persistence", "evergreen"), "evergreen"),
        (none_of("form", "pyramidal"), "not pyramidal"),
        (any_of("flower_colour", "white", "pink"), "white or pink flowers"),
        (any_of("bloom", 6, 7), "in bloom June–July"),
        (any_of("safe_for", "dogs", "cats"), "safe for dogs and cats"),
        (any_of("use", "screen"), "for a screen"),
        (any_of("like", "Leyland", than="narrower"), "like Leyland but narrower"),
        (any_of("native", "OH"), "native to OH"),
        (any_of("native", "yes"), "native"),
        (any_of("native", "yes", "TX"), "native to TX"),
        (Condition("ph", "within", (), 6.0, 7.0), "pH 6–7"),
    ],
)
def test_conditions_are_echoed(condition: Condition, said: str) -> None:
    """What was asked, in a few words."""
    assert asked(condition, "us") == said


def test_every_advice_has_words() -> None:
    """Each care of the tables has its sentence, and none is left with a gap."""
    for (trait, value), grades in GRADES.items():
        if "with care" in grades.values():
            assert f"{trait}.{value}" in TEXTS
    for code in TEXTS:
        text = advised(Advice(code, (1.0, 2.0), ("one", "two")), "us")
        assert "{" not in text


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        (Fact("size", ("width", "grown", 1.8288, 2.4384)), "grown width 6–8 ft"),
        (Fact("zones", (8, 6, 17)), "hardy to zone 5a, to 4a in shelter, good to 9b"),
        (Fact("poison", (("dogs", "mild", "berries"),)), "poisonous to dogs (mild: berries)"),
        (Fact("places", ("38", "OH")), "native to OH, eastern Asia"),
        (Fact("ph", (5.0, 6.5)), "pH 5–6.5"),
        (None, None),
    ],
)
def test_facts_are_stated(fact: Fact | None, said: str | None) -> None:
    """What a plant has, in words."""
    assert stated(fact, "us") == said
