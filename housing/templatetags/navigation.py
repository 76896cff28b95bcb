"""The way around the site: {% navigation as groups %} gives its links, the current one marked."""

from dataclasses import dataclass

from django import template
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from objects.readers import Reader

register = template.Library()

# Heading, then each link: words, URL name, sign. A page belongs to the link whose noun begins its own name.
GROUPS = (
    ("", ((_("How far are we?"), "housing:home", "progress"),)),
    (
        _("Collection"),
        (
            (_("Objects"), "housing:object-list", "object"),
            (_("What is unhoused"), "housing:need-list", "need"),
            (_("Collection in figures"), "housing:figures", "figures"),
            (_("Import"), "housing:import-start", "import"),
            (_("Take out"), "housing:export-choose", "export"),
            (_("Locations"), "objects:location-list", "location"),
            (_("Measure at the shelf"), "objects:survey-start", "measure"),
        ),
    ),
    (
        _("Making"),
        (
            (_("Boards and stock"), "boards:board-list", "board"),
            (_("Suppliers and supplies"), "boards:supply-list", "supply"),
            (_("Designs"), "housing:design-list", "design"),
            (_("Ready-made boxes"), "housing:ready-made-list", "ready_made"),
            (_("Campaigns"), "housing:campaign-list", "campaign"),
            (_("Standard times"), "housing:standard-list", "standards"),
            (_("People"), "housing:person-list", "people"),
            (_("Bench"), "housing:bench", "bench"),
            (_("Work"), "housing:task-list", "work"),
            (_("Questions"), "housing:hold-list", "note"),
            (_("What went wrong"), "housing:fit-causes", "warning"),
            (_("Report"), "housing:report", "report"),
            (_("Prints"), "housing:print-choose", "print"),
        ),
    ),
    (
        "",
        (
            (_("Guide"), "housing:guide", "guide"),
            (_("Glossary"), "housing:glossary", "glossary"),
            (_("Preferences"), "objects:preferences", "preferences"),
        ),
    ),
)
OF_CAMPAIGNS = (
    "housing:campaign-", "housing:phase-", "housing:scenario-", "housing:selection-", "housing:size-family-",
)  # fmt: skip
OF_PEOPLE = ("housing:person-", "housing:grade-", "housing:absence-")
OF_BOARDS = ("boards:", "housing:stock", "housing:offcut-")
OF_SUPPLIES = ("boards:supply-", "boards:supplier-")
# Pages that only surveyors and managers may open.
FOR_SURVEYORS = {"housing:import-start", "objects:survey-start"}
# A link for makers and managers; whoever else has work finds the bench on the work list.
FOR_MAKERS = {"housing:bench"}


@dataclass(frozen=True)
class Link:
    """One link of the navigation."""

    words: str
    address: str
    sign: str
    is_current: bool


@register.simple_tag(takes_context=True)
def navigation(context) -> list[tuple[str, list[Link]]]:
    """Groups of links with their headings."""
    match = getattr(context.get("request"), "resolver_match", None)
    here = match.view_name if match else ""
    reader = context.get("reader") or Reader()
    return [
        (
            heading,
            [
                Link(str(words), reverse(name), sign, _covers(name, here))
                for words, name, sign in links
                if (name not in FOR_SURVEYORS or reader.is_surveyor)
                and (name not in FOR_MAKERS or reader.is_maker)
            ],
        )
        for heading, links in GROUPS
    ]


def _covers(name: str, here: str) -> bool:
    """Whether the page named `here` is about the noun of a link: object-list covers object-detail."""
    if name == "boards:supply-list":
        return here.startswith(OF_SUPPLIES)
    if name == "housing:campaign-list":
        return here.startswith(OF_CAMPAIGNS)
    if name == "housing:person-list":
        return here.startswith(OF_PEOPLE)
    if name == "boards:board-list":
        return here.startswith(OF_BOARDS) and not here.startswith(OF_SUPPLIES)
    noun = name.removesuffix("-list").removesuffix("-start").removesuffix("-choose")
    return here == noun or here.startswith(f"{noun}-")
