"""What holds of every answer, over generated bases and requests."""

from __future__ import annotations

from itertools import combinations
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from askplant.answer.answer import Answer, Options
from askplant.answer.compose import answer
from askplant.answer.units import excluded_by, musts, units_of
from askplant.reading.reading import Condition, Reading
from askplant.render.wording import worded
from askplant.verdicts.judge import judgement_of, outcome
from askplant.verdicts.verdict import Site

from ..verdicts.invented import InventedBase
from .small_bases import bases, conditions, readings

quick = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
PLAIN = Site()


def matched(found: Answer) -> set[int]:
    return {match.plant for match in found.matches}


def verdicts(base: InventedBase, reading: Reading, plant: int) -> list[str]:
    """Each condition judged for one plant by itself."""
    return [judgement_of(outcome(condition, base, PLAIN), plant).verdict for condition in reading.conditions]


def excluders(base: InventedBase, reading: Reading, plant: int) -> list[frozenset[int]]:
    """The musts, and groups of alternatives, that a plant misses, found one by one."""
    missed = [verdict == "misses" for verdict in verdicts(base, reading, plant)]
    groups: dict[Any, set[int]] = {}
    for index, condition in enumerate(reading.conditions):
        key = ("alone", index) if condition.either is None else condition.either
        groups.setdefault(key, set()).add(index)
    return [
        frozenset(indexes)
        for indexes in groups.values()
        if any(reading.conditions[index].strength == "must" for index in indexes)
        if all(missed[index] for index in indexes)
    ]


@quick
@given(bases, readings)
def test_every_plant_matches_or_is_counted_as_excluded(base: InventedBase, reading: Reading) -> None:
    """A plant is excluded by a miss on a must, or on all of a group of alternatives, and by nothing else."""
    found = answer(reading, base, Options(all=True))
    assert len(found.matches) + found.excluded_total == base.count
    outright = [match for match in found.matches if all(one.verdict == "meets" for one in match.judgements)]
    assert found.outright == len(outright)
    assert {one.plant for one in found.near} == set(range(base.count)) - matched(found)
    for plant in range(base.count):
        assert (plant in matched(found)) == (not excluders(base, reading, plant))


@quick
@given(bases, readings)
def test_prices_and_misses_agree_with_looking_at_each_plant(base: InventedBase, reading: Reading) -> None:
    """The misses of a condition, those that are its alone, and the misses told of each excluded plant."""
    found = answer(reading, base, Options(all=True))
    by_plant = [excluders(base, reading, plant) for plant in range(base.count)]
    for price in found.prices:
        units = [[unit for unit in missed if price.condition in unit] for missed in by_plant]
        assert price.misses == sum(bool(unit) for unit in units)
        alone = sum(missed == [frozenset({price.condition})] for missed in by_plant)
        assert price.alone == alone
    for one in found.near:
        assert {miss.condition for miss in one.misses} == set().union(*by_plant[one.plant])
        assert all(miss.judgement.verdict == "misses" for miss in one.misses)


@quick
@given(bases, readings, conditions)
def test_another_must_never_adds_a_match(base: InventedBase, reading: Reading, more: Condition) -> None:
    """Asking for more leaves no more."""
    must = more._replace(strength="must", either=None)
    longer = reading._replace(conditions=(*reading.conditions, must))
    assert matched(answer(longer, base)) <= matched(answer(reading, base))


@quick
@given(bases, readings, conditions)
def test_another_wish_changes_no_match(base: InventedBase, reading: Reading, more: Condition) -> None:
    """A wish moves ranks only."""
    wish = more._replace(strength="wish", either=None)
    longer = reading._replace(conditions=(*reading.conditions, wish))
    assert matched(answer(longer, base)) == matched(answer(reading, base))


@quick
@given(bases, readings, st.randoms(use_true_random=False))
def test_the_order_of_conditions_does_not_matter(base: InventedBase, reading: Reading, random: Any) -> None:
    """The same wishes in another order give the same plants at the same ranks."""
    shuffled = list(reading.conditions)
    random.shuffle(shuffled)
    one, other = answer(reading, base), answer(reading._replace(conditions=tuple(shuffled)), base)
    assert [(m.plant, m.fit) for m in one.matches] == [(m.plant, m.fit) for m in other.matches]
    assert [(m.plant, len(m.misses)) for m in one.near] == [(m.plant, len(m.misses)) for m in other.near]


@quick
@given(bases, readings)
def test_ranks_follow_fit(base: InventedBase, reading: Reading) -> None:
    """Ranks count from 1, fits never rise, and equal fits stand in order of id unless variety decides."""
    found = answer(reading, base)
    assert [match.rank for match in found.matches] == list(range(1, len(found.matches) + 1))
    fits = [match.fit for match in found.matches]
    assert fits == sorted(fits, reverse=True)
    assert all(0 <= fit <= 1 for fit in fits)


@quick
@given(bases, readings, st.data())
def test_taking_out_an_excluded_plant_changes_nothing_else(base: InventedBase, reading: Reading, data: Any) -> None:
    """A plant that does not fit has no say in what does."""
    found = answer(reading, base, Options(all=True))
    # Likeness and kinship look at other plants by name; here the plant's own name must not be asked for.
    asked = {value for c in reading.conditions if c.trait in ("taxon", "like") for value in c.values}
    parents = {base.plant(n).parent for n in range(base.count)}
    out = [one.plant for one in found.near if one.plant not in parents and base.botanical[one.plant] not in asked]
    if not out:
        return
    gone = base.botanical[data.draw(st.sampled_from(out))]
    rest = {name: traits for name, traits in zip(base.botanical, base.traits, strict=True) if name != gone}
    if not rest:
        return
    smaller = InventedBase(rest)
    again = answer(reading, smaller, Options(all=True))
    assert [(base.botanical[m.plant], m.fit) for m in found.matches] == [
        (smaller.botanical[m.plant], m.fit) for m in again.matches
    ]


def applied(reading: Reading, changes: dict[int, Condition | None]) -> Reading:
    """A reading with conditions changed, and those given up left out; a group loses a member that is given up wholly."""
    kept = [changes.get(index, condition) for index, condition in enumerate(reading.conditions)]
    return reading._replace(conditions=tuple(condition for condition in kept if condition is not None))


@quick
@given(bases, readings)
def test_applying_a_loosening_brings_in_exactly_its_plants(base: InventedBase, reading: Reading) -> None:
    """The plants named come in, no other does, and no match is lost."""
    found = answer(reading, base)
    for loosening in found.loosen:
        changed = applied(reading, {change.condition: change.to for change in loosening.changes})
        assert matched(answer(changed, base)) == matched(found) | set(loosening.plants)
        assert loosening.plants


@quick
@given(bases, readings)
def test_loosenings_are_the_minimal_sets(base: InventedBase, reading: Reading) -> None:
    """Brute force: giving up a set of units brings plants in exactly when it contains a loosening's units."""
    outcomes = tuple(outcome(condition, base, PLAIN) for condition in reading.conditions)
    units = musts(units_of(outcomes))
    minimal: list[frozenset[int]] = []
    for size in range(1, len(units) + 1):
        for some in combinations(range(len(units)), size):
            rest = excluded_by([unit for place, unit in enumerate(units) if place not in some])
            gained = excluded_by(units) & ~rest
            if gained and not any(smaller <= frozenset(some) for smaller in minimal):
                minimal.append(frozenset(some))
    place = {index: number for number, unit in enumerate(units) for index in unit.conditions}
    found = answer(reading, base).loosen
    said = [frozenset(place[change.condition] for change in one.changes) for one in found]
    assert len(said) == len(set(said))
    assert set(said) <= set(minimal)
    assert len(said) == min(len(minimal), 8)
    assert [len(one.changes) for one in found] == sorted(len(one.changes) for one in found)
    if excluded_by(units) == base.everyone:
        assert found


@quick
@given(bases, readings)
def test_every_answer_can_be_worded(base: InventedBase, reading: Reading) -> None:
    """Each care says how, each unknown is not told as a miss, every sentence ends, and the JSON holds every match."""
    found = answer(reading, base)
    said = worded(found, base).json
    assert [match["plant"] for match in said["matches"]] == [base.plant(match.plant).id for match in found.matches]
    for match in said["matches"]:
        assert match["why_here"].endswith(".")
        assert len(match["verdicts"]) == len(reading.conditions)
        for verdict in match["verdicts"]:
            assert (verdict["verdict"] != "with care") or verdict["how"]
            assert not str(verdict.get("how", "")).count("{")
    for question in said["ask_back"]:
        assert len(question["splits"]) >= 2
        assert question["trait"] not in {condition.trait for condition in reading.conditions}
    assert len(said["ask_back"]) <= 3
