"""Words that the prints of a budget share: its title, what is wrong with it as a whole, what it assumes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from housing.core.budget.lines import Budget as CoreBudget
from housing.core.enclosures import ENCLOSURES
from housing.models import Budget, BudgetTerms
from housing.queries.budget_sources import BOARDS
from housing.queries.budgets import told_budget
from objects.core.retelling import retold
from objects.core.words import noted, say
from objects.readers import Reader

OF_BOARDS = ("board", "sheet")  # kinds of targets whose names are sizes, not words that somebody entered
INCOMPLETE, OUT_OF_DATE = noted("Incomplete"), noted("Out of date")

# Terms that are shares, and what each is called for a reader who never saw the form.
SHARES = {
    "allowance_share": noted("Allowance for rest"),
    "alike_share": noted("Marking out a blank like the one before it, of the first one's time"),
    "supervision_share": noted("Hours of supervision for an hour of volunteers or interns"),
    "indirect_share": noted("Indirect costs, of all other money"),
    "board_spoilage_share": noted("Sheets spoiled, bought on top"),
    "gap_filled_share": noted("Gap around the object filled with tissue or batting"),
}


def read_for(stored: Budget, reader: Reader) -> CoreBudget:
    """A stored budget with the lengths in its words in the reader's unit; names of supplies stay."""
    budget, say = told_budget(stored), reader.sentence
    return replace(
        budget,
        lines=tuple(
            replace(
                line,
                what=say(line.what) if line.target.kind in OF_BOARDS else line.what,
                computed_from=say(line.computed_from),
            )
            for line in budget.lines
        ),
        problems=tuple(
            replace(one, what=say(one.what) if one.target.kind in OF_BOARDS else one.what)
            for one in budget.problems
        ),
    )


def sources_for(content: Mapping[str, Any], reader: Reader) -> list[dict[str, str]]:
    """Where figures come from, sizes of sheets in the reader's unit."""
    return [
        row
        | {
            "what": reader.sentence(row["what"]) if row["group"] == BOARDS else retold(row["what"]),
            "figure": retold(row["figure"]),
            "source": retold(row["source"]),
        }
        for row in content.get("sources", ())
    ]


def title_of(stored: Budget) -> str:
    """What a print of a budget is called."""
    name = stored.content["campaign"]
    return (
        say("{stored_name}: budget of {name}", stored_name=stored.name, name=name)
        if stored.frozen_at
        else say("Budget of {name}", name=name)
    )


def marks_of(stored: Budget, changes: Sequence[str]) -> list[str]:
    """What stands on every page: that it is incomplete, and that it is out of date."""
    was_outdated = stored.content.get("changed_when_frozen") if stored.frozen_at else changes
    return [
        *([] if stored.is_complete else [say(INCOMPLETE)]),
        *([say(OUT_OF_DATE)] if was_outdated else []),
    ]


def assumptions_of(content: Mapping[str, Any], reader: Reader) -> Iterator[tuple[str, str]]:
    """What a budget assumes, as words and figures."""
    terms = content["terms"]
    allowance_of = str(dict(BudgetTerms.AllowanceOf.choices)[terms["allowance_of"]]).lower()
    for key, words in SHARES.items():
        text = f"{Decimal(str(terms[key])) * 100:.2f}".rstrip("0").rstrip(".")
        yield words, f"{text} %{f' ({allowance_of})' if key == 'allowance_share' else ''}"
    yield say("Learning"), str(dict(BudgetTerms.Learning.choices)[terms["learning"]])
    if terms["learning"] != BudgetTerms.Learning.NONE:
        yield (
            say("Time left when twice as many are made"),
            f"{Decimal(str(terms['learning_rate'])) * 100:.0f} %",
        )
        yield (
            say("Box of a form that takes the standard time"),
            say("number {learning_reference}", learning_reference=terms["learning_reference"]),
        )
        for form, rate in terms["learning_rates"].items():
            name = say(ENCLOSURES[form].name) if form in ENCLOSURES else form
            yield say("Time left when twice as many are made, {name}", name=name), f"{rate * 100:.0f} %"
    yield say("Bead of glue, across"), reader.length(Decimal(terms["glue_bead_mm"]))
    yield say("Beads of glue beside each other in a joint"), str(terms["beads_per_joint"])
    yield say("Labels on a box"), str(terms["labels_each"])
    yield (
        say("Logged minutes correct the standard times"),
        say("yes") if terms["uses_logged_times"] else say("no"),
    )
    yield (
        say("Contingency"),
        (
            say("up to what is not exceeded in {percent} of 100 cases", percent=content["percent"])
            if content.get("range")
            else "none"
        ),
    )
