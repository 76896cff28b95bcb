"""Two of the plans kept of a campaign side by side."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.core.plan_comparison import Comparison, SheetContents, compare
from housing.models import Campaign, PlanRecord
from housing.services.plan_records import KEPT
from objects.core.words import say_count
from objects.readers import Reader, reader_of

SHOWN = 6  # lines of a change that are shown at once; more are folded away
NONE, SAME = "—", "the same"


@dataclass(frozen=True)
class Row:
    """One figure of both plans. is_better: whether the second plan's is, None where that cannot be said."""

    label: str
    first: str
    second: str
    difference: str
    is_better: bool | None = None


@dataclass(frozen=True)
class Change:
    """One kind of change: how much of it in a sentence, and what it is about in lines."""

    sentence: str
    lines: Sequence[str]
    is_list: bool = False

    @property
    def is_long(self) -> bool:
        return len(self.lines) > SHOWN


@require_safe
def campaign_plan_compare(request: HttpRequest, pk: int) -> HttpResponse:
    """The two plans named in the address, or the last two."""
    campaign = get_object_or_404(Campaign, pk=pk)
    records = list(campaign.plan_records.select_related("by").defer("sheets"))
    context: dict = {"campaign": campaign, "records": records}
    if len(records) > 1:
        reader = reader_of(request)
        first, second = _chosen(request, "first", records, 1), _chosen(request, "second", records, 0)
        found = compare(first.to_core(), second.to_core())
        context |= {
            "chosen": [("first", _("First plan"), first), ("second", _("Second plan"), second)],
            "tables": [
                (_("In figures"), "Figure", _rows(found, campaign.currency)),
                (_("Sheets by board and size"), "Sheets", _size_rows(found, reader)),
            ],
            "kept": KEPT,
            "rules": [
                (rule.label, _exactly(rule.first, reader), _exactly(rule.second, reader))
                for rule in found.rule_differences
            ],
            "sheets_alike": found.sheets_alike,
            "changes": _changes(found, reader),
        }
    return render(request, "housing/plan_compare.html", context)


def _chosen(request: HttpRequest, name: str, records: list[PlanRecord], usual: int) -> PlanRecord:
    wanted = request.GET.get(name, str(records[usual].pk))
    for record in records:
        if str(record.pk) == wanted:
            return record
    raise Http404(_("No such plan of this campaign is kept."))


def _rows(found: Comparison, currency: str) -> list[Row]:
    first, second = found.first, found.second

    def money(label: str, before: Decimal, after: Decimal, better: int = 0) -> Row:
        return _row(label, before, after, lambda amount: f"{amount:,.2f} {currency}", better=better)

    rows = [money(_("Cost of all sheets"), first.cost, second.cost, better=-1)]
    if first.cut_cost or second.cut_cost:
        rows += [
            money(_("For sheets cut before the plan was made"), first.cut_cost, second.cut_cost),
            money(_("For sheets still to cut"), first.new_cost, second.new_cost),
        ]
    rows += [
        money(_("Least possible cost of sheets still to cut, at least"), first.least_cost, second.least_cost),
        _percent(
            _("Above the least possible, at most"), first.percent_above_least, second.percent_above_least, -1
        ),
        _count("Blanks", first.blanks, second.blanks),
        _percent(_("Share of the board used"), first.used_share * 100, second.used_share * 100, 1),
        _row(_("Kept as offcuts"), first.offcut_mm2, second.offcut_mm2, lambda area: f"{area / 1e6:,.2f} m²"),
        _count(_("Blanks cut from the corners of others"), first.in_corners, second.in_corners),
    ]
    return rows


def _size_rows(found: Comparison, reader: Reader) -> list[Row]:
    rows = []
    for size in found.sheet_counts:
        source = "offcuts from the rack" if size.is_offcuts else reader.sentence(size.source)
        rows.append(_count(f"{size.board}, {source}", size.first, size.second))
    return [*rows, _count(_("In all"), found.first.sheets, found.second.sheets)]


def _count(label: str, first: int, second: int) -> Row:
    return _row(label, first, second, lambda number: f"{number:,}", less="fewer")


def _percent(label: str, first: float | None, second: float | None, better: int) -> Row:
    if first is None or second is None:
        told = [NONE if share is None else f"{share:.1f} %" for share in (first, second)]
        return Row(label, *told, NONE)
    points = "{:.1f} percentage points".format
    return _row(label, first, second, lambda share: f"{share:.1f} %", apart=points, better=better)


def _row(label, first, second, words, *, apart=None, less="less", better=0) -> Row:
    """A row whose difference is told in words. better: 1 if more is, -1 if less is, 0 if neither."""
    change, apart = second - first, apart or words
    if apart(abs(change)) == apart(0):
        return Row(label, words(first), words(second), SAME)
    difference = f"{apart(abs(change))} {'more' if change > 0 else less}"
    return Row(label, words(first), words(second), difference, change * better > 0 if better else None)


def _exactly(text: str, reader: Reader) -> str:
    """A rule's words; a length in the reader's unit and, since that may round it, as it was kept."""
    written = reader.sentence(text)
    return (text if written == text else f"{written} ({text})") or NONE


def _changes(found: Comparison, reader: Reader) -> list[Change]:
    """What changed, as far as anything did."""
    changes = []
    for which, sheets, blanks in (
        ("first", found.sheets_only_in_first, found.blanks_only_in_first),
        ("second", found.sheets_only_in_second, found.blanks_only_in_second),
    ):
        lines = [_line(sheet, reader) for sheet in sheets]
        changes.append(
            Change(
                _("{several} only in the {which} plan").format(several=_sheets(len(sheets)), which=which),
                lines,
                True,
            )
        )
        changes.append(
            Change(
                _("{several} only in the {which} plan").format(several=_blanks(len(blanks)), which=which),
                blanks,
            )
        )
    moved = found.blanks_in_other_company
    changes.append(
        Change(
            _("{several} on a sheet with other blanks than before").format(several=_blanks(len(moved))),
            moved,
        )
    )
    return [change for change in changes if change.lines]


def _line(sheet: SheetContents, reader: Reader) -> str:
    offcut = f"{sheet.source}, " if sheet.is_offcut else ""
    cut = ", cut before" if sheet.is_cut else ""
    size = reader.size((sheet.along_mm, sheet.across_mm))
    return f"{sheet.board}, {offcut}{size}{cut}: {', '.join(sheet.blanks) or 'nothing'}"


def _sheets(number: int) -> str:
    return say_count("{count:,} sheet", "{count:,} sheets", number)


def _blanks(number: int) -> str:
    return say_count("{count:,} blank", "{count:,} blanks", number)
