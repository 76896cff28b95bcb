"""An enclosure in plain figures, for other programs to read: everything in millimetres."""

from typing import Any

from housing.core.blank import Blank
from housing.core.enclosures import Enclosure
from housing.core.enclosures.form import Form, Part
from housing.core.enclosures.options import Option
from housing.core.enclosures.seating import fits
from housing.core.folding import Box3
from housing.core.making import making_steps
from housing.core.proof import faults

PLACES = 4  # a tenth of a micrometre: far below any rule, far above rounding error


def describe(made: Enclosure) -> dict[str, Any]:
    """Figures of an enclosure as plain values.

    Returns lengths in mm and areas in mm2, rounded to four decimals; "warnings" are the notes, "faults" what
    folding it in the computer found wrong.
    """
    return {
        "form": made.form.key,
        "parts": [_part(part) for part in made.parts],
        "warnings": list(made.notes),
        "drawn": made.marking_out.drawn,
        "asked": _rounded(made.asked.x_mm, made.asked.y_mm, made.asked.z_mm),
        "inside": _sides(made.inside),
        "outside": _sides(made.outside),
        "fits": [{"part": fit.part, "room": _rounded(fit.x_mm, fit.y_mm)} for fit in fits(made.parts)],
        "supplies": [{"what": supply.what, "count": supply.count} for supply in made.supplies],
        "steps": making_steps(made.parts),
        "faults": faults(made),
    }


def describe_form(form: Form) -> dict[str, Any]:
    """A form and its options as plain values; lengths in mm."""
    return {
        "form": form.key,
        "name": form.name,
        "suits": form.suits,
        "limits": form.limits,
        "options": [_option(option) for option in form.options],
    }


def _option(option: Option) -> dict[str, Any]:
    told: dict[str, Any] = {"option": option.key, "label": option.label, "kind": option.kind.value}
    told["default"] = option.default
    if option.words:
        told["words"] = [word for word, _ in option.words]
    elif option.kind in ("length", "count"):
        told |= {"least": option.least, "most": option.most}
    return told | ({"help": option.help} if option.help else {})


def _part(part: Part) -> dict[str, Any]:
    blank = part.blank
    return {
        "name": part.name,
        "blank": _rounded(blank.x_mm, blank.y_mm),
        "marks_x": _rounded(*blank.marks_x),
        "marks_y": _rounded(*blank.marks_y),
        "flap_marks": {"x": _rounded(*blank.flap_marks_x), "y": _rounded(*blank.flap_marks_y)},
        "inside": _sides(part.inside),
        "outside": _sides(part.outside),
        "board_area_mm2": round(blank.board_area_mm2, PLACES),
        "score_length_mm": round(blank.score_length_mm, PLACES),
        "cut_length_mm": round(blank.cut_length_mm, PLACES),
        "folds": blank.folds,
        "glue_joints": blank.glue_joints,
        "corner_waste": [[*_rounded(wide, high), count] for wide, high, count in blank.corner_waste],
        "flute_along": blank.flute_along,
        "glue_length_mm": round(blank.glue_length_mm, PLACES),
        "trim_marks": {"x": _rounded(*blank.trim_marks_x), "y": _rounded(*blank.trim_marks_y)},
        "openings": _openings(blank),
        "material": part.material,
    }


def _openings(blank: Blank) -> list[dict[str, Any]]:
    return [
        {
            "name": opening.name,
            "shape": opening.shape,
            "panel": opening.panel,
            "at": _rounded(opening.x_mm, opening.y_mm),
            "size": _rounded(opening.width_mm, opening.height_mm),
        }
        for opening in blank.openings
    ]


def _sides(box: Box3) -> list[float]:
    return _rounded(box.x_mm, box.y_mm, box.z_mm)


def _rounded(*values: float) -> list[float]:
    return [round(value, PLACES) + 0.0 for value in values]
