"""Help beside the field: where a newcomer would stumble, the field itself says what is meant."""

import pytest

from boards.forms.boards import BoardForm, SheetForm
from boards.forms.supplies import SupplyForm
from housing.forms.campaigns import CampaignForm
from housing.forms.designs import DesignForm
from housing.forms.people import PersonForm
from housing.forms.rules import RuleForm
from objects.forms.catalogue import ObjectForm

# What says all by its label: names, notes, days, ticks that are whole sentences.
PLAIN = {
    ObjectForm: {"name", "description", "size_checked", "priority"},
    BoardForm: {"name", "construction"},
    SheetForm: {"priced_on", "supplier", "is_offered"},
    SupplyForm: {"priced_on", "supplier", "spoilage_share", "withdrawn_on", "source"},
    CampaignForm: {"name", "note", "is_closed"},
    DesignForm: {"board", "notes"},
    PersonForm: {"name", "kind"},
    RuleForm: {"flags", "marks", "asks_for"},
}

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("form", PLAIN, ids=lambda form: form.__name__)
def test_every_field_that_is_not_plain_says_what_is_meant(form):
    fields = form(unit="mm").fields

    silent = {
        name
        for name, field in fields.items()
        if not field.widget.is_hidden and not str(field.help_text) and not name.startswith("option_")
    }
    assert silent - PLAIN[form] == set()


@pytest.mark.parametrize("form", PLAIN, ids=lambda form: form.__name__)
def test_help_is_short_and_whole(form):
    for name, field in form(unit="mm").fields.items():
        if said := str(field.help_text):
            assert said.endswith((".", "?")), name
            assert len(said) < 200, name


def test_a_length_says_what_it_is_for_and_then_how_it_is_written():
    said = str(DesignForm(unit="mm").fields["side_allowance_mm"].help_text)

    assert said == (
        "Counted twice: left and right, front and back. For padding and fingers. "
        "Such as 10 3/4 in or 27.3 cm; a number alone is mm."
    )
