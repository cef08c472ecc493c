"""Clause trees → elements, each with what leads, trails and reaches it from its neighbours.

How far a word reaches follows the joint: `or` carries a negation on, a bare comma ends a wish, `but` ends everything.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from askplant.parsing import Token, Tree
from askplant.reading.islands import Island

NEGATIONS = frozenset("no not non without nothing dont neither".split())

# Cues that tell why a plant is mentioned, strongest first.
ROLES = ("LIKE", "REPLACE", "DIED_BEFORE", "SEEN", "WANT", "CONSIDER", "OWN")
# Traits that a word in front of a plant says of it.
DESCRIBING = frozenset("persistence form density thorns leaf_colour flower growth".split())
# What is told of the place and not asked of the plant.
OF_THE_SITE = frozenset("zone light soil moisture ph heat salt wind pollution juglone fire".split())
FIGURES = frozenset("HEIGHT LIGHT ZONE NUMBER".split())
ROLES_AFTER = {
    "DIED": "DIED_BEFORE",
    "REPLACE_AFTER": "REPLACE",
    "CONSIDER_AFTER": "CONSIDER",
    "LIKE_AFTER": "LIKE",
    "WANT_AFTER": "WANT",
}


class Element:
    """One core token with the words that colour it. `joint` is how it is joined to the element before (empty for none)."""

    __slots__ = ("allowed", "core", "island", "joint", "leads", "must", "negated", "role", "trails", "wish")

    def __init__(self, core: Token, joint: str = "") -> None:
        self.core, self.joint, self.island = core, joint, 0
        self.leads: list[Token] = []
        self.trails: list[Token] = []
        self.negated = self.wish = self.must = self.allowed = False
        self.role: str | None = None

    @property
    def refused(self) -> bool:
        """Whether a negation stands before it that speaks of its sort of thing ("except" speaks of plants only).

        A refusal that is refused is none: "nothing that can't handle the heat".
        """
        said = [
            token
            for token in self.leads
            if token.type == "NOT" and (token.meaning.get("only") != "plant" or self._is_plant)
        ]
        return len(said) % 2 == 1 if any(token.meaning.get("refusal") for token in said) else bool(said)

    @property
    def _is_plant(self) -> bool:
        """Whether the core names plants: by name, by kind or by group."""
        return self.core.type == "PLANT" or bool(traits_of(self.core) & {"kind", "group"})

    @property
    def neutral(self) -> bool:
        """Whether the caller says that it does not matter: "I do not mind thorns", "pink is fine"."""
        return self.allowed or self.led_by("NEUTRAL") or self.trailed_by("NEUTRAL_AFTER")

    def led_by(self, *kinds: str) -> bool:
        """Whether a word of one of the kinds stands before it."""
        return any(token.type in kinds for token in self.leads)

    def trailed_by(self, *kinds: str) -> bool:
        """Whether a word of one of the kinds stands behind it."""
        return any(token.type in kinds for token in self.trails)


def traits_of(token: Token) -> set[str]:
    """The traits that a token's conditions speak of."""
    return {getattr(one, "trait", None) or one["trait"] for one in token.meaning.get("conditions", ())}


def elements(chunks: Sequence[Token | Island]) -> list[Element]:
    """All elements of a request's clauses in order, coloured."""
    out: list[Element] = []
    number = 0
    for item in chunks:
        if isinstance(item, Island):
            row = list(_row(item.tree, number))
            _colour(row)
            out += row
            number += 1
    return out


def _row(tree: Tree, number: int) -> Iterable[Element]:
    joint = ""
    for child in tree.children:
        assert isinstance(child, Tree)
        if child.data == "joint":
            joint = "+".join(token.type for token in child.children if isinstance(token, Token))
            continue
        yield _element(child, joint, number)
        joint = ""


def _element(tree: Tree, joint: str, number: int) -> Element:
    made: Element | None = None
    leads: list[Token] = []
    trails: list[Token] = []
    for child in tree.children:
        assert isinstance(child, Tree)
        token = child.children[0]
        assert isinstance(token, Token)
        if child.data == "core":
            made = Element(token, joint)
        else:
            (leads if child.data == "lead" else trails).append(token)
    assert made is not None
    made.leads, made.trails, made.island = leads, trails, number
    return made


def _colour(row: list[Element]) -> None:
    for at, element in enumerate(row):
        before = row[at - 1] if at else None
        element.negated = (
            element.refused or element.trailed_by("NOT_AFTER") or (before is not None and _carries_not(row, at))
        )
        element.wish = (
            any(token.type == "WISH" and not _asks(token, element) for token in element.leads)
            or any(token.meaning.get("wish") for token in element.leads)
            or (before is not None and before.wish and not before.trailed_by("WISH_AFTER") and _carries_wish(element))
            or (before is not None and _prefers(before.core) and element.joint in ("OR", "COMMA+OR", "SLASH"))
        )
        element.must = element.led_by("MUST")
        element.role = _role(element) or (
            before.role if before is not None and _carries_role(before, element) else None
        )
    for at in range(len(row) - 1, -1, -1):
        _colour_back(row, at)
    for before, element in itertools.pairwise(row):
        element.allowed = _only_allowed(before, element)


def _only_allowed(before: Element, element: Element) -> bool:
    """Whether the second is what would do too where the first is preferred: "evergreen preferred but deciduous ok"."""
    trailed = element.trailed_by("CONSIDER_AFTER", "NEUTRAL_AFTER")
    same = bool(traits_of(before.core) & traits_of(element.core))
    return before.wish and trailed and same and element.joint in ("BUT", "COMMA+BUT", "COMMA", "AND")


def _prefers(core: Token) -> bool:
    """Whether a phrase is a wish by itself, which goes on behind an `or`: "we'd prefer white or pink"."""
    said = core.meaning.get("conditions", ()) if core.type == "PHRASE" else ()
    return bool(said) and all((getattr(one, "strength", None) or one.get("strength")) == "wish" for one in said)


def _asks(wish: Token, element: Element) -> bool:
    """Whether a word of wishing asks plainly for what it leads: "we'd like a tree", but "we'd like flowers"."""
    return bool(wish.meaning.get("asks")) and bool(traits_of(element.core) & {"kind", "use", "group"})


def _carries_not(row: list[Element], at: int) -> bool:
    """Whether the negation of the element before reaches this one: no thorns or berries; not holly, yew or box."""
    before, element = row[at - 1], row[at]
    if (
        not (before.negated or says_no(before))
        or element.led_by("MUST", "WISH", "WANT")
        or before.trailed_by("NOT_AFTER")
    ):
        return False
    if says_no(before) and not before.negated:
        listed = element.joint == "COMMA" and _or_follows(row, at)
        return (listed or element.joint in ("OR", "COMMA+OR")) and "negated" in element.core.meaning
    if element.joint in ("OR", "SLASH", "COMMA+OR"):
        return True
    if element.joint == "":
        return before.core.type in ("SIZE", "COLOR") or (before.core.type == "PLANT" and element.core.type == "PLANT")
    if element.joint in ("AND", "COMMA+AND"):
        return _same_sort(before, element)
    if element.joint == "COMMA":
        return _same_sort(before, element) and (element.core.type == "PLANT" or _or_follows(row, at))
    return False


def says_no(element: Element) -> bool:
    """Whether a phrase itself begins with a negation that goes on behind it: "no thorns", "without berries"."""
    return element.core.type == "PHRASE" and str(element.core).split(" ")[0] in NEGATIONS


def _or_follows(row: list[Element], at: int) -> bool:
    """Whether a comma list goes on to an `or`: thorns, berries or suckers."""
    for element in row[at + 1 :]:
        if element.joint in ("OR", "COMMA+OR"):
            return True
        if element.joint != "COMMA":
            return False
    return False


def _same_sort(one: Element, other: Element) -> bool:
    if one.core.type == "PLANT" or other.core.type == "PLANT":
        return one._is_plant and other._is_plant
    return "negated" in one.core.meaning and "negated" in other.core.meaning


def _carries_wish(element: Element) -> bool:
    if element.led_by("MUST", "NOT") or element.joint not in ("", "OR", "AND", "SLASH", "COMMA+OR", "COMMA+AND"):
        return False
    # "preferably a flowering shrub": flowers are the wish, a shrub it is to be.
    return element.joint != "" or not traits_of(element.core) & {"kind", "use"}


def describes(core: Token) -> bool:
    """Whether a phrase says only what a plant is like: deciduous, evergreen, weeping, thorny."""
    said = traits_of(core)
    return core.type == "PHRASE" and bool(said) and said <= DESCRIBING


def _role(element: Element) -> str | None:
    found = {token.type for token in element.leads} | {
        ROLES_AFTER[token.type] for token in element.trails if token.type in ROLES_AFTER
    }
    if element.trailed_by("THAN") or element.led_by("THAN"):
        return "LIKE"
    return next((role for role in ROLES if role in found), None)


def _carries_role(before: Element, element: Element) -> bool:
    if before.core.type in ("SIZE", "COLOR") and element.joint == "":
        return element._is_plant
    if describes(before.core) and element.joint == "" and not element.leads:
        return element._is_plant  # "under deciduous trees"
    if before.core.type == "PLANT" and element.joint == "" and traits_of(element.core) == {"kind"}:
        return True  # "under pine trees"
    if before.core.type == "HEIGHT" and element.joint == "" and element.core.type == "PLANT":
        return True  # "ripped out a 20 ft arborvitae"
    if element.core.type != "PLANT" or "BUT" in element.joint:
        return False
    # "a black walnut and an oak": the walnut is a condition of its own, and both stand there.
    return before.core.type == "PLANT" or (before.role in ("SEEN", "OWN") and "AND" in element.joint)


def _only_doubted(element: Element) -> bool:
    """Whether a fact is only told without certainty, which makes no wish of it: "zone 7, I think", but "upright, I think"."""
    said = [token for token in element.trails if token.type == "WISH_AFTER"]
    fact = element.core.type in FIGURES or bool(traits_of(element.core) & OF_THE_SITE)
    return fact and all(token.meaning.get("doubt") for token in said)


def _colour_back(row: list[Element], at: int) -> None:
    """What trails an element reaches back over the elements joined to it by and, or, or nothing."""
    element = row[at]
    if not element.trails:
        return
    if element.trailed_by("WISH_AFTER") and not _only_doubted(element):
        element.wish, element.must = True, False
    for number in range(at, 0, -1):
        before, joined = row[number - 1], row[number]
        listed = joined.joint in ("COMMA", "COMMA+OR") and traits_of(before.core) & traits_of(joined.core)
        if (joined.joint not in ("", "AND", "OR", "SLASH") and not listed) or before.trails:
            return
        if joined.joint == "" and before.core.type not in ("SIZE", "COLOR"):
            return
        if element.trailed_by("WISH_AFTER") and not _only_doubted(element):
            before.wish = True
        if element.trailed_by("NOT_AFTER") and before.core.type == "PLANT" and joined.joint != "":
            before.negated = True
        if element.trailed_by("DIED", "REPLACE_AFTER") and before.core.type == "PLANT" and before.role is None:
            before.role = element.role
