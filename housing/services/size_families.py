"""Families of standard sizes: looked for among the planned boxes of one design, and kept."""

from copy import copy
from typing import Any

from django.db import transaction
from django.db.models import F
from django.urls import reverse
from django.utils import timezone

from boards.core.board import BoardRefused
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import EnclosureError
from housing.core.labour.work import work_minutes
from housing.core.standard_sizes import Need, Size, SizeChoice, SizesRefused, choose_sizes
from housing.models import Blank, Design, HousedObject, Housing, Job, Scenario, SizeFamily
from housing.queries.box_facts import facts_of_box
from housing.queries.budgets import terms_of
from housing.queries.sizes import board_price_m2
from housing.queries.standards import standard_times, work_terms
from housing.services.housings import set_sizes
from housing.services.jobs import runs, start_job
from housing.services.nesting import Progress
from housing.services.scenarios import save_scenario
from objects.core.words import say

CURVE_TO = 12
MINUTES_PER_HOUR = 60


def needs_of(family: SizeFamily) -> list[tuple[int, Need]]:
    """Objects in planned boxes of the family's design, one a box, with the clear inside worked out."""
    ties = HousedObject.objects.filter(
        is_live=True,
        housing__campaign=family.campaign,
        housing__design=family.design,
        housing__status=Housing.Status.PLANNED,
    ).annotate(x=F("housing__inner_x_mm"), y=F("housing__inner_y_mm"), z=F("housing__inner_z_mm"))
    rows = ties.order_by("housing", "position").values_list("housing", "object", "x", "y", "z")
    boxes: dict[int, list[tuple]] = {}
    for housing, *row in rows:
        boxes.setdefault(housing, []).append(tuple(row))
    return [
        (of_box[0][0], Need(str(of_box[0][0]), *map(float, of_box[0][1:])))
        for of_box in boxes.values()
        if len(of_box) == 1
    ]


class BoxCost:
    """What one box of a size costs: board by its real blanks, work by the standard times, and room."""

    def __init__(self, family: SizeFamily) -> None:
        self.family, campaign = family, family.campaign
        self.design: Design = copy(family.design)
        self.price_m2 = float(board_price_m2(campaign, self.design.board))
        self.times, self.terms = standard_times(), work_terms(campaign, terms_of(campaign))
        self.rate = float(campaign.rate_per_hour)

    def __call__(self, size: Size) -> float:
        """Money. Raises SizesRefused where the form cannot be made in this size."""
        design, housing = self.design, Housing(design=self.design)
        try:
            made = make_enclosure(
                design.form,
                InnerSize(size.x, size.y, size.z),
                design.board.to_core(),
                design.to_choices(),
                design.to_marking_out(),
            )
        except (EnclosureError, BoardRefused) as refused:
            raise SizesRefused(
                say(
                    "“{design}” cannot be made {x:.0f} × {y:.0f} × {z:.0f} mm inside: {refused}",
                    design=design,
                    x=size.x,
                    y=size.y,
                    z=size.z,
                    refused=refused,
                )
            ) from refused
        set_sizes(housing, made)
        blanks = [Blank.from_part(housing, part) for part in made.parts]
        box = facts_of_box(housing, blanks, design, [], key="size")
        minutes = float(work_minutes([box], self.times, self.terms).sum())
        room = box.outside_litres * float(self.family.volume_price)
        return box.blank_m2 * self.price_m2 + minutes / MINUTES_PER_HOUR * self.rate + room


def find_sizes(*, family: SizeFamily, progress: Progress = lambda *told: None) -> SizeFamily:
    """Look for the sizes of a family and store them; what was found before stays until then.

    Raises SizesRefused where there is nothing to look for, or the family was changed meanwhile.
    """
    as_of, needs = timezone.now(), needs_of(family)
    progress(2, say("Reading {count:,} boxes", count=len(needs)))
    found = choose_sizes(
        [need for _, need in needs],
        BoxCost(family),
        most_sizes=family.sizes_wanted,
        slack_mm=float(family.slack_mm),
        curve_to=max(CURVE_TO, family.sizes_wanted),
        watch=lambda done, of: progress(
            5 + 90 * done // of, say("Looking for the best {done} sizes", done=done + 1)
        ),
    )
    progress(97, say("Storing the sizes"))
    with transaction.atomic():
        now = SizeFamily.objects.select_for_update(of=("self",)).filter(pk=family.pk).first()
        if now is None or _asked(now) != _asked(family):
            raise SizesRefused(
                say("“{family}” was changed or deleted meanwhile. Look for its sizes again.", family=family)
            )
        now.made_at, now.result = as_of, result_of(found)
        now.save(update_fields=["made_at", "result"])
    return now


def _asked(family: SizeFamily) -> tuple[Any, ...]:
    return family.design_id, family.sizes_wanted, family.slack_mm, family.volume_price


def result_of(found: SizeChoice) -> dict[str, Any]:
    """Sizes with who gets which, and the curve, as they are stored; money as numbers: it is an estimate."""
    return {
        "sizes": [[one.size.x, one.size.y, one.size.z] for one in found.sizes],
        "of": {key: index for index, one in enumerate(found.sizes) for key in one.keys},
        "counts": [len(one.keys) for one in found.sizes],
        "money": [round(one.money, 2) for one in found.sizes],
        "custom": [int(key) for key in found.custom],
        "total": round(found.point.money, 2),
        "bound": round(found.point.bound, 2),
        "gap": found.point.gap,
        "litres": found.point.litres,
        "all_custom": round(found.all_custom, 2),
        "step_mm": found.step_mm,
        "candidates": found.candidates,
        "is_every_candidate": found.is_every_candidate,
        "curve": [
            {
                "number": point.number,
                "money": round(point.money, 2),
                "bound": round(point.bound, 2),
                "custom": point.custom,
                "litres": point.litres,
            }
            for point in found.curve
        ],
    }


def start_finding(*, family: SizeFamily, by: Any = None) -> Job:
    """Have the sizes of a family looked for in the background."""
    return start_job(
        kind=Job.Kind.SIZES,
        title=say("Find the sizes of “{family}”", family=family)[:200],
        parameters={"campaign": family.campaign_id, "family": family.pk},
        by=by,
    )


@runs(Job.Kind.SIZES)
def _run_finding(job: Job, progress: Progress) -> dict[str, str]:
    family = SizeFamily.objects.select_related("campaign", "design__board").filter(
        pk=job.parameters["family"]
    )
    if (one := family.first()) is None:
        raise SizesRefused(say("The family of sizes was deleted meanwhile."))
    found = find_sizes(family=one, progress=progress)
    number = len(found.result["sizes"])
    return {
        "message": say(
            "{number} sizes are found for {sum:,} objects.", number=number, sum=sum(found.result["counts"])
        ),
        "result_url": reverse("housing:size-family-detail", args=[one.campaign_id, one.pk]),
    }


@transaction.atomic
def scenario_with_sizes(*, family: SizeFamily, by: Any = None) -> Scenario:
    """A scenario of the campaign in which boxes are made in the sizes of a family."""
    name = say("Standard sizes: {family}", family=family)[:120]
    return save_scenario(
        scenario=Scenario(campaign=family.campaign, name=name, differences={"sizes": family.pk}), by=by
    )
