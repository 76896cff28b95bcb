"""An empty museum: every list says what to do, and home leads through the first steps."""

import pytest
from django.urls import reverse

from tests.factories import make_user

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("housing:home", "Four steps to your first plan"),
        ("housing:object-list", "take in a list on the Import page"),
        ("housing:campaign-list", "No campaigns yet."),
        ("housing:design-list", "No designs yet."),
        ("housing:person-list", "Nobody yet."),
        ("housing:task-list", "There is nothing to do here."),
        ("boards:board-list", "No boards yet"),
    ],
)
def test_an_empty_list_says_what_to_do(client, name, sentence):
    client.force_login(make_user("manager"))

    assert sentence in client.get(reverse(name)).content.decode()
