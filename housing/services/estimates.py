"""The estimate of a cutting plan: what each housing costs, and sums by design and board."""

from decimal import Decimal

from housing.core.estimate import (
    BenchWork,
    GlueFigures,
    HousingWork,
    Rates,
    SheetUse,
    estimate,
    lined_area_m2,
    rollup,
)
from housing.core.estimate import (
    Estimate as CoreEstimate,
)
from housing.core.folding import Box3
from housing.models import CuttingPlan, Estimate, EstimateLine, Housing

Category, Unit = EstimateLine.Category, EstimateLine.Unit


def bench_minutes(housing: Housing) -> dict[str, float]:
    """Minutes of each step of a housing, from its blanks and its design's figures."""
    blanks = [blank.to_core() for blank in housing.blanks.all()]
    return housing.design.to_labour().minutes_by_step(
        BenchWork(
            score_length_mm=sum(blank.score_length_mm for blank in blanks),
            cut_length_mm=sum(blank.cut_length_mm + blank.outline_length_mm for blank in blanks),
            glue_joints=sum(blank.glue_joints for blank in blanks),
            is_padded=bool(housing.design.padding),
        )
    )


def make_estimate(*, plan: CuttingPlan) -> Estimate:
    """Work out and store the estimate of a plan, replacing the one before."""
    campaign = plan.campaign
    housings = list(_planned(plan))
    made = estimate(
        [_work(housing) for housing in housings],
        _sheet_uses(plan),
        Rates(campaign.rate_per_hour, campaign.glue_price_kg, campaign.currency),
    )
    _store_costs(housings, made)
    Estimate.objects.filter(plan=plan).delete()
    stored = Estimate.objects.create(
        plan=plan,
        currency=campaign.currency,
        rate_per_hour=campaign.rate_per_hour,
        glue_price_kg=campaign.glue_price_kg,
    )
    EstimateLine.objects.bulk_create(_lines(stored, made))
    return stored


def _planned(plan: CuttingPlan):
    """Housings with a place in the plan, begun ones included, since their sheets are in its price."""
    return (
        Housing.objects.filter(blanks__placements__sheet__plan=plan)
        .distinct()
        .select_related("design__board")
        .prefetch_related("blanks")
    )


def _work(housing: Housing) -> HousingWork:
    design = housing.design
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


def _sheet_uses(plan: CuttingPlan) -> list[SheetUse]:
    return [
        SheetUse(
            sheet_key=str(sheet.position),
            price=sheet.price,
            blanks=tuple(
                (str(placed.blank.housing_id), float(placed.along_mm * placed.across_mm))
                for placed in sheet.placements.all()
            ),
        )
        for sheet in plan.sheets.prefetch_related("placements__blank")
        if sheet.placements.all()
    ]


def _store_costs(housings: list[Housing], made: CoreEstimate) -> None:
    lines = {line.key: line for line in made.lines}
    for housing in housings:
        line = lines[str(housing.pk)]
        housing.board_cost, housing.glue_cost = line.board, line.glue
        housing.padding_cost, housing.labour_cost = line.padding, line.labour
        housing.labour_minutes = round(Decimal(line.labour_minutes), 2)
    fields = ["board_cost", "glue_cost", "padding_cost", "labour_cost", "labour_minutes"]
    Housing.objects.bulk_update(housings, fields, batch_size=200)


def _lines(stored: Estimate, made: CoreEstimate):
    by_kind = rollup(made.lines, key=lambda line: (int(line.design_key), int(line.board_key)))
    for (design, board), totals in by_kind.items():
        for category, quantity, unit, amount in (
            (Category.BOARD, totals.board_m2, Unit.SQUARE_METRES, totals.board),
            (Category.GLUE, totals.glue_g, Unit.GRAMS, totals.glue),
            (Category.PADDING, totals.padding_m2, Unit.SQUARE_METRES, totals.padding),
            (Category.LABOUR, totals.labour_minutes, Unit.MINUTES, totals.labour),
        ):
            yield EstimateLine(
                estimate=stored,
                category=category,
                design_id=design,
                board_id=board,
                housings=totals.housings,
                quantity=round(Decimal(quantity), 3),
                unit=unit,
                amount=amount,
            )
