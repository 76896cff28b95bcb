"""One field finds everything: exact numbers first, then beginnings, then words."""

import pytest

from housing.core.label_codes import spaced
from housing.queries.search import FEW, search
from objects.roles import ROLES
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_housing,
    make_location,
    make_object,
    make_person,
    make_sheet,
    make_user,
)

pytestmark = pytest.mark.django_db
PAGE = "/search/"
CODE = "4D7ZK0X0T"  # its check sign by ISO/IEC 7064 MOD 37,36, worked out by core.label_codes


@pytest.fixture
def reader(client):
    client.force_login(make_user("viewer"))
    return client


def found(typed: str) -> dict[str, list[str]]:
    """What a search finds, by kind, in its order."""
    return {one.kind: [str(hit.thing) for hit in one.hits] for one in search(typed)}


def test_exact_numbers_come_before_beginnings_and_these_before_words():
    make_object(number="1995.40", name="Kettle")
    make_object(number="2001.1", name="Bowl", description="beside 1995.4 when found")
    make_object(number="1995.4", name="Jug")
    make_object(number="1995.4.2", name="Lid")

    assert found("1995.4") == {
        "object": ["1995.4 Jug", "1995.4.2 Lid", "1995.40 Kettle", "2001.1 Bowl"],
    }


def test_names_that_begin_with_the_words_come_before_those_that_contain_them():
    make_object(number="1", name="Small bowl")
    make_object(number="2", name="Bowl, blue")
    make_object(number="3", name="Cup", materials="bowl clay")

    assert found("bowl") == {"object": ["2 Bowl, blue", "1 Small bowl", "3 Cup"]}


def test_every_word_must_be_there():
    make_object(number="1", name="Blue bowl")
    make_object(number="2", name="Blue cup")

    assert found("bowl blue") == {"object": ["1 Blue bowl"]}


def test_an_object_number_is_read_as_people_write_it():
    make_object(number="AB.0012", name="Jug")

    assert found(" ab.12 ") == {"object": ["AB.0012 Jug"]}


@pytest.mark.parametrize("typed", ["{pk}", "Box {pk:04d}", "box {pk}", "Boîte {pk}"])
def test_enter_on_a_box_number_leads_to_the_box(reader, typed):
    box = make_housing(make_object(number="A.x"))

    answer = reader.get(PAGE, {"q": typed.format(pk=box.pk)})

    assert (answer.status_code, answer.headers["location"]) == (302, f"/bench/boxes/{box.pk}/")


@pytest.mark.parametrize("how", [str, str.lower, spaced, lambda code: code.replace("0", "O")])
def test_enter_on_a_label_code_leads_to_the_box_however_it_is_read(reader, how):
    box = make_housing(make_object(), code=CODE)

    answer = reader.get(PAGE, {"q": how(CODE)})

    assert answer.headers["location"] == f"/bench/boxes/{box.pk}/"


def test_the_beginning_of_a_label_code_finds_the_box(reader):
    box = make_housing(make_object(), code=CODE)

    assert found("4D7 ZK") == {"box": [str(box)]}


def test_enter_on_the_number_of_an_object_or_the_code_of_a_board_leads_there(reader):
    jug = make_object(number="1995.4")
    board = make_board(code="B15")

    assert reader.get(PAGE, {"q": "1995.4"}).headers["location"] == f"/objects/{jug.pk}/"
    assert reader.get(PAGE, {"q": "b15"}).headers["location"] == f"/boards/{board.pk}/"


def test_a_number_that_two_things_have_shows_both(reader):
    box = make_housing(make_object(number="B.1"))
    make_object(number=str(box.pk), name="Jug")

    answer = reader.get(PAGE, {"q": str(box.pk)})

    assert answer.status_code == 200
    assert [group.name for group in answer.context["found"]][:2] == ["Objects", "Boxes"]


def test_people_campaigns_designs_places_sheets_and_boards_are_found_by_their_words():
    mill = make_location("Mill house")
    make_person(name="Rosa Millward")
    make_campaign(name="Mill campaign")
    board = make_board(code="MILL", name="Grey board")
    make_design(name="Millboard tray", board=board)

    assert found("mill") == {
        "board": ["MILL Grey board"],
        "person": ["Rosa Millward"],
        "campaign": ["Mill campaign"],
        "design": ["Millboard tray"],
        "location": [mill.path],
    }


def test_a_planned_sheet_is_found_by_its_number():
    sheet = make_sheet(make_housing(make_object(number="A.1"), campaign=make_campaign()))

    assert found(f"sheet {sheet.position}") == {"sheet": [str(sheet)]}


def test_a_few_are_shown_with_the_way_to_all(reader):
    for number in range(FEW + 3):
        make_object(number=f"A.{number}", name="Bowl")

    group = reader.get(PAGE, {"q": "bowl"}).context["found"][0]

    assert (len(group.lines), group.all_words) == (FEW, f"All {FEW + 3} that match")
    assert reader.get(group.all_address).context["number"] == FEW + 3


def test_all_of_one_kind_are_on_a_page_of_their_own(reader):
    for number in range(FEW + 1):
        make_person(name=f"Ann {number}")

    group = reader.get(PAGE, {"q": "ann"}).context["found"][0]
    all_of_them = reader.get(group.all_address).context["found"]

    assert [len(one.lines) for one in all_of_them] == [FEW + 1]


def test_while_typing_only_the_lines_are_given(reader):
    make_object(number="1995.4", name="Jug <b>")

    answer = reader.get(PAGE, {"q": "1995.4"}, headers={"HX-Request": "true"})

    assert answer.status_code == 200
    assert "<html" not in answer.text
    assert 'role="option"' in answer.text
    assert "Jug &lt;b&gt;" in answer.text


def test_nothing_found_says_so(reader):
    answer = reader.get(PAGE, {"q": "zebra%_"})

    assert "Nothing is called “zebra%_”" in answer.text


@pytest.mark.parametrize("typed", ["", " ", "\0", "'; --", "%", "9" * 40, "🐚", "(", "a" * 3_000])
def test_any_text_is_answered(reader, typed):
    make_object()

    assert reader.get(PAGE, {"q": typed}).status_code == 200


def test_whoever_is_not_signed_in_finds_nothing(client):
    make_object(number="1995.4")

    assert (
        client.get(PAGE, {"q": "1995.4"}).headers["location"] == "/accounts/login/?next=/search/%3Fq%3D1995.4"
    )


@pytest.mark.parametrize("role", ROLES)
def test_whatever_a_role_finds_it_may_open(client, role):
    client.force_login(make_user(role))
    thing = make_object(number="Mill 1", name="Mill stone", location=make_location("Mill"))
    board = make_board(code="MILL")
    make_design(name="Mill tray", board=board)
    make_person(name="Mill")
    box = make_housing(thing, campaign=make_campaign(name="Mill campaign"))
    make_sheet(make_housing(make_object(), campaign=box.campaign), position=77)
    searches = ("mill", f"box {box.pk}", "sheet 77")

    typing = {"HX-Request": "true"}  # so that nothing leads straight on
    asked = [client.get(PAGE, {"q": words}, headers=typing).context["found"] for words in searches]
    addresses = [line.address for groups in asked for group in groups for line in group.lines]

    assert len(addresses) == 8
    assert {client.get(address).status_code for address in addresses} == {200}


def test_the_field_is_on_every_page_and_needs_no_script(reader):
    page = reader.get("/boards/").text

    assert '<form class="find" role="search" action="/search/" method="get"' in page
