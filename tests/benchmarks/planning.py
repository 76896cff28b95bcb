"""How long planning 5,000 blanks takes at first and after changes: python -m tests.benchmarks.planning"""

import math
import os
import random
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

OBJECTS = 2_500  # a base and a lid each
CHANGES = (0, 1, 1, 10)
# Medians of width, depth and height in mm: small finds, vessels, books, flat works. Made up.
KINDS = ((60, 45, 30), (170, 150, 160), (260, 190, 35), (300, 220, 20))
SPREAD, LEAST_MM = 0.4, 10


def main(objects: int) -> None:
    with TemporaryDirectory(prefix="planner-planning-") as folder:
        os.environ.update(DEBUG="", VAR_DIR=folder, DATABASE_URL=f"sqlite:///{folder}/planning.sqlite3")
        os.environ["DJANGO_SETTINGS_MODULE"] = "housing.config.settings"
        import django

        django.setup()
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        _measure(_fill(objects))


def _fill(objects: int):
    """A campaign of objects of four kinds, one design and four people."""
    from boards.services import receive_sheets
    from objects.models import CatalogueObject
    from tests.factories import make_board, make_campaign, make_design, make_person, make_sheet_size

    chance = random.Random(1)
    size = make_sheet_size(board=make_board())
    receive_sheets(sheet_size=size, count=objects)
    things = []
    for number in range(objects):
        width, depth, height = (
            Decimal(str(round(max(LEAST_MM, side * math.exp(chance.gauss(0, SPREAD))), 1)))
            for side in chance.choice(KINDS)
        )
        things.append(
            CatalogueObject(
                number=f"2000.{number}", number_key=f"{number:08d}", name=f"Thing {number}",
                width_mm=width, depth_mm=depth, height_mm=height, size_state="known",
            )
        )  # fmt: skip
    campaign = make_campaign(*CatalogueObject.objects.bulk_create(things))
    campaign.people.add(*(make_person() for _ in range(4)))
    campaign.rules.create(position=1, design=make_design(board=size.board))
    return campaign


def _measure(campaign) -> None:
    from housing.models import Blank, Campaign, PlannedSheet
    from housing.services.campaigns import plan_campaign
    from housing.services.sheets import cut_sheet

    chance = random.Random(2)
    with timed("first planning", _figures()):
        plan_campaign(campaign=campaign)
    for changes in CHANGES:
        sheets = set(PlannedSheet.objects.values_list("pk", flat=True))
        for thing in chance.sample(list(campaign.objects_in_it.order_by("pk")), changes):
            thing.width_mm += 3
            thing.save()
        with timed(f"planning again after {changes} changes", _figures(sheets)):
            plan_campaign(campaign=Campaign.objects.get(pk=campaign.pk), keep=True)
    with timed("cutting a sheet", lambda: f"{Blank.objects.count():,} blanks"):
        cut_sheet(sheet=PlannedSheet.objects.first())


def _figures(before: set[int] | None = None) -> Callable[[], str]:
    def told() -> str:
        from housing.models import PlannedSheet

        sheets = set(PlannedSheet.objects.values_list("pk", flat=True))
        return f"{len(sheets):,} sheets" + (f", {len(sheets & before):,} as before" if before else "")

    return told


@contextmanager
def timed(what: str, told: Callable[[], str]) -> Iterator[None]:
    """Print how long something took by the clock and on the processor, and a figure once it is done."""
    clock, work = perf_counter(), process_time()
    yield
    clock, work = perf_counter() - clock, process_time() - work
    print(f"{what:36} {clock:7.2f} s, processor {work:7.2f} s; {told()}", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else OBJECTS)
