"""Staging and saving lists of every kind; people, designs and rules."""

from decimal import Decimal
from pathlib import Path

import pytest
from django.conf import settings
from PIL import Image

from housing.intake.imports import drop_list, stage_list, understood_of
from housing.intake.saving import load_list, save_list
from housing.models import Campaign, Design, DesignRule, Person
from objects.intake import IntakeRefused
from objects.models import CatalogueObject, ListImport
from tests.factories import make_board, make_design

pytestmark = pytest.mark.django_db
DEMO = Path(settings.BASE_DIR) / "fixtures" / "demo"


def stage(kind: str, text: str) -> ListImport:
    return stage_list(kind=kind, file_name="list.csv", data=text.encode())


def test_the_demo_lists_are_taken_in_whole_and_change_nothing_a_second_time():
    campaign = Campaign.objects.create(name="Move")
    kinds = ("locations", "boards", "people", "designs", "rules", "objects")

    first = [load_list(kind, DEMO / f"{kind}.csv", campaign=campaign) for kind in kinds]
    again = [load_list(kind, DEMO / f"{kind}.csv", campaign=campaign) for kind in kinds]

    assert [listed.counts["refused"] for listed in first] == [0] * 6
    # rows counted in the files themselves
    assert [listed.counts["new"] + listed.counts["check"] for listed in first] == [40, 12, 8, 18, 25, 300]
    assert [listed.counts["unchanged"] for listed in again] == [40, 12, 8, 18, 25, 300]


@pytest.mark.parametrize("path", sorted((DEMO / "bad").glob("*")), ids=lambda path: path.name)
def test_every_bad_list_ends_in_sentences_and_saves_nothing_by_itself(path):
    try:
        listed = stage_list(kind="objects", file_name=path.name, data=path.read_bytes())
    except IntakeRefused as refused:
        assert str(refused).endswith(".")
    else:
        rows = understood_of(listed).rows
        assert all(row.messages for row in rows if row.status in ("refused", "check"))
    assert not CatalogueObject.objects.exists()


def test_nothing_is_saved_when_saving_fails_half_way(monkeypatch):
    listed = stage("objects", "Number,Name,Location\n7.1,Bowl,House / Room\n")
    monkeypatch.setattr("housing.intake.saving._mark_plans", lambda *_: 1 / 0)

    with pytest.raises(ZeroDivisionError):
        save_list(listed=listed)

    listed.refresh_from_db()
    assert (CatalogueObject.objects.count(), listed.state) == (0, "staged")


def test_a_list_is_saved_once():
    listed = stage("objects", "Number,Name\n7.1,Bowl\n7.2,Cup\n")
    save_list(listed=listed)

    with pytest.raises(IntakeRefused, match="already saved"):
        save_list(listed=listed)


def test_a_list_put_aside_cannot_be_saved():
    listed = drop_list(listed=stage("objects", "Number,Name\n7.1,Bowl\n"))

    with pytest.raises(IntakeRefused, match="already dropped"):
        save_list(listed=listed)


@pytest.mark.parametrize(
    "text, told",
    [
        ("Ref,Name\n7.1,Bowl\n", "No column was matched to: Object number."),
        ("Number,Name\n7.1,\n", "Every row was refused"),
    ],
)
def test_a_list_without_a_usable_row_is_refused(text, told):
    with pytest.raises(IntakeRefused, match=told):
        save_list(listed=stage("objects", text))


def test_changed_objects_put_only_their_campaigns_out_of_date():
    save_list(listed=stage("objects", "Number,Name\n7.1,Bowl\n7.2,Cup\n"))
    mine, other = Campaign.objects.create(name="Mine"), Campaign.objects.create(name="Other")
    mine.objects_in_it.add(CatalogueObject.objects.get(number="7.1"))
    other.objects_in_it.add(CatalogueObject.objects.get(number="7.2"))

    save_list(listed=stage("objects", "Number,Name\n7.1,Dish\n7.2,Cup\n"))

    moved = {
        c.name for c in Campaign.objects.all() if c.changed_at not in (mine.changed_at, other.changed_at)
    }
    assert moved == {"Mine"}


def test_a_photo_is_taken_from_the_folder_by_plain_name_only(tmp_path):
    Image.new("RGB", (4, 4)).save(tmp_path / "bowl.png")
    path = tmp_path / "list.csv"
    path.write_text("Number,Name,Photo\n7.1,Bowl,bowl.png\n7.2,Cup,../bowl.png\n7.3,Dish,none.png\n")

    load_list("objects", path, photos=tmp_path)

    photos = CatalogueObject.objects.values_list("photo", flat=True)
    assert list(photos) == ["photos/bowl.png", "", ""]
    assert load_list("objects", path, photos=tmp_path).counts["unchanged"] == 3


def test_a_photo_that_is_no_picture_leaves_the_recorded_one(tmp_path):
    Image.new("RGB", (4, 4)).save(tmp_path / "bowl.png")
    (tmp_path / "broken.png").write_bytes(b"no picture")
    path = tmp_path / "list.csv"
    path.write_text("Number,Name,Photo\n7.1,Bowl,bowl.png\n")
    load_list("objects", path, photos=tmp_path)
    recorded = CatalogueObject.objects.get().photo.name

    path.write_text("Number,Name,Photo\n7.1,Dish,broken.png\n")
    load_list("objects", path, photos=tmp_path)

    thing = CatalogueObject.objects.get()
    assert (thing.name, thing.photo.name) == ("Dish", recorded)


def test_people_come_with_hours_rate_and_skills():
    header = "Name,Role,Hours per week,Rate per hour,Skills,Handles hazards\n"

    save_list(listed=stage("people", header + "Ada Vole,intern,12.5,14,label; cut,yes\n"))

    ada = Person.objects.get()
    assert (ada.kind, ada.hours_per_week, ada.skills) == ("intern", Decimal("12.5"), "cut; label")
    assert ada.handles_hazards


@pytest.mark.parametrize(
    "row, told",
    [
        ("Ada,clerk,1,1,cut,yes", "Role: “clerk” is not known here."),
        ("Ada,staff,90,1,cut,yes", "Hours per week: “90” is not between 0 and 80."),
        ("Ada,staff,1,1,juggle,yes", "Skills: “juggle” is not known here."),
        ("Ada,staff,1,1,cut,perhaps", "Handles hazards: “perhaps” is neither yes nor no."),
        ("Ada,staff,,1,cut,yes", "A new person needs hours per week."),
    ],
)
def test_a_person_that_cannot_be_used_is_refused(row, told):
    header = "Name,Role,Hours per week,Rate per hour,Skills,Handles hazards\n"

    (reading,) = understood_of(stage("people", f"{header}{row}\n")).rows

    assert (reading.status, reading.messages[0][: len(told)]) == ("refused", told)


def test_a_design_finds_its_board_by_code_and_keeps_blanks_at_their_usual_value():
    board = make_board(code="B32")

    save_list(
        listed=stage("designs", "Name,Form,Board,Height allowance,Lid depth\nTray,lidded tray,b32,1/2 in,\n")
    )

    design = Design.objects.get()
    # 1/2 in = 12.7 mm; what is left blank stays as the form has it
    assert (design.board, design.height_allowance_mm, design.options) == (
        board,
        Decimal("12.7"),
        {},
    )


def test_a_design_takes_the_options_of_its_form():
    make_board(code="B32")

    save_list(
        listed=stage(
            "designs",
            "Name,Form,Board,Lid depth,Cells from left to right\n"
            "A,lidded tray,B32,2 in,\nB,divided tray,B32,,5\n",
        )
    )

    # 2 in = 50.8 mm
    assert [design.options for design in Design.objects.order_by("name")] == [
        {"lid_depth": 50.8},
        {"cells_x": 5},
    ]


def test_an_option_that_the_form_has_not_is_refused_with_those_it_has():
    make_board(code="B32")

    [row] = understood_of(stage("designs", "Name,Form,Board,Lid depth\nA,folder,B32,2 in\n")).rows

    assert (row.status, row.messages) == (
        "refused", ("Lid depth: This form has no option “lid_depth”. It has: ties.",)
    )  # fmt: skip


def test_a_design_of_an_unknown_board_or_form_is_refused():
    make_board(code="B32")

    rows = understood_of(stage("designs", "Name,Form,Board\nA,tray,X9\nB,pyramid,B32\n")).rows

    assert [row.status for row in rows] == ["refused", "refused"]
    assert rows[0].messages == ("Board: there is no board with the code “X9”. Boards here: B32.",)


def test_rules_replace_all_rules_of_their_campaign():
    campaign, box = Campaign.objects.create(name="Move"), make_design(name="Box")
    DesignRule.objects.create(campaign=campaign, position=9, design=box)

    save_list(
        listed=stage("rules", "Position,Weight over (kg),Largest side over,Design\n1,5,40 cm,box\n2,,,Box\n"),
        campaign=campaign,
    )

    assert list(campaign.rules.values_list("position", "weight_over_g", "largest_over_mm")) == [
        (1, Decimal("5000"), Decimal("400")),
        (2, None, None),
    ]


def test_rules_need_a_campaign_and_are_taken_whole():
    make_design(name="Box")

    with pytest.raises(IntakeRefused, match="Choose the campaign"):
        save_list(listed=stage("rules", "Position,Design\n1,Box\n"))
    with pytest.raises(IntakeRefused, match="line 3 cannot be used"):
        save_list(listed=stage("rules", "Position,Design\n1,Box\n2,Chest\n"))
