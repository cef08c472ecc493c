"""Questions at the desk: which plant a line speaks of, and what it asks about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from askplant.parsing import Token, Tree
from askplant.reading.ordering import without_leads
from askplant.reading.read import Reader
from askplant.reading.reading import Reading
from askplant.reading.refinement import IT, SHOWN, Ask, Axis, Question, Side, Spoken
from askplant.reading.steps import NUMBERED, TAIL, Line, Pointed, leaf, side_in, tokens_in, trees_in
from askplant.reading.vocabulary import ARTICLES as OWNING
from askplant.reading.vocabulary import STOPS
from askplant.reading.words import words

# What may be said in a question about one side of a plant: in any, and what a side needs besides. More is a request.
BESIDE = frozenset(("taxon", "zone"))
NEEDED = {
    "hold": frozenset(("height", "width")),
    "spacing": frozenset(("height", "width", "use")),
    "price": frozenset(("stock",)),
}
PRICE = "price"
CLEAR = "clear"  # how far off something: whatever that asks of a plant belongs to the question

TURNING = frozenset(("for", "on", "with", "about", "and", "ok", "so"))  # before a plant that a line turns to
ARTICLES = frozenset(("the", "a", "an"))
ASKERS = frozenset("there i you we they he she it a an".split())  # "is there an evergreen holly" asks no holly
ASKS_FOR = frozenset(("can", "could"))  # "can the flowers be white" is a wish, "are the flowers white" asks


class Questions:
    """Finds the question a line asks, with the words and names of one reader."""

    def __init__(self, reader: Reader) -> None:
        self.reader = reader

    def pointing(self, text: str, shown: int) -> Question | None:
        """A line that points at a plant and says no more: `and the second?`, `number 2`, and `2` where so many are shown."""
        said = without_leads(text.rstrip(" ?.!"), self.reader.vocabulary, ("PUT", "ADD", "WHATIF"))
        line = Line(said, self.reader.vocabulary)
        plant = line.pointed(0) if line.words else None
        if plant is None or plant.kind != "NTH" or not line.ends(plant.end):
            return None
        number = int(plant.meaning["n"])
        meant = not plant.meaning.get("bare") or number in range(1, shown + 1)
        return Question("tell", Spoken(number=number)) if meant else None

    def turned_to(self, text: str) -> tuple[Spoken, str] | None:
        """The plant that a line turns to before it asks, and what it asks: `the third, how wide does it get`."""
        line = Line(text, self.reader.vocabulary)
        at = 1 if line.words and line.words[0].key in TURNING else 0
        plant = line.pointed(at) if at < len(line.words) else None
        if plant is None or plant.kind != "NTH" or plant.end + 1 >= len(line.words) or line.words[plant.end].key not in STOPS:
            return None
        return _spoken(plant), text[line.words[plant.end + 1].start :]

    def pointed(self, text: str) -> Spoken | None:
        """The plant that some words point at and nothing more: `it`, `the second one`."""
        line = Line(text, self.reader.vocabulary)
        plant = line.pointed(0) if line.words else None
        return _spoken(plant) if plant is not None and plant.end == len(line.words) and "many" not in plant.meaning else None

    def row(self, text: str) -> list[Spoken]:
        """The plants that some words point at and nothing more: `the first two`, `1 and the third`, `those`."""
        line = Line(text, self.reader.vocabulary)
        row = line.row(0)
        if not row or row[-1].end != len(line.words):
            return []
        return [_spoken(plant) for plant in row]

    def stated(self, text: str) -> Question | None:
        """`the first one likes shade`, `deer eat that, don't they`: what is said of a plant asks whether it is so."""
        line = Line(text, self.reader.vocabulary)
        end, plant = line.tagged(), line.pointed(0) if line.words else None
        tagged = end < len(line.words)
        verb = line.phrase("SAYS", plant.end) if plant is not None else None
        if plant is not None and (verb is not None or (tagged and plant.kind == "IT")):
            start = verb[0].end if verb is not None and "be" in verb[1] else plant.end
            denied = line.phrase("DENIED", start)  # "the second is not evergreen" wants none that is not
            start = denied[0].end if denied is not None else start
            if (plant.kind == "IT" and not tagged) or start >= end or line.phrase("TOO", start):
                return None
            asked: Question | None = Question(
                "check", _spoken(plant), words=text[line.words[start].start : line.words[end - 1].end]
            )
        else:
            asked = self._asked_of_plant(text[: line.words[end - 1].end].rstrip(" ,")) if tagged else None
        found = self._as_side(asked) if asked is not None else None
        return found if found is not None and (found.side is not None or self.reader.read(found.words).conditions) else None

    def asked(self, tree: Tree, text: str) -> Question | None:
        """The question a line asks; None for one that asks nothing, or speaks of no plant there is."""
        asked = trees_in(tree)[0]
        if asked.data in ("more", "undo"):
            return Question(asked.data)  # type: ignore[arg-type]
        if asked.data in ("why", "tell"):
            plant = self._plant(leaf(trees_in(asked)[0]), text) if trees_in(asked) else IT
            return Question(asked.data, plant) if plant is not None else None  # type: ignore[arg-type]
        if asked.data == "check":
            found = self._check(asked, text)
            return self._as_side(found) if found is not None else None
        if asked.data == "which":
            rest = tokens_in(asked)[-1]
            which = Question("check", SHOWN, words=text[rest.start : rest.end])
            found = self._as_side(which)
            asks = found != which or self.reader.read(which.words).conditions
            return found if asks and "," not in which.words else None  # a list is a request
        if asked.data in ("size", "when"):
            return self._of_size(asked, text)
        if asked.data == "about":
            return self._about(asked, text)
        steps = trees_in(asked)
        if asked.data == "steps" and len(steps) == 1 and steps[0].data == "put":
            return self._what_about(tokens_in(steps[0]), text)
        return None

    def _check(self, asked: Tree, text: str) -> Question | None:
        """`is it evergreen`, `is 2 safe for dogs`, `does inkberry take shade`; None where no plant stands behind the verb."""
        rest = tokens_in(asked)[-1]
        said = text[rest.start : rest.end]
        if "it" in tokens_in(asked)[0].meaning:
            return Question("check", IT, words=said)
        if trees_in(asked):
            return Question("check", self._plant(leaf(trees_in(asked)[0]), text) or IT, words=said)
        found = words(said, self.reader.vocabulary.spelling)
        if found and found[0].kind != "num" and found[0].key in NUMBERED:
            found = found[1:]
        if len(found) > 1 and found[0].key in ARTICLES:
            parts = Line(said, self.reader.vocabulary).phrase("SIDE", 1) if found[0].key == "the" else None
            if parts is not None and str(tokens_in(asked)[0]) not in ASKS_FOR:
                return self._at_end(said) or Question("check", IT, words=said)
            found = found[1:]
        if len(found) > 1 and found[0].kind == "num" and not _is_measured(self.reader.read(said)):
            return Question("check", Spoken(number=int(found[0].value)), words=said[found[1].start :])
        return self._asked_of_plant(said)

    def _asked_of_plant(self, said: str) -> Question | None:
        """What is asked of a plant that is named before it, or pointed at behind it: `hollies deer proof`, `deer eat it`."""
        found = words(said, self.reader.vocabulary.spelling)
        found = found[1:] if len(found) > 1 and found[0].key in ARTICLES else found
        names = self.reader.vocabulary.names_at(found, 0)
        if names and names[0].end < len(found):
            plant = self._named(said[: found[names[0].end - 1].end])
            return Question("check", plant, words=said[found[names[0].end].start :]) if plant is not None else None
        return self._at_end(said)

    def _at_end(self, said: str) -> Question | None:
        """`will deer eat it`, `do birds like the second one`: a plant that is pointed at, or named, behind what it is asked."""
        found = words(said.rstrip(" ?.!"), self.reader.vocabulary.spelling)
        for at in range(1, len(found)):
            behind, asked = said[found[at].start : found[-1].end], said[: found[at].start].strip()
            plant = self.pointed(behind)
            names = self.reader.vocabulary.names_at(found, at) if found[0].key not in ASKERS else ()
            if names and names[0].end == len(found) and self.reader.read(asked).conditions:
                plant = self._named(behind)
            if plant is not None:
                return Question("check", plant, words=asked)
        return None

    def _as_side(self, check: Question) -> Question:
        """`does it need pruning`: what is no condition may still be a side of the plant."""
        if self.reader.read(check.words).conditions:
            return check
        side = side_in(check.words, self.reader.vocabulary)
        return check if side is None else check._replace(ask="about", words="", side=_side(side))

    def _about(self, asked: Tree, text: str) -> Question | None:
        """`when does it bloom`, `how far apart`, `can I keep 2 at 5 ft`; None where more is asked than one side of one plant."""
        head, *rest = (token for token in tokens_in(asked) if token.type not in ("ADD", "JOIN"))
        said = head.meaning if "of" in head.meaning else next(token for token in rest if token.type == "SIDE").meaning
        if "to" in head.meaning and any(word.key == "to" for word in words(text[head.end :], {})):
            said = {"of": head.meaning["to"]}  # "how close can I plant it to the house"
        plant = next((self._plant(leaf(tree), text) for tree in trees_in(asked)), None)
        side, beside = _side(said), ""
        others = (token.meaning["of"] for token in rest if token.type == "SIDE")
        if side.name == PRICE and any(other != PRICE for other in others):
            return None  # "do you have anything that flowers"
        apart = next((token for token, behind in pairwise(rest) if behind.type == "APART"), None)
        size, run, unread = None, None, []
        for token in (token for token in rest if token.type == "WORDS" and token is not apart):
            words_ = self._without_article(text[token.start : token.end].strip(" ?.!"))
            read = self.reader.read(words_)
            pointed = self._plant(token, text) or _numbered(words_, True)
            plant = plant or pointed
            if pointed is not None and pointed.number is not None:
                continue
            if side.name == CLEAR:
                beside = words_ if any(one.trait not in BESIDE for one in read.conditions) else beside
            elif any(one.trait not in BESIDE | NEEDED.get(side.name, frozenset()) for one in read.conditions):
                return None
            size = size or next((one for one in read.conditions if one.trait in ("height", "width")), None)
            run = run or read.task.run
            figures = any(word.kind == "num" for word in words(words_, {}))
            taken = read.conditions or read.unread or read.task.run
            unread += [one.text for one in read.unread] or ([words_] if figures and not taken else [])
        if "pointed" in head.meaning and plant is None:
            return None
        height = (size.maximum or size.minimum) if size is not None else run
        axis: Axis = "width" if size is not None and size.trait == "width" else "height"
        distance = self._length(text[apart.start : apart.end]) if apart is not None else None
        return Question("about", plant or IT, axis, None, height, distance, beside, side, tuple(unread))

    def _length(self, said: str) -> float | None:
        """The length that words say, in metres."""
        lengths = (one.maximum or one.minimum for one in self.reader.read(said).conditions if one.unit == "m")
        return next(lengths, None)

    def _without_article(self, said: str) -> str:
        """Words that may be understood only where they stand by themselves: of "the wires" the wires."""
        found = words(said, self.reader.vocabulary.spelling)
        return said[found[1].start :] if len(found) > 1 and found[0].key in OWNING else said

    def _what_about(self, put: Sequence[Token], text: str) -> Question | None:
        """`what about inkberry`: why it would do or not."""
        if put[0].type != "WHATIF":
            return None
        said = self.reader.read(text[put[1].start : put[1].end])
        only = {found.trait for found in said.conditions} == {"taxon"} and not said.unread
        return Question("why", Spoken(name=str(said.conditions[0].values[0]))) if only else None

    def _plant(self, token: Token, text: str) -> Spoken | None:
        """The plant that is pointed at or named; None where words name none."""
        if token.type == "IT":
            return Spoken()
        if token.type == "NTH":
            return Spoken(number=int(token.meaning["n"]))
        said = text[token.start : token.end]
        others = [word for word in words(said, {}) if word.kind != "num" and word.key not in ("#", "number", "?", ".")]
        numbers = [word for word in words(said, {}) if word.kind == "num"]
        if len(numbers) == 1 and not others:
            return Spoken(number=int(numbers[0].value))
        return self._named(said)

    def _named(self, said: str) -> Spoken | None:
        read = self.reader.read(said)
        names = [str(found.values[0]) for found in read.conditions if found.trait == "taxon"]
        names += [mention.plant for mention in read.named]
        return Spoken(name=names[0]) if names else None

    def _of_size(self, asked: Tree, text: str) -> Question | None:
        """How tall, how wide, or when so tall; `it` where no plant is named."""
        head, *rest = tokens_in(asked)
        plant = next((self._plant(leaf(tree), text) for tree in trees_in(asked)), None)
        years = height = None
        unread: list[str] = []
        for token in rest:
            said = text[token.start : token.end]
            read = self.reader.read(said)
            pointed = self._plant(token, text) or _numbered(said, _is_measured(read))
            plant = plant or pointed
            unread += [one.text for one in read.unread if pointed is None or one.text != str(pointed.number)]
            years = read.task.by_year
            heights = [found for found in read.conditions if found.trait in ("height", "width")]
            height = (heights[0].minimum or heights[0].maximum) if heights else None
        axis: Axis = "width" if head.meaning.get("axis") == "width" else "height"
        ask: Ask = "when" if asked.data == "when" else "size"
        return Question(ask, plant or IT, axis, years, height, unread=tuple(unread))


def _is_measured(said: Reading) -> bool:
    """Whether the first number of some words is a size or a time rather than a plant's."""
    return any(found.at[0] == 0 for found in said.conditions) or any(span[0] == 0 for span in said.task.spans)


def _numbered(said: str, measured: bool) -> Spoken | None:
    """`2 get`, `2 be in 5 years`: a number with a verb of growing behind it; `1 hide the fence`: one that measures nothing."""
    found = words(said, {})
    if len(found) > 1 and found[0].kind == "num" and (found[1].key in TAIL or not measured):
        return Spoken(number=int(found[0].value))
    return None


def _spoken(plant: Pointed) -> Spoken:
    if plant.kind == "NTH":
        return Spoken(number=int(plant.meaning["n"]))
    return SHOWN if "many" in plant.meaning else IT


def _side(said: Mapping[str, Any]) -> Side:
    """A side as the vocabulary has it, where names of several words are written with spaces."""
    traits, kinds = ([name.strip() for name in str(said.get(key, "")).split(",") if name] for key in ("traits", "care"))
    return Side(str(said["of"]), tuple(trait.replace(" ", "_") for trait in traits), tuple(kinds))
