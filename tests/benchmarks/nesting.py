"""Our nesting beside general-purpose packing libraries on the same questions: manage.py benchmark nesting

A row is one question, or the median or the sum of several. Money is given over the area bound: what area
alone would cost, fractions of a sheet included. Every plan of ours passes check() before it counts. All of it
takes about an hour, with --quick three minutes.
"""

import importlib.metadata
import json
import math
import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from statistics import median
from typing import Any

from boards.core.nesting import Piece, Rules, Sheet, check, layout_cost, nest
from tests.benchmarks import peers
from tests.benchmarks.campaigns import make_campaign
from tests.benchmarks.peers import Answer, Question, ask, price_by_area, usable

ROOT = Path(__file__).resolve().parents[2]
INSTANCES = ROOT / "fixtures" / "nesting"
SEEDS = (1, 2, 3)
SIZES = (1, 3)
FIRST_PLAN_S = 0.001  # the first plan is always finished
HANDFUL = 5

# Heading, the library's solver, and whether its layout must be one that cuts from edge to edge set free.
PEERS: tuple[tuple[str, peers.Pack, bool], ...] = (
    ("rectpack, edge to edge", peers.rectpack, True),
    ("rectpack, any layout", peers.rectpack, False),
    ("PackingSolver, edge to edge", peers.solver_edge_to_edge, True),
    ("PackingSolver, any layout", peers.solver_free, False),
)
# Whether blanks may turn, then whether cuts must run from edge to edge, and the name of the best known value.
VARIANTS = (
    (False, ((True, "O_G"), (False, "O_F"))),
    (True, ((True, "R_G"), (False, "R_F"))),
)
FRESH_START = """
import time
began = time.perf_counter()
from decimal import Decimal
from boards.core.nesting import Piece, Rules, Sheet, nest
imported = time.perf_counter()
nest([Piece("A", 60, 40), Piece("B", 30, 20)], [Sheet("S", 100, 60, Decimal(1))], Rules())
print(imported - began, time.perf_counter() - imported)
"""


@dataclass(frozen=True)
class Limits:
    """Seconds allowed for each kind of question, and how much is asked."""

    campaign_s: float
    huge_s: float
    published_s: float
    seeds: tuple[int, ...]
    large: tuple[int, ...]  # numbers of objects searched with one seed
    first: tuple[int, ...]  # numbers of objects of which the first plan is timed


FULL = Limits(60, 120, 2, SEEDS, (5_000, 50_000), (500, 5_000, 50_000))
QUICK = Limits(10, 10, 0.5, SEEDS[:1], (), (500, 5_000))


@dataclass(frozen=True)
class Ours:
    """What a plan of ours costs and took."""

    cost: float
    wall_s: float
    cpu_s: float
    peak_mb: float


@dataclass(frozen=True)
class Solved:
    """A published instance of a numbered class: bins of the best known, our plan, the answers by column."""

    number: int
    best: int
    ours: Ours
    answers: list[Answer]


def main(quick: bool, instances: Path | None = None, write: Callable[[str], None] = print) -> None:
    """Write the table, a line at a time. instances: a folder of instances to take in place of those here."""
    limits = QUICK if quick else FULL
    for line in (start_up(), "", circumstances(), "", *head()):
        write(line)
    for row in rows(limits, instances or INSTANCES, is_given=instances is not None, quick=quick):
        write(as_line(row))


def rows(limits: Limits, folder: Path, is_given: bool, quick: bool) -> Iterator[list[str]]:
    """All rows, in the order in which they are measured."""
    answers: dict[int, list[Answer]] = {}  # by number of objects, one sheet size
    for sizes in SIZES:
        yield from campaign_rows(500, sizes, limits.seeds, limits.campaign_s, answers)
    for objects in limits.large:
        for sizes in SIZES if objects < 50_000 else SIZES[:1]:
            limit_s = limits.campaign_s if objects < 50_000 else limits.huge_s
            yield from campaign_rows(objects, sizes, SEEDS[:1], limit_s, answers)
    for objects in limits.first:
        yield first_plan_row(objects, answers.get(objects))
    for sizes in SIZES:
        yield corners_row(500, sizes, limits.campaign_s)
    for path in sorted(folder.glob("campaign_*.json")) if is_given and not quick else ():
        instance = json.loads(path.read_text("utf-8"))
        question = question_of(instance)
        yield campaign_row(
            f"{instance['name']}, {limits.campaign_s:g} s", question, *solve(question, limits.campaign_s)
        )
    yield from published_rows(published_in(folder), limits.published_s, quick)


# ---- Campaigns -------------------------------------------------------------------------------------------


def campaign_rows(
    objects: int, sizes: int, seeds: Sequence[int], limit_s: float, answers: dict[int, list[Answer]]
) -> Iterator[list[str]]:
    """A row a seed, and the median of several; the answers to the first are noted."""
    name = campaign_name(objects, sizes)
    every: list[list[float]] = []
    for seed in seeds:
        question = question_of(make_campaign(objects, seed, sizes))
        ours, found = solve(question, limit_s)
        if sizes == 1:
            answers.setdefault(objects, found)
        every.append(ratios(question, ours, found))
        yield campaign_row(f"{name}, seed {seed}, {limit_s:g} s", question, ours, found)
    if len(every) > 1:
        middles = [ratio_text(median(column), "-") for column in zip(*every, strict=True)]
        yield [f"{name}, median", middles[0], "", "", *middles[1:], ""]


def solve(question: Question, limit_s: float) -> tuple[Ours, list[Answer]]:
    """Our plan, and the answers by column."""
    return our_plan(question, limit_s), [answer for (answer,) in ask_peers([question], limit_s)]


def campaign_row(name: str, question: Question, ours: Ours, found: list[Answer]) -> list[str]:
    """The row of one campaign."""
    own, *others = ratios(question, ours, found)
    cells = [
        f"{ratio_text(ratio, answer.lack())} · {used(answer)}"
        for ratio, answer in zip(others, found, strict=True)
    ]
    return [name, ratio_text(own), *taken(ours), *cells, area_text(question)]


def first_plan_row(objects: int, found: list[Answer] | None) -> list[str]:
    """Seconds until the first valid plan, and how good ours is; a library's are those of its search above."""
    question = question_of(make_campaign(objects, SEEDS[0]))
    ours = our_plan(question, FIRST_PLAN_S)
    cells = [""] * len(PEERS)
    if found:
        cells = [
            f"{answer.first_s:.2f} s" if answer.cost(is_cuttable) < math.inf else answer.lack()
            for answer, (_, _, is_cuttable) in zip(found, PEERS, strict=True)
        ]
    name = f"first valid plan, {campaign_name(objects, 1)}"
    own = f"{ours.wall_s:.2f} s, {ratio_text(*ratios(question, ours))}"
    return [name, own, *taken(ours), *cells, area_text(question)]


def corners_row(objects: int, sizes: int, limit_s: float) -> list[str]:
    """Small blanks also cut from the corners of large ones; the bound knows of whole rectangles only."""
    question = question_of(make_campaign(objects, SEEDS[0], sizes), use_corners=True)
    ours = our_plan(question, limit_s)
    name = f"{campaign_name(objects, sizes)}, with corner pieces, seed {SEEDS[0]}, {limit_s:g} s"
    cells = [""] * len(PEERS)
    return [name, ratio_text(*ratios(question, ours)), *taken(ours), *cells, area_text(question)]


def campaign_name(objects: int, sizes: int) -> str:
    return f"{objects:,} objects, {sizes} size{'s' if sizes > 1 else ''}"


def ratios(question: Question, ours: Ours, found: Iterable[Answer] = ()) -> list[float]:
    """Money over the area bound, ours first, infinite where there is no layout."""
    costs = [answer.cost(is_cuttable) for answer, (_, _, is_cuttable) in zip(found, PEERS, strict=False)]
    return [cost / area_cost(*question) for cost in (ours.cost, *costs)]


def ratio_text(ratio: float, without: str = "") -> str:
    return f"{ratio:.4f}" if ratio < math.inf else without


def question_of(instance: dict[str, Any], use_corners: bool = False) -> Question:
    """A campaign of box blanks as a question; prices in cents, the same waste at all four corners."""
    pieces = [
        Piece(
            part["id"], part["w"], part["h"], bool(part["rot"]),
            **({"corners": (tuple(part["corner"]),) * 4} if use_corners else {}),
        )
        for part in instance["parts"]
    ]  # fmt: skip
    sheets = [Sheet(s["id"], s["w"], s["h"], Decimal(s["cost"]), s["stock"]) for s in instance["sheets"]]
    rules = {"kerf_mm": instance["kerf"], "trim_mm": instance["trim"]}
    return pieces, sheets, Rules(**rules, **({"use_corners": True} if use_corners else {}))


def area_cost(pieces: list[Piece], sheets: list[Sheet], rules: Rules) -> float:
    """Money if area were all that counted, fractions of a sheet included."""
    area = sum((piece.along_mm + rules.kerf_mm) * (piece.across_mm + rules.kerf_mm) for piece in pieces)
    cost = 0.0
    for sheet in sorted(sheets, key=price_by_area):
        along, across = usable(sheet, rules)
        count = area / (along * across)
        if sheet.stock is not None:
            count = min(count, sheet.stock)
        cost, area = cost + count * float(sheet.price), area - count * along * across
    return cost


def area_text(question: Question) -> str:
    """The area bound: sheets where there is one size, else money."""
    area, sheets = area_cost(*question), question[1]
    return f"{area / float(sheets[0].price):.2f} sheets" if len(sheets) == 1 else f"{area:.0f} cents"


# ---- Published instances ---------------------------------------------------------------------------------


def published_in(folder: Path) -> list[dict[str, Any]]:
    """All published instances in the files of a folder."""
    found = []
    for path in sorted(folder.glob("*.json")):
        told = json.loads(path.read_text("utf-8"))
        if isinstance(told, dict):
            found += [each for each in told.get("instances", ()) if "items" in each and "best" in each]
    return found


def published_rows(instances: list[dict[str, Any]], limit_s: float, quick: bool) -> Iterator[list[str]]:
    """Bins added up by class and over all classes, for each way to turn and to cut."""
    if quick:
        instances = instances[:: max(1, len(instances) // (HANDFUL - 1))][:HANDFUL]
    for may_turn, cuts in VARIANTS:
        answers = ask_peers([published(instance, may_turn) for instance in instances], limit_s)
        for is_cuttable, best in cuts:
            words = f"{'' if may_turn else 'no '}turning, {'edge to edge' if is_cuttable else 'any layout'}"
            each = [
                Solved(
                    instance["class"],
                    instance["best"][best],
                    our_plan(published(instance, may_turn, is_cuttable), limit_s),
                    [column[number] for column in answers],
                )
                for number, instance in enumerate(instances)
            ]
            for number in () if quick else sorted({solved.number for solved in each}):
                chosen = [solved for solved in each if solved.number == number]
                yield published_row(f"class {number}, {words}, {len(chosen)} instances", chosen, is_cuttable)
            title = f"published, {words}, {len(each)} instances, {limit_s:g} s each"
            yield published_row(title, each, is_cuttable)


def published(instance: dict[str, Any], may_turn: bool, is_cuttable: bool = True) -> Question:
    """A published bin packing instance; a bin costs 1."""
    pieces = [Piece(str(number), *item, may_turn) for number, item in enumerate(instance["items"])]
    return pieces, [Sheet("bin", *instance["bin"], Decimal(1))], Rules(edge_to_edge=is_cuttable)


def published_row(name: str, each: list[Solved], is_cuttable: bool) -> list[str]:
    """Sums over instances; a library's own only where it must cut as ours had to."""
    cells = [
        summed([solved.answers[column] for solved in each], is_cuttable) if must_cut == is_cuttable else ""
        for column, (_, _, must_cut) in enumerate(PEERS)
    ]
    ours = Ours(
        sum(solved.ours.cost for solved in each),
        sum(solved.ours.wall_s for solved in each),
        sum(solved.ours.cpu_s for solved in each),
        max(solved.ours.peak_mb for solved in each),
    )
    return [
        name,
        f"{ours.cost:.0f}",
        *taken(ours),
        *cells,
        f"{sum(solved.best for solved in each)} best known",
    ]


def summed(answers: list[Answer], is_cuttable: bool) -> str:
    """Bins of a library over instances; those it has no answer to are counted and not added up."""
    costs = [cost for answer in answers if (cost := answer.cost(is_cuttable)) < math.inf]
    whole = Answer(
        wall_s=sum(answer.wall_s for answer in answers),
        cpu_s=sum(answer.cpu_s for answer in answers),
        peak_mb=max(answer.peak_mb for answer in answers),
    )
    if not costs:
        return f"{answers[0].lack()} · {used(whole)}"
    lacking = f" without {len(answers) - len(costs)} unanswered" if len(costs) < len(answers) else ""
    return f"{sum(costs):.0f}{lacking} · {used(whole)}"


# ---- Measuring -------------------------------------------------------------------------------------------


def our_plan(question: Question, limit_s: float) -> Ours:
    """Our plan for a question, judged."""
    forget_peak()
    wall, cpu = time.perf_counter(), time.process_time() + peers.ended_processes_cpu_s()
    layout = nest(*question, time_limit_s=limit_s)
    wall_s = time.perf_counter() - wall
    cpu_s = time.process_time() + peers.ended_processes_cpu_s() - cpu
    peak = peers.peak_mb()
    if faults := check(layout, *question):
        raise SystemExit("A plan of ours is not valid:\n" + "\n".join(faults[:10]))
    if layout.unplaced:
        raise SystemExit(f"A plan of ours leaves {len(layout.unplaced)} blanks out.")
    return Ours(float(layout_cost(layout, question[1])), wall_s, cpu_s, peak)


def ask_peers(questions: list[Question], limit_s: float) -> list[list[Answer]]:
    """By column of PEERS, the answers; a library with two columns is asked once."""
    asked = {pack: ask(pack, questions, limit_s) for pack in dict.fromkeys(pack for _, pack, _ in PEERS)}
    return [asked[pack] for _, pack, _ in PEERS]


def forget_peak() -> None:
    """Let the peak of memory count anew, where the system can; elsewhere it is the peak so far."""
    try:
        Path("/proc/self/clear_refs").write_text("5")
    except OSError:
        return


def start_up() -> str:
    """Seconds a fresh Python takes to import the nesting and for its first plan; those of the first here."""
    told = subprocess.run(
        [sys.executable, "-c", FRESH_START], cwd=ROOT, capture_output=True, text=True, check=True
    )
    imported, planned = map(float, told.stdout.split()[-2:])
    began = time.perf_counter()
    nest([Piece("A", 60, 40), Piece("B", 30, 20)], [Sheet("S", 100, 60, Decimal(1))], Rules())
    return (
        f"Start-up, timed apart: importing {imported:.2f} s and the first plan, of 2 blanks, {planned:.2f} s "
        f"in a fresh Python; the first plan in this one {time.perf_counter() - began:.2f} s."
    )


def circumstances() -> str:
    """What the figures depend on."""
    versions = ", ".join(f"{name} {version_of(name)}" for name in ("rectpack", "packingsolver"))
    return (
        f"Python {platform.python_version()}, {os.cpu_count()} processors, {busy()}{versions}. Campaigns: "
        "money over the area bound; published: bins. Seconds are wall / processor, memory is the peak of the "
        "whole process. "
        f"A library may use several processors; it is cut off after {peers.OVERRUN:g} time limits and "
        f"{peers.READY_S:g} s, and the best it had until then counts."
    )


def busy() -> str:
    """How many processes wanted a processor in the last minute, where the system tells."""
    try:
        return f"{os.getloadavg()[0]:.1f} of them busy before, "
    except (AttributeError, OSError):
        return ""


def version_of(package: str) -> str:
    try:
        return importlib.metadata.version(package)
    except importlib.metadata.PackageNotFoundError:
        return "not installed"


# ---- The table -------------------------------------------------------------------------------------------

COLUMNS = ("measure", "ours", "seconds", "MiB", *(heading for heading, _, _ in PEERS), "bound")


def head() -> list[str]:
    return [as_line(COLUMNS), as_line("---" for _ in COLUMNS)]


def as_line(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def taken(ours: Ours) -> list[str]:
    return [f"{ours.wall_s:.1f} / {ours.cpu_s:.1f}", f"{ours.peak_mb:.0f}"]


def used(answer: Answer) -> str:
    """Seconds and memory of a library; memory is not known of a process that was cut off."""
    memory = f" · {answer.peak_mb:.0f} MiB" if answer.peak_mb else ""
    return f"{answer.wall_s:.1f} / {answer.cpu_s:.1f} s{memory}"


if __name__ == "__main__":
    main(quick="--quick" in sys.argv[1:])
