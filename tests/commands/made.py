"""A small answer made by hand, in the published form, of plants that do not exist."""

from __future__ import annotations

from typing import Any

from askplant.reading.reading import Condition, Conflict, Correction, Mention, Reading, Task, Unread, as_json
from askplant.render.wording import Spoken, Worded

TITLES = {"vesta-alta": "Vesta alta", "vesta-parva": "Vesta parva", "vesta-lata": "Vesta lata"}

REQUEST = "evergren, 10–15 ft, zone 7, ideally fragrant, by the glimmer, no vesta lata"
READING = Reading(
    request=REQUEST,
    conditions=(
        Condition("persistence", "any_of", ("evergreen",), text="evergren", at=(0, 8)),
        Condition(
            "height", "within", minimum=3.048, maximum=4.572, unit="m", basis="grown", text="10–15 ft", at=(10, 18)
        ),
        Condition("zone", "any_of", ("7a", "7b"), text="zone 7", at=(20, 26), note="Read as the whole zone."),
        Condition("fragrance", "any_of", ("yes",), strength="wish", text="fragrant", at=(36, 44)),
    ),
    task=Task(count=2, run=18.288, place="MD", mixed=True, budget="cheap"),
    corrections=(Correction("evergren", "evergreen", (0, 8)),),
    named=(Mention("Vesta lata", "considered", "vesta lata", (64, 74)),),
    unread=(Unread("glimmer", (53, 60), "shimmer"),),
    conflicts=(Conflict((0, 1), "These two hardly go together."),),
)
ASKED = ("evergreen", "height 10–15 ft", "zone 7a–7b", "fragrant")


def size(low: float, high: float) -> dict[str, Any]:
    """A size in the published form."""
    sides = {"label": [low, high], "grown": [low, high], "old": None}
    return {"height": sides, "width": sides, "unit": "m"}


def match(plant: str, rank: int, verdicts: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    """A match in the published form."""
    told = {"plant": plant, "botanical": TITLES[plant], "common": ["tall vesta"], "rank": rank, "fit": 0.9}
    told |= {"size": size(3.2, 4.4), "verdicts": verdicts, "name_notes": [], "cautions": [], "why_here": "Meets all."}
    return told | more


MEETS = [{"condition": index, "verdict": "meets", "has": "so"} for index in range(4)]
CARE = [
    *MEETS[:1],
    {
        "condition": 1,
        "verdict": "with care",
        "has": "grown 18 ft",
        "how": "hold at 12–15 ft with one cut of about 2 ft each late winter",
    },
    {"condition": 2, "verdict": "unknown", "has": None},
    {"condition": 3, "verdict": "misses", "has": "no"},
]
TOXIC = {"about": "toxic", "text": "Poisonous (dogs: mild: leaf). Keep it from dogs; call a vet at once."}
NOTE = {
    "word": "alta",
    "claims": "a tall plant",
    "finds": "grown 12 ft",
    "text": "“alta” speaks of a tall plant; this one grows 12 ft.",
}

JSON: dict[str, Any] = {
    "reading": as_json(READING),
    "base": {"plants": 9, "built": "2026-01-01T00:00:00Z"},
    "matches": [
        match("vesta-alta", 1, MEETS, cautions=[TOXIC], name_notes=[NOTE]),
        match("vesta-parva", 2, CARE),
    ],
    "excluded": {
        "total": 7,
        "by_condition": [
            {"condition": 0, "misses": 3, "alone": 0},
            {"condition": 1, "misses": 6, "alone": 2},
        ],
        "near": [
            {
                "plant": "vesta-lata",
                "botanical": "Vesta lata",
                "misses": [
                    {"condition": 1, "has": "grown 20 ft", "asked": "height 10–15 ft", "off_by": 1.524, "unit": "m"}
                ],
            }
        ],
    },
    "named": [
        {
            "plant": "vesta-lata",
            "botanical": "Vesta lata",
            "verdicts": MEETS,
            "text": "Vesta lata would not do here: too tall.",
        }
    ],
    "ask_back": [{"trait": "moisture", "question": "Does water stand there?", "splits": {"yes": 1, "no": 2}}],
    "loosen": [
        {
            "changes": [{"condition": 1, "from": "height 10–15 ft", "to": "height 10–20 ft"}],
            "gains": 1,
            "plants": ["vesta-lata"],
        }
    ],
    "plan": None,
}
SHOWN = (
    Spoken(
        "vesta-alta",
        "Vesta alta",
        "tall vesta",
        "10–14 ft × 10–14 ft",
        "stands anything",
        "deer eat it",
        "fence it",
        (),
        (),
        "Tall vesta.",
    ),
    Spoken(
        "vesta-parva",
        "Vesta parva",
        None,
        "18 ft × 9 ft; tags say 10 ft",
        None,
        None,
        None,
        (CARE[1]["how"],),
        ("zone 7a–7b",),
        "Small vesta.",
    ),
)
CONSIDERED = tuple(one["text"] for one in JSON["named"])
WORDED = Worded(JSON, 2, 1, ASKED, SHOWN, CONSIDERED, ("evergreen and height 10–15 ft pull against each other.",))


def without_matches() -> Worded:
    """The same request where nothing fits."""
    return Worded(JSON | {"matches": []}, 0, 0, ASKED, (), CONSIDERED, WORDED.tensions)
