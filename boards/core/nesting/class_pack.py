"""Class packs: files of published questions with bins of one size, taken one at a time."""

from typing import Any

from boards.core.nesting.instance_values import (
    LEAST_MM,
    MOST_MM,
    Entry,
    InstanceRefused,
    is_filled_list,
    is_id,
    is_pair,
    shown,
)

# R: items may turn, O: they may not. G: cut from edge to edge, F: cut freely.
VARIANTS = ("R_G", "O_G", "R_F", "O_F")


def picked(pack: Entry, pick: str | None, variant: str) -> Entry:
    """One instance of a class pack, as if it stood in a file of its own; a bin costs 1, cuts take nothing.

    pack: the file. pick: the id of the instance. variant: one of VARIANTS.
    Raises InstanceRefused for an id that is not in the pack, or sizes that are none.
    """
    listed = pack.value("instances", "a list of one instance or more", is_filled_list)
    by_id = {item["id"]: item for item in listed if isinstance(item, dict) and is_id(item.get("id"))}
    if pick not in by_id:
        lack = "none is picked" if pick is None else f"it has no instance {shown(pick)}"
        example = f", such as --pick {min(by_id)}" if by_id else ""
        raise InstanceRefused(f"this is a class pack and {lack}; pick one of its {len(by_id)}{example}.")
    entry = Entry(f"instance {pick}, ", by_id[pick])
    width, height = entry.value("bin", f"two numbers of {LEAST_MM:g} or more, such as [100, 100]", is_size)
    must_be = "a list of pairs such as [[30, 20], [25, 25]]"
    items = entry.value("items", must_be, lambda value: is_filled_list(value) and all(map(is_size, value)))
    values: dict[str, Any] = {
        "name": pick,
        "kerf": 0,
        "trim": 0,
        "guillotine": variant.endswith("G"),
        "sheets": [{"id": "bin", "w": width, "h": height, "cost": 1, "stock": None}],
        "parts": [
            {"id": str(number), "w": along, "h": across, "rot": int(variant.startswith("R"))}
            for number, (along, across) in enumerate(items)
        ],
    }
    return Entry(entry.place, values)


def is_size(value: Any) -> bool:
    """Whether it is a pair of sides."""
    return is_pair(value, LEAST_MM, MOST_MM, MOST_MM)
