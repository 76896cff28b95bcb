"""Linear programs with whole-numbered variables, as the solver takes them."""

import ctypes
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from threading import Lock

import highspy
import numpy as np

from objects.core.refusals import Refusal

INFINITE = highspy.kHighsInf


class NotSolved(Refusal):
    """No solution exists, or none was found in time; the message says which."""


class Infeasible(NotSolved):
    """The conditions contradict each other."""


_FIRST = Lock()
_is_greeted = False


def _new_solver() -> highspy.Highs:
    """A solver. The first of a process greets on standard output, which may be piped to another program."""
    global _is_greeted
    with _FIRST:
        if _is_greeted or os.name != "posix":
            return highspy.Highs()  # type: ignore[no-untyped-call]
        _is_greeted = True
        sys.stdout.flush()
        kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        try:
            return highspy.Highs()  # type: ignore[no-untyped-call]
        finally:
            ctypes.CDLL(None).fflush(None)  # the greeting waits in the buffer of the C library
            os.dup2(kept, 1)
            os.close(kept)
            os.close(nowhere)


@dataclass(frozen=True)
class Solved:
    """values: of the variables in order. objective: reached; bound: no solution can do better than it."""

    values: list[float]
    objective: float
    bound: float

    @property
    def gap(self) -> float:
        """How far the objective may be from the best, as a share of it; 0 where it is proved best."""
        return abs(self.bound - self.objective) / max(abs(self.objective), 1e-9)


@dataclass
class Program:
    """A program that is built up variable by variable and row by row."""

    costs: list[float] = field(default_factory=list)
    lows: list[float] = field(default_factory=list)
    highs: list[float] = field(default_factory=list)
    is_whole: list[bool] = field(default_factory=list)
    row_lows: list[float] = field(default_factory=list)
    row_highs: list[float] = field(default_factory=list)
    starts: list[int] = field(default_factory=lambda: [0])
    columns: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)

    def variable(
        self, cost: float = 0.0, low: float = 0.0, high: float = INFINITE, *, whole: bool = False
    ) -> int:
        """Add a variable; returns its number. cost: in the objective."""
        self.costs.append(cost)
        self.lows.append(low)
        self.highs.append(high)
        self.is_whole.append(whole)
        return len(self.costs) - 1

    def row(self, terms: Mapping[int, float], low: float = -INFINITE, high: float = INFINITE) -> int:
        """Add low <= sum of coefficient × variable <= high; returns its number."""
        self.columns += terms.keys()
        self.values += terms.values()
        self.starts.append(len(self.columns))
        self.row_lows.append(low)
        self.row_highs.append(high)
        return len(self.row_lows) - 1

    def solve(self, *, maximise: bool = False, seconds: float = 20.0, gap: float = 1e-4) -> Solved:
        """The best solution found in time.

        seconds: at most. gap: share of the objective within which it may stop.
        Raises Infeasible where the conditions contradict each other, NotSolved where none was found in time.
        Source: branch and bound of the HiGHS library (Huangfu and Hall, Mathematical Programming Computation
            10, 2018), whose dual bound is the bound.
        """
        solver = _new_solver()
        for name, value in (
            ("output_flag", False), ("time_limit", seconds), ("mip_rel_gap", gap), ("random_seed", 1),
            ("threads", 1),
        ):  # fmt: skip
            solver.setOptionValue(name, value)
        solver.passModel(self._model(maximise))
        solver.run()
        status, info = solver.getModelStatus(), solver.getInfo()
        if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
            raise Infeasible("Nothing meets all of these conditions together.")
        if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            raise NotSolved(
                f"No solution was found in {seconds:g} seconds. Allow more time, or ask for less."
            )
        found = [float(value) for value in solver.getSolution().col_value]
        objective = float(info.objective_function_value)
        is_mixed = any(self.is_whole)
        return Solved(found, objective, float(info.mip_dual_bound) if is_mixed else objective)

    def _model(self, maximise: bool) -> highspy.HighsLp:
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.costs), len(self.row_lows)
        lp.col_cost_ = np.array(self.costs, dtype=np.double)
        lp.col_lower_, lp.col_upper_ = np.array(self.lows, np.double), np.array(self.highs, np.double)
        lp.row_lower_, lp.row_upper_ = np.array(self.row_lows, np.double), np.array(self.row_highs, np.double)
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.array(self.starts, dtype=np.int32)
        lp.a_matrix_.index_ = np.array(self.columns, dtype=np.int32)
        lp.a_matrix_.value_ = np.array(self.values, dtype=np.double)
        kinds = highspy.HighsVarType
        lp.integrality_ = [kinds.kInteger if whole else kinds.kContinuous for whole in self.is_whole]
        lp.sense_ = highspy.ObjSense.kMaximize if maximise else highspy.ObjSense.kMinimize
        return lp
