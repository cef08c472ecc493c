"""What someone has to do for a plant to fit, in words: one sentence part for each code a judge gives.

`{0}`, `{1}`, … are lengths, `{a}`, `{b}`, … words of the advice. Practice is that of the trade; sources stand with
the judges.
"""

from __future__ import annotations

from collections.abc import Sequence

from askplant.quantities.lengths import FOOT, Units, say, say_range
from askplant.verdicts.verdict import Advice

TEXTS = {
    "in_time": "give it good ground and time: it comes to {0} only in the best growth, or with age",
    "late": "start with large plants: a small one stands about {0} after {a} years",
    "late.bigger": "start with plants about {1} tall: a small one stands about {0} after {a} years and takes about {b} years",
    "late.best": "give it good soil and water: it usually stands about {0} after {a} years, in the best growth {1}",
    "drought.tolerant": "water it in long dry spells",
    "salt.tolerant": "keep it out of direct spray and rinse it off in spring",
    "wind.tolerant": "shelter it from the worst wind while it is young",
    "pollution.tolerant": "keep it back from the road and rinse off dust",
    "fire.tolerant": "keep it watered, thinned and clear of the house",
    "breakage.tolerant": "knock off wet snow, or tie it in for the winter",
    "roots.well-behaved": "plant it {0} or more from drains, walls and paving",
    "suckers.no": "mow or cut off the suckers once or twice a year",
    "litter.low": "keep it back from paving, or sweep up once a season",
    "pollen.low": "plant it away from windows and seats",
    "longevity.long": "expect to replace it after some decades",
    "shearing.yes": "clip it lightly, and only in this year's growth",
    "fragrance.yes": "plant it by a door or path, for the scent does not carry",
    "thorns.none": "wear gloves, or choose a form without thorns",
    "thorns.present": "plant it close, for its spines are few or soft",
    "density.dense": "clip the tips while it is young to thicken it",
    "density.open": "thin it out every second year",
    "deer.guarded": "protect it with a fence or repellent, above all in winter",
    "rabbit.guarded": "guard the stems with wire mesh in winter",
    "growth.slower": "start with larger plants, and water and feed them in the first years",
    "growth.faster": "cut it back more often",
    "persistence.semi-evergreen": "set it among evergreens, for a hard winter takes some or all of its leaves",
    "pollination.needs a pollinator": "plant another one that flowers with it nearby",
    "pollination.dioecious, female": "plant a male of its kind nearby",
    "pollination.dioecious": "buy a named female, and a male to go with it",
    "soil.clay": "work compost into the clay and plant it a little high",
    "soil.sand": "dig in compost and water it through the first summers",
    "soil.rocky": "clear a wide pocket among the rocks and fill it with soil",
    "soil.loam": "mix grit or compost in, to its taste",
    "form.narrow": "keep it narrow with ties or a yearly trim",
    "form.columnar": "keep it narrow with ties or a yearly trim",
    "form.rounded": "clip it round",
    "form": "shape it with the shears as it grows",
    "zone.shelter": "plant it in spring out of wind and winter sun, and cover it the first winters",
    "zone.warm": "give it afternoon shade and water in the heat, and do not expect it to grow old",
    "zone.warm_part": "in the warmer part of that range give it afternoon shade and summer water",
    "climate.other": "ask the extension office how it does there",
    "kind.tree": "buy it grown as a tree, or train it to one stem while it is young",
    "heat.tolerant": "give it afternoon shade, mulch and water in the hottest weeks",
    "bloom.near": "ask when it flowers locally, for bloom shifts by some weeks with place and year",
    "bloom.short": "plant others beside it that flower before and after, for it flowers a short time",
    "bloom.unseen": "plant something showy beside it, for its flowers are hardly noticed",
    "light.darker": "thin what stands above it, and expect it to be looser and to flower less",
    "light.brighter": "shade it from afternoon sun and water it in drought",
    "moisture.wetter": "plant it on a low mound, out of standing water",
    "moisture.drier": "mulch it and water it in dry spells",
    "ph.lower": "lower the pH with sulfur, and watch for yellow leaves",
    "ph.raise": "add lime after a soil test",
    "safe_for.thorns": "keep it away from where children play, for it is thorny",
    "invasive.elsewhere": "ask the extension office first, for it is listed elsewhere",
    "pests.some": "watch for {a} and treat it early",
    "care.one": "allow for {a}",
    "use.wires": "ask the utility first: many allow {0} under wires",
    "use.wires_old": "left alone it goes on to {0}, so ask the utility first, and keep it low or plant what stays low",
    "use.low_screen": "count on it to hide only what is below {0}",
    "use.vine_screen": "give it a fence or trellis to climb",
    "use.weeping_screen": "set something upright beside it, for a weeping form hides little beside and below it",
    "use.bare_screen": "mix it with evergreens, for alone it screens only in leaf",
    "use.thin_screen": "clip the tips while it is young to thicken it",
    "use.loose_hedge": "grow it as a loose hedge and tip it lightly rather than clip it square",
    "use.windbreak": "plant a double row and water it until it holds",
    "use.foundation": "set it off the wall and between the windows, for it grows to {0}",
    "use.specimen": "give it room on all sides",
    "use.group": "plant a group of three or more, for one alone does not show",
    "use.container": "give it a big pot, water it daily in heat and protect the roots in winter",
    "use.cover": "plant it close and weed until it closes",
    "use.cover_bulb": "plant it among a cover that stays, for it leaves the ground bare once its leaves are gone",
    "use.bank": "water and mulch the slope until it has rooted",
    "use.street": "limb it up for clearance, and ask the town what may stand by the street",
    "use.limbed_shade": "limb it up as it grows, for it is branched to the ground",
    "use.small_shade": "count on a small patch of shade, for it grows to {0}",
    "use.pool_litter": "keep it far enough back that leaves do not fall in the water",
    "use.pool_roots": "plant it {0} or more from the shell and the pipes",
    "like.kin": "look at one first, for it is alike in size and leaf alone",
    "like.size": "allow for its size: about {0}, against {1}",
}
# Lengths that an advice names without having computed them: 10 ft from drains and shells (common practice).
LENGTHS = {"roots.well-behaved": (10 * FOOT,), "use.pool_roots": (10 * FOOT,)}
# What a height is cut with, where shears from the ground do not reach.
REACHED = {"pole": "with a long-reach cutter", "ladder": "from a ladder", "lift": "from a lift"}
LOST = {"flower": "the year's flowers", "some flower": "some of the flowers", "fruit": "the fruit"}


def advised(advice: Advice, units: Units) -> str:
    """One advice in words, in the caller's units."""
    if advice.code in ("hold", "hold_width"):
        return _held(advice, units)
    text = TEXTS.get(advice.code) or TEXTS[advice.code.split(".")[0]]
    lengths = [say(metres, units) for metres in advice.lengths or LENGTHS.get(advice.code, ())]
    return text.format(*lengths, **dict(zip("abc", advice.words, strict=False)))


def _held(advice: Advice, units: Units) -> str:
    """Hold at 12–15 ft with one cut of about 2 ft each late winter, from a ladder; that costs the year's flowers."""
    low, at, cut = advice.lengths
    often, when, green, reach, *costs = advice.words
    size = say_range(low, at, units) if low > 0 else say(at, units)
    tail = ", never into bare wood" if green else ""
    spent = f"; that costs {lost(costs)}" if costs else ""
    if advice.code == "hold_width":
        return f"keep it to {size} wide by trimming about {say(cut, units)} off each side {season(when)}{tail}{spent}"
    tail = f", {REACHED[reach]}{tail}" if reach in REACHED else tail
    if often == "twice":
        return f"hold at {size} with two cuts a year, about {say(cut, units)} in all{tail}{spent}"
    return f"hold at {size} with one cut of about {say(cut, units)} {season(when)}{tail}{spent}"


def season(when: str) -> str:
    """When it is cut, for a cut that comes back every year."""
    return f"each {when}" if when != "after flowering" else "a year, after flowering"


def lost(costs: Sequence[str]) -> str:
    """What cutting takes."""
    return " and ".join(LOST[cost] for cost in costs)
