"""Pages in Spanish and French: which is spoken, and nothing left in English where all is translated."""

import html
import re
from uuid import uuid4

import pytest
from django.urls import reverse
from playwright.sync_api import BrowserContext, expect

from objects.core import words
from objects.models import SurveyEntry
from tests.factories import make_location, make_object, make_user

pytestmark = pytest.mark.django_db
LANGUAGES = ("es", "fr")
UNMEASURED = {"height_mm": None, "width_mm": None, "depth_mm": None}
SHOWN_ATTRIBUTES = re.compile(r'\b(?:aria-label|placeholder|alt|title|data-label)="([^"]*)"')


def texts_of(page: str) -> set[str]:
    """What a reader of a page sees or hears, piece by piece."""
    page = re.sub(r"<script.*?</script>", " ", page, flags=re.DOTALL)
    pieces = [*re.split(r"<[^>]*>", page), *SHOWN_ATTRIBUTES.findall(page)]
    return {" ".join(html.unescape(piece).split()) for piece in pieces} - {""}


def english_in(page: str, language: str) -> set[str]:
    """Messages that stand on a page in English though the catalogue has them in its language."""
    translated = {message for message, said in words.messages(language).items() if said not in ("", message)}
    return texts_of(page) & translated


@pytest.fixture
def shelf():
    return make_location("Stand 7")


@pytest.fixture
def bottle(shelf):
    return make_object(
        number="1995.4.1", name="Xj-1", location=shelf, hazards="arsenic; lead", weight_g=1250, **UNMEASURED
    )


# ---- Which language --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "spoken"),
    [("es", "es"), ("fr-CA,fr;q=0.9,en;q=0.5", "fr"), ("de,es;q=0.7", "es"), ("de", "en"), ("", "en")],
)
def test_a_page_speaks_the_language_that_the_browser_asks_for(client, asked: str, spoken: str):
    answer = client.get(reverse("login"), headers={"Accept-Language": asked})

    assert answer["Content-Language"] == spoken
    assert f'<html lang="{spoken}">' in answer.text


def test_what_is_chosen_in_the_preferences_goes_before_what_the_browser_asks_for(client):
    client.force_login(make_user("viewer"))
    chosen = {"language": "fr", "length_unit": "mm", "paper": "A4", "hand": "right"}

    saved = client.post(reverse("objects:preferences"), chosen, headers={"Accept-Language": "es"})
    page = client.get(reverse("objects:preferences"), headers={"Accept-Language": "es"}).text

    assert saved.status_code == 302
    assert '<html lang="fr">' in page
    assert {"Préférences", "Enregistrer"} <= texts_of(page)


def test_somebody_signed_in_who_chose_nothing_reads_what_the_browser_asks_for(client):
    client.force_login(make_user("viewer"))

    page = client.get(reverse("objects:preferences"), headers={"Accept-Language": "es"}).text

    assert {"Preferencias", "Guardar"} <= texts_of(page)


# ---- Nothing left in English -----------------------------------------------------------------------------


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    ("address", "says"),
    [
        ("/accounts/login/", {"es": "Entrar", "fr": "Se connecter"}),
        ("/there/is/no/such/page/", {"es": "Esta página no existe", "fr": "Cette page n’existe pas"}),
    ],
)
def test_nothing_is_left_in_english_before_signing_in(client, language: str, address: str, says: dict):
    page = client.get(address, headers={"Accept-Language": language}).text

    assert english_in(page, language) == set()
    assert says[language] in texts_of(page)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    "name", ["objects:survey-start", "objects:survey-rules", "objects:preferences", "objects:location-list"]
)
def test_nothing_is_left_in_english_on_pages_around_the_survey(client, bottle, language: str, name: str):
    client.force_login(make_user("manager"))

    page = client.get(reverse(name), headers={"Accept-Language": language}).text

    assert english_in(page, language) == set()


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_is_left_in_english_where_an_object_is_measured(client, bottle, shelf, language: str):
    client.force_login(make_user("surveyor"))

    page = client.get(
        reverse("objects:survey-place", args=[shelf.pk]), headers={"Accept-Language": language}
    ).text

    assert english_in(page, language) == set()
    assert {"es": "Guardar y siguiente", "fr": "Enregistrer et suivant"}[language] in texts_of(page)


@pytest.mark.parametrize(
    ("language", "told"),
    [
        ("es", "«diez» no es una longitud. Escríbala como 10 3/4 in, 10,75 in o 27,3 cm."),
        ("fr", "« diez » n’est pas une longueur. Écrivez-la comme 10 3/4 in, 10,75 in ou 27,3 cm."),
    ],
)
def test_what_is_wrong_with_an_entry_is_said_in_the_language(client, bottle, shelf, language, told):
    client.force_login(make_user("surveyor"))
    entry = {"object": bottle.pk, "unit": "in", "how": "tape", "height_mm": "diez"}

    page = client.post(
        reverse("objects:survey-place", args=[shelf.pk]), entry, headers={"Accept-Language": language}
    ).text

    assert told in texts_of(page)
    assert english_in(page, language) == set()


# ---- What is kept ----------------------------------------------------------------------------------------


def test_notes_are_kept_in_english_and_told_in_each_readers_language(client, bottle, shelf):
    surveyor = make_user("surveyor", first_name="Ana", last_name="Gil")
    client.force_login(surveyor)
    entry = {
        "entry_id": str(uuid4()), "object": bottle.pk, "unit": "mm", "how": "tape", "height_mm": "120,5",
        "width_mm": "80", "depth_mm": "70", "measured_at": "2026-03-05T10:00:00Z",
    }  # fmt: skip

    client.post(reverse("objects:survey-place", args=[shelf.pk]), entry, headers={"Accept-Language": "es"})
    bottle.refresh_from_db()
    rows = {
        language: client.get(
            reverse("objects:survey-objects", args=[shelf.pk]), headers={"Accept-Language": language}
        ).json()["objects"][0]["size_note"]
        for language in ("en", *LANGUAGES)
    }

    assert SurveyEntry.objects.get(object=bottle).height_mm == 120.5
    assert bottle.dimensions_note == "Size measured with tape or ruler by Ana Gil on 5 March 2026."
    assert rows == {
        "en": "Size measured with tape or ruler by Ana Gil on 5 March 2026.",
        "es": "Tamaño: medido con cinta o regla por Ana Gil el 5 de marzo de 2026.",
        "fr": "Dimensions : mesuré avec mètre ruban ou règle par Ana Gil le 5 mars 2026.",
    }


# ---- The words of the scripts ----------------------------------------------------------------------------


@pytest.mark.parametrize("language", [*words.LANGUAGES])
def test_the_words_of_the_scripts_are_served_without_signing_in(client, language: str):
    answer = client.get(reverse("objects:words", args=[language]))

    assert (answer.status_code, answer["Content-Type"]) == (200, "text/javascript; charset=utf-8")
    assert "gettext" in answer.text
    assert answer["Cache-Control"] == "no-cache"
    again = client.get(reverse("objects:words", args=[language]), headers={"If-None-Match": answer["ETag"]})
    assert again.status_code == 304


def test_the_words_of_a_language_that_is_not_ours_are_not_found(client):
    assert client.get("/catalogue/words/de.js").status_code == 404


def test_the_worker_keeps_the_words_of_every_language_and_speaks_the_readers(client):
    worker = client.get(reverse("objects:survey-worker"), headers={"Accept-Language": "fr"}).text

    for language in words.LANGUAGES:
        assert reverse("objects:words", args=[language]) in worker
    assert "Pas de connexion" in worker


@pytest.fixture
def french_phone(context: BrowserContext, transactional_db, live_server, client):
    """A phone whose reader chose French."""
    surveyor = make_user("surveyor")
    client.force_login(surveyor)
    chosen = {"language": "fr", "length_unit": "mm", "paper": "A4", "hand": "right"}
    client.post(reverse("objects:preferences"), chosen)
    cookie = {"name": "sessionid", "value": client.cookies["sessionid"].value, "url": live_server.url}
    context.add_cookies([cookie])
    context.set_default_timeout(8000)
    return context


@pytest.mark.django_db(transaction=True)
def test_the_scripts_of_the_survey_speak_the_readers_language_with_and_without_a_connection(
    french_phone, live_server
):
    shelf = make_location("Stand 7")
    make_object(number="1995.4.1", location=shelf, **UNMEASURED)
    page = french_phone.new_page()
    page.goto(f"{live_server.url}{reverse('objects:survey-place', args=[shelf.pk])}")
    page.wait_for_selector("#survey[data-ready]")
    expect(page.get_by_text("Ce lieu s’ouvre maintenant aussi sans connexion.")).to_be_visible()
    expect(page.get_by_text("Toutes les saisies sont envoyées.")).to_be_visible()

    french_phone.set_offline(True)
    page.reload()
    page.wait_for_selector("#survey[data-ready]")
    page.locator("[name=height_mm]").fill("12 x")
    page.get_by_role("button", name="Enregistrer et suivant").click()

    expect(page.get_by_text("« 12 x » n’est pas une longueur.").first).to_be_visible()
    french_phone.set_offline(False)
