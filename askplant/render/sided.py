"""An answer about one side of a plant (`when does it bloom`, `how far apart`): a sentence to say, then what it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from askplant.base.records import Plant
from askplant.quantities.lengths import Units, say
from askplant.reading.reading import Condition
from askplant.render.care_words import DIG
from askplant.render.keeping import WIRES
from askplant.render.plant import label_of, value_words
from askplant.render.screen import Screen, clean
from askplant.render.speech import spoken_range
from askplant.render.understood import labelled

Json = dict[str, Any]
Fact = tuple[str, str | None]  # a trait's name, and the whole of it in words; None where the base does not say
VERDICTS = {"meets": "yes", "with care": "yes, with care", "unknown": "the base does not say", "misses": "no"}
# How a value is said where the trait's name before it would not do.
SAID = {
    "bloom": "blooms {}",
    "blooms_on": "blooms on {} wood",
    "growth": "grows at a {} rate",
    "growth_per_year": "{} a year",
    "light": "{}",
    "moisture": "{} ground",
    "persistence": "{}",
    "pests": "{}",
    "prune_when": "prune in {}",
    "width_grown": "grows {} wide",
    "width_old": "{} wide when old",
    "zone_cold": "hardy to zone {}",
    "zone_shelter": "in shelter to zone {}",
    "zone_warm": "good to zone {}",
}
# Values that are no words of a sentence.
GRADED = {
    ("drought", "tolerant"): "tolerates drought",
    ("drought", "moderate"): "stands some drought",
    ("drought", "sensitive"): "suffers in drought",
    ("prune_when", "after flowering"): "prune after flowering",
    ("shearing", "yes"): "takes shearing",
    ("shearing", "light"): "takes light shearing",
    ("shearing", "no"): "is not to be sheared",
    ("old_wood", "yes"): "sprouts from old wood",
    ("old_wood", "no"): "does not sprout from old wood",
}
CLEAR_IS = "half of its width, so that it is clear of the wall: common practice, no source"

NEAR_WIRES = "How near power lines it may stand, the utility and the local code say."
NO_DISTANCE = "how far off power lines: the base holds no distance, only how tall a plant may be beneath them"


def heading(plant: Plant, screen: Screen) -> str:
    """Which plant is spoken of."""
    names = f"{plant.botanical} ({plant.common[0]})" if plant.common else plant.botanical
    return _text(screen.styled(line, "bold") for line in screen.fold(names))


def said_text(sentence: str, screen: Screen) -> str:
    """A sentence to read aloud."""
    return _text(labelled("say", f"“{sentence}”", screen, "bold"))


def _text(lines: Iterable[str]) -> str:
    return "".join(f"{line}\n" for line in lines)


def _careful(cautions: Sequence[str], screen: Screen) -> list[str]:
    return [line for one in cautions for line in labelled("CAUTION", one, screen, "warn")]


def sided_text(
    name: str, facts: Sequence[Fact], tasks: Sequence[str], cautions: Sequence[str], screen: Screen
) -> str:
    """What the card says of a side, then the tasks of its care, and cautions."""
    known = [said for _, said in facts if said is not None]
    silent = [label for label, said in facts if said is None]
    text = said_text(f"{name}: {'; '.join(known)}.", screen) if known else ""
    lines = [line for one in tasks for line in labelled("care", one, screen)]
    lines += labelled("not known", ", ".join(silent), screen) if silent else []
    lines += _careful(cautions, screen)
    if not known and not lines:
        lines = labelled("care", "nothing of that is told for it", screen)
    return text + _text(lines)


def fact(trait: str, rows: Sequence[Json], units: Units) -> Fact:
    """A trait in words, of the rows that a portrait has of it: the one that is used comes first."""
    if not rows:
        return label_of(trait), None
    value = value_words(rows[0], units).replace("; ", ", ")
    said = GRADED.get((trait, value)) or SAID.get(trait, f"{label_of(trait)}: {{}}").format(value)
    note = f" ({rows[0]['note']})" if rows[0].get("note") and rows[0]["source"] != "resolved" else ""
    return label_of(trait), said + note


def checked_text(
    name: str, told: Json, conditions: Sequence[Condition], cautions: Sequence[str], screen: Screen
) -> str:
    """Whether a plant is so, for each thing that was asked: yes or no, then what it has; how it was read, and cautions."""
    text = ""
    for verdict in told["verdicts"]:
        asked, condition = told["asked"][verdict["condition"]], conditions[verdict["condition"]]
        answer: str | None = VERDICTS[verdict["verdict"]]
        if condition.test == "at_least" and verdict["has"]:
            # "Will deer eat it": a yes would be heard as the contrary, so what it has is the answer.
            asked, answer = asked.partition(":")[0], None
        said = [part for part in (answer, verdict["has"], verdict.get("how")) if part and part != asked]
        text += said_text(f"{name}, {asked}: {'; '.join(said)}.", screen)
    notes = (condition.note for condition in conditions if condition.note)
    text += _text(line for note in notes for line in labelled("note", note, screen))
    return text + _text(_careful(cautions, screen))


def spacing_text(
    name: str, width: tuple[float, float] | None, rooms: Sequence[tuple[str, float]], run: float | None,
    counts: Sequence[int], shares: Sequence[float], screen: Screen, units: Units,
) -> str:  # fmt: skip
    """How far apart plants stand in a row: `rooms` are the distances in metres with what each is for, close to wide, `shares`
    the same as shares of the grown width."""
    if width is None:
        return said_text(f"{name}: the base does not say how wide it grows, so not how far apart.", screen)
    each = ", ".join(f"{spoken_range((apart, apart), units)} {purpose}" for purpose, apart in rooms)
    text = said_text(f"{name} grows {spoken_range(width, units)} wide. Apart: {each}.", screen)
    lines = []
    if run is not None:
        told = ", ".join(f"{count} at {say(apart, units)}" for count, (_, apart) in zip(counts, rooms, strict=True))
        lines = labelled("count", f"for {say(run, units)}: {told}; the end ones half a spacing in", screen)
    rests = f"{', '.join(f'{share:.0%}' for share in shares)} of the grown width (sources: traits/planning.toml)"
    return text + _text([*lines, *labelled("rests on", rests, screen)])


def clear_text(name: str, width: tuple[float, float] | None, old: float | None, screen: Screen, units: Units) -> str:
    """How far from a wall a plant is set."""
    if width is None:
        return said_text(f"{name}: the base does not say how wide it grows, so not how far off.", screen)
    half = spoken_range((width[0] / 2, width[1] / 2), units)
    more = f", {spoken_range((old / 2, old / 2), units)} if it is left to grow old" if old and old > width[1] else ""
    text = said_text(f"{name}: set its middle {half} off{more}.", screen)
    return text + _text(labelled("rests on", CLEAR_IS, screen))


def wires_text(name: str, width: tuple[float, float] | None, old: float | None, screen: Screen, units: Units) -> str:
    """What is known of a plant beside power lines, that no distance is, and who decides; `old` is its height when left alone."""
    known = [f"its branches reach {spoken_range((width[0] / 2, width[1] / 2), units)} to each side"] if width else []
    known += [f"left alone it grows on to {spoken_range((old, old), units)}"] if old else []
    text = said_text(f"{name}: {'; '.join(known)}. {NEAR_WIRES}", screen) if known else said_text(NEAR_WIRES, screen)
    return text + _text([*labelled("not known", NO_DISTANCE, screen), *_careful([WIRES, DIG], screen)])


def digging_text(screen: Screen) -> str:
    """What comes before digging beside pipes and buried lines."""
    return _text(_careful([DIG], screen))


def unread_lines(unread: Sequence[str], screen: Screen) -> str:
    """Words of a question that were not understood."""
    said = ", ".join(f"“{clean(one)}”" for one in unread)
    return _text(labelled("NOT READ", said, screen, "warn")) if unread else ""
