"""Standard times: shown, changed for every design or for one, taken back, and what is refused."""

from decimal import Decimal

import pytest
from django.urls import reverse

from housing.core.labour.elements import SHIPPED, Element, Minutes
from housing.models import StandardTime
from housing.queries.standards import standard_times
from tests.factories import make_design

LIST, NEW = reverse("housing:standard-list"), reverse("housing:standard-new")
GLUE = reverse("housing:standard-edit", args=["glue"])
TYPED = {"low": "0.8", "likely": "1.4", "high": "2.5", "source": "Timed at our bench, 12 boxes"}

pytestmark = pytest.mark.django_db


def make_time(**given) -> StandardTime:
    fields = {"element": "glue", "low": 1, "likely": 2, "high": 3, "source": "Bench", **given}
    return StandardTime.objects.create(**fields)


def test_the_list_shows_every_element_with_its_source(viewer):
    page = viewer.get(LIST).content.decode()

    assert [shipped.name for shipped in SHIPPED.values() if shipped.name not in page] == []
    assert page.count("Assumed: published times differ") == len(SHIPPED) == 12


def test_a_time_is_entered_for_every_design(manager):
    manager.post(GLUE, TYPED)

    time = StandardTime.objects.get()
    assert (time.element, time.design, time.likely) == ("glue", None, Decimal("1.4"))
    assert standard_times().of(Element.GLUE) == Minutes(0.8, 1.4, 2.5)
    assert "Timed at our bench, 12 boxes" in manager.get(LIST).content.decode()


def test_a_time_is_entered_for_one_design_only(manager):
    design = make_design()

    manager.post(NEW, {**TYPED, "element": "glue", "design": design.pk})

    times = standard_times()
    assert times.of(Element.GLUE, str(design.pk)).likely == 1.4
    assert times.of(Element.GLUE) == SHIPPED[Element.GLUE].minutes


def test_an_entry_equal_to_the_shipped_one_is_not_kept(manager):
    time, shipped = make_time(), SHIPPED[Element.GLUE]
    typed = {"low": "0.5", "likely": "1", "high": "2", "source": shipped.source}

    manager.post(reverse("housing:standard-time-edit", args=[time.pk]), typed)

    assert not StandardTime.objects.exists()


def test_the_shipped_minutes_with_a_source_of_ones_own_are_kept(manager):
    manager.post(GLUE, {"low": "0.5", "likely": "1", "high": "2", "source": "Timed at our bench"})

    assert StandardTime.objects.get().source == "Timed at our bench"


def test_a_design_may_keep_the_shipped_time_where_every_other_differs(manager):
    make_time()
    shipped = {"low": "0.5", "likely": "1", "high": "2", "source": SHIPPED[Element.GLUE].source}
    design = make_design()

    manager.post(NEW, {**shipped, "element": "glue", "design": design.pk})

    assert standard_times().of(Element.GLUE, str(design.pk)).likely == 1


def test_a_time_goes_back_to_what_is_shipped(manager):
    time = make_time()

    page = manager.post(reverse("housing:standard-reset", args=[time.pk]), {"confirmed": "yes"}, follow=True)

    assert not StandardTime.objects.exists()
    assert "“Glue a joint” is 1 minutes again, 0.5 to 2." in page.content.decode()


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"likely": "0.5"}, "Less than at best, 0.8. Enter as much or more."),
        ({"high": "1"}, "Less than most likely, 1.4. Enter as much or more."),
        ({"low": "-1"}, "Enter 0 to 1,440 minutes."),
        ({"high": "1441"}, "Enter 0 to 1,440 minutes."),
        ({"low": "quick"}, "Enter a number."),
        ({"source": " "}, "Say where the time comes from"),
        ({"source": SHIPPED[Element.GLUE].source}, "This is the source of the shipped minutes."),
    ],
)
def test_a_time_that_cannot_be_is_refused(manager, typed, told):
    page = manager.post(GLUE, {**TYPED, **typed})

    assert told in page.content.decode()
    assert not StandardTime.objects.exists()


def test_a_second_time_of_the_same_design_is_refused(manager):
    design = make_design()
    make_time(design=design)

    page = manager.post(NEW, {**TYPED, "element": "glue", "design": design.pk})

    assert "has its own time for this already" in page.content.decode()
    assert StandardTime.objects.count() == 1


def test_an_unknown_element_is_not_found(manager):
    assert manager.get(reverse("housing:standard-edit", args=["polish"])).status_code == 404


def test_only_managers_change_times(maker):
    time = make_time()

    refused = [
        maker.post(GLUE, TYPED),
        maker.post(NEW, TYPED),
        maker.post(reverse("housing:standard-reset", args=[time.pk])),
    ]

    assert [page.status_code for page in refused] == [403, 403, 403]
    assert StandardTime.objects.get() == time


def test_more_times_ask_for_no_more(viewer, django_assert_max_num_queries):
    make_time(design=make_design())
    viewer.get(LIST)
    with django_assert_max_num_queries(20) as of_one:
        viewer.get(LIST)
    make_time(element="cut", design=make_design())
    make_time(element="cut", design=make_design())

    with django_assert_max_num_queries(len(of_one)):
        viewer.get(LIST)
