"""The fit check before a box goes back: it fits, is adjusted, or is made again; why, and at what cost."""

from collections import defaultdict
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from boards.core.money import to_cents
from housing.models import (
    BenchEntry,
    FitCheck,
    HousedObject,
    Housing,
    HousingEvent,
    Person,
    PlannedBlank,
    Task,
)
from housing.queries.standards import rate_of
from housing.services.bench_entries import Ask, BenchRefused, Outcome, handles, undoes
from housing.services.housings import move_housing
from housing.services.tasks import refuse_held, refuse_minutes
from objects.core.lengths import LengthError, parse_length
from objects.core.words import noted, say
from objects.models import CatalogueObject

What, Status = BenchEntry.What, Housing.Status
ASKED = ("fits", "lid_closes", "nothing_touches")
YES = {"yes", "on", "true", "1"}
MINUTES_PER_HOUR = 60
LARGEST_SHORT_MM = Decimal(2000)
REMADE = noted("Plan the campaign to have this box made again.")


@handles(What.FITS)
def fits(ask: Ask) -> Outcome:
    """The object fits, the lid closes, nothing presses or rubs."""
    housing = _made(ask)
    check = _check(ask, housing, {"fits": True, "lid_closes": True, "nothing_touches": True})
    return Outcome(say("{housing} fits.", housing=housing), {"check": check.pk})


@handles(What.ADJUST)
def adjust(ask: Ask) -> Outcome:
    """It did not fit, and was put right at the bench in some minutes, which cost what an hour of the person
    costs."""
    housing = _made(ask)
    refuse_minutes(ask.minutes)
    cost = _cost_of(ask.person, ask.minutes or Decimal())
    check = _check(ask, housing, _answers(ask), remedy=FitCheck.Remedy.ADJUST, work_cost=cost)
    return Outcome(say("{housing} was adjusted and fits now.", housing=housing), {"check": check.pk})


@handles(What.REMAKE)
def remake(ask: Ask) -> Outcome:
    """It does not fit and is made again: the box is dropped, and another waits to be planned in its place."""
    housing = _made(ask)
    board, work = board_lost(housing), work_lost(housing)
    check = _check(
        ask,
        housing,
        _answers(ask),
        remedy=FitCheck.Remedy.REMAKE,
        board_cost=board,
        work_cost=work,
    )
    things = [tie.object for tie in housing.contents.select_related("object").filter(is_live=True)]
    open_tasks = _as_rows(housing.tasks.exclude(state=Task.State.DONE))
    doubted = _doubt_sizes(things, check) if check.cause == FitCheck.Cause.MEASUREMENT else []
    why = say("To be made again: {why}", why=_why(check))
    move_housing(housing=housing, status=Status.DROPPED, by=ask.by, note=why[:300])
    again = Housing.objects.create(
        campaign=housing.campaign,
        status=Status.WAITING,
        problem=Housing.Problem.REMAKE,
        problem_note=say(REMADE),
        remake_of=housing,
    )
    HousedObject.objects.bulk_create(
        HousedObject(housing=again, object=thing, position=position)
        for position, thing in enumerate(things, start=1)
    )
    HousingEvent.objects.create(
        housing=again, status=again.status, by=ask.by, note=say("In place of {housing}", housing=housing)
    )
    currency = housing.campaign.currency if housing.campaign else ""
    return Outcome(
        say(
            "{housing} is to be made again; {board:,.2f} {currency} of board and work are lost. {remade}",
            housing=housing,
            board=board + work,
            currency=currency,
            remade=say(REMADE),
        ),
        {
            "check": check.pk,
            "status": housing.status,
            "again": again.pk,
            "tasks": open_tasks,
            "sizes": doubted,
        },
    )


@undoes(What.FITS, What.ADJUST)
def undo_check(entry: BenchEntry, by: Any) -> str:
    """The check was made by mistake; a box that is on its shelf by now keeps it."""
    check = _check_of(entry)
    if check.housing.status == Status.HOUSED:
        raise BenchRefused(say("{housing} is on its shelf by now. Undo that first.", housing=check.housing))
    _void(check)
    return say("The fit check of {housing} is taken back.", housing=check.housing)


@undoes(What.REMAKE)
def undo_remake(entry: BenchEntry, by: Any) -> str:
    """The box is kept after all, as long as the one in its place was not planned."""
    check, memory = _check_of(entry), entry.detail["memory"]
    again = Housing.objects.select_for_update().get(pk=memory["again"])
    if again.status != Status.WAITING:
        raise BenchRefused(
            say(
                "{again}, which takes its place, is “{status}” by now. Go on with that.",
                again=again,
                status=again.get_status_display(),
            )
        )
    move_housing(
        housing=again,
        status=Status.DROPPED,
        by=by,
        note=say("{housing} is kept after all", housing=check.housing),
    )
    housing = Housing.objects.select_for_update().get(pk=check.housing_id)
    housing.status = memory["status"]
    housing.save(update_fields=["status"])
    housing.contents.update(is_live=True)
    HousingEvent.objects.create(housing=housing, status=housing.status, by=by, note=say("Kept after all"))
    Task.objects.bulk_create(Task(housing=housing, **row) for row in memory["tasks"])
    for row in memory["sizes"]:
        CatalogueObject.objects.filter(pk=row["pk"]).update(
            size_state=row["size_state"], dimensions_note=row["dimensions_note"]
        )
    _void(check)
    return say("{housing} is kept after all.", housing=housing)


def good_check(housing: Housing) -> FitCheck | None:
    """The last check of a box, if it fits by it or was adjusted."""
    last = housing.fit_checks.filter(is_void=False).order_by("-at", "-pk").first()
    return last if last and (last.is_good or last.remedy == FitCheck.Remedy.ADJUST) else None


def board_lost(housing: Housing) -> Decimal:
    """What the board of a box cost: of each sheet it was cut from, the part that its blanks are of all on it.

    Where nothing was cut from a sheet of the plan, its share of the budget.
    """
    areas: defaultdict[int, Decimal] = defaultdict(Decimal)
    hers: defaultdict[int, Decimal] = defaultdict(Decimal)
    prices: dict[int, Decimal] = {}
    on = PlannedBlank.objects.filter(sheet__placements__blank__housing=housing, sheet__cut_at__isnull=False)
    for sheet, price, box, along, across in on.distinct().values_list(
        "sheet", "sheet__price", "blank__housing", "along_mm", "across_mm"
    ):
        prices[sheet] = price
        areas[sheet] += along * across
        if box == housing.pk:
            hers[sheet] += along * across
    if not prices:
        return housing.board_cost
    return to_cents(sum((prices[sheet] * hers[sheet] / areas[sheet] for sheet in prices), Decimal()))


def work_lost(housing: Housing) -> Decimal:
    """What the finished steps of a box cost in money; measuring stays of use.

    Minutes logged, or else planned, at the rates of whoever worked.
    """
    done = housing.tasks.filter(state=Task.State.DONE).exclude(step=Task.Step.MEASURE)
    return sum(
        (
            _cost_of(task.person, task.planned_minutes if task.spent_minutes is None else task.spent_minutes)
            for task in done.select_related("person__grade")
        ),
        Decimal(),
    )


def _cost_of(person: Person | None, minutes: Decimal) -> Decimal:
    """Money for some minutes of a person; hours that are given cost none."""
    if person is None or person.kind == Person.Kind.VOLUNTEER:
        return Decimal()
    return to_cents(minutes / MINUTES_PER_HOUR * rate_of(person).cost)


def _made(ask: Ask) -> Housing:
    housing = ask.housing or (ask.task.housing if ask.task else None)
    if housing is None:
        raise BenchRefused(say("Say which box was tried. Open its page and enter it there."))
    housing = Housing.objects.select_for_update(of=("self",)).get(pk=housing.pk)
    refuse_held(housing)
    if housing.status != Status.MADE:
        raise BenchRefused(
            say(
                "{housing} is “{status}”; a box is tried when it is made and before it is back on its shelf.",
                housing=housing,
                status=housing.get_status_display(),
            )
        )
    return housing


def _answers(ask: Ask) -> dict[str, bool]:
    answers = {name: str(ask.detail.get(name, "")).lower() in YES for name in ASKED}
    if all(answers.values()):
        raise BenchRefused(say("Nothing is wrong by these answers. Say what does not fit, or that it fits."))
    return answers


def _check(ask: Ask, housing: Housing, answers: Mapping[str, bool], **values: Any) -> FitCheck:
    told = {name: str(ask.detail.get(name, "")).strip() for name in ("cause", "side", "note")}
    if values.get("remedy") and told["cause"] not in FitCheck.Cause.values:
        raise BenchRefused(say("Say what was wrong: choose one of the causes, so that it can be counted."))
    if told["side"] and told["side"] not in FitCheck.Side.values:
        raise BenchRefused(
            say("“{side}” is no side of an object. Choose height, width or depth.", side=told["side"])
        )
    if not values.get("remedy"):
        told |= {"cause": "", "side": ""}
    return FitCheck.objects.create(
        housing=housing,
        **answers,
        cause=told["cause"],
        side=told["side"],
        short_mm=_short_mm(ask),
        note=told["note"][:300],
        minutes=ask.minutes,
        at=ask.at,
        by=ask.by,
        **values,
    )


def _short_mm(ask: Ask) -> Decimal | None:
    """How much the box was too small, mm; below 0 for too large. It was typed in the unit told with it."""
    text = str(ask.detail.get("short") or "").strip()
    if not text:
        return None
    try:
        short = Decimal(parse_length(text, str(ask.detail.get("unit") or "mm")))
    except LengthError as error:
        raise BenchRefused(say("By how much: {error}", error=error)) from error
    if short > LARGEST_SHORT_MM:
        raise BenchRefused(say("By how much: more than 2 m cannot be missing."))
    return -short if ask.detail.get("direction") == "large" else short


def _why(check: FitCheck) -> str:
    """The cause in words; the length in mm, as sentences that are kept have them."""
    words = check.get_cause_display().lower()
    if check.side:
        words += f", {check.get_side_display().lower()}"
    if check.short_mm:
        mm = f"{abs(check.short_mm).normalize():f}"
        words += ", " + (
            say("{mm} mm short", mm=mm) if check.short_mm > 0 else say("{mm} mm too large", mm=mm)
        )
    return words + (f". {check.note}" if check.note else "")


def _doubt_sizes(things: list[CatalogueObject], check: FitCheck) -> list[dict[str, Any]]:
    """Mark sizes that were wrong as to be checked, so that nothing is made by them again. Returns them as
    they were."""
    before = []
    for thing in things:
        if thing.size_state != CatalogueObject.SizeState.KNOWN:
            continue
        before.append(
            {"pk": thing.pk, "size_state": thing.size_state, "dimensions_note": thing.dimensions_note}
        )
        thing.size_state = CatalogueObject.SizeState.CHECK
        thing.dimensions_note = say(
            "Measure again: {housing} did not fit, {why}", housing=check.housing, why=_why(check)
        )[:500]
        thing.save(update_fields=["size_state", "dimensions_note", "changed_at"])
    return before


def _as_rows(tasks) -> list[dict[str, Any]]:
    """Tasks as they are, ready for JSON and to be made again."""
    return [
        {
            "step": task.step,
            "sequence": task.sequence,
            "person_id": task.person_id,
            "week": task.week,
            "reason": task.reason,
            "planned_minutes": str(task.planned_minutes),
            "standard_minutes": None if task.standard_minutes is None else str(task.standard_minutes),
        }
        for task in tasks
    ]


def _check_of(entry: BenchEntry) -> FitCheck:
    return (
        FitCheck.objects.select_for_update(of=("self",))
        .select_related("housing")
        .get(pk=entry.detail["memory"]["check"])
    )


def _void(check: FitCheck) -> None:
    check.is_void = True
    check.save(update_fields=["is_void"])
