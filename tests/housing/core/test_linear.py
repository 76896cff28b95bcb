"""The solver behind the programs: what it finds, and that it keeps quiet."""

import subprocess
import sys

import pytest

from housing.core.linear import Infeasible, Program


def test_a_small_program_is_solved():
    # Bake as much as 10 hours and 8 kg allow, 2 h and 1 kg a loaf at 3, 1 h and 2 kg a tart at 2: by the
    # corners of the region (0,0), (5,0), (4,2), (0,4) the best is 4 loaves and 2 tarts, worth 16.
    program = Program()
    loaf, tart = program.variable(3.0), program.variable(2.0)
    program.row({loaf: 2.0, tart: 1.0}, high=10.0)
    program.row({loaf: 1.0, tart: 2.0}, high=8.0)

    found = program.solve(maximise=True)

    assert found.values == pytest.approx([4.0, 2.0])
    assert found.objective == pytest.approx(16.0)


def test_conditions_that_contradict_each_other_are_told():
    program = Program()
    one = program.variable(1.0, low=3.0)
    program.row({one: 1.0}, high=2.0)

    with pytest.raises(Infeasible, match="Nothing meets all of these conditions together"):
        program.solve()


def test_the_solver_writes_nothing_where_answers_are_piped_on():
    words = "from housing.core.linear import Program; p = Program(); p.variable(1.0); p.solve()"

    said = subprocess.run(
        [sys.executable, "-c", f"{words}; print('answer')"], capture_output=True, text=True, check=True
    )

    assert said.stdout == "answer\n"
