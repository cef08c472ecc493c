"""Words that speak of a plant named before them: the same look, no more of those, and then it died."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from askplant.parsing import Token
from askplant.reading.elements import Element, traits_of
from askplant.reading.meanings import names_kind
from askplant.reading.reading import Condition, Mention

if TYPE_CHECKING:
    from askplant.reading.conditions import Maker

# What a plant may have the same of as another.
OF_LOOK = frozenset("fragrance flower form density".split())
# How many tokens back the plant may have been named that "I want one" asks for.
LONGED_REACH = 14
# What may stand between "like that" and how it is to differ.
JOINING = frozenset("FILLER PUNCT COMMA BUT AND".split())


def compared(maker: Maker) -> None:
    """`the same look, only smaller`: the last plant brought up is what the wanted one is to be like."""
    same = next((token for at, token in enumerate(maker.tokens) if _says_same(maker, at)), None)
    if same is None:
        return
    mention = next((one for one in reversed(maker.made.named) if one.at[0] < same.start), None)
    wished = next((at for at in range(len(maker.sources) - 1, -1, -1) if _is_admired(maker, at, same)), None)
    than = next((str(token.meaning["value"]) for token in maker.tokens if token.type == "THAN"), None)
    than = than or _differs_behind(maker, same)
    if wished is not None and (mention is None or mention.at < maker.sources[wished][0].at):
        # "I love lilacs but it's too hot. What gives the same scent?": it is its like that is wanted.
        admired, element = maker.sources[wished]
        maker.sources[wished] = (admired._replace(trait="like", than=than), element)
    elif mention is not None:
        like = Condition(
            "like", "any_of", (mention.plant,), strength="wish", text=mention.text, at=mention.at, than=than
        )
        if mention.role not in ("died", "to be replaced"):
            maker.made.named.remove(mention)
        maker.sources.append((like, Element(same)))


def longed(maker: Maker) -> None:
    """`My neighbor has a smokebush. I'd love one too`: the plant brought up last before such words is wanted."""
    for at, token in enumerate(maker.tokens):
        if maker.request[token.start : token.end] != "one" or not _is_longed_for(maker, at):
            continue
        mention = next((one for one in reversed(maker.made.named) if one.at[0] < token.start), None)
        if mention is None or mention.role not in ("seen", "considered") or _named_since(maker, mention.at[1], at):
            continue
        maker.made.named.remove(mention)
        maker.made.used.append(token)
        maker.made.loose[:] = [other for other in maker.made.loose if other is not token]
        behind = maker.tokens[at + 1 : at + 4]
        than = next((str(one.meaning["value"]) for one in behind if one.type == "THAN"), None)
        than = than or _differs_behind(maker, token)
        trait = "like" if than else "taxon"  # "I want one, but smaller"
        plant = (mention.plant,)
        wanted = Condition(trait, "any_of", plant, strength="wish", text=mention.text, at=mention.at, than=than)
        maker.sources.append((wanted, Element(token)))


def _is_longed_for(maker: Maker, at: int) -> bool:
    """Whether "one" is all that is wished for: "I'd love one", but not "I'd love one tree"."""
    before = [token for token in maker.tokens[max(at - 3, 0) : at] if token.type not in ("FILLER", "TO")]
    after = maker.tokens[at + 1] if at + 1 < len(maker.tokens) else None
    alone = after is None or after.type in ("STOP", "COMMA", "FILLER", "SEEN", "PLACE", "AND")
    return bool(before) and before[-1].type in ("WISH", "WANT", "MUST") and alone


def _named_since(maker: Maker, end: int, at: int) -> bool:
    """Whether a kind or another plant was named between a mention and the words that point back, or it lies far back."""
    since = maker.tokens[bisect_left(maker.starts, end) : at]
    parted = any(token.type == "STOP" for token in since)  # "under oaks, ideally one that …" is no oak
    return not parted or len(since) > LONGED_REACH or any(one.type == "PLANT" or names_kind(one) for one in since)


def refused(maker: Maker) -> None:
    """`… it's privet, so no more of that`: the plants named last before such words are not wanted."""
    for token in maker.tokens:
        if token.type != "BACKNOT":
            continue
        wanted = [at for at, (one, _) in enumerate(maker.sources) if one.trait == "taxon" and one.at[0] < token.start]
        named = [one for one in maker.made.named if one.at[0] < token.start]
        if named and (not wanted or named[-1].at > maker.sources[wanted[-1]][0].at):
            one = named[-1]
            maker.made.named.remove(one)
            refused = Condition("taxon", "none_of", (one.plant,), text=one.text, at=one.at)
            maker.sources.append((refused, Element(token)))
        elif wanted:
            found, element = maker.sources[wanted[-1]]
            maker.sources[wanted[-1]] = (found._replace(test="none_of", strength="must"), element)


def buried(maker: Maker) -> None:
    """`We had a daphne. Everyone loved it, then it died`: the plant brought up last before such words is dead."""
    for token in (one for one in maker.tokens if one.type == "BACKDIED"):
        _bury_named_only(maker, token)
        at = next(
            (n for n in range(len(maker.made.named) - 1, -1, -1) if maker.made.named[n].at[0] < token.start), None
        )
        if at is None or maker.made.named[at].role in ("died", "to be replaced"):
            continue
        one = maker.made.named[at]
        maker.made.named[at] = one._replace(role="died")
        dead = Condition("taxon", "none_of", (one.plant,), strength="wish", text=one.text, at=one.at)
        maker.sources.append((dead, Element(token)))


def _bury_named_only(maker: Maker, token: Token) -> None:
    """`Boxwood hedge, 2 ft. They all got blight and died`: what was only named, and no word wished for, is brought up."""
    at = next((n for n in range(len(maker.sources) - 1, -1, -1) if _is_plant_before(maker.sources[n], token)), None)
    if at is None:
        return
    found, element = maker.sources[at]
    later = any(one.at[0] > found.at[0] and one.at[0] < token.start for one in maker.made.named)
    if found.test == "any_of" and element.role is None and not (element.wish or element.must or element.leads or later):
        del maker.sources[at]
        maker.made.named.append(Mention(str(found.values[0]), "seen", found.text, found.at))


def _is_plant_before(source: tuple[Condition, Element], token: Token) -> bool:
    return source[0].trait == "taxon" and source[0].at[0] < token.start


def _differs_behind(maker: Maker, same: Token) -> str | None:
    """How the wanted plant is to differ by the size right behind the words: "something like that but smaller"."""
    behind = (token for token in maker.tokens[bisect_left(maker.starts, same.end) :] if token.type not in JOINING)
    size = next(behind, None)
    if size is None or size.type != "SIZE" or not str(size).endswith("er"):
        return None
    maker.sources = [source for source in maker.sources if source[1].core is not size]
    return "smaller" if size.meaning["value"] == "small" else "larger"


def _says_same(maker: Maker, at: int) -> bool:
    """Whether words say that what follows is to be as the plant before has it: "the same look", "the same scent"."""
    token = maker.tokens[at]
    if token.type != "FILLER" or str(token) != "same" or at + 1 >= len(maker.tokens):
        return token.type == "SAME"
    after = maker.tokens[at + 1]
    return after.type in ("LEAFHEAD", "FLOWERHEAD") or bool(traits_of(after) & OF_LOOK)


def _is_admired(maker: Maker, at: int, same: Token) -> bool:
    """Whether a condition wishes for a plant and stands in a sentence before the words for the same look."""
    found = maker.sources[at][0]
    if (found.trait, found.test, found.strength) != ("taxon", "any_of", "wish") or found.at[1] > same.start:
        return False
    between = maker.tokens[bisect_left(maker.starts, found.at[1]) : bisect_left(maker.starts, same.start)]
    return any(token.type == "STOP" for token in between)
