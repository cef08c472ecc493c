"""A linear program in whole numbers, solved exactly: the door to HiGHS, which is loaded when a plan is made.

One thread, a fixed seed, no gap between the answer and the bound, and a bound on branches instead of one on time, so that
the same program has the same answer.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

ANY = math.inf
# So many branches are looked at before the best found so far is taken; the programs of rows take a few hundred at most.
BRANCHES = 20_000


class Solved(NamedTuple):
    """The best values of the variables, in the order they were added, and the objective there; `proved` is false where
    the search was broken off, and something better may exist.
    """

    values: tuple[float, ...]
    objective: float
    proved: bool = True


class Searches:
    """Several searches for one plan: `proved` is false once one of them was broken off."""

    def __init__(self) -> None:
        self.proved = True


class Program:
    """Variables and rows, added one by one; the objective is made as great as it can be. `searches` is told how it went."""

    def __init__(self, searches: Searches | None = None) -> None:
        self._searches = searches or Searches()
        self._costs: list[float] = []
        self._lows: list[float] = []
        self._highs: list[float] = []
        self._whole: list[bool] = []
        self._rows: list[tuple[float, float, dict[int, float]]] = []

    def number(self, high: float, worth: float = 0.0, whole: bool = True) -> int:
        """A variable from 0 to `high`, and its place; each unit of it adds `worth` to the objective."""
        self._costs.append(worth)
        self._lows.append(0.0)
        self._highs.append(high)
        self._whole.append(whole)
        return len(self._costs) - 1

    def fix(self, place: int, value: float) -> None:
        """Give a variable its value."""
        self._lows[place] = self._highs[place] = value

    def row(self, low: float, terms: Mapping[int, float], high: float) -> None:
        """Hold a sum of variables between two bounds, either of which may be infinite."""
        self._rows.append((low, high, {place: factor for place, factor in terms.items() if factor}))

    def solve(self) -> Solved | None:
        """The best values; None where no values hold to all rows."""
        import highspy  # 0.1 s with what it brings along; wanted for plans alone
        import numpy

        class Quiet(highspy.Highs):
            """A solver that is silent before it says its name, which it does when its callbacks are enabled."""

            def enableCallbacks(self) -> None:
                self.silent()
                super().enableCallbacks()  # type: ignore[no-untyped-call]

        solver = Quiet()  # type: ignore[no-untyped-call]
        for option, value in (
            ("threads", 1),
            ("random_seed", 0),
            ("mip_rel_gap", 0.0),
            ("mip_abs_gap", 1e-9),
            ("mip_max_nodes", BRANCHES),
        ):
            solver.setOptionValue(option, value)
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(self._costs), len(self._rows)
        model.sense_ = highspy.ObjSense.kMaximize
        model.col_cost_ = numpy.array(self._costs)
        model.col_lower_, model.col_upper_ = numpy.array(self._lows), numpy.array(self._highs)
        model.row_lower_ = numpy.array([row[0] for row in self._rows])
        model.row_upper_ = numpy.array([row[1] for row in self._rows])
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        model.integrality_ = [kinds[whole] for whole in self._whole]
        model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lengths = [len(terms) for _, _, terms in self._rows]
        model.a_matrix_.start_ = numpy.cumsum([0, *lengths])
        model.a_matrix_.index_ = numpy.array([place for _, _, terms in self._rows for place in terms], dtype=int)
        model.a_matrix_.value_ = numpy.array([factor for _, _, terms in self._rows for factor in terms.values()])
        solver.passModel(model)
        solver.run()
        status = solver.getModelStatus()
        if status == highspy.HighsModelStatus.kSolutionLimit and not solver.getSolution().value_valid:
            solver.setOptionValue("mip_max_nodes", highspy.kHighsIInf)
            solver.setOptionValue("mip_max_improving_sols", 1)
            solver.run()
            status = solver.getModelStatus()
        proved = status == highspy.HighsModelStatus.kOptimal
        if not proved and status != highspy.HighsModelStatus.kSolutionLimit:
            return None
        values, info = solver.getSolution().col_value, solver.getInfo()
        self._searches.proved &= proved
        return Solved(tuple(values), float(info.objective_function_value), proved)
