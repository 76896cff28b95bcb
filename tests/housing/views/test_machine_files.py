"""Files for cutting machines as the pages give them: of boxes, trials and planned sheets."""

import io
import zipfile
from urllib.parse import urlencode
from xml.etree import ElementTree

import ezdxf
import pytest
from django.urls import reverse

from housing.printing.machine_files import sheet_file
from housing.queries.sheet_prints import sheets_to_print
from tests.factories import make_board, make_design, make_housing, make_object, make_sheet_size, make_user
from tests.housing.core.machine.reading import dxf_length, open_sides, read_dxf, rim_of_waste
from tests.housing.printing.boxes import make_box
from tests.housing.printing.sheets import lay_out

pytestmark = pytest.mark.django_db


@pytest.fixture
def maker(client):
    client.force_login(make_user("maker"))
    return client


@pytest.fixture
def box():
    return make_box(make_object(number="1956.2.7"), design=make_design(board=make_board(code="B 1/8")))


def dxf(response) -> ezdxf.document.Drawing:
    assert response.status_code == 200
    return read_dxf(response.content.decode())


def test_a_box_has_a_file_for_each_part_in_both_formats(maker, box):
    response = maker.get(reverse("housing:machine-box", args=[box.pk]))

    names = [file.name for file, _ in response.context["rows"]]
    assert names == [f"B-1-8_Box-{box.pk:04}_base", f"B-1-8_Box-{box.pk:04}_lid"]
    said = response.content.decode()
    for words in ("conservator", "creasing tool", "own instructions", "no width of a cut is added"):
        assert words in said


def test_the_file_of_a_part_measures_what_its_blank_does(maker, box):
    blank = box.blanks.get(part="base").to_core()

    response = maker.get(reverse("housing:machine-blank", args=[box.pk, 0, "dxf"]))

    doc = dxf(response)
    outline = blank.outline_length_mm - rim_of_waste(blank) - open_sides(blank)
    assert dxf_length(doc, "CUT", "OPENING") == pytest.approx(outline + blank.cut_length_mm)
    assert dxf_length(doc, "SCORE_INSIDE") == pytest.approx(blank.score_length_mm)
    assert doc.units == ezdxf.units.MM
    name = f"B-1-8_Box-{box.pk:04}_base.dxf"
    assert response["Content-Disposition"] == f'attachment; filename="{name}"'


def test_scores_of_a_board_that_is_cut_on_its_outside_are_on_the_other_layer(maker):
    box = make_box(make_object(), design=make_design(board=make_board(fold_share="0")))

    doc = dxf(maker.get(reverse("housing:machine-blank", args=[box.pk, 0, "dxf"])))

    assert dxf_length(doc, "SCORE_INSIDE") == 0
    assert dxf_length(doc, "SCORE_OUTSIDE") > 0


def test_svg_is_as_large_as_the_blank(maker, box):
    blank = box.blanks.get(part="lid")

    response = maker.get(reverse("housing:machine-blank", args=[box.pk, 1, "svg"]))

    assert response["Content-Type"] == "image/svg+xml"
    assert float(ElementTree.fromstring(response.content).get("width")[:-2]) == pytest.approx(
        float(blank.x_mm)
    )


def test_all_parts_come_in_one_file(maker, box):
    response = maker.get(reverse("housing:machine-box-zip", args=[box.pk]))

    with zipfile.ZipFile(io.BytesIO(b"".join(response.streaming_content))) as packed:
        names = packed.namelist()
        read_dxf(packed.read(names[0]).decode())
    start = f"B-1-8_Box-{box.pk:04}"
    assert names == [f"{start}_base.dxf", f"{start}_base.svg", f"{start}_lid.dxf", f"{start}_lid.svg"]
    assert response["Content-Disposition"] == f'attachment; filename="{start}.zip"'


def test_a_part_larger_than_every_sheet_comes_as_joined_parts(maker):
    board = make_board(code="B")
    make_sheet_size(board=board, along_mm=700, across_mm=900)
    box = make_box(
        make_object(height_mm=200, width_mm=600, depth_mm=400), design=make_design(board=board, form="tray")
    )
    whole = box.blanks.get().to_core()

    response = maker.get(reverse("housing:machine-box", args=[box.pk]))

    files = [file for file, _ in response.context["rows"]]
    assert len(files) >= 2 and files[0].name.endswith("tray-1-of-" + str(len(files)))
    assert all(file.drawing.on("JOIN") for file in files)
    assert max(file.size_mm[0] for file in files) < whole.x_mm
    assert "JOIN" in [name for name, _ in response.context["layers"]]


def test_foam_has_no_flutes_and_bears_the_name_of_what_it_is_cut_from(maker):
    box = make_box(
        make_object(height_mm=80, width_mm=200, depth_mm=150), design=make_design(form="cavity_tray")
    )

    rows = maker.get(reverse("housing:machine-box", args=[box.pk])).context["rows"]

    foam = [file for file, _ in rows if file.name.lower().startswith("foam")]
    assert foam and not any(file.drawing.on("FLUTES", "GRAIN") for file in foam)
    assert all(file.drawing.on("OPENING") for file in foam)


def test_a_trial_gives_files_without_being_saved(maker):
    design = make_design(name="Lidded box")
    asked = {"height": "10 in", "width": "8 in", "depth": "7 in"}

    page = maker.get(reverse("housing:machine-design", args=[design.pk]), asked)

    assert [file.says for file, _ in page.context["rows"]] == ["base", "lid"]
    _, address = page.context["rows"][0][1][0]
    assert address.endswith(urlencode(asked))
    assert dxf_length(dxf(maker.get(address)), "CUT") > 0
    assert maker.get(page.context["zip_url"]).status_code == 200


def test_a_trial_that_is_refused_says_why(maker):
    design = make_design()

    page = maker.get(reverse("housing:machine-design", args=[design.pk]), {"height": "x"})

    assert page.context["rows"] == []
    assert "is not a length" in page.context["refusal"]
    assert maker.get(reverse("housing:machine-design-part", args=[design.pk, 0, "dxf"])).status_code == 404


def test_the_page_of_a_design_leads_to_files_of_what_is_tried(maker):
    design = make_design()
    page = maker.get(reverse("housing:design-detail", args=[design.pk])).content.decode()

    assert reverse("housing:machine-design", args=[design.pk]) + "?height=10+in" in page


def test_a_sheet_has_all_its_blanks_where_the_plan_has_them(maker, box):
    [sheet] = lay_out(box)
    scores = sum(blank.to_core().score_length_mm for blank in box.blanks.all())

    doc = dxf(maker.get(reverse("housing:machine-sheet", args=[sheet.pk, "dxf"])))

    names = sorted(text.dxf.text for text in doc.modelspace().query("TEXT") if text.dxf.text[0] == "1")
    assert names == ["1956.2.7 base", "1956.2.7 lid"]
    assert dxf_length(doc, "SCORE_INSIDE") == pytest.approx(scores)


def test_sheets_of_a_plan_come_in_one_file(maker, box):
    [sheet] = lay_out(box)
    asked = {"campaign": sheet.plan.campaign_id}

    page = maker.get(reverse("housing:machine-sheets"), asked)
    packed = maker.get(page.context["zip_url"])

    name = f"B-1-8_plan-{sheet.plan_id}_sheet-001"
    assert [file.name for file, _ in page.context["rows"]] == [name]
    with zipfile.ZipFile(io.BytesIO(b"".join(packed.streaming_content))) as files:
        assert files.namelist() == [f"{name}.dxf", f"{name}.svg"]


def test_a_sheet_whose_blanks_have_changed_is_refused_with_the_way_out(maker, box):
    [sheet] = lay_out(box)
    placed = sheet.placements.first()
    placed.along_mm -= 3
    placed.save()

    page = maker.get(reverse("housing:machine-sheets"), {"sheet": sheet.pk})

    assert page.context["rows"] == []
    assert page.context["refusal"].endswith("Plan the campaign again.")
    assert maker.get(reverse("housing:machine-sheet", args=[sheet.pk, "dxf"])).status_code == 404


def test_files_do_not_depend_on_the_hand_of_who_asks(maker, box):
    [sheet] = lay_out(box)
    [fetched] = sheets_to_print([sheet.pk])
    maker.get(reverse("housing:print-sheet-layouts"), {"sheet": sheet.pk, "hand": "left"})

    assert sheet_file(fetched).drawing.strokes == sheet_file(fetched).drawing.strokes


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("machine-box", [999]),
        ("machine-blank", [999, 0, "dxf"]),
        ("machine-sheet", [999, "dxf"]),
        ("machine-design", [999]),
        ("machine-box-zip", [999]),
        ("machine-box", [10**30]),
        ("machine-sheet", [10**30, "svg"]),
    ],
)
def test_what_is_not_there_is_not_found(maker, name, keys):
    assert maker.get(reverse(f"housing:{name}", args=keys)).status_code == 404


@pytest.mark.parametrize(("part", "kind"), [(0, "exe"), (9, "dxf")])
def test_another_format_or_part_is_not_found(maker, box, part, kind):
    assert maker.get(reverse("housing:machine-blank", args=[box.pk, part, kind])).status_code == 404


def test_a_box_without_a_design_is_not_found(maker):
    box = make_housing(make_object(), status="waiting")

    assert maker.get(reverse("housing:machine-box", args=[box.pk])).status_code == 404


def test_nobody_gets_files_without_signing_in(client, box):
    assert client.get(reverse("housing:machine-box", args=[box.pk])).status_code == 302
