"""How long the home page and the object list take with 10,000 objects: python -m tests.benchmarks.pages"""

import os
import random
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

OBJECTS, ROUNDS = 10_000, 15
PAGES = (
    "/",
    "/objects/",
    "/objects/?page=150",
    "/objects/?status=still_unhoused&sort=status",
    "/objects/?q=bowl+clay",
)


def main() -> None:
    with TemporaryDirectory(prefix="planner-pages-") as folder:
        os.environ.update(DEBUG="", VAR_DIR=folder, DATABASE_URL=f"sqlite:///{folder}/pages.sqlite3")
        os.environ["DJANGO_SETTINGS_MODULE"] = "housing.config.settings"
        import django

        django.setup()
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        _fill()
        _measure()


def _fill() -> None:
    """Objects in 400 shelves of 40 rooms and 12 classes, six in ten with a housing."""
    from housing.models import HousedObject, Housing, HousingEvent
    from objects.models import CatalogueObject
    from tests.factories import make_campaign, make_design, make_location

    chance = random.Random(1)
    shelves = [
        make_location(f"Shelf {shelf}", parent=room)
        for wing in (make_location("North wing"), make_location("South wing"))
        for room in [make_location(f"Room {number}", parent=wing) for number in range(20)]
        for shelf in range(10)
    ]
    things = CatalogueObject.objects.bulk_create(
        CatalogueObject(
            number=f"1990.{i}", number_key=f"{i:08d}", name=f"Bowl {i}", classification=f"Class {i % 12}",
            materials="clay", description="A bowl with a rim.", location=chance.choice(shelves),
            height_mm=100 + i % 300, width_mm=200, depth_mm=150, size_state="known",
        )
        for i in range(OBJECTS)
    )  # fmt: skip
    campaign, design = make_campaign(), make_design()
    sides = {f"{which}_{side}_mm": 200 for which in ("inner", "outside") for side in "xyz"}
    housed = things[: OBJECTS * 6 // 10]
    housings = Housing.objects.bulk_create(
        Housing(
            campaign=campaign, design=design, status=status,
            problem="unmeasured" if status == "waiting" else "", **sides,
        )
        for status in chance.choices(("waiting", "planned", "in_work", "made", "housed"), k=len(housed))
    )  # fmt: skip
    HousedObject.objects.bulk_create(
        HousedObject(housing=housing, object=thing) for housing, thing in zip(housings, housed, strict=True)
    )
    HousingEvent.objects.bulk_create(HousingEvent(housing=h, status=h.status) for h in housings)


def _measure() -> None:
    from django.test import Client

    from tests.factories import make_user

    client = Client(headers={"host": "localhost"})
    client.force_login(make_user("manager"))
    for page in PAGES:
        times = []
        for _ in range(ROUNDS + 1):
            start = perf_counter()
            answer = client.get(page)
            times.append((perf_counter() - start) * 1000)
            assert answer.status_code == 200, page
        print(f"{page:45} median {median(times[1:]):6.1f} ms, longest {max(times[1:]):6.1f} ms")


if __name__ == "__main__":
    main()
