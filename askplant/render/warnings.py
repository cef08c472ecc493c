"""Names that mislead and cautions, in words a caller understands. Each caution defers to who decides."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from askplant.quantities.lengths import Units, say, say_range
from askplant.quantities.months import say_months
from askplant.render.asked import joined
from askplant.render.facts import places
from askplant.verdicts.cautions import Caution
from askplant.verdicts.names import LEAST, MOST, WIDEST, Note, Traits

# What a word claims, in words.
CLAIMS = {
    "small": "a small plant",
    "miniature": "a miniature",
    "little": "a little plant",
    "compact": "a compact plant",
    "edging": "an edging",
    "prostrate": "a plant that lies low",
    "creeping": "a plant that creeps",
    "large": "a large plant",
    "great": "a large plant",
    "narrow": "a narrow plant",
    "spire": "a very narrow plant",
    "conical": "a cone",
    "rounded": "a round plant",
    "upright": "an upright plant",
    "weeping": "a weeping plant",
    "spreading": "a spreading plant",
    "climbing": "a climber",
    "dense": "a dense plant",
    "evergreen": "an evergreen",
}


class Titled(Protocol):
    """What a base must tell of a plant."""

    def plant(self, n: int) -> Any: ...


def note_json(note: Note, base: Titled, units: Units) -> dict[str, str]:
    """A note on a name in the published form."""
    claims, finds = _claims(note, units), _finds(note, units)
    text = f"“{note.word}” speaks of {claims}; this one {_it(note, finds)}"
    if note.parent:
        text += f", small only beside its species ({say_range(*note.parent, units)})"
    if note.instead is not None:
        text += f". {base.plant(note.instead).botanical} is what the name promises"
    return {"word": note.word, "claims": claims, "finds": finds, "text": text + "."}


def _claims(note: Note, units: Units) -> str:
    kind, _, rest = note.claim.partition(" ")
    if kind == "colour":
        return f"{rest} color"
    if kind == "season":
        return rest
    if kind == "origin":
        return f"{note.word} origin"
    if kind == "kin":
        return f"{_an(note.word)}"
    return f"{CLAIMS[note.claim]}{_promise(note.claim, note.traits, units)}"


def _an(word: str) -> str:
    return f"an {word}" if word[:1].lower() in "aeiou" else f"a {word}"


def _promise(claim: str, traits: Traits, units: Units) -> str:
    """The bound that the word stands for."""
    if claim in MOST:
        return f", {say(MOST[claim][0 if traits.woody else 1], units)} or less"
    if claim in LEAST:
        place = 0 if "tree" in traits.kinds and "shrub" not in traits.kinds else 1 if traits.woody else 2
        return f", {say(LEAST[claim][place], units)} or more"
    return f", {say(WIDEST[claim], units)} wide or less" if claim in WIDEST else ""


def _finds(note: Note, units: Units) -> str:
    traits, kind = note.traits, note.claim.partition(" ")[0]
    if kind == "colour":
        colours = sorted((traits.leaf or frozenset()) | (traits.flower or frozenset()))
        return f"{joined(colours, 'and')} leaves and flowers"
    if kind == "season":
        return f"blooms {say_months(traits.bloom or ())}"
    if kind == "origin":
        return f"native to {places(traits.native or ())}"
    if kind == "kin":
        return f"genus {traits.genus}" + (f", family {traits.family}" if traits.family else "")
    if kind == "evergreen":
        return str(traits.persistence)
    if kind == "dense":
        return str(traits.density)
    return _size_found(note.claim, traits, units)


def _size_found(claim: str, traits: Traits, units: Units) -> str:
    if claim in WIDEST and traits.width and traits.grown:
        return f"grown {say_range(*traits.grown, units)} by {say_range(*traits.width, units)}"
    if (claim in MOST or claim in LEAST) and traits.grown:
        return f"grown {say_range(*traits.grown, units)}"
    return joined(sorted(traits.forms), "and")


def _it(note: Note, finds: str) -> str:
    """The finding as the rest of a sentence."""
    kind = note.claim.partition(" ")[0]
    if kind == "kin":
        return f"is none: {finds}"
    if kind == "season":
        return finds
    if kind == "origin":
        return f"is {finds}"
    if kind == "colour":
        return f"has {finds}"
    if finds.startswith("grown"):
        return f"grows {finds.removeprefix('grown ')}"
    return f"is {finds}"


def caution_json(caution: Caution, units: Units) -> dict[str, str]:
    """A caution in the published form."""
    return {"about": caution.about, "text": _CAUTIONS[caution.about](caution, units)}


def caution_brief(caution: Caution, units: Units) -> str:
    """A caution in a few words, to be said aloud or to stand in a list; the whole of it is one question away."""
    if caution.about == "toxic":
        entries = [entry.split(": ") for entry in caution.words]
        who = list(dict.fromkeys(entry[0] for entry in entries))
        grave = "seriously " if any("serious" in entry[1:2] for entry in entries) else ""
        return f"{grave}poisonous to {joined(who, 'and')}"
    if caution.about == "invasive":
        return f"listed in {caution.words[1]}" if caution.words[1] else "listed as invasive or regulated in places"
    if caution.about == "size":
        return f"grows to about {say(caution.lengths[0], units)}: not under wires or near the house"
    return BRIEF[caution.about]


BRIEF = {
    "thorns": "thorny",
    "roots": "roots seek drains and lift paving",
    "fire": "catches fire easily",
    "sight lines": "may block the view of drivers",
}


def _toxic(caution: Caution, _: Units) -> str:
    said = "; ".join(caution.words)
    return (
        f"Poisonous ({said}). Keep it from people and animals that chew on plants; "
        "if any is eaten, call the poison center or a vet at once."
    )


def _invasive(caution: Caution, _: Units) -> str:
    text, here = caution.words
    start = f"Listed in {here}" if here else "Listed as invasive or regulated in places"
    return (
        f"{start}: {text}. Lists change every year: check your state's, or ask the extension office, before planting."
    )


def _size(caution: Caution, units: Units) -> str:
    high, away = caution.lengths
    return (
        f"Grows to about {say(high, units)}: keep it clear of wires and at least {say(away, units)} from the house. "
        "Ask the utility and the local code; for work near wires, a licensed arborist."
    )


_CAUTIONS: dict[str, Callable[[Caution, Units], str]] = {
    "toxic": _toxic,
    "invasive": _invasive,
    "size": _size,
    "thorns": lambda _, __: "Thorny: keep it back from paths and play, and wear gloves to prune it.",
    "roots": lambda _, __: (
        "Its roots seek drains and lift paving: keep it well away from pipes, walls and pavement, "
        "and have buried lines marked (call 811) before you dig."
    ),
    "fire": lambda caution, units: (
        f"Catches fire easily: keep it out of the first {say(caution.lengths[0], units)} from the house, "
        "and follow the local fire code."
    ),
    "sight lines": lambda caution, units: (
        "Where drivers must see past it the local code decides; "
        f"usually nothing may stand above {say(caution.lengths[0], units)} there."
    ),
}
