"""A second judge, of plan files: written from the description of the two files, without the planner's code.

It is used on instances in whole millimetres, so that nothing is rounded and nothing need be tolerated.
"""

from collections import Counter
from itertools import combinations

Box = tuple[float, float, float, float]  # left, lower, right, upper


def faults(instance: dict, plan: dict) -> list[str]:
    """What breaks the rules of an instance in a plan, both as read from their files."""
    found = []
    parts = {part["id"]: part for part in instance["parts"]}
    sizes = {sheet["id"]: sheet for sheet in instance["sheets"]}
    if plan.get("instance") != instance.get("name"):
        found.append("the plan names another instance")
    placed = Counter(laid["id"] for sheet in plan["sheets"] for laid in sheet["parts"])
    wanted = Counter({key: part.get("copies", 1) for key, part in parts.items()})
    if placed != wanted:
        found.append(f"placed {dict(placed - wanted)} too many, {dict(wanted - placed)} too few")
    used = Counter(sheet["type"] for sheet in plan["sheets"])
    for key, count in used.items():
        stock = sizes[key]["stock"]
        if stock is not None and count > stock:
            found.append(f"{count} sheets {key}, {stock} in stock")
    if plan["cost"] != sum(paid(sizes[key], count) for key, count in used.items()):
        found.append("the cost is not the sum of the prices")
    for number, sheet in enumerate(plan["sheets"]):
        found += [f"sheet {number}: {fault}" for fault in of_sheet(sheet, sizes, parts, instance)]
    return found


def paid(sheet: dict, count: int) -> float:
    """What so many sheets cost, those beyond what is on hand bought in whole packs."""
    owned, pack = min(count, sheet.get("on_hand", 0)), sheet.get("pack", 1)
    packs = (count - owned + pack - 1) // pack
    return sheet["cost"] * (owned + packs * pack)


def of_sheet(sheet: dict, sizes: dict, parts: dict, instance: dict) -> list[str]:
    """What is wrong with one sheet."""
    kerf, trim, size = instance["kerf"], instance["trim"], sizes[sheet["type"]]
    is_cut_through = instance.get("guillotine", True)
    usable = (trim, trim, size["w"] - trim, size["h"] - trim)
    found, direct, guests = [], [], {}
    for laid in sheet["parts"]:
        part = parts[laid["id"]]
        sides = [part["w"], part["h"]]
        if [laid["w"], laid["h"]] != (sides[::-1] if laid["rotated"] else sides):
            found.append(f"{laid['id']} in another size")
        if laid["rotated"] and not part["rot"]:
            found.append(f"{laid['id']} against its grain")
        if "host" in laid:
            guests.setdefault(laid["host"], []).append(laid)
        else:
            direct.append(box(laid))
            if not inside(box(laid), usable):
                found.append(f"{laid['id']} outside the trim")
    if not direct:
        found.append("nothing on it")
    found += of_group(direct, kerf, is_cut_through, "the sheet")
    for index, hosted in guests.items():
        host = sheet["parts"][index]
        rooms = [[] for _ in range(4)]
        corners = waste_corners(host, parts[host["id"]], kerf)
        if "host" in host:
            found.append(f"{host['id']} is a guest and a host")
        for laid in hosted:
            where = [room for room, corner in zip(rooms, corners, strict=True) if inside(box(laid), corner)]
            if where:
                where[0].append(box(laid))
            else:
                found.append(f"{laid['id']} in no corner of {host['id']}")
        for room in rooms:
            found += of_group(room, kerf, is_cut_through, f"a corner of {host['id']}")
    for offcut in sheet.get("offcuts", []):
        if not inside(box(offcut), usable) or any(meet(box(offcut), other, kerf) for other in direct):
            found.append("an offcut where there is none")
    batches = {parts[laid["id"]].get("batch", 0) for laid in sheet["parts"]}
    if len(batches) > 1 and not instance.get("mix_batches", True):
        found.append("batches mixed")
    return found


def of_group(boxes: list[Box], kerf: float, is_cut_through: bool, where: str) -> list[str]:
    """Neighbours too close, or no way to cut them free."""
    found = []
    if any(meet(one, other, kerf) for one, other in combinations(boxes, 2)):
        found.append(f"parts of {where} closer than a kerf")
    if is_cut_through and not can_be_cut(boxes, kerf):
        found.append(f"parts of {where} not free by cuts from edge to edge")
    return found


def box(laid: dict) -> Box:
    return laid["x"], laid["y"], laid["x"] + laid["w"], laid["y"] + laid["h"]


def inside(inner: Box, outer: Box) -> bool:
    return all(a >= b for a, b in zip(inner[:2], outer[:2], strict=True)) and all(
        a <= b for a, b in zip(inner[2:], outer[2:], strict=True)
    )


def meet(one: Box, other: Box, kerf: float) -> bool:
    """Whether two boxes overlap once there must be a kerf between them."""
    gaps = [max(one[axis], other[axis]) - min(one[axis + 2], other[axis + 2]) for axis in (0, 1)]
    return max(gaps) < kerf


def can_be_cut(boxes: list[Box], kerf: float) -> bool:
    """Whether cuts from edge to edge leave each box alone.

    A cut that harms no box stays possible whatever is cut before it, so the first one found will do.
    """
    if len(boxes) < 2:
        return True
    for axis in (0, 1):
        for line in {each[axis + 2] for each in boxes}:
            near = [each for each in boxes if each[axis + 2] <= line]
            far = [each for each in boxes if each[axis] >= line + kerf]
            if far and len(near) + len(far) == len(boxes):
                return can_be_cut(near, kerf) and can_be_cut(far, kerf)
    return False


def waste_corners(host: dict, part: dict, kerf: float) -> list[Box]:
    """The four waste corners of a part as it lies, less a kerf along their inner edges."""
    along, across = part.get("corner") or (0, 0)
    if host["rotated"]:
        along, across = across, along
    left, lower, right, upper = box(host)
    return [
        (x, y, x + along - kerf, y + across - kerf)
        for x in (left, right - along + kerf)
        for y in (lower, upper - across + kerf)
    ]
