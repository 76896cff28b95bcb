"""Questions for the nesting as JSON text: read whole, or refused in one sentence with place and way out."""

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from boards.core.nesting.class_pack import VARIANTS, picked
from boards.core.nesting.instance_values import (
    LEAST_MM,
    LONGEST_ID,
    MONEY_PLACES,
    MOST_MONEY,
    Entry,
    InstanceRefused,
    is_filled_list,
    is_id,
    is_money,
    is_pair,
    is_whole,
    shown,
    without_repeats,
)
from boards.core.nesting.left_out import holds, holds_turned, usable_sides
from boards.core.nesting.shapes import Piece, Rules, Sheet, size_text

__all__ = ["VARIANTS", "InstanceRefused", "Question", "read_question"]

MOST_BLANKS = 1_000_000  # more would be a mistake in the file rather than a campaign
MOST_SHEETS = 1_000_000


@dataclass(frozen=True)
class Question:
    """What a file asks: its name, blanks, sheets and rules; part_ids: by key of a blank, its part's id."""

    name: str | None
    pieces: tuple[Piece, ...]
    sheets: tuple[Sheet, ...]
    rules: Rules
    part_ids: dict[str, str]


def read_question(
    text: str, use_corners: bool = False, pick: str | None = None, variant: str | None = None
) -> Question:
    """The question that a file asks.

    text: JSON; either one instance with "kerf", "trim", "sheets" and "parts", lengths in mm, or a class pack.
    use_corners: whether blanks may be cut from the waste corners of others. pick, variant: of a class pack
    the id of the instance, and one of VARIANTS, the first unless said otherwise.
    Raises InstanceRefused for text that is no such file, or asks for what cannot be cut.
    """
    file = Entry("", parsed(text))
    if "instances" in file.values:
        file = picked(file, pick, variant or VARIANTS[0])
    elif pick is not None or variant is not None:
        raise InstanceRefused(
            "--pick and --variant go with a class pack, and this file is one instance; leave them out."
        )
    file.value("unit", '"mm", or left out', lambda value: value == "mm", "mm")
    name = file.value("name", "a text", lambda value: value is None or isinstance(value, str), None)
    rules = Rules(
        kerf_mm=file.length_mm("kerf", 0),
        trim_mm=file.length_mm("trim", 0),
        use_corners=use_corners,
        edge_to_edge=file.yes_no("guillotine", True),
        mix_batches=file.yes_no("mix_batches", True),
    )
    sheets = tuple(sheet_of(entry, rules) for entry in entries(file, "sheets"))
    counted = [(part_of(entry), entry.whole("copies", 1, MOST_BLANKS, 1)) for entry in entries(file, "parts")]
    for part, _ in counted:
        refuse_what_fits_nowhere(part, sheets, rules)
    total = sum(count for _, count in counted)
    if total > MOST_BLANKS:
        raise InstanceRefused(
            f'"parts" come to {total:,} blanks; at most {MOST_BLANKS:,} can be laid out at a time, so split '
            "the file."
        )
    pieces, part_ids = copied(counted)
    return Question(name, pieces, sheets, rules, part_ids)


def parsed(text: str) -> dict[str, Any]:
    """The object that a text holds."""
    try:
        found = json.loads(text, object_pairs_hook=without_repeats)
    except json.JSONDecodeError as error:
        raise InstanceRefused(
            f"this is not JSON from line {error.lineno}, column {error.colno}, on "
            f"({error.msg.lower()}); mend it there."
        ) from error
    except InstanceRefused:
        raise
    except (RecursionError, ValueError) as error:
        raise InstanceRefused(
            "this is no JSON that can be read: lists lie too deep in one another, or a number has thousands "
            "of digits; mend that."
        ) from error
    if not isinstance(found, dict):
        raise InstanceRefused(
            f'this file holds {shown(found)}; it must be an object with "kerf", "trim", "sheets" and "parts".'
        )
    return found


def entries(file: Entry, key: str) -> list[Entry]:
    """The objects of a list, each under an id of its own."""
    noun = key.removesuffix("s")
    found = []
    for number, item in enumerate(file.value(key, f"a list of at least one {noun}", is_filled_list), start=1):
        place = f"{file.place}{noun} number {number}"
        if not isinstance(item, dict):
            raise InstanceRefused(f'{place} is {shown(item)}; it must be an object with "id", "w" and "h".')
        must_be = f"a text of 1 to {LONGEST_ID} characters that can be printed"
        found.append(Entry(f"{noun} {Entry(f'{place}: ', item).value('id', must_be, is_id)}: ", item))
    [(place, times)] = Counter(entry.place for entry in found).most_common(1)
    if times > 1:
        raise InstanceRefused(f'{place}{times} {noun}s have this "id"; give each its own.')
    return found


def sheet_of(entry: Entry, rules: Rules) -> Sheet:
    """A sheet size of which the trim leaves something."""
    along_mm, across_mm = entry.length_mm("w"), entry.length_mm("h")
    must_be = f"an amount from 0 to {MOST_MONEY:,} with at most {MONEY_PLACES} decimals"
    price = Decimal(str(entry.value("cost", must_be, is_money)))
    must_be = f"a whole number from 0 to {MOST_SHEETS:,}, or null for as many as needed"
    stock = entry.value("stock", must_be, lambda value: value is None or is_whole(value, 0, MOST_SHEETS))
    sheet = Sheet(
        entry.values["id"],
        along_mm,
        across_mm,
        price,
        stock=None if stock is None else int(stock),
        pack=entry.whole("pack", 1, MOST_SHEETS, 1),
        on_hand=entry.whole("on_hand", 0, MOST_SHEETS, 0),
    )
    if min(usable_sides(sheet, rules)) < LEAST_MM:
        raise InstanceRefused(
            f'{entry.place}{size_text(along_mm, across_mm)} less a "trim" of {rules.trim_mm:g} mm on all '
            "four sides leaves nothing; lower the trim or take the sheet out."
        )
    return sheet


def part_of(entry: Entry) -> Piece:
    """A blank whose key is the id of its part."""
    along_mm, across_mm = entry.length_mm("w"), entry.length_mm("h")
    half = along_mm / 2, across_mm / 2
    must_be = f"two numbers of mm, from 0 to half of the blank, which is [{half[0]:g}, {half[1]:g}]"
    corner = entry.value("corner", must_be, lambda value: value is None or is_pair(value, 0, *half), None)
    rot = entry.value(
        "rot", "0 for a blank that may not turn, or 1 for one that may", lambda value: is_whole(value, 0, 1)
    )
    return Piece(
        entry.values["id"],
        along_mm,
        across_mm,
        may_turn=bool(rot),
        corners=((float(corner[0]), float(corner[1])),) * 4 if corner else (),
        batch=entry.whole("batch", -MOST_SHEETS, MOST_SHEETS, 0),
    )


def refuse_what_fits_nowhere(part: Piece, sheets: Sequence[Sheet], rules: Rules) -> None:
    """Name a part that is larger than every sheet, be it in stock or not."""
    fitting_turned = [sheet for sheet in sheets if holds_turned(sheet, part, rules)]
    if any(holds(sheet, part, rules) for sheet in sheets) or (part.may_turn and fitting_turned):
        return
    inside = " inside its trim" if rules.trim_mm else ""
    largest = max(sheets, key=lambda sheet: sheet.along_mm * sheet.across_mm)
    text = (
        f"part {part.key}, {size_text(part.along_mm, part.across_mm)}, fits no sheet{inside}; the largest is "
        f"{largest.key}, {size_text(*usable_sides(largest, rules))}{inside}"
    )
    if fitting_turned:
        text += f'; turned by 90 degrees it would fit {fitting_turned[0].key}, for which its "rot" must be 1'
    raise InstanceRefused(f"{text}.")


def copied(counted: Sequence[tuple[Piece, int]]) -> tuple[tuple[Piece, ...], dict[str, str]]:
    """Every blank under a key of its own, "b0" or "b0#1", "b0#2" ..., and by key the id of its part."""
    part_ids = {part.key: part.key for part, count in counted if count == 1}
    pieces = []
    for part, count in counted:
        for number in range(1, count + 1):
            key = part.key
            if count > 1:
                key = f"{part.key}#{number}"
                while key in part_ids:
                    key += "'"
                part_ids[key] = part.key
            pieces.append(replace(part, key=key))
    return tuple(pieces), part_ids
