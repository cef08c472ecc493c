"""How like the climates of its home the place is: a hardiness zone tells of winter alone.

A plant is at home where it grows wild, and does well as a rule in a climate of the same kind; from elsewhere it may be hardy
and yet fail of summer heat, drought or the want of either. That moves a plant up or down and keeps none out.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from askplant.verdicts.safety import REGIONS
from askplant.verdicts.verdict import Advice, Judgement, care, meets


class Climate(NamedTuple):
    """States and provinces with one kind of climate, and the level-2 regions elsewhere (WGSRPD, 2nd edition, 2001) that have
    it in a good part.
    """

    states: frozenset[str]
    elsewhere: frozenset[str]


def _climate(states: str, elsewhere: str) -> Climate:
    return Climate(frozenset(states.split()), frozenset(elsewhere.split()))


# Kinds by the classes of Köppen and Geiger as drawn by Peel, Finlayson and McMahon, 2007, recalled; a state of several kinds
# stands under each.
CLIMATES = (
    # humid, with cold winters (Dfa, Dfb, Dwa)
    _climate(
        "CT DC DE IA IL IN KY MA MD ME MI MN MO NE NH NJ NY OH PA RI SD ND VA VT WI WV MB NB NL NS ON PE QC",
        "10 11 13 14 30 31 33 36 38",
    ),
    # humid, with hot summers and mild winters (Cfa)
    _climate("AL AR DC DE FL GA KY LA MD MO MS NC NJ OK SC TN TX VA", "33 36 38 83 84 85"),
    # steppe and mountains (BSk, dry Dfb)
    _climate("CO ID KS MT ND NE NM NV OK OR SD UT WA WY AB BC SK", "14 30 32 33 34 37"),
    # desert and hot steppe (BWh, BSh)
    _climate("AZ CA NM NV TX UT", "20 27 34 35 50 79"),
    # dry summers and mild wet winters (Csa, Csb)
    _climate("CA OR", "12 13 20 21 27 34 50"),
    # mild and moist, with dry or cool summers (Csb, Cfb)
    _climate("AK BC OR WA", "10 11 12 13 33 38 51"),
    # frost-free or nearly so (A, warm Cwa and Cfa)
    _climate("FL HI", "22 23 24 25 26 29 40 41 42 43 60 61 62 63 80 81 82 83 84"),
)
# Where it grows wild at the place itself counts so much at least, whatever climates it knows besides.
HOME = 0.5
# So much of where it grows wild has to be of such a climate; below that it may do, and has not shown it.
LIKE = 0.5
# Judged in tenths: nobody knows it closer.
STEPS = 10


def of_climate(codes: Iterable[str] | None, place: str) -> Judgement:
    """Where it grows wild, held against the climate of a state or province; of what is silent nothing is held against it."""
    wild = set(codes or ())
    if not wild:
        return meets(None, 0.0)
    share = round(STEPS * len(wild & like(place)) / len(wild)) / STEPS
    if place in wild:
        return meets(None, HOME + (1 - HOME) * share)
    return meets(None, share) if share >= LIKE else care(None, Advice("climate.other"), share)


@lru_cache(maxsize=128)
def like(place: str) -> frozenset[str]:
    """The codes of states, provinces and regions with a climate of the kind that a place has; regions of North America count
    where a state of them does.
    """
    kinds = [climate for climate in CLIMATES if place in climate.states]
    states = frozenset().union(*(climate.states for climate in kinds))
    around = {region for region, codes in REGIONS.items() if place in codes.split()}
    return states | around | frozenset().union(*(climate.elsewhere for climate in kinds))
