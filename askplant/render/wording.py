"""An answer in words: the published JSON form, and beside it what a page, a text or a voice says of each plant that
is shown.

Nothing is judged here; every number and verdict stands in the answer. Lengths in the JSON are metres; in words they
are in the units of the request.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from askplant.answer.answer import Answer, Change, Excluded, Loosening, Match, Miss
from askplant.answer.compose import Answering
from askplant.growth.course import Band
from askplant.quantities.lengths import Units, say, say_range
from askplant.reading.reading import Condition, as_json
from askplant.render.advice import advised
from askplant.render.asked import asked
from askplant.render.character import Card, character
from askplant.render.facts import stated
from askplant.render.sentences import of_named, of_tension, question_json, why_here
from askplant.render.stocked import remarks, stock_json, stock_words
from askplant.render.warnings import caution_brief, caution_json, note_json
from askplant.stock.stock import Stock
from askplant.verdicts.columns import columns_of
from askplant.verdicts.verdict import Judgement

if TYPE_CHECKING:
    from askplant.answer.single import Comparison, Portrait, Reasons

# What a change to "no such condition" is called.
GIVEN_UP = "does not matter"
BELOW_LIGHT = "light.darker"
FEW_GAINED = 4  # plants named in a text that a change would bring in
Json = dict[str, Any]


class Spoken(NamedTuple):
    """One shown match in words: its names, size, virtue, drawback and remedy, what to check or do, all that to be said
    aloud, what a stock list has of it, and its cautions in a few words each.
    """

    plant: str
    botanical: str
    common: str | None
    size: str
    virtue: str | None
    drawback: str | None
    remedy: str | None
    to_do: tuple[str, ...]
    to_check: tuple[str, ...]
    aloud: str
    stock: str | None = None
    careful: tuple[str, ...] = ()


class Worded(NamedTuple):
    """The answer in the published form, how many plants fit and how many of them outright, the conditions echoed in words, and
    the shown matches in words, in order of rank.

    `considered` holds the sentences on the plants that the caller thinks of planting (what only stands there needs none);
    `tensions` says which wishes pull against each other; `remarks` what else is to be said once.
    """

    json: Json
    fits: int
    outright: int
    asked: tuple[str, ...]
    shown: tuple[Spoken, ...]
    considered: tuple[str, ...]
    tensions: tuple[str, ...]
    remarks: tuple[str, ...] = ()


def worded(answer: Answer, base: Answering, units: Units | None = None, whole: bool = True) -> Worded:
    """The answer in words: all of it, or with `whole` false only what a text says, of its matches those that are shown and of
    the plants that a change would bring in the first few.
    """
    measure = units or answer.reading.units
    words = _Words(answer.reading.conditions, base, measure, answer.reading.task.by_year, answer.stock)
    full = len(answer.matches) if whole else answer.shown
    matches = [words.match(match) for match in answer.matches[:full]]
    shown = [words.spoken(match, said) for match, said in zip(answer.matches[: answer.shown], matches, strict=False)]
    told = _answer_json(answer, words, matches, None if whole else FEW_GAINED)
    return Worded(
        json=told,
        fits=len(answer.matches),
        outright=answer.outright,
        asked=tuple(words.echoes),
        shown=tuple(shown),
        considered=tuple(
            said["text"]
            for one, said in zip(answer.named, told["named"], strict=True)
            if one.mention.role == "considered"
        ),
        tensions=tuple(of_tension(tension, words.echoes, answer.plants) for tension in answer.tensions),
        remarks=remarks(answer),
    )


def _answer_json(answer: Answer, words: _Words, matches: list[Json], gained: int | None) -> Json:
    return {
        "reading": as_json(answer.reading),
        "base": {"plants": answer.plants, "built": answer.built},
        "matches": matches,
        "excluded": {
            "total": answer.excluded_total,
            "by_condition": [price._asdict() for price in answer.prices],
            "near": [words.excluded(one) for one in answer.near],
        },
        "named": [words.named(one, answer) for one in answer.named],
        "ask_back": [question_json(question) for question in answer.ask_back],
        "loosen": [words.loosening(one, gained) for one in answer.loosen],
        "plan": None,
    }


class _Words:
    """The words of one answer; verdicts that many plants share are worded once."""

    def __init__(
        self,
        conditions: Sequence[Condition],
        base: Answering,
        units: Units,
        by_year: float | None = None,
        stock: Stock | None = None,
    ) -> None:
        self.conditions, self.base, self.units, self.by_year, self.stock = conditions, base, units, by_year, stock
        self.echoes = [asked(condition, units) for condition in conditions]
        self._verdicts: dict[tuple[int, int], Json] = {}
        self._columns = columns_of(base)

    def match(self, match: Match) -> Json:
        plant = self.base.plant(match.plant)
        of = self.stock.of if self.stock is not None else None
        stock = stock_json(match.offers or (), match.instead, self.base, self.units, of) if of is not None else None
        return {
            "plant": plant.id,
            "botanical": plant.botanical,
            "common": list(plant.common),
            "rank": match.rank,
            "fit": match.fit,
            "size": self.size(match.plant),
            "verdicts": self.verdicts(match.judgements),
            "name_notes": [note_json(note, self.base, self.units) for note in match.notes],
            "cautions": [caution_json(caution, self.units) for caution in match.cautions],
            "why_here": why_here(match, self.echoes),
        } | ({"stock": stock} if stock is not None else {})

    def verdicts(self, judgements: Sequence[Judgement]) -> list[Json]:
        return [self._verdict(index, judgement) for index, judgement in enumerate(judgements)]

    def _verdict(self, index: int, judgement: Judgement) -> Json:
        key = (index, id(judgement))
        if key not in self._verdicts:
            said: Json = {"condition": index, "verdict": judgement.verdict, "has": self._has(index, judgement)}
            if judgement.how is not None:
                said["how"] = advised(judgement.how, self.units)
            self._verdicts[key] = said
        return self._verdicts[key]

    def _has(self, index: int, judgement: Judgement) -> str | None:
        return stated(judgement.has, self.units, self.conditions[index].trait)

    def size(self, plant: int) -> Json:
        height, width = self._columns.value("height", plant), self._columns.value("width", plant)
        return {"height": _range_json(height), "width": _range_json(width), "unit": "m"}

    def excluded(self, one: Excluded) -> Json:
        plant = self.base.plant(one.plant)
        return {
            "plant": plant.id,
            "botanical": plant.botanical,
            "misses": [self._miss(miss) for miss in one.misses],
        }

    def _miss(self, miss: Miss) -> Json:
        found = miss.judgement
        return {
            "condition": miss.condition,
            "has": self._has(miss.condition, found),
            "asked": self.echoes[miss.condition],
            "off_by": found.off_by,
            "unit": found.unit,
        }

    def named(self, one: Any, answer: Answer) -> Json:
        plant = self.base.plant(one.plant) if one.plant is not None else None
        title = plant.botanical if plant else one.mention.plant
        return {
            "plant": plant.id if plant else one.mention.plant,
            "botanical": title,
            "verdicts": self.verdicts(one.judgements),
            "text": of_named(one, answer, title, self.echoes, self.units),
        }

    def loosening(self, one: Loosening, few: int | None) -> Json:
        return {
            "changes": [self._change(change) for change in one.changes],
            "gains": len(one.plants),
            "plants": [self.base.plant(plant).id for plant in one.plants[:few]],
        }

    def _change(self, change: Change) -> Json:
        to = asked(change.to, self.units) if change.to is not None else GIVEN_UP
        return {"condition": change.condition, "from": self.echoes[change.condition], "to": to}

    def spoken(self, match: Match, said: Json) -> Spoken:
        card = self.base.resolved(match.plant)
        of_it = character(card)
        common = said["common"][0] if said["common"] else None
        size = size_words(said["size"], self.units)
        if match.then is not None:
            size += f"; {by_then(match.then, self.units)} in {self.by_year:g} years"
        needing = [(n, judgement) for n, judgement in enumerate(match.judgements) if judgement.how is not None]
        needing.sort(key=lambda one: self.conditions[one[0]].trait != "zone")  # what keeps it alive is said first
        to_do = tuple(self._to_do(judgement, card) for _, judgement in needing)
        to_check = tuple(self.echoes[index] for index in match.why.unknowns)
        aloud = _aloud(
            said["botanical"], common, _by(said["size"], self.units), of_it.virtue, of_it.drawback, of_it.remedy
        )
        of = self.stock.of if self.stock is not None else None
        stock = stock_words(match.offers or (), match.instead, said["stock"], of) if of is not None else None
        if stock:
            aloud += f" {stock[:1].upper()}{stock[1:]}."
        careful = tuple(caution_brief(caution, self.units) for caution in match.cautions)
        return Spoken(said["plant"], said["botanical"], common, size, *of_it, to_do, to_check, aloud, stock, careful)

    def _to_do(self, judgement: Judgement, card: Card) -> str:
        """What to do; for darker places the card's own remark on light, where it has one."""
        assert judgement.how is not None
        text = advised(judgement.how, self.units)
        own = card["light"].note if judgement.how.code == BELOW_LIGHT and "light" in card else ""
        return f"{text} ({own})" if own else text


def _range_json(value: Sequence[Any]) -> Json:
    grown, label, old = value[:3]
    return {"label": label, "grown": grown, "old": old[1] if old else None}


def size_words(size: Json, units: Units) -> str:
    """All that is known of a size: `12–16 ft × 3–4 ft; tags say 10–15 ft; old 20 ft`."""
    height = size["height"]
    parts = [_by(size, units, " × ")]
    if height["label"] and height["label"] != height["grown"]:
        low, high = height["label"]
        parts.append(f"tags say {say_range(low, high, units)}")
    if height["old"] and (not height["grown"] or height["old"] > height["grown"][1]):
        parts.append(f"old {say(height['old'], units)}")
    return "; ".join(part for part in parts if part)


def by_then(band: Band, units: Units) -> str:
    """A size at an age with its band: `about 7.7 ft (6–9 ft)`."""
    return f"about {say(band.middle, units)} ({say_range(band.low, band.high, units)})"


def _by(size: Json, units: Units, by: str = " by ") -> str:
    """Height by width, as grown or else as sold."""
    sides = (size["height"]["grown"] or size["height"]["label"], size["width"]["grown"] or size["width"]["label"])
    return by.join(say_range(side[0], side[1], units) for side in sides if side)


def _aloud(
    botanical: str, common: str | None, size: str, virtue: str | None, drawback: str | None, remedy: str | None
) -> str:
    """One or two sentences to say aloud."""
    first = f"{common}, {botanical}" if common else botanical
    said = ", ".join(part for part in (f"{first}: {size}" if size else first, virtue) if part)
    if not drawback:
        return f"{said}."
    return f"{said}. {drawback[:1].upper()}{drawback[1:]}{': ' + remedy if remedy else ''}."


def worded_reasons(reasons: Reasons, base: Answering, units: Units | None = None) -> Json:
    """Every verdict of a request on one plant, with what excludes it or its rank."""
    words = _Words(reasons.reading.conditions, base, units or reasons.reading.units)
    plant = base.plant(reasons.plant)
    return {
        "plant": plant.id,
        "botanical": plant.botanical,
        "matches": reasons.rank is not None,
        "rank": reasons.rank,
        "of": reasons.of,
        "fit": reasons.fit,
        "asked": words.echoes,
        "verdicts": words.verdicts(reasons.judgements),
        "misses": [words._miss(miss) for miss in reasons.misses],
    }


def worded_portrait(portrait: Portrait, base: Answering, units: Units = "us") -> Json:
    """One plant in the published form."""
    words, plant = _Words((), base, units), base.plant(portrait.plant)
    return {
        "plant": plant.id,
        "botanical": plant.botanical,
        "common": list(plant.common),
        "size": words.size(portrait.plant),
        "name_notes": [note_json(note, base, units) for note in portrait.notes],
        "cautions": [caution_json(caution, units) for caution in portrait.cautions],
        "values": [_value_json(row) for row in portrait.rows],
    }


def _value_json(row: Any) -> Json:
    """One row of a plant's values, as text or as a range."""
    if row.low is None:
        value: Json = {"value": row.value}
    else:
        value = {"low": row.low, "high": row.high} | ({"unit": row.unit} if row.unit else {})
    said = {"trait": row.trait, **value, "source": row.source, "basis": row.basis}
    return said | ({"note": row.note} if row.note else {})


def worded_comparison(comparison: Comparison, base: Answering, units: Units = "us") -> Json:
    """Plants side by side: each trait with one text a plant, None where a card is silent."""
    plants = [base.plant(plant) for plant in comparison.plants]
    return {
        "plants": [{"plant": plant.id, "botanical": plant.botanical} for plant in plants],
        "traits": [
            {"trait": trait.trait, "values": [_side(value, units) for value in trait.values], "differs": trait.differs}
            for trait in comparison.traits
        ],
    }


def _side(value: Any | None, units: Units) -> str | None:
    if value is None:
        return None
    if value.low is None:
        return str(value.text)
    if value.unit == "m":
        return say_range(value.low, value.high, units)
    low, high = f"{value.low:g}", f"{value.high:g}"
    return low if low == high else f"{low}–{high}"
