"""The nest command: plans that a judge of their own passes, a summary, and one sentence for each mistake."""

import json
import os
import signal
import subprocess
import sys
from decimal import Decimal
from io import StringIO
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from boards.core.nesting import Bound, Standing
from boards.management.commands import nest as command
from tests.boards.core.nesting.judge import faults
from tests.boards.core.nesting.made import CLASSES, INSTANCES

THREE_SIZES = INSTANCES / "campaign_50_s1_3sheet.json"
ONE_SIZE = INSTANCES / "campaign_50_s2_1sheet.json"
# By hand: no trim, no kerf; two blanks of 60 x 60 and one of 30 x 30 on sheets of 100 x 60, side by side.
SMALL = {
    "name": "small",
    "unit": "mm",
    "kerf": 0,
    "trim": 0,
    "guillotine": True,
    "sheets": [{"id": "S", "w": 100, "h": 60, "cost": 250, "stock": 2}],
    "parts": [
        {"id": "b", "w": 60, "h": 60, "rot": 0, "copies": 2},
        {"id": "l", "w": 30, "h": 30, "rot": 0},
    ],
}


def small(folder: Path, **changes) -> str:
    """The small instance with some of it changed, as a file."""
    path = folder / "small.json"
    path.write_text(json.dumps(SMALL | changes), encoding="utf-8")
    return str(path)


def told(instance: object, output: Path, *words: str, err: StringIO | None = None) -> str:
    out = StringIO()
    call_command(
        "nest", str(instance), "--output", str(output), "--time-limit", "0.3", *words,
        stdout=out, stderr=err,
    )  # fmt: skip
    return out.getvalue()


def read(path: Path) -> dict:
    return json.loads(path.read_text("utf-8"))


@pytest.mark.parametrize("words", [(), ("--corners",)], ids=["plain", "corners"])
@pytest.mark.parametrize("instance", [THREE_SIZES, ONE_SIZE], ids=["three sizes", "one size"])
def test_plan_of_a_campaign_passes_the_second_judge(instance, words, tmp_path):
    told(instance, tmp_path / "plan.json", *words)

    assert faults(read(instance), read(tmp_path / "plan.json")) == []


def test_every_optional_key_is_kept_to(tmp_path):
    asked = read(THREE_SIZES)
    for number, part in enumerate(asked["parts"][:40]):
        part |= {"batch": number % 2, "copies": 1 + number % 3}
    asked["parts"], asked["mix_batches"] = asked["parts"][:40], False
    asked["sheets"][0] |= {"pack": 5, "on_hand": 1}
    path = tmp_path / "instance.json"
    path.write_text(json.dumps(asked), encoding="utf-8")

    told(path, tmp_path / "plan.json", "--corners")

    assert faults(asked, read(tmp_path / "plan.json")) == []


@pytest.mark.parametrize("variant", ["R_G", "O_F"])
def test_picked_instance_of_a_class_pack_passes_the_second_judge(variant, tmp_path):
    one = CLASSES[0]

    told(INSTANCES / "classes.json", tmp_path / "plan.json", "--pick", one["id"], "--variant", variant)

    plan = read(tmp_path / "plan.json")
    asked = {
        "name": one["id"],
        "kerf": 0,
        "trim": 0,
        "guillotine": variant.endswith("G"),
        "sheets": [{"id": "bin", "w": one["bin"][0], "h": one["bin"][1], "cost": 1, "stock": None}],
        "parts": [
            {"id": str(number), "w": w, "h": h, "rot": int(variant.startswith("R"))}
            for number, (w, h) in enumerate(one["items"])
        ],
    }
    assert faults(asked, plan) == []
    # the best known to the source of the instances, fixtures/nesting/README.md
    assert one["best"][variant] <= len(plan["sheets"]) <= one["best"][variant] + 1


def test_the_same_seed_writes_the_same_file(tmp_path):
    # Two blanks that one sheet holds: the bound is met at once, so that the clock has no say.
    few = tmp_path / "few.json"
    asked = read(ONE_SIZE)
    few.write_text(json.dumps(asked | {"parts": asked["parts"][:2]}), "utf-8")
    told(few, tmp_path / "one.json", "--seed", "5")
    told(few, tmp_path / "other.json", "--seed", "5")

    assert (tmp_path / "one.json").read_bytes() == (tmp_path / "other.json").read_bytes()


def test_summary_says_sheets_cost_and_how_near_the_least(tmp_path):
    output = tmp_path / "plan.json"

    lines = told(small(tmp_path), output, "--corners", "--seed", "3").splitlines()

    # By hand: 2 * 60 * 60 + 30 * 30 = 8100 mm2 are more than one sheet of 6000, so two are the least.
    assert lines[:3] == [
        "3 blanks on 2 sheets: 2 x S (100 x 60 mm)",
        "cost 500, the least possible",
        "0 blanks cut from waste corners",
    ]
    assert lines[3].endswith(f" s, seed 3; written to {output}")
    assert [part["id"] for sheet in read(output)["sheets"] for part in sheet["parts"]].count("b") == 2


@pytest.mark.parametrize(
    ("cost", "least", "text"),
    [
        ("1040", "1000", "1040, at most 4.0 % above the least possible (1000)"),
        # 1 / 3 % and 0.01 % are rounded up, so that "at most" holds
        ("301", "300", "301, at most 0.4 % above the least possible (300)"),
        ("10001", "10000", "10001, at most 0.1 % above the least possible (10000)"),
        ("12.50", "12.5", "12.50, the least possible"),
        ("5", "0", "5; nothing is known of the least possible"),
    ],
)
def test_share_above_the_least_is_rounded_up(cost, least, text):
    assert command._cost_text(Decimal(cost), Decimal(least)) == text


def test_progress_is_told_once_a_second():
    lines: list[str] = []
    watching = command.Watching(lines.append)
    standing = Standing(0.25, 3.2, Decimal("12.50"), 1, Bound(Decimal(9), 1))

    with watching:
        watching(standing)
        watching.begun, watching.told = watching.begun - 3.2, watching.told - 1.2
        answers = [watching(standing), watching(standing)]

    assert lines == ["3 s: 1 sheet, cost 12.50, 25% of the search done"]
    assert answers == [False, False]


def test_earlier_plan_is_replaced_and_nothing_else_left_behind(tmp_path):
    instance, output = small(tmp_path), tmp_path / "plan.json"
    output.write_text("an earlier plan")

    told(instance, output)

    assert read(output)["instance"] == "small"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["plan.json", "small.json"]


# ---- Ctrl+C ----------------------------------------------------------------------------------------------


def test_ctrl_c_writes_the_best_plan_so_far(tmp_path, monkeypatch):
    before = signal.getsignal(signal.SIGINT)
    interrupt_at_first_call(monkeypatch)

    text = told(THREE_SIZES, tmp_path / "plan.json", "--time-limit", "60")

    assert text.splitlines()[0] == "Stopped early, as asked; this is the best plan so far."
    assert faults(read(THREE_SIZES), read(tmp_path / "plan.json")) == []
    assert signal.getsignal(signal.SIGINT) == before


def test_second_ctrl_c_ends_the_command(tmp_path, monkeypatch):
    interrupt_at_first_call(monkeypatch, times=2)

    with pytest.raises(CommandError, match="Stopped before there was a plan; nothing is written.") as stopped:
        told(THREE_SIZES, tmp_path / "plan.json", "--time-limit", "60")

    assert stopped.value.returncode == 130
    assert not (tmp_path / "plan.json").exists()


def interrupt_at_first_call(monkeypatch, times: int = 1) -> None:
    """Press Ctrl+C as soon as the search says for the first time how it stands."""
    watched, presses = command.Watching.__call__, iter(range(times))

    def pressed(self, standing):
        for _ in presses:
            signal.raise_signal(signal.SIGINT)
        return watched(self, standing)

    monkeypatch.setattr(command.Watching, "__call__", pressed)


# ---- Refused ---------------------------------------------------------------------------------------------


def refusal(instance: object, output: Path, *words: str) -> tuple[str, int]:
    """The sentence and the exit status; a plan must not be there."""
    with pytest.raises(CommandError) as refused:
        told(instance, output, *words)
    assert not output.is_file() or output.read_text() == "an earlier plan"
    return str(refused.value), refused.value.returncode


@pytest.mark.parametrize(
    ("copies", "found"),
    [
        # two sheets of 100 x 60 hold one blank of 60 x 60 each
        (3, "part b, 60 x 60 mm, finds no room"),
        (4, "part b, 60 x 60 mm, and 1 blank more find no room"),
        (5, "part b, 60 x 60 mm, and 2 blanks more find no room"),
    ],
)
def test_blanks_left_out_are_named_and_counted(copies, found, tmp_path):
    instance = small(tmp_path, parts=[SMALL["parts"][0] | {"copies": copies}])

    assert refusal(instance, tmp_path / "plan.json") == (
        f"{instance}: {found}, since the sheets in stock are used up; nothing is written, so raise "
        '"stock" or take parts out.',
        2,
    )


def test_fault_in_the_file_is_told_with_its_name(tmp_path):
    instance = small(tmp_path, kerf=-1)

    assert refusal(instance, tmp_path / "plan.json") == (
        f'{instance}: "kerf" is -1; it must be a number of mm from 0 to 100,000.',
        2,
    )


@pytest.mark.parametrize("limit", ["0", "-1", "nan", "inf", "ten"])
def test_time_limit_must_be_a_number_of_seconds(limit, tmp_path):
    said = refusal(small(tmp_path), tmp_path / "plan.json", f"--time-limit={limit}")

    assert said == (f"--time-limit is {limit}; it must be a number of seconds above 0, such as 10.", 2)


def test_file_that_is_missing_a_folder_or_no_text_is_told(tmp_path):
    output, latin = tmp_path / "plan.json", tmp_path / "latin.json"
    latin.write_bytes(b'{"name": "\xe9"}')

    assert refusal(tmp_path / "gone.json", output) == (
        f"{tmp_path / 'gone.json'}: there is no such file; look at the name and the folder.", 2,
    )  # fmt: skip
    assert refusal(tmp_path, output) == (
        f"{tmp_path}: this is a folder; give the name of a file in it.", 2,
    )  # fmt: skip
    assert refusal(latin, output) == (
        f"{latin}: this is no text in UTF-8 from byte 11 on; save it as UTF-8.", 2,
    )  # fmt: skip


def test_file_that_begins_with_a_byte_order_mark_is_read(tmp_path):
    path = Path(small(tmp_path))
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())

    told(path, tmp_path / "plan.json")

    assert faults(SMALL, read(tmp_path / "plan.json")) == []


def test_output_that_cannot_be_written_is_told_before_the_search(tmp_path):
    instance = Path(small(tmp_path))

    assert refusal(instance, tmp_path) == (
        f"--output {tmp_path} is a folder; give the name of a file in it.", 2,
    )  # fmt: skip
    assert refusal(instance, tmp_path / "gone" / "plan.json") == (
        f"There is no folder {tmp_path / 'gone'}; make it, or write elsewhere.", 2,
    )  # fmt: skip
    assert refusal(instance, Path(os.devnull)) == (
        f"--output {os.devnull} is no file; give the name of one.", 2,
    )  # fmt: skip
    with pytest.raises(CommandError, match="is the instance itself; write elsewhere."):
        told(instance, instance)
    assert read(instance) == SMALL


def test_output_that_fails_in_the_end_leaves_what_was_there(tmp_path, monkeypatch):
    output = tmp_path / "plan.json"
    output.write_text("an earlier plan")
    instance = small(tmp_path)

    def refuse(*args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(command.os, "replace", refuse)

    assert refusal(instance, output) == (
        f"{output} cannot be written (No space left on device); make room or write elsewhere.", 2,
    )  # fmt: skip
    assert sorted(path.name for path in tmp_path.iterdir()) == ["plan.json", "small.json"]


def test_plan_that_breaks_a_rule_is_never_written(tmp_path, monkeypatch):
    monkeypatch.setattr(command, "check", lambda *asked: ("Sheet 1 (S): nothing is cut from it.",))

    sentence, status = refusal(small(tmp_path), tmp_path / "plan.json")

    assert status == 1
    assert sentence == (
        "The plan breaks a rule, which is a fault of this program (Sheet 1 (S): nothing is cut from it); "
        "nothing is written, so please report it with the instance and --seed 0."
    )


def test_from_the_command_line_a_refusal_is_one_line_and_no_database_is_needed(tmp_path):
    environment = {**os.environ, "DATABASE_URL": "postgres://nobody@127.0.0.1:1/none"}
    environment["DJANGO_SETTINGS_MODULE"] = "housing.config.settings"

    def run(instance: str) -> subprocess.CompletedProcess:
        words = [sys.executable, "manage.py", "nest", instance, "--output", str(tmp_path / "plan.json")]
        return subprocess.run(words, cwd=settings.BASE_DIR, env=environment, capture_output=True, text=True)

    done, refused = run(small(tmp_path)), run(str(tmp_path / "gone.json"))

    assert (done.returncode, done.stderr) == (0, "")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert refused.stderr == (
        f"{tmp_path / 'gone.json'}: there is no such file; look at the name and the folder.\n"
    )
