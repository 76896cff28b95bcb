"""manage.py benchmark: what is measured, where the table goes, and what is refused."""

from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from tests.benchmarks import nesting


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """What the measuring was asked for; it writes one line instead of measuring."""
    kept: list[dict[str, Any]] = []

    def main(**given: Any) -> None:
        kept.append({"quick": given["quick"], "instances": given["instances"]})
        given["write"]("| measure | ours |")

    monkeypatch.setattr(nesting, "main", main)
    return kept


def test_the_table_is_printed(asked: list[dict[str, Any]], capsys: pytest.CaptureFixture):
    call_command("benchmark", "nesting")

    assert capsys.readouterr().out == "| measure | ours |\n"
    assert asked == [{"quick": False, "instances": None}]


def test_the_table_is_written_to_a_file_as_well(asked: list[dict[str, Any]], tmp_path: Path):
    (tmp_path / "classes.json").write_text("{}")

    call_command(
        "benchmark",
        "nesting",
        "--quick",
        "--instances",
        str(tmp_path),
        "--output",
        str(tmp_path / "table.md"),
    )

    assert (tmp_path / "table.md").read_text() == "| measure | ours |\n"
    assert asked == [{"quick": True, "instances": tmp_path}]


def test_a_folder_without_instances_is_refused(asked: list[dict[str, Any]], tmp_path: Path):
    with pytest.raises(CommandError) as refused:
        call_command("benchmark", "nesting", "--instances", str(tmp_path))

    assert str(refused.value) == f"There are no instances in {tmp_path}: no file there ends in .json."
    assert asked == []


def test_a_table_is_not_written_to_a_folder_that_is_not_there(asked: list[dict[str, Any]], tmp_path: Path):
    with pytest.raises(CommandError) as refused:
        call_command("benchmark", "nesting", "--output", str(tmp_path / "none" / "table.md"))

    assert str(refused.value) == f"There is no folder {tmp_path / 'none'}. Make it, or write elsewhere."
    assert asked == []


def test_only_what_can_be_measured_is_taken(asked: list[dict[str, Any]]):
    with pytest.raises(CommandError, match="invalid choice: 'glue'"):
        call_command("benchmark", "glue")
