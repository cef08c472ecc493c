"""What a row must not be made of: weeping forms, what outgrows the lines, and what only stands the ground that others like."""

from __future__ import annotations

from collections.abc import Sequence

from askplant.answer.compose import answer
from askplant.plan.compose import plan
from askplant.plan.plan import Options, Plan
from askplant.plan.shares import ALL
from askplant.quantities.lengths import FOOT
from askplant.reading.reading import Condition, Reading, Task
from askplant.verdicts.uses import WIRES_MOST

from ..verdicts.invented import InventedBase, feet
from .test_plan import SCREEN, TALL, base_of, shrub


def planned(base: InventedBase, *conditions: Condition, tall: Condition = TALL) -> Plan:
    """A row of 60 ft without caps on its shares."""
    reading = Reading("a screen", (SCREEN, tall, *conditions), Task(run=60 * FOOT))
    found = plan(answer(reading, base), base, Options(shares=ALL))
    assert isinstance(found, Plan)
    return found


def kinds(base: InventedBase, found: Plan) -> set[str]:
    return {base.botanical[kind.plant] for kind in found.kinds}


def test_weeping_forms_are_set_aside_unless_sold_for_screens() -> None:
    """However well one would do otherwise."""
    weeping, poor = shrub(form=["weeping"], uses=["specimen"]), shrub(growth="slow", density=["medium"], pests="many")
    base = base_of({"Alba prima": weeping, "Bruna prima": poor})
    found = planned(base)
    assert kinds(base, found) == {"Bruna prima"}
    assert ("weeping", 1) in found.set_aside
    stated = base_of({"Alba prima": weeping | {"uses": ["screen"]}, "Bruna prima": poor})
    assert "Alba prima" in kinds(stated, planned(stated))


def test_under_wires_nothing_outgrows_what_lines_allow() -> None:
    """A height that is only wished is met as far as the lines allow; what is sold for wires and grows beyond is out."""
    tall = shrub(height_grown=feet(25, 35), uses=["screen", "under wires"])
    base = base_of({"Alba prima": tall, "Bruna prima": shrub(height_grown=feet(18, 20))})
    wish = Condition("height", "about", minimum=25 * FOOT, maximum=25 * FOOT, unit="m", strength="wish")
    found = planned(base, Condition("use", "any_of", ("under wires",)), tall=wish)
    assert kinds(base, found) == {"Bruna prima"}
    assert found.goal.reach <= WIRES_MOST
    assert ("wires", 1) in found.set_aside
    assert kinds(base, planned(base, tall=wish)) != {"Bruna prima"}


def _row(base: InventedBase, asked: Sequence[str]) -> set[str]:
    return kinds(base, planned(base, *(Condition("moisture", "any_of", (word,)) for word in asked)))


def test_what_likes_the_ground_comes_before_what_stands_it() -> None:
    """A plant that likes wet ground before a denser one that needs a mound there; on average ground the denser one."""
    quick, wet = shrub(moisture=["average", "moist"]), shrub(density=["medium"], moisture=["wet", "moist", "average"])
    base = base_of({"Alba prima": quick, "Bruna prima": wet})
    assert _row(base, ["wet"]) == {"Bruna prima"}
    assert "Alba prima" in _row(base, ["average"])
