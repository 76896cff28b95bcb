"""The table of boxes, read back by pandas as a spreadsheet would."""

from decimal import Decimal
from io import BytesIO

import pandas as pd
import pytest
from django.urls import reverse

from housing.queries.boxes import box_rows
from housing.services.campaigns import plan_campaign
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_sheet_size,
    make_user,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def table(client):
    """The table of a campaign with a jar that gets a box and a spoon that is not measured."""
    board = make_board(code="B32")
    make_sheet_size(board=board, price=Decimal("12.50"))
    jar = make_object(number="=1+1", name="Jar")
    spoon = make_object(number="2001.2", height_mm=None, size_state="missing")
    campaign = make_campaign(jar, spoon)
    campaign.memberships.update(chosen_design=make_design(name="Standard", board=board))
    plan_campaign(campaign=campaign)
    client.force_login(make_user("viewer"))

    answer = client.get(reverse("housing:campaign-boxes", args=[campaign.pk]))

    read = pd.read_csv(BytesIO(answer.content), encoding="utf-8-sig", keep_default_na=False)
    return read.sort_values("Status", ignore_index=True)


def test_each_box_has_a_row_with_its_cost(table):
    assert list(table["Status"]) == ["Planned", "Waiting"]
    assert list(table["Board"]) == ["B32", "B32"]
    assert table["Board cost"].sum() == 25  # one sheet is cut, and one is bought for the 3 % that are spoiled
    parts = table[["Board cost", "Glue cost", "Padding cost", "Work cost", "Other cost"]].sum(axis=1)
    assert (parts - table["Cost"]).abs().max() < 0.005


def test_sizes_are_in_millimetres(table):
    # 254 + 25.4 high, 222.25 + 2 x 25.4 wide, 180.975 + 2 x 25.4 deep: 1 in all round is common practice, no
    # source
    row = table.iloc[0]
    sizes = [float(row[f"Inside {side} mm"]) for side in ("height", "width", "depth")]
    assert sizes == [279.4, 273.05, 231.775]


def test_a_box_is_due_with_the_first_of_its_objects():
    cup, saucer, bowl = (make_object() for _ in range(3))
    campaign = make_campaign(cup, saucer, bowl)
    campaign.memberships.filter(object=cup).update(batch=3)
    campaign.memberships.filter(object=saucer).update(batch=2)
    make_housing(cup, saucer, campaign=campaign)
    make_housing(bowl, campaign=campaign)

    assert [row["Batch"] for row in box_rows(campaign)] == [2, 1]


def test_a_cell_that_a_spreadsheet_would_run_is_made_harmless(table):
    assert table["Object number"][0] == "'=1+1"
