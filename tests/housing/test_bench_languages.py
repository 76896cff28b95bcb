"""The bench in Spanish and French: nothing left in English, refusals and results told in the language."""

from uuid import uuid4

import pytest
from django.urls import reverse

from housing.models import Hold, Job
from housing.services import campaigns  # noqa: F401  makes known how plans run
from housing.services.jobs import run_job, start_job
from objects.speaking import in_language
from tests.factories import make_campaign, make_location, make_object, make_person, make_user
from tests.housing.benches import all_cut, make_due, sheet_of, task_of
from tests.objects.test_languages import LANGUAGES, english_in, texts_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def ada(client):
    user = make_user("maker")
    client.force_login(user)
    return make_person(name="Ada", user=user)


@pytest.fixture
def box(ada):
    return make_due(ada, make_object(number="1990.7", name="Xj-1", location=make_location("Stand 7")))


def asked_in(client, address: str, language: str) -> str:
    return client.get(address, headers={"Accept-Language": language}).content.decode()


def sent_in(client, language: str, what: str, **fields):
    headers = {"accept": "application/json", "Accept-Language": language}
    return client.post("/bench/entries/", {"entry_id": uuid4(), "what": what, **fields}, headers=headers)


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_is_left_in_english_on_the_day_and_its_sheet(client, ada, box, language: str):
    day = asked_in(client, "/bench/", language)
    sheet = asked_in(client, reverse("housing:bench-sheet", args=[sheet_of(box).pk]), language)

    assert english_in(day, language) == set()
    assert english_in(sheet, language) == set()
    assert {"es": "Siguiente plancha que tomar", "fr": "Prochaine feuille à prendre"}[language] in texts_of(
        day
    )


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("status", ["in_work", "made"])
def test_nothing_is_left_in_english_at_a_box(client, ada, box, language: str, status: str):
    all_cut(box)
    type(box).objects.filter(pk=box.pk).update(status=status)

    page = asked_in(client, reverse("housing:bench-box", args=[box.pk]), language)

    assert english_in(page, language) == set()


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", ["housing:hold-list", "housing:fit-causes", "housing:label-code-typed"])
def test_nothing_is_left_in_english_on_questions_faults_and_codes(client, ada, box, language: str, name: str):
    Hold.objects.create(housing=box, question="Xj-2?", asked_at=box.created_at, asked_by=ada.user)

    page = asked_in(client, reverse(name), language)

    assert english_in(page, language) == set()


def test_an_entry_refused_in_french_says_so_in_french(client, ada, box):
    answer = sent_in(client, "fr", "start", task=task_of(box, "glue").pk, person=ada.pk)

    assert answer.status_code == 409
    assert answer.json()["message"] == (
        f"« Plier et coller: Boîte {box.pk:04d} » vient après « Tracer et rainer », qui n'est pas encore "
        "fait. Finir cela d'abord."
    )


def test_minutes_that_cannot_be_are_refused_in_spanish(client, ada, box):
    answer = sent_in(client, "es", "done", task=task_of(box, "glue").pk, minutes="many")

    assert answer.status_code == 400
    assert answer.json()["message"] == (
        "Introduzca los minutos como un número de 0 a 1440, como 12 o 7,5, o déjelos en blanco."
    )


def test_an_entry_that_is_kept_answers_in_the_language(client, ada, box):
    answer = sent_in(client, "es", "start", sheet=sheet_of(box).pk, person=ada.pk)

    assert answer.json()["message"] == "Plancha 1 está empezada. Se saca de las existencias."


def test_a_job_started_in_spanish_reports_in_spanish():
    campaign = make_campaign(name="Xj-3")
    with in_language("es"):
        job = start_job(kind=Job.Kind.PLAN, title="Xj-3", parameters={"campaign": campaign.pk})

    run_job.call(job.pk)

    job.refresh_from_db()
    assert (job.language, job.state) == ("es", Job.State.FAILED)
    assert "«Xj-3» aún no tiene objetos" in job.message
