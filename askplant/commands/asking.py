"""Questions about plants at the desk: why, how tall, more of them, what to say; and which plants a line speaks of."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from askplant.answer import single
from askplant.answer.years import reached, sizes
from askplant.commands.show import shown
from askplant.commands.sides import checked, sided
from askplant.commands.why import explained
from askplant.errors import UnknownPlant, UserError
from askplant.finding import Found
from askplant.reading.refine import refiner
from askplant.reading.refinement import SHOWN, Question, Spoken
from askplant.render.at_desk import plant_lines, reached_text, several_text, sizes_text, told_of
from askplant.render.sided import unread_lines
from askplant.render.speech import of_plant
from askplant.render.stocked import NO_LIST
from askplant.render.text import answer_text
from askplant.render.wording import Worded, worded_reasons

if TYPE_CHECKING:
    from askplant.commands.sitting import Sitting

PAGE = 4  # plants shown at once
FEW = 2  # plants of one name that one side is told of
NOTHING_ASKED = "Nothing has been asked yet: type what is wanted first.\n"
FIRST_A_REQUEST = "Nothing has been asked yet: type a request first, then why PLANT.\n"
NOTHING_SHOWN = "Nothing is shown to choose from: more shows the first that fit.\n"
WHICH = "Which plant? Say its number or its name.\n"


def questioned(sitting: Sitting, question: Question) -> str:
    """The answer to a question that leaves the request as it is."""
    if question.ask == "more":
        return more(sitting)
    plant = spoken(sitting, question.plant)
    if isinstance(plant, str):
        return plant
    if question.plant != SHOWN:
        sitting.it = plant.plants[0]
    reading = sitting.desk.read(question.words)
    if question.side is not None and question.side.name == "price" and sitting.desk.stock is None:
        return "\n".join(sitting.screen.fold(NO_LIST)) + "\n" + unread_lines(question.unread, sitting.screen)
    if question.side is not None:
        few = PAGE if question.plant == SHOWN else FEW
        return "".join(sided(sitting, question, n) for n in plant.plants[:few])
    if question.ask == "check" and reading.conditions:
        return checked(sitting, plant._replace(plants=plant.plants[:PAGE]), reading)
    if question.ask == "tell" or (question.ask == "check" and reading.unread):
        told = "\n".join(_tell(sitting, n) for n in plant.plants[:PAGE])
        return told + unread_lines([one.text for one in reading.unread], sitting.screen)
    if question.ask in ("size", "when"):
        sized = "".join(_sized(sitting, n, question) for n in plant.plants[:PAGE])
        return sized + unread_lines(question.unread, sitting.screen)
    return why(sitting, plant)


def spoken(sitting: Sitting, plant: Spoken) -> Found | str:
    """The plants that are spoken of, or what to say where there are none."""
    if plant.name is not None:
        return sitting.desk.find(plant.name)
    if plant.number is None:
        return Found("", (sitting.it,)) if sitting.it is not None else WHICH
    plants, where = numbered(sitting)
    if plant == SHOWN:
        shown = plants if sitting.listing else [plants[n] for n in sitting.page]
        return Found("", tuple(shown)) if shown else NOTHING_SHOWN
    last = len(plants) if sitting.listing else sitting.page.stop
    number = last if plant.number == -1 else plant.number
    if not 0 < number <= len(plants):
        return f"There is no plant {number} in the {where}: it has {len(plants)}.\n"
    return Found("", (plants[number - 1],))


def numbered(sitting: Sitting) -> tuple[list[int], str]:
    """The plants that numbers stand for, which are those of what was shown last: the short list or the answer."""
    if sitting.listing:
        ids = sitting.desk.base.ids
        return [ids.index(one) for one in sitting.shortlist.ids if one in ids], "short list"
    return [match.plant for match in sitting.answer.matches] if sitting.answer is not None else [], "answer"


def shown_at(sitting: Sitting, plant: Spoken) -> Found:
    """The plants that are pointed at; UserError where there are none."""
    one = spoken(sitting, plant)
    if isinstance(one, str):
        raise UserError(one.strip().rstrip("."))
    return one


def found(sitting: Sitting, text: str) -> Found | None:
    """The plant of a number in the answer, of `it`, or of a name that is written as the base has it."""
    pointed = refiner(sitting.desk.base).questions.pointed(text)
    if pointed is not None:
        return shown_at(sitting, pointed)
    try:
        named = sitting.desk.find(text)
    except UnknownPlant:
        return None
    return named if not named.mended else None


def about(sitting: Sitting, word: str, rest: str) -> str | None:
    """`show PLANT`, `why PLANT`; None where no plant is named."""
    name = rest.rstrip("?").strip()
    try:
        one = found(sitting, name) or sitting.desk.find(name.removeprefix("not ").strip())
    except UnknownPlant:
        return None
    sitting.it = one.plants[0]
    if word == "show":
        return shown(one, sitting.desk, sitting.screen)
    return why(sitting, one) if sitting.past.now else FIRST_A_REQUEST


def why(sitting: Sitting, plants: Found) -> str:
    """Every verdict of the request on a plant; of a name that several bear, how many would do and what the first few miss."""
    now, desk = sitting.past.now, sitting.desk
    if now is None:
        return NOTHING_ASKED
    if len(plants.plants) == 1:
        return explained(plants, now.asked, desk, sitting.screen)
    told = [worded_reasons(single.why(desk.base, now.asked, n), desk.base, desk.units) for n in plants.plants]
    return several_text(plants.shown, sorted(told, key=_nearest), PAGE, sitting.screen, sitting.units)


def _nearest(told: dict[str, Any]) -> tuple[bool, int]:
    """Those that fit by their rank, then those that miss least."""
    return not told["matches"], told["rank"] or len(told["misses"])


def more(sitting: Sitting) -> str:
    """The next plants of the answer."""
    if sitting.answer is None:
        return NOTHING_ASKED
    sitting.listing = False
    start, count = sitting.page.stop, len(sitting.answer.matches)
    if start >= count:
        return "That was all that fits.\n"
    sitting.page = range(start, min(start + PAGE, count))
    told = sitting.desk.worded(sitting.answer._replace(shown=sitting.page.stop))
    return "\n".join(plant_lines(told, sitting.page, sitting.screen)) + "\n"


def full(sitting: Sitting, all: bool) -> str:
    """The whole answer; `all` names every plant that is out."""
    now = sitting.past.now
    if now is None:
        return NOTHING_ASKED
    desk = sitting.desk
    answer = desk.answer(now.asked, desk.base.count if all else None, all=all)
    return answer_text(desk.worded(answer), answer.reading, sitting.screen, desk.title, desk.units, all)


def say(sitting: Sitting, rest: str) -> str | None:
    """The sentence to read aloud on a plant; on the one spoken of last where none is named."""
    one = found(sitting, rest) if rest else Found("", (sitting.it,)) if sitting.it is not None else None
    if one is None:
        return None if rest else NOTHING_ASKED
    told = _worded(sitting, one.plants[0])
    said = of_plant(told.shown[0], told.json["matches"][0], sitting.units)
    return "\n".join(sitting.screen.fold(said)) + "\n"


def _sized(sitting: Sitting, plant: int, question: Question) -> str:
    name, base = sitting.desk.plant(plant).botanical, sitting.desk.base
    if question.ask == "when" and question.height is not None:
        return reached_text(reached(base, plant, question.height), name, sitting.screen, sitting.units)
    return sizes_text(sizes(base, plant, question.years), name, question.axis, sitting.screen, sitting.units)


def _tell(sitting: Sitting, plant: int) -> str:
    told, now, desk = _worded(sitting, plant), sitting.past.now, sitting.desk
    against = worded_reasons(single.why(desk.base, now.asked, plant), desk.base, desk.units)["misses"] if now else []
    return told_of(told.shown[0], told.json["matches"][0], sitting.screen, sitting.units, against)


def _worded(sitting: Sitting, plant: int) -> Worded:
    """An answer of one plant alone: as the request has it where it fits, else as if nothing were asked."""
    now, desk = sitting.past.now, sitting.desk
    matches = sitting.answer.matches if sitting.answer is not None else ()
    fits = now is not None and any(match.plant == plant for match in matches)
    answer = desk.answer(now.asked if now is not None and fits else desk.read(""), desk.base.count, noted=False)
    return desk.worded(answer._replace(matches=tuple(one for one in answer.matches if one.plant == plant), shown=1))
