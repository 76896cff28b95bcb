"""Charts beside the pages they belong to: what money is for, how large objects are, what becomes of board."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from decimal import Decimal

from django.http import HttpRequest, StreamingHttpResponse
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from housing.core.drawing.charts import Bar, BarChart, Series, percent
from housing.core.figures import SheetUse, SizeClass
from objects.tables.shaped import plain
from objects.views.tables import csv_file

CHART = "chart"  # in the address: ?chart=sizes gives the numbers behind a chart as a file


def chart_file(request: HttpRequest, charts: Mapping[str, BarChart]) -> StreamingHttpResponse | None:
    """The numbers behind one of a page's charts, where its address asks for them."""
    chart = charts.get(request.GET.get(CHART, ""))
    return csv_file(chart.title, _rows(chart)) if chart else None


def _rows(chart: BarChart) -> Iterator[list[str]]:
    yield ["", *(plain(part.words) for part in chart.series)]
    for bar, counts in chart.rows:
        yield [plain(bar.label), *(plain(round(count, 2)) for count in counts)]


def sizes_chart(classes: Iterable[SizeClass], unit: str, *, has_boxes: bool) -> BarChart:
    """Objects by their longest side; with boxes to compare with, which share would fit one of them."""
    series = (
        Series("fits_a_size", _("Would fit a standard size"), "#555555"),
        Series("fits_no_size", _("Would fit none"), "#dddddd"),
    )
    if not has_boxes:
        series = (Series("fits_no_size", _("Objects"), "#dddddd"),)
    bars = []
    for one in classes:
        counts = {"fits_a_size": one.fitting, "fits_no_size": one.too_large} if has_boxes else {}
        total = one.fitting + one.too_large
        note = " "
        if has_boxes and total:
            note = percent(one.fitting, total)
        label = _class_in_words(one, unit)
        bars.append(Bar(label, counts or {"fits_no_size": total}, note, detail=f"{total:,}"))
    return BarChart(_("Objects by their longest side"), tuple(bars), series)


def _class_in_words(one: SizeClass, unit: str) -> str:
    values = {"above": f"{one.above:g}", "up_to": f"{one.up_to or 0:g}", "unit": unit}
    if one.up_to is None:
        return _("above %(above)s %(unit)s") % values
    if not one.above:
        return _("up to %(up_to)s %(unit)s") % values
    return _("above %(above)s to %(up_to)s %(unit)s") % values


def progress_chart(months: Iterable[tuple[date, int, int]]) -> BarChart:
    """Objects that are housed, month after month."""
    series = (
        Series("housed_earlier", _("Housed before"), "#bbbbbb"),
        Series("housed_then", _("Housed in this month"), "#444444"),
    )
    bars = (
        Bar(
            date_format(month, "F Y"),
            {"housed_earlier": before, "housed_then": new},
            f"+{new:,}",
            detail=f"{before + new:,}",
        )
        for month, before, new in months
    )
    return BarChart(_("Objects that are housed, by month"), tuple(bars), series)


def sheet_use_chart(title: str, uses: Iterable[tuple[str, SheetUse]]) -> BarChart:
    """What becomes of board, in percent of its area. uses: each with the address of the page behind it."""
    series = (
        Series("becomes_boxes", _("Blanks of boxes, with their corners, %"), "#555555"),
        Series("becomes_offcuts", _("Offcuts kept, %"), "#aaaaaa"),
        Series("becomes_waste", _("Waste, %"), "#f2f2f2"),
    )
    bars = []
    for address, use in uses:
        shares = dict(zip((part.key for part in series), use.percents, strict=True))
        note = percent(use.blanks_mm2, use.sheets_mm2)
        bars.append(Bar(use.label, {key: round(share, 1) for key, share in shares.items()}, note, address))
    return BarChart(title, tuple(bars), series)


def cost_chart(sections: Iterable[tuple[str, Decimal]], currency: str) -> BarChart:
    """What the money of a budget is for, section by section."""
    sections = [(words, total) for words, total in sections if total > 0]
    whole = float(sum(total for _words, total in sections))
    bars = (
        Bar(words, {"money": float(total)}, percent(float(total), whole), detail=f"{total:,.2f} {currency}")
        for words, total in sections
    )
    series = (Series("money", _("Cost, %(currency)s") % {"currency": currency}, "#888888"),)
    return BarChart(_("What the money is for"), tuple(bars), series)
