"""Signs and fitted words that the drawings share."""

from housing.core.drawing.svg import TEXT_MM, element, path, text, text_width

READ_MM = 2.85  # 8 pt and a little: the least for what is read while cutting, at arm's length


def corner(x: float, y: float) -> str:
    """The sign for the corner where measuring begins."""
    return element("circle", class_="dim", cx=x, cy=y, r=1, fill="none", stroke="#000", stroke_width=0.2)


def arrow(x: float, y: float, length: float, along: str) -> str:
    """An arrow with two heads, centred on a point, along x or y."""
    half, head = length / 2, min(1.2, length / 4)
    if along == "x":
        ends = ((x - half, y, 1, 0), (x + half, y, -1, 0))
    else:
        ends = ((x, y - half, 0, 1), (x, y + half, 0, -1))
    heads = "".join(
        path(
            [
                (at_x + head * (to_x + 0.5 * to_y), at_y + head * (to_y + 0.5 * to_x)),
                (at_x, at_y),
                (at_x + head * (to_x - 0.5 * to_y), at_y + head * (to_y - 0.5 * to_x)),
            ],
            "flute",
            0.25,
        )
        for at_x, at_y, to_x, to_y in ends
    )
    return path([end[:2] for end in ends], "flute", 0.25) + heads


def turn_to_fit(content: str, wide: float, high: float, size_mm: float = TEXT_MM) -> int | None:
    """0 where a text fits a rectangle upright, -90 where it fits turned, None where it does not."""
    long = text_width(content, size_mm) + 2
    if long <= wide and high >= size_mm + 2:
        return 0
    return -90 if long <= high and wide >= size_mm + 2 else None


def centred(content: str, x: float, y: float, class_: str, size_mm: float, turn: int) -> str:
    """A text centred on a point, upright or turned."""
    drop = 0.36 * size_mm  # half the height of capitals
    x, y = (x, y + drop) if turn == 0 else (x + drop, y)
    return text(x, y, content, class_, size_mm, "middle", turn)
