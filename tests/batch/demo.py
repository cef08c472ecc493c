"""Three hundred requests of a nursery, Quillon Hollow, and a landscape firm, Fennick & Oar: both are invented."""

from __future__ import annotations

import random

KINDS = [
    "evergreen shrub",
    "small tree",
    "screen",
    "hedge",
    "perennial",
    "ground cover",
    "fern",
    "shade tree",
    "vine",
    "grass",
]
LIGHTS = ["full sun", "part shade", "shade", "3 hours of sun", "north side"]
SOILS = ["heavy clay", "sand", "wet", "dry", "acid soil", ""]
MORE = [
    "deer resistant",
    "white flowers",
    "ideally fragrant",
    "no thorns",
    "native",
    "not messy",
    "safe for dogs",
    "",
    "in stock",
]
SLIPS = {"evergreen": "evergren", "perennial": "perenial", "fragrant": "fragrent", "resistant": "resistent"}
HEADINGS = ["job", "customer", "request", "received", "value"]
HEIGHTS = ["at most 3 ft", "4-6 ft", "10–15 ft", "about 20 ft", "2 m", ""]


def requests(count: int = 300) -> list[list[str]]:
    """The rows of a table of requests, the same every time; some empty, some not to be read, some with formulas beside them."""
    dice = random.Random(7)
    rows = []
    for number in range(1, count + 1):
        parts = [
            dice.choice(KINDS),
            dice.choice(HEIGHTS),
            f"zone {dice.randint(3, 9)}",
            dice.choice(LIGHTS),
            dice.choice(SOILS),
            dice.choice(MORE),
        ]
        text = ", ".join(part for part in parts if part)
        if number % 7 == 0:
            for right, wrong in SLIPS.items():
                text = text.replace(right, wrong)
        text = {0: "", 1: "blorptastic zzyx", 2: "9-May"}.get(number % 50, text)
        customer = ['=HYPERLINK("x")', "Fennick & Oar", "Zoë Quillon", 'O\'Dell, "Bud"', "line one\nline two"][
            number % 5
        ]
        rows.append([f"Q{number:03}", customer, text, f"2027-03-{number % 28 + 1:02}", f"-{number}.50"])
    return rows
