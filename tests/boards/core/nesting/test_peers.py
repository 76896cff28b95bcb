"""How the libraries that the nesting is measured beside are asked and judged."""

import os
import time
from collections.abc import Callable

import pytest

from boards.core.nesting import Rules
from tests.benchmarks import peers
from tests.benchmarks.peers import Lying, Packing, Question, ask
from tests.boards.core.nesting.made import make_pieces, make_sheet

PLENTY_S = 60.0  # these answer at once, however slow the machine


def make_question(*sizes: tuple[float, float], kerf_mm: float = 0, stock: int | None = None) -> Question:
    """Blanks that may not turn, on sheets of 100 x 60 mm for 1 each."""
    return make_pieces(*sizes), [make_sheet(stock=stock)], Rules(kerf_mm=kerf_mm)


# ---- Asking ----------------------------------------------------------------------------------------------


def one_a_sheet(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    """A plain library."""
    pieces = question[0]
    found([(0, [Lying(i, 0, 0, one.along_mm, one.across_mm)]) for i, one in enumerate(pieces)])


def forgetful(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    found([])


def lacking(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    raise ImportError("no module of this name")


def hanging(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    time.sleep(PLENTY_S)


def dying_with_two(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    one_a_sheet(question, limit_s, found)
    if len(question[0]) == 2:
        os._exit(3)


def test_each_question_is_answered_with_the_money_of_the_best_layout():
    questions = [make_question((50, 30)), make_question((50, 30), (60, 20))]

    answers = ask(one_a_sheet, questions, PLENTY_S)

    assert [(answer.any_layout, answer.edge_to_edge) for answer in answers] == [(1, 1), (2, 2)]


def test_a_library_that_dies_keeps_what_it_had_and_the_next_question_is_asked():
    questions = [make_question((50, 30), (60, 20)), make_question((50, 30))]

    answers = ask(dying_with_two, questions, PLENTY_S)

    assert [(answer.any_layout, answer.reason) for answer in answers] == [
        (2, "ended by itself"),
        (1, "none finished"),
    ]


def test_a_library_that_hangs_is_cut_off(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(peers, "READY_S", 0.0)

    (answer,) = ask(hanging, [make_question((50, 30))], 0.2)

    assert (answer.any_layout, answer.reason) == (float("inf"), "cut off after 0 s")


@pytest.mark.parametrize(
    ("pack", "reason"), [(lacking, "not installed"), (forgetful, "not valid: not every blank once")]
)
def test_the_reason_is_said_when_there_is_no_layout(pack: peers.Pack, reason: str):
    (answer,) = ask(pack, [make_question((50, 30))], PLENTY_S)

    assert (answer.any_layout, answer.lack()) == (float("inf"), reason)


# ---- Judging ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("packing", "fault"),
    [
        ([(0, [Lying(0, 0, 0, 50, 30), Lying(1, 51, 0, 40, 20)])], None),
        ([(0, [Lying(0, 0, 0, 50, 30), Lying(1, 50.5, 0, 40, 20)])], "blanks overlap"),  # half a kerf
        ([(0, [Lying(0, 0, 0, 50, 30), Lying(1, 61, 0, 40, 20)])], "blank 1 off the sheet"),  # 101 mm
        ([(0, [Lying(0, 0, 0, 50, 30), Lying(1, 51, 0, 20, 40)])], "blank 1 in another size or turned"),
        ([(0, [Lying(0, 0, 0, 50, 30)])], "not every blank once"),
        ([(0, [Lying(0, 0, 0, 50, 30)]), (0, [Lying(1, 0, 0, 40, 20)])], "2 sheets S, 1 in stock"),
    ],
)
def test_a_layout_is_judged(packing: Packing, fault: str | None):
    question = make_question((50, 30), (40, 20), kerf_mm=1, stock=1)

    assert next(peers.faults(packing, question), None) == fault


def test_a_pinwheel_is_not_set_free_by_cuts_from_edge_to_edge():
    # four blanks of 40 x 20 around a hole of 20 x 20, the textbook case
    wheel = [
        Lying(0, 0, 0, 40, 20),
        Lying(1, 40, 0, 20, 40),
        Lying(2, 20, 40, 40, 20),
        Lying(3, 0, 20, 20, 40),
    ]

    assert not peers.is_edge_to_edge([(0, wheel)], Rules())
    assert peers.is_edge_to_edge([(0, wheel[:3])], Rules())
