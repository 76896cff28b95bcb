"""General-purpose packing libraries on the questions the nesting gets, each in a process with a deadline.

rectpack turns all blanks or none, so turns are chosen beforehand; of its algorithms, orders and ways to turn
the best is taken. PackingSolver searches until its time is up. Both get blanks and sheets grown by one kerf.
"""

import math
import multiprocessing
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from boards.core.nesting import Piece, Rules, Sheet
from boards.core.nesting.check import TOLERANCE_MM, is_separable

try:
    import resource
except ImportError:  # not on Windows
    resource = None  # type: ignore[assignment]

Question = tuple[list[Piece], list[Sheet], Rules]
Sides = tuple[float, float]

OVERRUN, READY_S = 1.2, 3.0  # a deadline is so many time limits, and seconds for a process to get ready
STAGES = 3  # of cuts; measured by us: allowed any number, PackingSolver finds less in the same time


@dataclass(frozen=True)
class Lying:
    """A blank as a library laid it: near corner from the corner of the usable sheet, sides as placed, mm."""

    blank: int
    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float


Packing = list[tuple[int, list[Lying]]]  # by sheet: the number of its size, and its blanks
Pack = Callable[[Question, float, Callable[[Packing], None]], None]


@dataclass
class Answer:
    """The best a library found for one question, judged: money, infinite if nothing."""

    any_layout: float = math.inf
    edge_to_edge: float = math.inf
    first_s: float = math.inf
    wall_s: float = 0.0
    cpu_s: float = 0.0
    peak_mb: float = 0.0
    reason: str = "none finished"

    def cost(self, is_cuttable: bool) -> float:
        """Money of the best layout, or of the best that cuts from edge to edge set free."""
        return self.edge_to_edge if is_cuttable else self.any_layout

    def lack(self) -> str:
        """Why there is no layout."""
        return "none edge to edge" if self.any_layout < math.inf else self.reason

    def count(self, cost: float, is_cuttable: bool, wall_s: float) -> None:
        """Take one more valid layout in."""
        self.first_s = min(self.first_s, wall_s)
        self.any_layout = min(self.any_layout, cost)
        if is_cuttable:
            self.edge_to_edge = min(self.edge_to_edge, cost)


# ---- Asking with a deadline ------------------------------------------------------------------------------


def ask(pack: Pack, questions: list[Question], limit_s: float) -> list[Answer]:
    """One answer a question; a process that hangs or dies ends only the question in hand."""
    answers: list[Answer] = []
    while len(answers) < len(questions):
        answers += ask_one_process(pack, questions[len(answers) :], limit_s)
    return answers


def ask_one_process(pack: Pack, questions: list[Question], limit_s: float) -> list[Answer]:
    """Answers to the questions that one process got to, at least the first."""
    context = multiprocessing.get_context("spawn")
    reading, writing = context.Pipe(duplex=False)
    process = context.Process(target=work, args=(pack, questions, limit_s, writing), daemon=True)
    before_s = ended_processes_cpu_s()
    process.start()
    writing.close()
    answers: list[Answer] = []
    try:
        for _ in questions:
            answer, began = Answer(), time.monotonic()
            answers.append(answer)
            if not follow(reading, answer, began + limit_s * OVERRUN + READY_S):
                answer.wall_s = time.monotonic() - began
                if process.is_alive() and answer.reason != "ended by itself":
                    answer.reason = f"cut off after {answer.wall_s:.0f} s"
                process.kill()
                process.join()
                spent_before = sum(earlier.cpu_s for earlier in answers[:-1])
                answer.cpu_s = max(0.0, ended_processes_cpu_s() - before_s - spent_before)
                break
    finally:
        process.kill()
        process.join()
        reading.close()
    return answers


def follow(reading: Connection, answer: Answer, deadline: float) -> bool:
    """Take in what a process tells about the question in hand; whether it came to an end in time."""
    while reading.poll(max(0.0, deadline - time.monotonic())):
        try:
            told, *values = reading.recv()
        except EOFError:
            answer.reason = "ended by itself"
            return False
        if told == "found":
            answer.count(*values)
        elif told == "fault":
            (answer.reason,) = values
        else:
            answer.wall_s, answer.cpu_s, answer.peak_mb = values
            return True
    return False


def work(pack: Pack, questions: list[Question], limit_s: float, writing: Connection) -> None:
    """What the process does: answer each question, telling of every layout better than those before."""
    for question in questions:
        best = Answer()
        wall, cpu = time.perf_counter(), time.process_time()

        def found(
            packing: Packing, question: Question = question, best: Answer = best, wall: float = wall
        ) -> None:
            if fault := next(faults(packing, question), None):
                writing.send(("fault", f"not valid: {fault}"))
                return
            cost = float(sum(question[1][size].price for size, _ in packing))
            is_cuttable = cost < best.edge_to_edge and is_edge_to_edge(packing, question[2])
            if cost < best.any_layout or is_cuttable:
                passed = time.perf_counter() - wall
                best.count(cost, is_cuttable, passed)
                writing.send(("found", cost, is_cuttable, passed))

        try:
            pack(question, limit_s, found)
        except ImportError:
            writing.send(("fault", "not installed"))
        except Exception as error:  # what a library refuses is its answer, and no end of the comparison
            writing.send(("fault", f"{type(error).__name__}: {error}"[:80]))
        writing.send(("done", time.perf_counter() - wall, time.process_time() - cpu, peak_mb()))


# ---- Judging ---------------------------------------------------------------------------------------------


def faults(packing: Packing, question: Question) -> Iterator[str]:
    """What is wrong with a library's layout, the cuts aside."""
    pieces, sheets, rules = question
    if sorted(lying.blank for _, blanks in packing for lying in blanks) != list(range(len(pieces))):
        yield "not every blank once"
    for size, sheet in enumerate(sheets):
        used = sum(each == size for each, _ in packing)
        if sheet.stock is not None and used > sheet.stock:
            yield f"{used} sheets {sheet.key}, {sheet.stock} in stock"
    for size, blanks in packing:
        a, b = sheets[size].along_mm - 2 * rules.trim_mm, sheets[size].across_mm - 2 * rules.trim_mm
        for lying in blanks:
            if not is_as_asked(lying, pieces[lying.blank]):
                yield f"blank {lying.blank} in another size or turned"
            far_x, far_y = lying.x_mm + lying.along_mm, lying.y_mm + lying.across_mm
            if min(lying.x_mm, lying.y_mm) < 0 or far_x > a + TOLERANCE_MM or far_y > b + TOLERANCE_MM:
                yield f"blank {lying.blank} off the sheet"
        if overlap(blanks, rules.kerf_mm - TOLERANCE_MM):
            yield "blanks overlap"


def is_as_asked(lying: Lying, piece: Piece) -> bool:
    """Whether a blank has its sides, turned only if it may."""
    sides = (lying.along_mm, lying.across_mm)
    return sides == (piece.along_mm, piece.across_mm) or (
        piece.may_turn and sides == (piece.across_mm, piece.along_mm)
    )


def overlap(blanks: list[Lying], gap_mm: float) -> bool:
    """Whether any two blanks of a sheet lie closer than a gap."""
    by_x = sorted(blanks, key=lambda lying: lying.x_mm)
    for number, one in enumerate(by_x, start=1):
        for other in by_x[number:]:
            if other.x_mm >= one.x_mm + one.along_mm + gap_mm:
                break
            if (
                other.y_mm < one.y_mm + one.across_mm + gap_mm
                and one.y_mm < other.y_mm + other.across_mm + gap_mm
            ):
                return True
    return False


def is_edge_to_edge(packing: Packing, rules: Rules) -> bool:
    """Whether cuts from edge to edge set every blank of every sheet free."""
    return all(
        is_separable(
            [(b.x_mm, b.y_mm, b.x_mm + b.along_mm, b.y_mm + b.across_mm) for b in blanks], rules.kerf_mm
        )
        for _, blanks in packing
    )


# ---- rectpack --------------------------------------------------------------------------------------------

ALGORITHMS = (
    "GuillotineBssfSas",
    "MaxRectsBssf",
    "GuillotineBssfSlas",
    "GuillotineBafSas",
    "MaxRectsBaf",
    "GuillotineBlsfSas",
    "MaxRectsBlsf",
    "MaxRectsBl",
    "GuillotineBssfLas",
    "GuillotineBssfMaxas",
    "SkylineMwfWm",
)
ORDERS = ("SORT_AREA", "SORT_LSIDE", "SORT_SSIDE", "SORT_PERI")


def rectpack(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    """Every algorithm with every order and every way to turn, until the time is up."""
    import rectpack as library

    until = time.monotonic() + limit_s
    ways: list[Callable[[Piece, Question], Sides] | None] = [as_given, long_side_along, long_side_across]
    if all(piece.may_turn for piece in question[0]):
        ways.append(None)  # the library may turn each as it likes
    for order, way, algorithm in product(ORDERS, ways, ALGORITHMS):
        if time.monotonic() > until:
            return
        packer = library.newPacker(
            library.PackingMode.Offline,
            library.PackingBin.BBF,
            getattr(library, algorithm),
            getattr(library, order),
            rotation=way is None,
        )
        packing = rectpack_once(packer, question, way or as_given)
        if sum(len(blanks) for _, blanks in packing) == len(question[0]):
            found(packing)


def rectpack_once(packer: Any, question: Question, way: Callable[[Piece, Question], Sides]) -> Packing:
    """What one of the library's packers makes of a question, sheets that cost least for their area first."""
    pieces, sheets, rules = question
    for number, piece in enumerate(pieces):
        packer.add_rect(*way(piece, question), rid=number)
    for size in sorted(range(len(sheets)), key=lambda size: price_by_area(sheets[size])):
        count = len(pieces) if sheets[size].stock is None else sheets[size].stock
        packer.add_bin(*usable(sheets[size], rules), count=count, bid=size)
    packer.pack()
    return [
        (
            packed.bid,
            [Lying(r.rid, r.x, r.y, r.width - rules.kerf_mm, r.height - rules.kerf_mm) for r in packed],
        )
        for packed in packer
        if len(packed)
    ]


def as_given(piece: Piece, question: Question) -> Sides:
    """Sides of a blank grown by the kerf, unturned unless it fits turned only."""
    kerf = question[2].kerf_mm
    a, b = piece.along_mm + kerf, piece.across_mm + kerf
    return (b, a) if piece.may_turn and not fits(a, b, question) else (a, b)


def long_side_along(piece: Piece, question: Question) -> Sides:
    """Sides of a blank grown by the kerf, its longer one along the sheet if it may and can."""
    a, b = as_given(piece, question)
    return (b, a) if piece.may_turn and b > a and fits(b, a, question) else (a, b)


def long_side_across(piece: Piece, question: Question) -> Sides:
    """Sides of a blank grown by the kerf, its longer one across the sheet if it may and can."""
    a, b = as_given(piece, question)
    return (b, a) if piece.may_turn and a > b and fits(b, a, question) else (a, b)


def fits(a: float, b: float, question: Question) -> bool:
    """Whether a grown blank fits some sheet."""
    _, sheets, rules = question
    return any(a <= along and b <= across for along, across in (usable(sheet, rules) for sheet in sheets))


def usable(sheet: Sheet, rules: Rules) -> Sides:
    """Sides of a sheet less its trim, grown by the kerf."""
    lost = rules.kerf_mm - 2 * rules.trim_mm
    return sheet.along_mm + lost, sheet.across_mm + lost


def price_by_area(sheet: Sheet) -> float:
    return float(sheet.price) / (sheet.along_mm * sheet.across_mm)


# ---- PackingSolver ---------------------------------------------------------------------------------------


def solver_free(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    """Its solver for rectangles in any layout."""
    import packingsolver.rectangle as library

    def packing_of(solution: Any) -> Packing:
        packing: Packing = []
        for one in bins_of(solution):
            lying = []
            for item in one.items:
                piece = question[0][item.item_type_id]
                sides = (piece.along_mm, piece.across_mm)
                a, b = sides[::-1] if item.rotate else sides
                lying.append(Lying(item.item_type_id, item.x, item.y, a, b))
            packing.append((one.bin_type_id, lying))
        return packing

    solve(library, library.InstanceBuilder(), question, limit_s, packing_of, found)


def solver_edge_to_edge(question: Question, limit_s: float, found: Callable[[Packing], None]) -> None:
    """Its solver for cuts from edge to edge, the sheet turned twice in between."""
    import packingsolver.rectangleguillotine as library

    builder = library.InstanceBuilder()
    builder.set_cut_type(library.CutType.NonExact)
    builder.set_number_of_stages(STAGES)

    def packing_of(solution: Any) -> Packing:
        kerf = question[2].kerf_mm
        return [
            (
                one.bin_type_id,
                [
                    Lying(node.item_type_id, node.l, node.b, node.r - node.l - kerf, node.t - node.b - kerf)
                    for node in one.nodes
                    if node.item_type_id >= 0 and node.d > 0
                ],
            )
            for one in bins_of(solution)
        ]

    solve(library, builder, question, limit_s, packing_of, found)


def solve(
    library: Any,
    builder: Any,
    question: Question,
    limit_s: float,
    packing_of: Callable[[Any], Packing],
    found: Callable[[Packing], None],
) -> None:
    """Run one of its solvers, telling of each layout that it finds; its lengths are whole millimetres."""
    from packingsolver import Objective

    pieces, sheets, rules = question
    builder.set_objective(Objective.BinPacking if len(sheets) == 1 else Objective.VariableSizedBinPacking)
    for sheet in sheets:
        a, b = map(whole, usable(sheet, rules))
        copies = -1 if sheet.stock is None else sheet.stock
        builder.add_bin_type(a, b, cost=float(sheet.price), copies=copies)
    for piece in pieces:
        a, b = whole(piece.along_mm + rules.kerf_mm), whole(piece.across_mm + rules.kerf_mm)
        builder.add_item_type(a, b, oriented=not piece.may_turn, copies=1)
    parameters = library.OptimizeParameters()
    parameters.time_limit = limit_s
    parameters.messages_to_stdout = False
    parameters.verbosity_level = 0
    # measured by us: with a hundred different blanks the reduction alone overruns the time limit
    parameters.reduction_parameters.reduce = False

    def tell(output: Any) -> None:
        if output.solution.full():
            found(packing_of(output.solution))

    parameters.new_solution_callback = tell
    tell(library.optimize(builder.build(), parameters))


def bins_of(solution: Any) -> Iterator[Any]:
    """Its sheets; equal ones may be kept as one."""
    for position in range(solution.number_of_different_bins()):
        one = solution.bin(position)
        for _ in range(one.copies):
            yield one


def whole(length_mm: float) -> int:
    if length_mm != int(length_mm):
        raise ValueError(f"{length_mm} is not a whole number of mm")
    return int(length_mm)


# ---- What a process has used -----------------------------------------------------------------------------


def peak_mb() -> float:
    """The most memory this process has held, MiB; 0 where the system does not tell."""
    try:  # on Linux rusage counts what the process that started this one held, too
        status = Path("/proc/self/status").read_text("ascii")
        return int(status.split("VmHWM:")[1].split()[0]) / (1 << 10)
    except (OSError, IndexError):
        pass
    if resource is None:
        return 0.0
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (1 << 20 if sys.platform == "darwin" else 1 << 10)


def ended_processes_cpu_s() -> float:
    """Processor seconds of all processes started from this one that have ended."""
    if resource is None:
        return 0.0
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime
