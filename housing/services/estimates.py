"""The estimate of a cutting plan: what each housing costs, and sums by design and board."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from decimal import Decimal
from itertools import batched

from django.db.models import Count, FloatField, Q, QuerySet, Sum
from django.db.models.fields.json import KT
from django.db.models.functions import Cast

from boards.core.money import to_cents
from housing.core.clearances import MM2_PER_M2
from housing.core.estimate import (
    BenchWork,
    GlueFigures,
    HousingWork,
    Rates,
    SheetUse,
    estimate,
    lined_area_m2,
)
from housing.core.folding import Box3
from housing.models import Blank, CuttingPlan, Estimate, EstimateLine, Housing, PlannedBlank
from housing.models.housings import PADDING

Category, Unit = EstimateLine.Category, EstimateLine.Unit
COSTS = ("board_cost", "glue_cost", "padding_cost", "labour_cost", "labour_minutes")


def bench_minutes(housing: Housing) -> dict[str, float]:
    """Minutes of each step of a housing, from its blanks and the figures of its design as advised."""
    blanks, recipe = [blank.to_core() for blank in housing.blanks.all()], housing.recipe
    return recipe.to_labour().minutes_by_step(
        BenchWork(
            score_length_mm=sum(blank.score_length_mm for blank in blanks),
            cut_length_mm=sum(blank.cut_length_mm + blank.outline_length_mm for blank in blanks),
            glue_joints=sum(blank.glue_joints for blank in blanks),
            is_padded=bool(recipe.padding),
        )
    )


def make_estimate(*, plan: CuttingPlan, unchanged: Collection[int] = frozenset()) -> Estimate:
    """Work out and store the estimate of a plan, replacing the one before.

    unchanged: housings whose blanks, design and sheets are as the one before had them. Their costs stay,
    unless what an hour or a kilogram costs has changed.
    """
    campaign = plan.campaign
    rates = {"rate_per_hour": campaign.rate_per_hour, "glue_price_kg": campaign.glue_price_kg}
    if not Estimate.objects.filter(plan=plan, **rates).exists():
        unchanged = frozenset()
    _store_costs(plan, {pk for pk in _planned(plan).values_list("pk", flat=True) if pk not in unchanged})
    Estimate.objects.filter(plan=plan).delete()
    stored = Estimate.objects.create(plan=plan, currency=campaign.currency, **rates)
    EstimateLine.objects.bulk_create(_lines(stored))
    return stored


def _planned(plan: CuttingPlan) -> QuerySet[Housing]:
    """Housings with a place in the plan, begun ones included, since their sheets are in its price."""
    placed = PlannedBlank.objects.filter(sheet__plan=plan).order_by()
    return Housing.objects.filter(pk__in=placed.values("blank__housing"))


def _store_costs(plan: CuttingPlan, pks: Collection[int]) -> None:
    """Work out what some housings of a plan cost, and store it where it differs."""
    housings = list(Housing.objects.select_related("design").prefetch_related("blanks").in_bulk(pks).values())
    sheets = _sheet_uses(plan, pks)
    # Others on the same sheets bear their share of these.
    beside = {key for sheet in sheets for key, _ in sheet.blanks} - set(map(str, pks))
    campaign = plan.campaign
    made = estimate(
        [*map(_work, housings), *(HousingWork(key, "", "", {}, 0.0) for key in beside)],
        sheets,
        Rates(campaign.rate_per_hour, campaign.glue_price_kg, campaign.currency),
    )
    changed = []
    for housing, line in zip(housings, made.lines, strict=False):
        minutes = round(Decimal(line.labour_minutes), 2)
        costs = line.board, line.glue, line.padding, line.labour, minutes
        if costs != tuple(getattr(housing, name) for name in COSTS):
            for name, cost in zip(COSTS, costs, strict=True):
                setattr(housing, name, cost)
            changed.append(housing)
    Housing.objects.bulk_update(changed, COSTS, batch_size=200)


def _work(housing: Housing) -> HousingWork:
    design = housing.recipe
    joints = sum(blank.geometry["glue_length_mm"] for blank in housing.blanks.all())
    inside = Box3(float(housing.inner_x_mm), float(housing.inner_y_mm), float(housing.inner_z_mm))
    return HousingWork(
        key=str(housing.pk),
        design_key=str(design.pk),
        board_key=str(design.board_id),
        minutes=bench_minutes(housing),
        glue_g=GlueFigures().grams(joints),
        padding_m2=lined_area_m2(inside) if design.padding else 0.0,
        padding_price_m2=design.padding_price_m2,
    )


def _sheet_uses(plan: CuttingPlan, housings: Collection[int]) -> list[SheetUse]:
    """The sheets on which some housings have a blank, with all that lies on them."""
    blanks: defaultdict[int, list[tuple[str, float]]] = defaultdict(list)
    prices: dict[int, Decimal] = {}
    asked: set[int] = set()
    placed = PlannedBlank.objects.filter(sheet__plan=plan).order_by("sheet", "y_mm", "x_mm", "pk")
    for sheet, housing in placed.order_by().values_list("sheet", "blank__housing"):
        if housing in housings:
            asked.add(sheet)
    for some in batched(asked, 1000):
        rows = placed.filter(sheet__in=some).values_list(
            "sheet__position", "sheet__price", "blank__housing", "along_mm", "across_mm"
        )
        for position, price, housing, along_mm, across_mm in rows:
            prices[position] = price
            blanks[position].append((str(housing), float(along_mm * across_mm)))
    return [SheetUse(str(position), prices[position], tuple(blanks[position])) for position in sorted(blanks)]


def _lines(stored: Estimate) -> Iterator[EstimateLine]:
    """The lines of an estimate, one a design and category, summed up from what its housings cost."""
    plan = stored.plan
    planned = _planned(plan).order_by()
    glue = _by_design(
        Blank.objects.filter(housing__in=planned),
        "housing__design",
        Cast(KT("geometry__glue_length_mm"), FloatField()),
    )
    board = _by_design(
        PlannedBlank.objects.filter(sheet__plan=plan),
        "blank__housing__design",
        Cast("along_mm", FloatField()) * Cast("across_mm", FloatField()),
    )
    padding: defaultdict[int, float] = defaultdict(float)
    for housing in _padded(planned):
        sides = housing.inner_x_mm, housing.inner_y_mm, housing.inner_z_mm
        padding[housing.design_id] += lined_area_m2(Box3(*map(float, sides)))
    sums = planned.values("design", "design__board").annotate(
        housings=Count("pk"), **{f"sum_{name}": Sum(name) for name in COSTS}
    )
    for row in sums.order_by("design"):
        design = row["design"]
        for category, quantity, unit, amount in (
            (Category.BOARD, board[design] / MM2_PER_M2, Unit.SQUARE_METRES, row["sum_board_cost"]),
            (Category.GLUE, GlueFigures().grams(glue[design]), Unit.GRAMS, row["sum_glue_cost"]),
            (Category.PADDING, padding[design], Unit.SQUARE_METRES, row["sum_padding_cost"]),
            (Category.LABOUR, row["sum_labour_minutes"], Unit.MINUTES, row["sum_labour_cost"]),
        ):
            yield EstimateLine(
                estimate=stored,
                category=category,
                design_id=design,
                board_id=row["design__board"],
                housings=row["housings"],
                quantity=_rounded(quantity),
                unit=unit,
                amount=to_cents(amount),
            )


def _padded(housings: QuerySet[Housing]) -> Iterator[Housing]:
    """Those of some housings that are lined, by their design or by what the rules advise."""
    maybe = housings.exclude(Q(design__padding="") & ~Q(advice__has_key=PADDING))
    needed = ("advice", "inner_x_mm", "inner_y_mm", "inner_z_mm", "design__form", "design__padding")
    found = maybe.select_related("design").only(*needed).order_by("pk")
    return (housing for housing in found if housing.recipe.padding)


def _by_design(rows: QuerySet, design: str, value) -> dict[int, float]:
    """Sums by design."""
    return dict(rows.order_by().values_list(design).annotate(total=Sum(value, output_field=FloatField())))


def _rounded(quantity: float | Decimal) -> Decimal:
    """To thousandths, in two steps so that the noise of binary sums decides nothing."""
    return round(round(Decimal(quantity), 6), 3)
