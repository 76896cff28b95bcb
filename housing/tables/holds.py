"""Questions that boxes wait for, with where to answer them."""

from collections.abc import Collection

import django_tables2 as tables
from django.template.defaultfilters import timesince
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from housing.models import Hold
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable


class HoldTable(ShapedTable):
    """Questions of holds_to_show(). answers_all: whether the reader may answer any; boxes: keys of those
    about which they may otherwise."""

    key, caption = "questions", _("Questions")
    required, page_only = ("box",), ("answer",)

    box = tables.Column(
        accessor="housing", verbose_name=_("Box"), orderable=False, attrs={"td": {"class": "row-name"}}
    )
    objects = tables.Column(empty_values=(), orderable=False, verbose_name=_("For"))
    reason = tables.Column(verbose_name=_("Waits"), orderable=False)
    question = tables.Column(orderable=False, verbose_name=_("Question"))
    asked_at = tables.DateTimeColumn(verbose_name=_("Since"), orderable=False)
    asked_by = tables.Column(verbose_name=_("Asked by"), orderable=False, empty_values=())
    answer = tables.TemplateColumn(
        template_name="housing/hold_answer.html",
        extra_context=lambda record, table: {"may_answer": table.may_answer(record)},
        orderable=False,
        verbose_name=_("Answer"),
    )

    class Meta:
        empty_text = _(
            "No question is open here. Whoever works on a box can ask one on its page at the bench."
        )

    def __init__(self, holds, *, answers_all: bool, boxes: Collection[int], **named) -> None:
        super().__init__(holds, **named)
        self.answers_all, self.boxes = answers_all, boxes

    def may_answer(self, hold: Hold) -> bool:
        return self.answers_all or hold.housing_id in self.boxes

    def render_box(self, record: Hold) -> str:
        address = reverse("housing:bench-box", args=[record.housing_id])
        return format_html('<a href="{}">{}</a>', address, record.housing)

    def render_objects(self, record: Hold) -> str:
        ties = record.housing.contents.all()
        links = ((reverse("housing:object-detail", args=[tie.object_id]), tie.object) for tie in ties)
        return format_html_join(", ", '<a href="{}">{}</a>', links)

    def render_asked_at(self, value, record: Hold) -> str:
        shown = f"{value:%Y-%m-%d}"
        if record.answered_at:
            return shown
        return format_html('{} <span class="soft">{}</span>', shown, timesince(value, depth=1))

    def render_asked_by(self, record: Hold) -> str:
        user = record.asked_by
        return (user.get_full_name() or user.get_username()) if user else "—"

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """The moment it was asked, and beside each question what was answered."""
        if name == "asked_at":
            return (gettext("Since"),), lambda hold: (hold.asked_at,)
        if name == "question":
            return (gettext("Question"), gettext("Answer")), lambda hold: (hold.question, hold.answer)
        return None
