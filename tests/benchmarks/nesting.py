"""Our nesting beside a general packing library on the same instances: python -m tests.benchmarks.nesting

Needs the benchmark extra. Prints money over the area bound for the campaigns, and bins beside the best
known for the published instances. The library turns all blanks or none, so turns are chosen beforehand; of
its algorithms and orders the best is taken, once of all and once of those that can be cut from edge to edge.
"""

from itertools import product
from statistics import median
from time import process_time

import rectpack

from boards.core.nesting import Piece, Rules, Sheet, check, layout_cost, nest
from boards.core.nesting.check import is_separable
from tests.boards.core.nesting.made import CLASSES, Question, campaign, published

CAMPAIGNS = ("50_s2_1sheet", "50_s1_3sheet", "500_s1_1sheet", "500_s1_3sheet")
ALGORITHMS = (
    rectpack.GuillotineBssfSas,
    rectpack.GuillotineBssfLas,
    rectpack.GuillotineBssfMaxas,
    rectpack.GuillotineBafSas,
    rectpack.MaxRectsBssf,
    rectpack.SkylineMwfWm,
)
ORDERS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE)
PLENTY = 1000


def main() -> None:
    """Print one line a campaign, and one for the published instances each way."""
    row = "{:16}{:>9}{:>9}{:>9}{:>10}{:>9}"
    print(row.format("campaign", "ours", "seconds", "library", "cuttable", "seconds"), "  money / area bound")
    for name in CAMPAIGNS:
        question = campaign(name)
        area = area_cost(*question)
        ours, seconds = our_cost(question)
        peer, cuttable, peer_seconds = peer_costs(question)
        ratios = [f"{cost / area:.4f}" for cost in (ours, peer, cuttable)]
        print(row.format(name, ratios[0], f"{seconds:.1f}", *ratios[1:], f"{peer_seconds:.1f}"), flush=True)
    print("\n" + row.format("published", "ours", "seconds", "", "cuttable", "best"), "  bins, median seconds")
    for variant, may_turn in (("O_G", False), ("R_G", True)):
        questions = [published(instance, may_turn) for instance in CLASSES]
        ours_each = [our_cost(question) for question in questions]
        ours = sum(cost for cost, _ in ours_each)
        cuttable = sum(peer_costs(question)[1] for question in questions)
        best = sum(instance["best"][variant] for instance in CLASSES)
        seconds = median(seconds for _, seconds in ours_each)
        print(row.format(variant, f"{ours:.0f}", f"{seconds:.2f}", "", f"{cuttable:.0f}", best), flush=True)


def our_cost(question: Question) -> tuple[float, float]:
    """Money of our plan, and processor seconds."""
    start = process_time()
    layout = nest(*question)
    seconds = process_time() - start
    faults = check(layout, *question)
    if faults:
        raise SystemExit("\n".join(faults))
    return float(layout_cost(layout, question[1])), seconds


def peer_costs(question: Question) -> tuple[float, float, float]:
    """Money of the library's best layout, of its best that can be cut edge to edge, and processor seconds."""
    start, costs, cuttable = process_time(), [], []
    for algorithm, order, choose in product(
        ALGORITHMS, ORDERS, (as_given, long_side_along, long_side_across)
    ):
        cost, is_cuttable = peer_cost(question, algorithm, order, choose)
        costs.append(cost)
        if is_cuttable:
            cuttable.append(cost)
    return min(costs), min(cuttable, default=float("inf")), process_time() - start


def peer_cost(question: Question, algorithm, order, choose) -> tuple[float, bool]:
    """Money of one of the library's layouts and whether it can be cut from edge to edge."""
    pieces, sheets, rules = question
    packer = rectpack.newPacker(
        rectpack.PackingMode.Offline, rectpack.PackingBin.BBF, algorithm, order, rotation=False
    )
    for piece in pieces:
        packer.add_rect(*choose(piece, sheets, rules))
    cheapest_first = sorted(sheets, key=lambda sheet: float(sheet.price) / (sheet.along_mm * sheet.across_mm))
    for sheet in cheapest_first:
        packer.add_bin(*usable(sheet, rules), count=PLENTY if sheet.stock is None else sheet.stock, bid=sheet)
    packer.pack()
    bins = [packed for packed in packer if len(packed)]
    if sum(len(packed) for packed in bins) < len(pieces):
        return float("inf"), False
    grown = [[(r.x, r.y, r.x + r.width, r.y + r.height) for r in packed] for packed in bins]
    return float(sum(packed.bid.price for packed in bins)), all(is_separable(rects, 0) for rects in grown)


def as_given(piece: Piece, sheets: list[Sheet], rules: Rules) -> tuple[float, float]:
    """Sides of a blank grown by the kerf, unturned unless it fits turned only."""
    a, b = piece.along_mm + rules.kerf_mm, piece.across_mm + rules.kerf_mm
    return (b, a) if piece.may_turn and not fits(a, b, sheets, rules) else (a, b)


def long_side_along(piece: Piece, sheets: list[Sheet], rules: Rules) -> tuple[float, float]:
    """Sides of a blank grown by the kerf, its longer one along the sheet if it may and can."""
    a, b = as_given(piece, sheets, rules)
    return (b, a) if piece.may_turn and b > a and fits(b, a, sheets, rules) else (a, b)


def long_side_across(piece: Piece, sheets: list[Sheet], rules: Rules) -> tuple[float, float]:
    """Sides of a blank grown by the kerf, its longer one across the sheet if it may and can."""
    a, b = as_given(piece, sheets, rules)
    return (b, a) if piece.may_turn and a > b and fits(b, a, sheets, rules) else (a, b)


def fits(a: float, b: float, sheets: list[Sheet], rules: Rules) -> bool:
    """Whether a grown blank fits some sheet."""
    return any(a <= along and b <= across for along, across in (usable(sheet, rules) for sheet in sheets))


def usable(sheet: Sheet, rules: Rules) -> tuple[float, float]:
    """Sides of a sheet less its trim, grown by the kerf."""
    lost = rules.kerf_mm - 2 * rules.trim_mm
    return sheet.along_mm + lost, sheet.across_mm + lost


def area_cost(pieces: list[Piece], sheets: list[Sheet], rules: Rules) -> float:
    """Money if area were all that counted, fractions of a sheet included."""
    area = sum((piece.along_mm + rules.kerf_mm) * (piece.across_mm + rules.kerf_mm) for piece in pieces)
    cost = 0.0
    for sheet in sorted(sheets, key=lambda sheet: float(sheet.price) / (sheet.along_mm * sheet.across_mm)):
        along, across = usable(sheet, rules)
        count = area / (along * across)
        if sheet.stock is not None:
            count = min(count, sheet.stock)
        cost, area = cost + count * float(sheet.price), area - count * along * across
    return cost


if __name__ == "__main__":
    main()
