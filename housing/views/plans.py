"""A campaign's plan: making it, its sheets, what it costs, and noting that a sheet is cut."""

from dataclasses import dataclass
from urllib.parse import urlencode

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST, require_safe

from boards.services import StockRefused
from housing.core.drawing.layout_svg import layout_svg
from housing.models import Campaign, Estimate, Job, PlannedSheet
from housing.printing.box_table import box_csv
from housing.queries.campaigns import cost_by, cost_by_category, open_plan_job
from housing.queries.plans import cut_counts, cut_sheet_of, label_of, plan_of, sheets_of
from housing.queries.progress import is_plan_current
from housing.queries.summary import plan_summary
from housing.services.housings import HousingRefused
from housing.services.jobs import start_job
from housing.services.plans import PlanRefused, cut_sheet
from objects.readers import Reader, reader_of
from objects.roles import MAKER, role_required

SHEETS_PER_PAGE = 20
ROOM_MM = (180, 130)  # for the drawing of one sheet


@require_POST
@role_required()
def campaign_make_plan(request: HttpRequest, pk: int) -> HttpResponse:
    """Begin to plan; if the campaign is being planned already, show that."""
    campaign = get_object_or_404(Campaign, pk=pk)
    if campaign.is_closed:
        messages.error(request, f"“{campaign}” is closed. Open it again on its edit page, then plan it.")
        return redirect("housing:campaign-detail", pk=campaign.pk)
    job = open_plan_job(campaign) or start_job(
        kind=Job.Kind.PLAN,
        title=f"Plan “{campaign}”",
        parameters={"campaign": campaign.pk},
        by=request.user,
    )
    return redirect("housing:job-detail", pk=job.pk)


@dataclass(frozen=True)
class DrawnSheet:
    """A planned sheet, its drawing and what lies on it."""

    sheet: PlannedSheet
    svg: str
    caption: str
    pieces: list[tuple[str, str]]


@require_safe
def campaign_plan(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    context: dict = {"campaign": campaign, "plan": (plan := plan_of(campaign))}
    if plan:
        board_plans = list(plan.board_plans.select_related("board"))
        sheets, chosen = sheets_of(plan), request.GET.get("board", "")
        if chosen.isdecimal() and int(chosen) in {made.board_id for made in board_plans}:
            sheets, context["board"] = sheets.filter(board=chosen), int(chosen)
        page = Paginator(sheets, SHEETS_PER_PAGE).get_page(request.GET.get("page"))
        already = cut_counts(plan)
        context |= {
            "board_plans": [(made, already.get(made.board_id, 0)) for made in board_plans],
            "page": page,
            "drawn": [_draw(sheet, reader_of(request)) for sheet in page],
            "is_current": is_plan_current(campaign),
        }
    return render(request, "housing/campaign_plan.html", context)


def _draw(sheet: PlannedSheet, reader: Reader) -> DrawnSheet:
    made, shape = cut_sheet_of(sheet)
    placed = list(sheet.placements.all())
    labels = {str(blank.pk): label_of(blank) for blank in placed}
    links = {str(blank.pk): _object_address(blank) for blank in placed}
    name = f"{sheet}, {sheet.board}"
    svg = layout_svg(
        made,
        shape,
        labels=labels,
        format_length=reader.length,
        paper_width_mm=ROOM_MM[0],
        paper_height_mm=ROOM_MM[1],
        links=links,
        title=name,
        direction="flutes" if sheet.board.to_core().is_fluted else "grain",
    )
    size = f"{reader.length(sheet.along_mm)} along by {reader.length(sheet.across_mm)} across"
    source = f", from offcut {sheet.offcut_id}" if sheet.offcut_id else ""
    pieces = [(labels[key], links[key]) for key in labels]
    return DrawnSheet(sheet, mark_safe(svg), f"{name}: {size}{source}", pieces)


def _object_address(placed) -> str:
    ties = placed.blank.housing.contents.all()
    return reverse("housing:object-detail", args=[ties[0].object_id])


@require_POST
@role_required(MAKER)
def sheet_cut(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that a sheet is cut, then show it again; a refusal shows the top of the page, where it is said."""
    sheet = get_object_or_404(PlannedSheet.objects.select_related("plan"), pk=pk)
    try:
        done = cut_sheet(sheet=sheet, by=request.user)
    except (PlanRefused, StockRefused, HousingRefused) as refused:
        messages.error(request, str(refused))
        place = ""
    else:
        place = f"#sheet-{sheet.position}"
        messages.success(
            request, f"{done} is cut. The stock is one less, and the boxes on it are now in work."
        )
    shown = {name: value for name in ("board", "page") if (value := request.POST.get(name, "")).isdecimal()}
    address = reverse("housing:campaign-plan", args=[sheet.plan.campaign_id])
    return redirect(f"{address}?{urlencode(shown)}{place}")


@require_safe
def campaign_boxes(request: HttpRequest, pk: int) -> HttpResponse:
    """All boxes of a campaign as a table to download."""
    campaign = get_object_or_404(Campaign, pk=pk)
    return HttpResponse(
        box_csv(campaign),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="boxes-{campaign.pk}.csv"'},
    )


@require_safe
def campaign_estimate(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    by_board = cost_by(campaign, "board__code")
    boxes, total = sum(row["boxes"] for row in by_board), sum(row["total"] for row in by_board)
    return render(
        request,
        "housing/campaign_estimate.html",
        {
            "campaign": campaign,
            "estimate": Estimate.objects.filter(plan__campaign=campaign).first(),
            "summary": plan_summary(campaign),
            "categories": cost_by_category(campaign),
            "breakdowns": [
                ("By design", "Design", cost_by(campaign, "design__name")),
                ("By board", "Board", by_board),
            ],
            "boxes": boxes,
            "total": total,
            "average": total / boxes if boxes else None,
            "is_current": is_plan_current(campaign),
        },
    )
