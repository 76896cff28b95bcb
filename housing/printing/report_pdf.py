"""The report of a period as a page and on paper: one context for both, so that they show the same."""

from collections.abc import Sequence
from decimal import Decimal

from django.template.loader import render_to_string
from django.utils.safestring import mark_safe

from housing.core.drawing.burnup_chart import burnup_svg
from housing.pdf import render_pdf
from housing.printing.photos import photo_data_uri
from housing.queries.reports import Report
from objects.core.words import say
from objects.readers import Reader

type Amounts = Sequence[tuple[Decimal, str]]


def report_pdf(report: Report, reader: Reader) -> bytes:
    """The report as PDF. Raises PdfUnavailable where none can be made."""
    return render_pdf(render_to_string("print/report.html", report_context(report, reader)))


def report_context(report: Report, reader: Reader) -> dict[str, object]:
    """What the report shows: its figures, counts by group, photos written into the page, the picture."""
    counts, chart = report.counts, report.burn_up
    return {
        "report": report,
        "kinds": [
            (say("Classification"), counts.by_classification),
            (say("Priority"), counts.by_priority),
            (say("Room"), counts.by_room),
        ],
        "cost": money_words(report.work.cost),
        "worth": money_words(report.work.worth),
        "lost": [(row, money_words(row.amounts)) for row in report.tried.causes],
        "pairs": [
            (pair, photo_data_uri(pair.thing), photo_data_uri(pair.after)) for pair in report.photos.shown
        ],
        "finish": report.finish,
        "svg": mark_safe(burnup_svg(say("Boxes of {of} done by week", of=report.of), chart)) if chart else "",
        "paper": reader.paper,
        "reader": reader,
    }


def money_words(amounts: Amounts) -> str:
    """Amounts of several currencies, which are never added up."""
    return "; ".join(f"{amount:,.2f} {currency}".strip() for amount, currency in amounts) or "0.00"
