"""Words of planning and money."""

from housing.core.glossary.term import Group, Term
from objects.core.words import noted

PLANNING = Group(
    "group-planning",
    noted("Planning and money"),
    (
        Term(
            "campaign",
            noted("campaign"),
            noted("A set of objects that are housed together, with people, dates and one budget."),
        ),
        Term(
            "design",
            noted("design"),
            noted(
                "A recipe for boxes: form, board, allowances and padding. Each object's size turns "
                "it into blanks."
            ),
            see=("form", "rule"),
        ),
        Term(
            "rule",
            noted("rule"),
            noted(
                "A line such as “paintings get a travelling tray”. Rules are tried from the top; "
                "for each piece of advice the first that matches decides, and tells why."
            ),
        ),
        Term(
            "conflict",
            noted("conflict"),
            noted(
                "Two rules that both match an object and ask for different things. Both are shown, "
                "and a person decides."
            ),
        ),
        Term(
            "batch",
            noted("batch"),
            noted("Part of a campaign that is cut and made together, before the next part."),
        ),
        Term(
            "phase",
            noted("phase"),
            noted("Part of a campaign with dates and money of its own."),
        ),
        Term(
            "scenario",
            noted("scenario"),
            noted("Another way of doing a campaign, worked out beside the plan without changing it."),
        ),
        Term(
            "size_family",
            noted("standard sizes"),
            noted("A few box sizes for many objects. Cutting gets simpler; board and shelf room go up."),
        ),
        Term(
            "budget",
            noted("budget"),
            noted(
                "All that a campaign costs: board, glue, padding, labels, freight and work. Each "
                "line says what it was computed from."
            ),
        ),
        Term(
            "contingency",
            noted("contingency"),
            noted(
                "Money kept back for what goes otherwise than planned. It is chosen by how often "
                "the budget is to be enough."
            ),
        ),
        Term(
            "baseline",
            noted("baseline"),
            noted("A budget frozen under a name on a day. What was spent since is compared with it."),
        ),
        Term(
            "standard_time",
            noted("standard time"),
            noted("How many minutes a piece of work usually takes. What you log at the bench corrects it."),
        ),
        Term(
            "in_kind",
            noted("hours given"),
            noted("Work of volunteers: no money is paid, but funders often count what it is worth."),
            also=noted("in kind"),
        ),
    ),
)
