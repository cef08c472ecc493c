"""What the care calendar says: a sentence for each code of a task, what is added to it, and what is not known.

`{them}` are the plants, the other placeholders figures of the rules (care_figures.py).
"""

from __future__ import annotations

DIG = "Before any digging call the local utility-marking service (811 in the US) and wait for the marks."
SOUTH = "Months and places are those of the US and Canada; the southern hemisphere is not served."
SAYS: dict[str, str] = {
    "planting.spring": "plant {them}",
    "planting.tender": "plant {them}, after the last frost",
    "planting.cool_spring": "plant {them}, while it is cool: they stand a light frost",
    "planting.cool_fall": "plant {them}, for fall, and in mild winters until spring",
    "planting.palm": "plant {them}, into warm soil",
    "planting.fall_deciduous": "plant {them}; potted or balled, no bare roots in fall",
    "planting.fall_evergreen": "plant {them}; potted or balled, no later, so that roots take hold before the ground freezes",
    "planting.fall_herbaceous": "plant {them}, early enough to root before frost heaves the ground",
    "planting.fall_bulb": "plant {them}",
    "planting.fall_blooming_bulb": "plant {them}, while at rest",
    "planting.frost_free": "plant {them}, in the cooler half of the year",
    "water.daily": "water {them} daily for {weeks}: {dose}",
    "water.often": "water {them} {days}, up to week {week}: {dose}",
    "water.dry_first": "water {them} {days} for {weeks}: {dose}; let the soil dry between",
    "water.dry_often": "water {them} {times} a week, up to week {week}, less where it rains: {dose}",
    "water.dry": "water {them} {days} without rain, once the soil has dried",
    "water.succulent": "water {them} in at planting, then only when the soil has dried: wet soil rots the roots",
    "water.bulb": "water {them} in at planting, down to the bulb, then only when the soil has dried: wet soil rots it",
    "water.bulb_spring": "in a dry spring water {them} while the leaves are green; none once they yellow, for the bulbs rest dry",
    "water.weekly": "give {them} {amount} of water in every week that brings less than {amount} of rain",
    "water.second": "give {them} {amount} of water in every week that brings less than {amount} of rain",
    "water.third": "water {them} in dry spells",
    "water.sensitive": "give {them} {amount} of water in every week that brings less than {amount} of rain: sensitive to drought",
    "water.moderate": "water {them} {times} a month in drought, deep",
    "water.tolerant": "water {them} only in a long drought",
    "water.before_freeze": "in a dry fall, water {them} well before the ground freezes",
    "prune.late_winter": "prune {them}, before growth begins",
    "prune.early_spring": "prune {them}, as buds swell",
    "prune.late_spring": "prune {them}",
    "prune.candles": "pinch or shorten the soft candles of {them}",
    "prune.needled": "prune or trim {them}",
    "prune.summer": "prune {them}, in full leaf",
    "prune.dormant": "prune {them}, while leafless or at rest",
    "prune.after_bloom": "prune {them}, right after bloom; the sooner the better",
    "prune.long_bloom": "prune {them} while the flowers fade: later cuts take the next year's buds",
    "prune.cut_back": "cut back {them}, before new growth",
    "prune.tidy": "take spent leaves and stalks off {them}, before new growth",
    "prune.bulb": "let the leaves of {them} yellow before cutting them: they feed the bulbs",
    "prune.stalks": "cut the spent flower stalks of {them}, and pull dead leaves",
    "prune.pads": "take pads, stalks or leaves of {them} that are in the way off at a joint",
    "prune.canes": "thin the oldest canes of {them} at the ground; a cane that is topped grows no higher",
    "prune.rhizomes": "look over the barrier and the edge of {them}, and cut every rhizome that has run out",
    "feed.rose": "feed {them} as buds break; nothing after {until}",
    "feed.rhododendron": "feed {them} if leaves are pale, shortly after bloom; nothing after {until}",
    "feed.annual": "feed {them} through summer",
    "mulch.spring": "mulch {them} {depth} deep out to the branch tips, never against the bark",
    "mulch.crown": "mulch around {them} {depth} deep, never over the crowns",
    "mulch.canes": "mulch {them} {depth} deep among the canes, and leave the leaves that fall",
    "mulch.closing": "mulch between {them} {depth} deep until they have closed, never over the shoots",
    "mulch.gravel": "lay gravel around {them} {depth} deep, or nothing: bark or leaves at the crown rot it",
    "winter.cover": "cover {them}: {depth} of mulch on the roots, off the stem, and burlap on a frame to windward",
    "winter.mound": "cover the roots of {them} with {depth} of mulch once the ground has frozen; off in spring",
    "winter.buds": "heap dry leaves over {them} to the tips in a ring of wire, or frost kills the flower buds; off in spring",
    "winter.boughs": "lay evergreen boughs over {them} once the ground has frozen, no mulch; off in spring",
    "winter.lift": "dig up {them} when frost has blackened the leaves, and keep them dry, dark and free of frost",
    "winter.screen": "shelter {them} from wind and winter sun with a burlap screen, open at the top",
    "winter.tie": "tie {them} loosely where snow lies, so that it cannot splay them",
    "winter.trunk": "put white guards on the trunks of {them}, against sunscald and gnawing; off after the last frost",
    "winter.deer": "keep deer off {them} with a fence or a repellent, renewed as its label says",
    "winter.rabbit": "keep rabbits and mice off {them} with a wire guard",
    "growth.deer": "keep deer off {them} while they are up, with a fence or a repellent, renewed as its label says",
    "growth.rabbit": "keep rabbits off the young shoots of {them} with a low wire fence",
    "enjoy.bloom": "{them} in bloom",
    "enjoy.fruit": "{them} in fruit",
    "enjoy.harvest": "fruit of {them} ripens",
}
PEST = "{0} on {them}: {1} (seen then in {2})"
ADDED = {
    "marginal": "in spring only, so that it roots before winter",
    "bare roots": "bare roots by {bare} at the latest, while the buds are at rest",
    "no bare roots": "potted or balled, for it is too late for bare roots",
    "barrier": "it runs: ring it with a root barrier {depth} deep that stands {rise} above the ground",
    "green only": "cut only where it is green: bare wood does not sprout",
    "dry day": "on a dry day, for fire blight; blighted wood comes out in late winter",
    "costs bloom": "this costs some of the year's bloom",
    "costs fruit": "this costs some of the year's fruit",
    "costs crop": "this costs some of the year's bloom and fruit, and what is left grows better",
}
# Whose figures a part that is added says, where not those of its own task.
OF_RULE = {"barrier": "prune.rhizomes"}
NEVER = {
    "never.oak_wilt": "never {0}, for oak wilt",
    "never.elm_disease": "never {0}, for Dutch elm disease",
    "never.bleeding": "not in early spring, when cuts bleed",
}
NOT_KNOWN = {
    "zone.misses": "Not hardy here, so winter may kill it however it is kept: {them}.",
    "zone.marginal": "Hardy here only in shelter, so plant in spring and cover it the first winters: {them}.",
    "zone.warm": "Too warm here for it to do well: {them}.",
    "zone.unknown": "Whether it is hardy here is not known, so fall planting is left out: {them}.",
    "planting.out_of_season": "The time of planting is none of the usual ones ({0}), so water it closely: {them}.",
    "prune.seldom": "Seldom pruned, dead and broken wood apart: {them}.",
    "prune.unknown": "When to prune is not known: {them}.",
    "prune.no_time": "No good time to prune is left here (the usual one, {0}, does harm); only dead wood: {them}.",
    "pests.unknown": "Pests are not known: {them}.",
    "drought.unknown": "How it stands drought is not known, so no watering is told from the fourth year on: {them}.",
    "deer.unknown": "Whether deer browse it is not known: {them}.",
    "bloom.unknown": "When it blooms is not known: {them}.",
}
NO_MONTHS = "In which months these show is not in the tables, so look at any time: {0}."
# Dated by the planting itself, so that no year is said of them.
DATED = ("water.daily", "water.often", "water.dry_first", "water.dry_often", "water.bulb")
ORDINALS = ("first", "second", "third", "fourth", "fifth")
