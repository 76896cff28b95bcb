"""What would be lost, in numbers: sentences for the pages that ask before they delete, drop or undo."""

from collections.abc import Iterable

from boards.models import Board
from housing.models import (
    Absence,
    CampaignObject,
    Design,
    DesignRule,
    Grade,
    Housing,
    Phase,
    PlannedSheet,
    ReadyMadeBox,
    Scenario,
    Selection,
    SizeFamily,
    StandardTime,
    Task,
)
from housing.queries.absences import span_of
from objects.core.words import say, say_count
from objects.models import CatalogueObject, ImportedRow, ListImport

BEFORE_IT_IS_HOUSED = (Housing.Status.PLANNED, Housing.Status.IN_WORK, Housing.Status.MADE)


def of_dropping(boxes: Iterable[Housing]) -> list[str]:
    """What dropping boxes does to their objects, their open work and the sheets they are cut from."""
    keys = [box.pk for box in boxes]
    objects = CatalogueObject.objects.filter(housing_ties__housing__in=keys, housing_ties__is_live=True)
    steps = Task.objects.filter(housing__in=keys).exclude(state=Task.State.DONE).count()
    done = Task.objects.filter(housing__in=keys, state=Task.State.DONE).count()
    sheets = PlannedSheet.objects.filter(placements__blank__housing__in=keys).distinct()
    uncut = sheets.filter(cut_at=None).count()
    said = [
        say_count(
            "{count:,} object is without a box again; what it needs is as it was before.",
            "{count:,} objects are without a box again; what they need is as it was before.",
            objects.distinct().count(),
        )
    ]
    if steps:
        said.append(
            say_count(
                "{count:,} step that is still open leaves the work list.",
                "{count:,} steps that are still open leave the work list.",
                steps,
            )
        )
    if done:
        said.append(
            say_count(
                "{count:,} step that is done stays in the log; its hours count as spent.",
                "{count:,} steps that are done stay in the log; their hours count as spent.",
                done,
            )
        )
    if uncut:
        said.append(
            say_count(
                "{count:,} sheet not cut yet was planned with its blanks: plan the campaign again, and "
                "throw away its printed cut sheet.",
                "{count:,} sheets not cut yet were planned with these blanks: plan the campaign again, and "
                "throw away their printed cut sheets.",
                uncut,
            )
        )
    said.append(say("A label that is printed already leads to a page that says the box was dropped."))
    return said


def of_absence(absence: Absence) -> list[str]:
    return [
        say("{person} counts as there {days}.", person=absence.person, days=span_of(absence)),
        say("Work that is given out stays as it is until you give it out again."),
    ]


def of_phase(phase: Phase) -> list[str]:
    due = CampaignObject.objects.filter(
        campaign=phase.campaign_id, batch__gte=phase.first_batch, batch__lte=phase.last_batch
    )
    return [
        say_count(
            "{count:,} object of its batches belongs to no phase any more, unless another has the batch.",
            "{count:,} objects of its batches belong to no phase any more, unless another has these batches.",
            due.count(),
        ),
        say("Baselines keep it as it was."),
    ]


def of_grade(grade: Grade) -> list[str]:
    if grade.people.exists():
        return []  # which is refused
    return [say("Nobody has it. Its rates and their source are gone.")]


def of_ready_made(box: ReadyMadeBox) -> list[str]:
    return [
        say("Its sizes and its price are gone."),
        say_count(
            "{count:,} scenario is there that may buy it; it then shows itself out of date.",
            "{count:,} scenarios are there that may buy it; they then show themselves out of date.",
            Scenario.objects.count(),
        ),
    ]


def of_rule(rule: DesignRule) -> list[str]:
    below = rule.campaign.rules.filter(position__gt=rule.position).count()
    boxes = Housing.objects.filter(
        campaign=rule.campaign_id, status__in=[Housing.Status.WAITING, *BEFORE_IT_IS_HOUSED]
    )
    return [
        say_count(
            "{count:,} rule below moves up one place.", "{count:,} rules below move up one place.", below
        ),
        say_count(
            "{count:,} box of the campaign not housed yet keeps its design until you plan again.",
            "{count:,} boxes of the campaign not housed yet keep their designs until you plan again.",
            boxes.count(),
        ),
        say("Why the rule was made, and its source, are gone with it."),
    ]


def of_scenario(scenario: Scenario) -> list[str]:
    worked_out = say("What was worked out for it is gone.")
    return [*([worked_out] if scenario.result else []), say("Nothing of the campaign changes.")]


def of_selection(selection: Selection) -> list[str]:
    found = say("What was found for these limits is gone; finding it again takes as long as before.")
    return [*([found] if selection.result else []), say("The campaign, its batches and its scenarios stay.")]


def of_size_family(family: SizeFamily) -> list[str]:
    found = say("The sizes that were found are gone; finding them again takes as long as before.")
    return [*([found] if family.result else []), say("Scenarios made with it keep the sizes.")]


def of_correction(board: Board) -> list[str]:
    designs = Design.objects.filter(board=board)
    boxes = Housing.objects.filter(design__in=designs, status=Housing.Status.PLANNED)
    return [
        say(
            "{board} goes by its stated caliper of {stated} mm again, not the {measured} mm "
            "that a finished box told.",
            board=board,
            stated=f"{board.caliper_mm:f}",
            measured=f"{board.measured_caliper_mm or board.caliper_mm:f}",
        ),
        say_count(
            "{count:,} planned box of its designs gets other cut lines when it is planned again.",
            "{count:,} planned boxes of its designs get other cut lines when they are planned again.",
            boxes.count(),
        ),
    ]


def of_standard_time(time: StandardTime) -> list[str]:
    open_boxes = Housing.objects.filter(status__in=BEFORE_IT_IS_HOUSED)
    if time.design_id:
        open_boxes = open_boxes.filter(design=time.design_id)
    return [
        say("The minutes that were entered and where they come from are gone."),
        say_count(
            "{count:,} box on its way is reckoned anew; budgets show themselves out of date.",
            "{count:,} boxes on their way are reckoned anew; budgets show themselves out of date.",
            open_boxes.count(),
        ),
    ]


def of_put_aside(listed: ListImport) -> list[str]:
    return [
        say_count(
            "{count:,} row that was read, and what you decided about it, is gone. Nothing is saved.",
            "{count:,} rows that were read, and what you decided about them, are gone. Nothing is saved.",
            int(listed.reading.get("rows", 0)),
        ),
        say("You can take in the same file again."),
    ]


def of_undoing(listed: ListImport) -> list[str]:
    rows = ImportedRow.objects.filter(listed=listed)
    changed = rows.filter(status=ImportedRow.Status.CHANGED).count()
    return [
        say_count(
            "{count:,} record that the list brought is deleted.",
            "{count:,} records that the list brought are deleted.",
            rows.filter(is_added=True).count(),
        ),
        say_count(
            "{count:,} record that it changed has its old values again.",
            "{count:,} records that it changed have their old values again.",
            changed,
        ),
        say("Where something was built on them since, nothing is undone and you are told what it is."),
    ]
