"""An empty museum: every list says what would be there, why nothing is, and where to begin."""

import re

import pytest
from django.urls import reverse

from housing.core.glossary import BY_KEY
from housing.queries.empty import PLACES, nothing_yet
from objects.readers import Reader
from tests import test_list_queries
from tests.factories import make_board, make_campaign, make_design, make_object, make_user

pytestmark = pytest.mark.django_db

# Address, a sentence of the page, and where it leads.
EMPTY = (
    ("/", "Four steps to your first plan", "/first-steps/"),
    ("/progress/places/", "Take in the list from your catalogue", "/import/?kind=objects"),
    ("/objects/", "Take in the list from your catalogue", "/import/?kind=objects"),
    ("/figures/", "As soon as objects are here, their sizes", "/import/?kind=objects"),
    ("/need/", "As soon as objects are here", "/import/?kind=objects"),
    ("/work/", "There is nothing to do here. Work comes with a plan", "/campaigns/"),
    ("/bench/", "The bench shows each person what comes next", "/people/"),
    ("/questions/", "Whoever works on a box can ask one", "/bench/"),
    ("/fit/", "Whoever finishes a box tries it", "/bench/"),
    ("/campaigns/", "A campaign says which objects are housed", "/campaigns/new/"),
    ("/designs/", "A design says how a kind of box is made", "/designs/new/"),
    ("/ready-made/", "Enter the sizes that your suppliers sell", "/import/?kind=ready_made"),
    ("/people/", "Enter who takes part", "/import/?kind=people"),
    ("/people/away/", "on those days nobody is given work", "/people/"),
    ("/people/grades/", "Enter one for each kind of worker", "/people/grades/new/"),
    ("/boards/", "Everything is measured by the board it is made of", "/import/?kind=boards"),
    ("/boards/supplies/", "Enter the glue, tape, labels and paddings", "/import/?kind=supplies"),
    ("/boards/supplies/count/", "There is nothing to count here yet", "/boards/supplies/"),
    ("/stock/", "What is needed comes out of plans", "/campaigns/"),
    ("/catalogue/locations/", "Enter the building first", "/catalogue/locations/new/"),
    ("/catalogue/survey/", "Objects are measured place by place", "/catalogue/locations/new/"),
    ("/import/", "No list has been handed in yet", "/first-steps/"),
    ("/export/", "What you take in comes out again here", "/import/?kind=objects"),
    ("/prints/", "Cut sheets and labels are printed of boxes", "/campaigns/"),
    ("/report/", "It fills with the work", "/campaigns/"),
)
CAMPAIGN = (
    ("", "First choose objects in the", "/objects/"),
    ("plan/", "Plan the campaign first", "/campaigns/{pk}/"),
    ("plan/compare/", "Each plan that is made of the campaign is kept", "/campaigns/{pk}/"),
    ("budget/", "Plan the campaign first", "/campaigns/{pk}/"),
    ("purchases/", "The purchase list comes with the budget", "/campaigns/{pk}/budget/"),
    ("phases/", "Without phases the campaign is one whole", "/campaigns/{pk}/phases/new/"),
    ("rules/", "No rules yet", "/campaigns/{pk}/rules/new/"),
)


def main_of(client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, address
    return re.search(r"<main.*</main>", answer.content.decode(), re.DOTALL)[0]


@pytest.mark.parametrize(("address", "sentence", "leads_to"), EMPTY)
def test_an_empty_list_says_what_to_do_and_leads_there(manager, address, sentence, leads_to):
    page = main_of(manager, address)

    assert sentence in page
    assert f'href="{leads_to}' in page


def test_no_list_is_left_out():
    """The addresses that the test of queries knows, without those of one record or with a filter."""
    lists = {address for address in test_list_queries.LISTS if "{" not in address and "?" not in address}

    assert lists - {address for address, *_ in EMPTY} == set()


@pytest.mark.parametrize(("rest", "sentence", "leads_to"), CAMPAIGN)
def test_pages_of_an_empty_campaign_say_what_comes_first(manager, rest, sentence, leads_to):
    campaign = make_campaign()
    page = main_of(manager, f"/campaigns/{campaign.pk}/{rest}")

    assert sentence in page
    assert f'href="{leads_to.format(pk=campaign.pk)}"' in page


@pytest.mark.parametrize("key", PLACES)
def test_nobody_is_led_where_she_may_not_go(client, key):
    for role in ("manager", "maker", "surveyor", "viewer"):
        client.force_login(make_user(role))
        told = nothing_yet(key, Reader(roles=frozenset({role})))
        for _, address in told.links:
            assert client.get(address).status_code == 200, (role, address)


def test_a_list_that_only_its_filter_empties_shows_its_filter(manager):
    make_object(name="Bowl")

    page = main_of(manager, reverse("housing:object-list") + "?q=jar")

    assert "No object matches. Clear the filters" in page
    assert "Take in the list from your catalogue" not in page


def test_words_of_the_trade_are_explained_where_a_newcomer_meets_them(manager):
    board, campaign = make_board(edge_crush_kn_m=4), make_campaign(make_object())
    pages = {
        f"/boards/{board.pk}/": {"caliper", "fold_share", "grammage", "buffered", "edge_crush", "sheet"},
        f"/designs/{make_design(board=board).pk}/": {"form", "compensated", "allowance", "padding", "blank"},
        f"/campaigns/{campaign.pk}/": {"kerf", "trim", "offcut", "flute", "edge_to_edge", "rule"},
        f"/objects/{make_object().pk}/": {"condition", "priority"},
        "/first-steps/": {"board", "blank"},
    }

    for address, expected in pages.items():
        explained = re.findall(r'href="/glossary/#(\w+)" aria-describedby', main_of(manager, address))
        assert expected <= set(explained), address
        assert set(explained) <= BY_KEY.keys()
