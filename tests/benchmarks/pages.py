"""How long pages take in a large museum: python -m tests.benchmarks.pages --objects 100000 --tasks 20000

Each page is asked for by Django's test client in this process, without debug; the time is that of the whole
answer, the median of several. On a machine that does other work as well the processor's time tells more than
the clock. With --compare pages are told of that make other queries than in a museum of 40 objects: those
that have no rows there make fewer.
"""

import logging
import os
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

ROUNDS, LIMIT_MS = 9, 150
PAGES = {
    "home": "/",
    "progress of places": "/progress/places/",
    "objects": "/objects/",
    "objects, page 150": "/objects/?page=150",
    "objects, sorted by status": "/objects/?sort=status",
    "objects, sorted by score": "/objects/?sort=-score",
    "objects of a room": "/objects/?location={room.pk}",
    "objects still unhoused": "/objects/?status=still_unhoused",
    "objects still unhoused, by status": "/objects/?status=still_unhoused&sort=status",
    "objects of class A": "/objects/?priority=A",
    "objects of a campaign": "/objects/?campaign={campaign.pk}",
    "objects, a search for a number": "/objects/?q=1990.77",
    "objects, a search for two words": "/objects/?q=bowl+clay",
    "search, a word": "/search/?q=bowl",
    "search, two words": "/search/?q=bowl+clay",
    "search, the beginning of a number": "/search/?q=1990.77",
    "search, nothing found": "/search/?q=zzzz",
    "object": "/objects/{object.pk}/",
    "need": "/need/",
    "need by score": "/need/?by=score",
    "need in a room": "/need/?location={room.pk}",
    "work list": "/work/?person=",
    "work list, own": "/work/",
    "work list, can be begun": "/work/?person=&begin=now",
    "work list, waits": "/work/?person=&begin=waits",
    "work list, own, can be begun": "/work/?begin=now",
    "campaigns": "/campaigns/",
    "campaign": "/campaigns/{campaign.pk}/",
    "campaign, plan": "/campaigns/{campaign.pk}/plan/",
    "campaign, work by person": "/campaigns/{campaign.pk}/tasks/",
    "campaign, progress": "/campaigns/{campaign.pk}/progress/",
    "campaign, forecast": "/campaigns/{campaign.pk}/forecast/",
    "campaign, budget": "/campaigns/{campaign.pk}/budget/",
    "bench": "/bench/",
    "bench, a box": "/bench/boxes/{box.pk}/",
    "bench, a sheet": "/bench/sheets/{sheet.pk}/",
    "locations": "/catalogue/locations/",
    "people": "/people/",
    "days away": "/people/away/",
    "designs": "/designs/",
    "boards": "/boards/",
    "a board with its ledger": "/boards/{board.pk}/",
    "supplies": "/boards/supplies/",
    "stock": "/stock/",
    "a label's code": "/q/{housed.code}/",
    "questions": "/questions/",
    "what went wrong": "/fit/",
    "report of a month": "/report/?first=2026-11-01&last=2026-11-30",
    "prints": "/prints/",
    "lists taken out": "/export/",
}


@dataclass(frozen=True)
class Measured:
    """A page: its answer, how many queries it made, and of each round the processor's ms and the clock's."""

    status: int
    queries: int
    rounds: Sequence[tuple[float, float]]

    @property
    def processor_ms(self) -> float:
        return median(processor for processor, _ in self.rounds)

    @property
    def clock_ms(self) -> float:
        return median(clock for _, clock in self.rounds)


def main() -> None:
    asked = ArgumentParser(description=__doc__)
    asked.add_argument("--objects", type=int, default=100_000)
    asked.add_argument("--tasks", type=int, default=20_000)
    asked.add_argument(
        "--keep", type=Path, metavar="FILE", help="keep the records here, or use those there are"
    )
    asked.add_argument("--only", default="", metavar="WORDS", help="pages whose name contains this")
    asked.add_argument("--rounds", type=int, default=ROUNDS)
    asked.add_argument("--profile", action="store_true", help="what each page spends its time on")
    asked.add_argument("--compare", action="store_true", help="queries beside those of a tiny museum")
    given = asked.parse_args()
    pages = {name: address for name, address in PAGES.items() if given.only in name}
    with TemporaryDirectory(prefix="planner-pages-") as folder:
        set_up(Path(folder))
        few = {}
        if given.compare:
            with records(Path(folder) / "few.sqlite3", 40, 80):
                few = measure(pages, rounds=0)
        with records(given.keep or Path(folder) / "pages.sqlite3", given.objects, given.tasks):
            _tell(measure(pages, given.profile, given.rounds), few, given)


def set_up(folder: Path) -> None:
    os.environ.update(DEBUG="", VAR_DIR=str(folder), DATABASE_URL=f"sqlite:///{folder}/none.sqlite3")
    os.environ["DJANGO_SETTINGS_MODULE"] = "housing.config.settings"
    import django

    django.setup()


@contextmanager
def records(file: Path, objects: int, tasks: int) -> Iterator[None]:
    """The database file in use, filled if it is new."""
    from django.core.management import call_command
    from django.db import connection

    from tests.benchmarks.large_museum import fill

    connection.close()
    connection.settings_dict["NAME"] = str(file)
    is_new = not file.exists()
    call_command("migrate", verbosity=0)
    if is_new:
        start = perf_counter()
        fill(objects, tasks)
        print(f"records made in {perf_counter() - start:.0f} s")
    yield
    connection.close()


def measure(
    pages: Mapping[str, str], with_profile: bool = False, rounds: int = ROUNDS
) -> dict[str, Measured]:
    """Each page, by its name."""
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from tests.benchmarks.large_museum import example

    example = example()
    logging.disable(logging.CRITICAL)  # a page that fails is told of in the table
    client = Client(raise_request_exception=False, headers={"host": "localhost"})
    client.force_login(example.user)
    found = {}
    for name, address in pages.items():
        page = address.format(**vars(example))
        client.get(page)  # what is worked out once and kept, such as templates
        with CaptureQueriesContext(connection) as captured:
            status = client.get(page).status_code
        queries = list(captured)  # before the next page drops them
        times = []
        for _ in range(rounds):
            clock, work = perf_counter(), process_time()
            client.get(page)
            times.append(((process_time() - work) * 1000, (perf_counter() - clock) * 1000))
        found[name] = Measured(status, len(queries), times)
        if with_profile:
            _profile(client, page, queries)
    return found


def _profile(client, page: str, queries) -> None:
    from cProfile import Profile
    from pstats import Stats

    slowest = sorted(queries, key=lambda query: -float(query["time"]))[:4]
    in_all = sum(float(query["time"]) for query in queries)
    print(f"\n{page}: {len(queries)} queries, {in_all * 1000:.0f} ms in them")
    for query in slowest:
        print(f"  {float(query['time']) * 1000:.0f} ms  {query['sql'][:1200]}")
    with Profile() as profile:
        client.get(page)
    Stats(profile).sort_stats("cumulative").print_stats("work|django_tables2|template/base", 30)


def _tell(found: Mapping[str, Measured], few: Mapping[str, Measured], given: Namespace) -> None:
    print(
        f"{given.objects:,} objects, {given.tasks:,} tasks; load {os.getloadavg()[0]:.1f} on {os.cpu_count()}"
    )
    print(f"{'page, median in ms':36} {'processor':>10} {'clock':>8} {'queries':>8}")
    for name, one in found.items():
        if one.status not in (200, 302):
            print(f"{name:36} answered {one.status}")
            continue
        told = " over" if one.processor_ms > LIMIT_MS else ""
        if few and few[name].queries != one.queries:
            told += f"; {few[name].queries} queries with 40 objects"
        print(f"{name:36} {one.processor_ms:10.0f} {one.clock_ms:8.0f} {one.queries:8}{told}")


if __name__ == "__main__":
    main()
