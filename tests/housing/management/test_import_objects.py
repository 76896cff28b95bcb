"""Taking in a list of objects from the command line."""

import json
from io import BytesIO, StringIO

import pytest
from django.core.management import CommandError, call_command
from openpyxl import Workbook

from objects.models import CatalogueObject, ListImport

pytestmark = pytest.mark.django_db
LIST = (
    "Number,Name,Dimensions,Weight\n"
    "7.1,Bowl,10 x 8 3/4 x 7 1/8 in,1 kg\n"
    "7.2,Cup,12 cm high,\n"
    "7.3,Jug,approx. 15 x 2 x 1 in,\n"
    "7.4,Fan,,heavy\n"
)
INCHES = {"height_mm": 254, "width_mm": 222.25, "depth_mm": 180.975}  # at 25.4 mm to the inch


@pytest.fixture
def take_in(tmp_path):
    """Runs the command on a list; returns what it wrote, as JSON if that was asked for."""

    def run(*arguments: str, content: str | bytes = LIST, mapped: object = None, name: str = "list.csv"):
        file, out, more = tmp_path / name, StringIO(), []
        file.write_bytes(content.encode() if isinstance(content, str) else content)
        if mapped is not None:
            (tmp_path / "map.json").write_text(mapped if isinstance(mapped, str) else json.dumps(mapped))
            more = ["--map", str(tmp_path / "map.json")]
        call_command("import_objects", str(file), *arguments, *more, stdout=out, stderr=StringIO())
        return json.loads(out.getvalue()) if "--json" in arguments else out.getvalue()

    return run


def test_each_row_is_told_as_json_and_the_list_is_saved(take_in):
    told = take_in("--json")

    assert told["counts"] == {"refused": 1, "check": 1, "changed": 0, "new": 2, "unchanged": 0}
    assert told["columns"] == {
        "number": "Number", "name": "Name", "dimensions": "Dimensions", "weight_g": "Weight"
    }  # fmt: skip
    rows = [{key: row[key] for key in ("line", "number", "status", *INCHES)} for row in told["rows"]]
    assert rows == [
        {"line": 2, "number": "7.1", "status": "new", **INCHES},
        {"line": 3, "number": "7.2", "status": "new", "height_mm": 120, "width_mm": None, "depth_mm": None},
        # 15 in = 381 mm, 2 in = 50.8 mm, 1 in = 25.4 mm
        {"line": 4, "number": "7.3", "status": "check", "height_mm": 381, "width_mm": 50.8, "depth_mm": 25.4},
        {"line": 5, "number": "7.4", "status": "refused", **dict.fromkeys(INCHES)},
    ]
    assert told["rows"][3]["reason"].startswith("Weight: “heavy” is not a weight.")
    assert CatalogueObject.objects.count() == 3
    assert ListImport.objects.get(pk=told["list"]).state == "saved"


def test_people_are_told_in_words(take_in):
    told = take_in()

    lines = told.splitlines()
    assert lines[0] == "list.csv: 1 refused, 1 to be checked, 0 changed, 2 new, 0 unchanged."
    assert lines[2].startswith("Line 4, 7.3, to be checked: ")
    assert lines[3].startswith("Line 5, 7.4, refused: Weight: “heavy” is not a weight.")


def test_a_dry_run_stores_nothing(take_in):
    told = take_in("--dry-run", "--json")

    assert (told["counts"]["new"], told["is_saved"]) == (2, False)
    assert (CatalogueObject.objects.count(), ListImport.objects.count()) == (0, 0)


def test_a_map_says_which_heading_holds_a_field(take_in):
    told = take_in(
        "--json", "--unit", "cm", content="Ref,Name,A,B\n7.1,Bowl,10 x 9 x 8,10 x 9 x 7\n",
        mapped={"number": "Ref", "dimensions": "B"},
    )  # fmt: skip

    assert told["columns"] == {"number": "Ref", "name": "Name", "dimensions": "B"}
    assert told["rows"][0]["depth_mm"] == 70


def test_a_map_may_leave_a_field_out(take_in):
    told = take_in("--json", mapped={"weight_g": None})

    assert "weight_g" not in told["columns"]
    assert told["counts"]["refused"] == 0


def test_a_sheet_of_a_spreadsheet_is_read(take_in):
    book = Workbook()
    book.active.append(["Number", "Name", "Height (cm)"])
    book.active.append(["7.1", "Bowl", 10])
    other = book.create_sheet("Store 2")
    other.append(["Number", "Name", "Height (cm)"])
    other.append(["8.1", "Cup", 12.5])
    kept = BytesIO()
    book.save(kept)

    told = take_in("--json", "--sheet", "Store 2", content=kept.getvalue(), name="stores.xlsx")

    assert (told["format"], told["sheet"]) == ("xlsx", "Store 2")
    assert [(row["number"], row["height_mm"]) for row in told["rows"]] == [("8.1", 125)]


@pytest.mark.parametrize(
    "mapped, told",
    [
        ({"numer": "Number"}, "map.json names no field of ours: numer. There are: number, name,"),
        ({"number": "Inv."}, "map.json names a heading that the list has not: Inv.. It has: Number, Name,"),
        ({"number": "Name", "name": "Name"}, "map.json takes one heading for several fields: Name."),
        (["number"], "map.json must give a heading for each field"),
        ({"number": 7}, "map.json must give a heading for each field"),
        ("{", "map.json is not JSON in UTF-8"),
    ],
)
def test_a_bad_map_is_refused_in_a_sentence(take_in, mapped, told):
    with pytest.raises(CommandError) as refused:
        take_in(mapped=mapped)

    assert str(refused.value).startswith(told)
    assert not ListImport.objects.exists()


@pytest.mark.parametrize(
    "content, told",
    [
        ("Ref,Colour\n7.1,red\n7.2,blue\n", "No column was found for: Object number. Name it with --map."),
        ("Number,Name\n7.1,\n", "Every row was refused, so nothing can be saved."),
        ("", "The file is empty."),
        (b"%PDF-1.7", "This is a PDF, not a list."),
    ],
)
def test_a_list_that_cannot_be_used_is_refused_with_exit_code_1(take_in, content, told):
    with pytest.raises(CommandError) as refused:
        take_in(content=content)

    assert (str(refused.value)[: len(told)], refused.value.returncode) == (told, 1)
    assert not ListImport.objects.exists()


def test_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(CommandError, match="cannot be read: No such file or directory. Check the name."):
        call_command("import_objects", str(tmp_path / "none.csv"))
