"""A reading and its answer → a plan of the whole screen, or what stands in its way.

Two stages, each exact: the counts of greatest worth within the shares (counts.py), then the order of least trouble for
these counts (order.py). No order changes what the counts are worth, as the rooms add up to the run in any.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from askplant import where
from askplant.answer.answer import Answer
from askplant.plan.candidates import Candidate, Planted, Screening, candidate, screening
from askplant.plan.concerns import concerns
from askplant.plan.counts import KIN, Prices, bed_of, counts, price_of, worth_of
from askplant.plan.goal import goal_of
from askplant.plan.growing import Course
from askplant.plan.order import Sort, ordered, stretches
from askplant.plan.outlook import bands, closing, latest_of, outgrown, overgrown
from askplant.plan.plan import Bed, Goal, Kind, Options, Plan, Position, Refusal, Substitute
from askplant.plan.program import Searches
from askplant.plan.shares import ALL, most
from askplant.plan.spacing import centres
from askplant.plan.tables import Planning, Shares, planning
from askplant.quantities.lengths import FOOT, Units
from askplant.stock import Stock
from askplant.verdicts.availability import keeping
from askplant.verdicts.columns import columns_of
from askplant.verdicts.ground import LIGHT, MOISTURE
from askplant.verdicts.sizes import TOLERANCE, one

# A longer run is planned in parts: its ground, its light and its end are hardly one. Common practice.
LONGEST_RUN = 1000 * FOOT
# Shares that are tried, from the mildest on, to say which would make a plan possible.
RAISED = (0.4, 0.5, 0.67, 0.8, 1.0)


class _Setting(NamedTuple):
    """What all steps go by. `each` is the goal for the plants of one row, which two rows leave less depth."""

    answer: Answer
    base: Planted
    goal: Goal
    each: Goal
    options: Options
    table: Planning
    shares: Shares
    apart: float
    searches: Searches


class _Field(NamedTuple):
    """The plants to choose from: those that can screen, as the choice sees them, and how many were set aside for what."""

    screens: dict[int, Screening]
    candidates: tuple[Candidate, ...]
    aside: tuple[tuple[str, int], ...]


def plan(
    answer: Answer,
    base: Planted,
    options: Options | None = None,
    stock: Stock | None = None,
    units: Units | None = None,
    traits: Path | None = None,
) -> Plan | Refusal:
    """The screen that an answer's matches make best, or why there is none.

    `units` are those to lay it out in, else the request's; `traits` is the folder of planning.toml.
    """
    found = _plan(answer, base, options or Options(), stock, units or answer.reading.units, traits)
    return found._replace(stock=stock) if isinstance(found, Refusal) else found


def _plan(
    answer: Answer, base: Planted, options: Options, stock: Stock | None, units: Units, traits: Path | None
) -> Plan | Refusal:
    goal = goal_of(answer.reading, units)
    if goal is None:
        return Refusal("no run")
    if goal.run > LONGEST_RUN + TOLERANCE:
        return Refusal("run too long", (goal.run, LONGEST_RUN))
    if not answer.matches:
        return Refusal("nothing matches", loosen=bool(answer.loosen))
    table = planning(traits or where.folder("traits"))
    if options.shares is not None:
        goal = goal._replace(one_kind=False)
    apart = table.rows[goal.use].apart[options.spacing] if options.rows == "staggered" else 0.0
    if goal.depth is not None and goal.depth - apart < TOLERANCE:
        return Refusal("too shallow", (apart, goal.depth))
    each = goal if goal.depth is None else goal._replace(depth=goal.depth - apart)
    shares = ALL if goal.one_kind else options.shares or table.shares
    setting = _Setting(answer, base, goal, each, options, table, shares, apart, Searches())
    field = _field(setting, stock)
    if not field.candidates:
        code = "none in stock" if stock is not None else "none can screen"
        return Refusal(code, (goal.reach,), set_aside=field.aside)
    found = _counted(setting, field)
    return _refused(setting, field) if found is None else _planned(setting, field, found, stock)


def _field(setting: _Setting, stock: Stock | None) -> _Field:
    """With a stock list every match in stock is considered: a longer list then never loses a plant."""
    answer, base, goal, each, options, table, _, apart, _ = setting
    share = table.spacing[goal.use].shares[options.spacing]
    share *= table.dry if goal.dry else 1.0
    share *= table.rows[goal.use].along if options.rows == "staggered" else 1.0
    buy = answer.reading.task.buy._replace(quantity=None)
    offers = [] if stock is None else [offer for offer in stock.offers if keeping((offer,), buy) != "no"]
    among = None if stock is None else frozenset(offer.plant for offer in offers)
    found, aside = screening(answer, base, each, options.consider if stock is None else None, among, tight=apart > 0)
    screens = {screen.match.plant: screen for screen in found}
    if stock is None:
        offered = [candidate(screen, base, each, share, table.worth) for screen in found]
    else:
        offered = [
            candidate(screens[offer.plant], base, each, share, table.worth, offer)
            for offer in sorted(offers, key=lambda offer: (offer.plant, offer.container, offer.price or 0.0))
            if offer.plant in screens
        ]
    return _Field(screens, tuple(offered), aside)


def _counted(setting: _Setting, field: _Field) -> tuple[int, ...] | None:
    """How many of each candidate; of one kind only, the one that makes the row worth most, where that was asked."""
    run, shares, prices = setting.goal.run, setting.shares, _prices(setting)
    if not setting.goal.one_kind:
        return counts(field.candidates, run, shares, prices, setting.searches)
    best: tuple[int, ...] | None = None
    for plant in dict.fromkeys(offered.plant for offered in field.candidates):
        alone = [one if one.plant == plant else one._replace(limit=0) for one in field.candidates]
        found = counts(alone, run, shares, prices, setting.searches)
        if found is not None and (best is None or worth_of(alone, found) > worth_of(alone, best)):
            best = found
    return best


def _prices(setting: _Setting) -> Prices:
    worth = setting.table.worth
    return Prices(worth.kind, worth.odd, worth.clash, setting.apart, setting.goal.budget)


def _planned(setting: _Setting, field: _Field, found: Sequence[int], stock: Stock | None) -> Plan:
    goal, base, table = setting.goal, setting.base, setting.table
    chosen = [(one, count) for one, count in zip(field.candidates, found, strict=True) if count]
    chosen.sort(key=lambda pair: (-pair[1], pair[0].rank, pair[0].plant))
    best = max(range(len(chosen)), key=lambda n: (chosen[n][0].dependable, chosen[n][0].worth, -chosen[n][0].rank))
    left = max(0.0, round(goal.run - sum(count * one.room for one, count in chosen), 4))
    sorts = [Sort(one.plant, one.genus, one.room, one.dependable, count, one.tall, one.wide) for one, count in chosen]
    spot = min(max(goal.spot - left / 2, 0.0), goal.run - left)
    longest = sum(found) if goal.one_kind else table.longest
    order = ordered(sorts, best, spot, longest, setting.apart, setting.searches).order
    positions = _positions(order, sorts, goal.run, staggered=setting.options.rows == "staggered")
    kinds = [_kind(one, count, field.screens[one.plant], base, setting.each) for one, count in chosen]
    widths: list[Course] = [field.screens[one.plant].width for one, _ in chosen]
    priced = [(one.offer.price, count) for one, count in chosen if one.offer and one.offer.price is not None]
    off = (max(0.0, abs(place.at - goal.spot) - sorts[best].room / 2) for place in positions if place.kind == best)
    return Plan(
        goal=goal,
        options=setting.options,
        shares=setting.shares,
        caps=tuple(most(share, len(positions)) for share in setting.shares),  # type: ignore[arg-type]
        kinds=tuple(kinds),
        positions=positions,
        apart_rows=setting.apart,
        open_ends=left,
        closing=closing(positions, widths),
        reaches=latest_of([kind.reaches for kind in kinds]),
        bed=_bed([one for one, _ in chosen], goal, base),
        best=best,
        off_spot=min(off),
        same_genus=sum(sorts[here.kind].genus == sorts[there.kind].genus for here, there in pairwise(positions)),
        overgrown=overgrown(positions, [field.screens[one.plant] for one, _ in chosen], sorts, setting.apart),
        stretches=stretches(len(positions)),
        proved=setting.searches.proved,
        objective=worth_of(field.candidates, found, _prices(setting)),
        of=len(field.screens),
        set_aside=field.aside,
        concerns=concerns(setting.answer.reading, kinds, columns_of(base), table.words, setting.each.depth),
        stock=stock,
        substitutes=_substitutes(setting, chosen, stock) if stock is not None else (),
        total=sum(price * count for price, count in priced) if priced else None,
        unpriced=len(positions) - sum(count for _, count in priced) if stock is not None else 0,
        told=table.told
        | {"spacing": table.told[f"spacing.{goal.use}"], "rows": {"source": table.rows[goal.use].source}},
    )


def _positions(order: Sequence[int], sorts: Sequence[Sort], run: float, staggered: bool) -> tuple[Position, ...]:
    """Where each plant stands; in two rows by turns in front and behind."""
    at = centres([sorts[kind].room for kind in order], run)
    return tuple(
        Position(kind, place, n % 2 if staggered else 0) for n, (kind, place) in enumerate(zip(order, at, strict=True))
    )


def _bed(chosen: Sequence[Candidate], goal: Goal, base: Planted) -> Bed:
    """The bed of the row, with the plants that only tolerate its classes, and those whose cards are silent."""
    columns = columns_of(base)
    light, moisture, watered = bed_of(chosen)
    named: list[str | None] = []
    bears: dict[int, None] = {}
    silent: dict[int, None] = {}
    for trait, classes, asked, order in (
        ("light", light, goal.light, LIGHT),
        ("moisture", moisture, goal.moisture, MOISTURE),
    ):
        own = {one.plant: frozenset(columns.value(trait, one.plant)[0] or ()) for one in chosen}
        best = _class_of(classes, asked, own.values(), order)
        named.append(best)
        if best is not None:
            bears |= dict.fromkeys(plant for plant, words in own.items() if words and best not in words)
            silent |= dict.fromkeys(plant for plant, words in own.items() if not words)
    return Bed(named[0], named[1], watered, tuple(bears), tuple(silent))


def _class_of(
    classes: frozenset[str], asked: frozenset[str], own: Iterable[frozenset[str]], order: Sequence[str]
) -> str | None:
    """Of the classes that suit all plants one that was asked for, before others; then that in which most do well; then
    the first in order.
    """
    well = Counter(word for words in own for word in words)
    return min(classes, key=lambda word: (word not in asked, -well[word], order.index(word)), default=None)


def _kind(one_of: Candidate, count: int, screen: Screening, base: Planted, goal: Goal) -> Kind:
    columns, n = columns_of(base), one_of.plant
    forms = columns.value("form", n)[0] or ()
    return Kind(
        plant=n,
        number=count,
        room=one_of.room,
        rank=one_of.rank,
        fit=screen.match.fit,
        worth=one_of.worth,
        dependable=one_of.dependable,
        persistence=one(columns.value("persistence", n)[0]),
        form=forms[0] if forms else None,
        reaches=screen.height.years_to(goal.reach - TOLERANCE),
        heights=bands(screen.height),
        widths=bands(screen.width),
        then=screen.height.at(goal.by_year) if goal.by_year is not None else None,
        outgrown=outgrown(screen, goal),
        prune_when=screen.sizes[0].prune_when,
        cares=tuple((n, screen.match.judgements[n]) for n in screen.match.why.cares),
        unknowns=screen.match.why.unknowns,
        cautions=screen.match.cautions,
        offer=one_of.offer,
    )


def _substitutes(setting: _Setting, chosen: Sequence[tuple[Candidate, int]], stock: Stock) -> tuple[Substitute, ...]:
    """Where the plan without a stock list has more of a plant than there are, what stands in for it: of the plants that
    are used more than there, those nearest to it in the answer's ranking.
    """
    free = _field(setting, None)
    setting = setting._replace(goal=setting.goal._replace(budget=None))
    ideal = _counted(setting, free) or (0,) * len(free.candidates)
    wanted = {one.plant: count for one, count in zip(free.candidates, ideal, strict=True) if count}
    there: Counter[int] = Counter()
    unlimited = {offer.plant for offer in stock.offers if offer.quantity is None}
    used: Counter[int] = Counter()
    for offer in stock.offers:
        there[offer.plant] += offer.quantity or 0
    for one_of, count in chosen:
        used[one_of.plant] += count
    ranks = {match.plant: match.rank for match in setting.answer.matches}
    spare = {plant: count - wanted.get(plant, 0) for plant, count in used.items() if count > wanted.get(plant, 0)}
    found = []
    for plant in sorted(wanted, key=lambda plant: ranks[plant]):
        short = wanted[plant] - there[plant]
        if short <= 0 or plant in unlimited:
            continue
        instead: list[tuple[int, int]] = []
        for other in sorted(spare, key=lambda other: (abs(ranks[other] - ranks[plant]), ranks[other])):
            taken = min(spare[other], short - sum(count for _, count in instead))
            if taken > 0:
                instead.append((other, taken))
                spare[other] -= taken
        found.append(Substitute(plant, wanted[plant], there[plant], tuple(instead)))
    return tuple(found)


def _raised(shares: Shares) -> Iterator[Shares]:
    """Greater shares, the mildest first: of the families alone, of the genera too, of all."""
    for share in RAISED:
        for first in (2, 1, 0):
            raised = Shares(*(max(share, own) if n >= first else own for n, own in enumerate(shares)))
            if raised != shares:
                yield raised


def _refused(setting: _Setting, field: _Field) -> Refusal:
    """Why no counts fill the run: too little money, too short a run, too few kinds, too small a stock, or no common ground."""
    candidates, run, shares = field.candidates, setting.goal.run, setting.shares
    if setting.goal.budget is not None:
        free = setting._replace(goal=setting.goal._replace(budget=None))
        found = _counted(free, field)
        if found is None:
            return _refused(free, field)
        cost = sum(count * price_of(one) for one, count in zip(candidates, found, strict=True))
        return Refusal("over budget", (run,), amounts=(setting.goal.budget, cost))
    narrowest = min(one.room for one in candidates)
    if run < narrowest - TOLERANCE:
        return Refusal("run too short", (run, narrowest))
    kin = tuple(len({of(one) for one in candidates}) for of in KIN)
    for raised in _raised(shares):
        if counts(candidates, run, raised) is not None:
            return Refusal("too few kinds", (run,), kin, field.aside, raised)
    unlimited = _Field(field.screens, tuple(one._replace(limit=None) for one in candidates), field.aside)
    if any(one.limit is not None for one in candidates) and _counted(setting, unlimited) is not None:
        covered = sum(one.room * (one.limit or 0) for one in candidates)
        return Refusal("stock too small", (run, covered), kin, field.aside)
    return Refusal("no common ground", (run,), kin, field.aside)
