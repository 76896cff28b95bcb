"""Works out the blanks of an enclosure from the command line, in words, as JSON or as a drawing."""

import difflib
import json
import re
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError

from boards.core.board import BoardSpec
from boards.models import Board
from housing.core.clearances import InnerSize
from housing.core.drawing.blank_svg import blank_svg
from housing.core.enclosures import ENCLOSURES, Enclosure, make_enclosure
from housing.core.enclosures.describing import describe, describe_form
from housing.core.enclosures.form import Form
from housing.core.enclosures.options import Kind, Option, Value
from housing.core.marking_out import COMPENSATED, NOMINAL, STEPS_MM, MarkingOut
from objects.core.lengths import format_length, format_size, in_unit, parse_length
from objects.core.refusals import Refusal

FOLDS = {"inside": 0.0, "middle": 0.5, "outside": 1.0}
YES_NO = {"yes": True, "no": False, "true": True, "false": False, "on": True, "off": False}
PAPER_MM = (420.0, 297.0)


class Command(BaseCommand):
    help = (
        "Works out the flat blanks of an enclosure for a clear inside, and tells whether they fold up right."
    )
    requires_system_checks: list[str] = []  # nothing but --board needs the database

    def add_arguments(self, parser) -> None:
        parser.add_argument("form", nargs="?", help="Which enclosure form; --list shows them.")
        parser.add_argument("--list", action="store_true", help="List the forms and their options.")
        parser.add_argument("--inner", metavar="LxWxH", help="Clear inside, such as 10-3/4x9-1/8x11.")
        parser.add_argument("--unit", choices=("mm", "in"), default="mm", help="Of figures without a unit.")
        parser.add_argument("--board", metavar="CODE", help="A board of the planner, by its code.")
        parser.add_argument("--caliper", metavar="T", help="Or the thickness of a board.")
        parser.add_argument(
            "--fold", choices=tuple(FOLDS), help="Which face of the board stays: middle is creased."
        )
        parser.add_argument("--option", action="append", default=[], metavar="KEY=VALUE")
        parser.add_argument("--drawn", choices=(COMPENSATED, NOMINAL), default=COMPENSATED)
        parser.add_argument("--step", choices=[name for name in STEPS_MM if name], default="")
        parser.add_argument("--json", action="store_true", help="Everything as JSON, in mm.")
        parser.add_argument("--svg", metavar="FILE", help="Write the drawings of the blanks.")

    def handle(self, *args, **given) -> None:
        try:
            if given["list"]:
                self._list(given["json"])
            else:
                self._work_out(given)
        except Refusal as refused:
            raise CommandError(in_unit(str(refused), given["unit"]), returncode=2) from refused

    def _work_out(self, given: dict[str, Any]) -> None:
        form = _form(given["form"])
        made = make_enclosure(
            form.key,
            _inner(given["inner"], given["unit"]),
            _board(given),
            _options(form, given["option"], given["unit"]),
            MarkingOut(given["drawn"], STEPS_MM[given["step"]]),
        )
        if given["svg"]:
            self._draw(made, Path(given["svg"]), given["unit"])
        if given["json"]:
            self.stdout.write(json.dumps(describe(made), ensure_ascii=False, indent=2))
        else:
            self.stdout.write("\n".join(_in_words(made, given["unit"])))

    def _list(self, as_json: bool) -> None:
        forms = [describe_form(form) for form in ENCLOSURES.values()]
        if as_json:
            self.stdout.write(json.dumps(forms, ensure_ascii=False, indent=2))
            return
        for form in forms:
            self.stdout.write(f"{form['form']}: {form['name']}\n  {form['suits']}\n  {form['limits']}")
            for option in form["options"]:
                self.stdout.write(f"    {_option_line(option)}")

    def _draw(self, made: Enclosure, path: Path, unit: str) -> None:
        if not path.parent.is_dir():
            raise CommandError(
                f"There is no folder {path.parent}. Make it, or write elsewhere.", returncode=2
            )
        for part in made.parts:
            drawing = blank_svg(
                part.blank,
                title=f"{part.name} of a {made.form.name}",
                format_length=lambda mm: format_length(mm, unit),
                paper_width_mm=PAPER_MM[0],
                paper_height_mm=PAPER_MM[1],
            )
            name = f"{path.stem}-{part.name.replace(' ', '-')}" if len(made.parts) > 1 else path.stem
            path.with_name(name + (path.suffix or ".svg")).write_text(drawing.svg, encoding="utf-8")


def _form(key: str | None) -> Form:
    if not key:
        raise CommandError("Which form? Give its name first; --list shows all of them.", returncode=2)
    if key in ENCLOSURES:
        return ENCLOSURES[key]
    near = difflib.get_close_matches(key, ENCLOSURES, n=3)
    hint = f" Did you mean {' or '.join(near)}?" if near else " --list shows all of them."
    raise CommandError(f"There is no form “{key}”.{hint}", returncode=2)


def _inner(text: str | None, unit: str) -> InnerSize:
    sides = re.split(r"\s*[x×]\s*", text.strip()) if text else []
    if len(sides) != 3:
        raise CommandError(
            f"--inner is “{text or ''}”; give length, width and height, such as --inner 300x200x150.",
            returncode=2,
        )
    return InnerSize(*(float(parse_length(side, unit)) for side in sides))


def _board(given: dict[str, Any]) -> BoardSpec:
    code, caliper = given["board"], given["caliper"]
    if bool(code) == bool(caliper):
        raise CommandError("Give either --board CODE or --caliper T, one of the two.", returncode=2)
    if caliper:
        thick = float(parse_length(caliper, given["unit"], may_be_zero=True))
        return BoardSpec(thick, FOLDS[given["fold"] or "middle"])
    if given["fold"]:
        raise CommandError("--fold goes with --caliper; a board knows how it is folded.", returncode=2)
    try:
        board = Board.objects.filter(code__iexact=code).first()
    except DatabaseError as error:
        raise CommandError(
            "There are no boards here yet: the database is not set up. Run migrate, or use --caliper.",
            returncode=2,
        ) from error
    if board is None:
        known = ", ".join(Board.objects.values_list("code", flat=True)) or "none yet"
        raise CommandError(f"There is no board “{code}”. Boards here: {known}.", returncode=2)
    return board.to_core()


def _options(form: Form, pairs: list[str], unit: str) -> dict[str, Value]:
    known = {option.key: option for option in form.options}
    found: dict[str, Value] = {}
    for pair in pairs:
        key, equals, text = pair.partition("=")
        if not equals:
            raise CommandError(f"--option “{pair}” has no value; write {key}=VALUE.", returncode=2)
        # an unknown key is left to the form, which names those it has
        found[key] = _value(known[key], text.strip(), unit) if key in known else text
    return found


def _value(option: Option, text: str, unit: str) -> Value:
    if option.kind is Kind.LENGTH:
        sign = -1 if text.startswith("-") else 1
        return sign * float(parse_length(text.removeprefix("-"), unit, may_be_zero=True))
    if option.kind is Kind.COUNT:
        if not re.fullmatch(r"-?\d+", text):
            raise CommandError(f"{option.label}: “{text}” is not a whole number.", returncode=2)
        return int(text)
    if option.kind is Kind.YES_NO:
        if text.lower() not in YES_NO:
            raise CommandError(f"{option.label}: “{text}” is neither yes nor no.", returncode=2)
        return YES_NO[text.lower()]
    return text


def _option_line(option: dict[str, Any]) -> str:
    default, unit = option["default"], " mm" if option["kind"] == "length" else ""
    if isinstance(default, bool):
        shown = "yes" if default else "no"
    else:
        shown = "as the form has it" if default is None else f"{default}{unit}"
    words = f", one of {', '.join(option['words'])}" if "words" in option else ""
    limits = f", {option['least']:g} to {option['most']:g}{unit}" if "least" in option else ""
    return f"{option['option']}: {option['label']} ({shown}{words}{limits})"


def _in_words(made: Enclosure, unit: str) -> list[str]:
    told = describe(made)
    lines = [made.form.name, f"  drawn {told['drawn']}"]
    lines += [f"  {name}: {format_size(told[key], unit)}" for name, key in SIDES]
    for part in told["parts"]:
        lines.append(f"{part['name']}: blank {format_size(part['blank'], unit)}")
        for name, marks in (
            ("marks along x", part["marks_x"]),
            ("marks along y", part["marks_y"]),
            ("flap hinges along x", part["flap_marks"]["x"]),
            ("flap hinges along y", part["flap_marks"]["y"]),
        ):
            if marks:
                lines.append(f"  {name}: {', '.join(format_length(mark, unit) for mark in marks)}")
        lines.append(
            f"  {part['folds']} folds, {part['glue_joints']} glue joints, flutes along {part['flute_along']}"
        )
    lines += [f"{number}. {in_unit(step, unit)}" for number, step in enumerate(told["steps"], start=1)]
    lines += [
        f"Also needed: {supply['count']} x {in_unit(supply['what'], unit)}" for supply in told["supplies"]
    ]
    lines += [f"Note: {in_unit(note, unit)}" for note in told["warnings"]]
    return lines + [f"Fault: {in_unit(fault, unit)}" for fault in told["faults"]]


SIDES = (
    ("clear inside, length × width × height", "inside"),
    ("outside, closed", "outside"),
)
