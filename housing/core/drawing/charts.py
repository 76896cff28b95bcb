"""Charts of counts as SVG: as wide as their page, words at one size, parts told apart by grey in print."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from html import escape

from housing.core.drawing.svg import FONT, element
from objects.core.refusals import Refusal

LABEL_SIZE = 14  # px, as is every size below: charts do not scale, only their bars grow with the page
BAR_HEIGHT = 14
ROW_HEIGHT = 46
STRIP_HEIGHT = 30
BAR_SHARE = 0.74  # of the width; the rest is room for the words at a bar's end, on a telephone too
EDGE = "#333333"


class ChartRefused(Refusal):
    """A chart was asked of numbers it cannot show."""


@dataclass(frozen=True)
class Series:
    """One part of a bar. key: its name in counts and, with hyphens, its class; grey: its fill unstyled."""

    key: str
    words: str
    grey: str

    @property
    def class_(self) -> str:
        return self.key.replace("_", "-")


@dataclass(frozen=True)
class Bar:
    """One row. counts: by series key, none below zero; note: a few words at its end; href: where it leads;
    detail: a figure behind the label, which has the whole width."""

    label: str
    counts: Mapping[str, float]
    note: str = ""
    href: str = ""
    detail: str = ""


@dataclass(frozen=True)
class Part:
    """A share of one strip, for the words beside it: a count and its share of the whole in percent."""

    series: Series
    count: float
    percent: str


@dataclass(frozen=True)
class BarChart:
    """Stacked horizontal bars on one scale, the longest about three quarters of the page wide."""

    title: str
    bars: tuple[Bar, ...]
    series: tuple[Series, ...]

    def __post_init__(self) -> None:
        for bar in self.bars:
            _check(bar.counts, self.series, f"{self.title}, {bar.label}")

    @property
    def rows(self) -> tuple[tuple[Bar, tuple[float, ...]], ...]:
        """The same as a table: each bar with its counts in the order of the series."""
        return tuple((bar, tuple(bar.counts.get(s.key, 0) for s in self.series)) for bar in self.bars)

    @property
    def svg(self) -> str:
        """The bars as SVG text; as an image, or as a group where its rows are links."""
        longest = max((sum(bar.counts.values()) for bar in self.bars), default=0)
        drawn = [_row(i, bar, self.series, longest) for i, bar in enumerate(self.bars)]
        words = (f"{bar.label}: {_in_words(bar.counts, self.series)}." for bar in self.bars)
        role = "group" if any(bar.href for bar in self.bars) else "img"
        return _chart(self.title, words, drawn, len(self.bars) * ROW_HEIGHT, role)


@dataclass(frozen=True)
class Strip:
    """One bar over the whole width: how a total falls into parts."""

    title: str
    counts: Mapping[str, float]
    series: tuple[Series, ...]

    def __post_init__(self) -> None:
        _check(self.counts, self.series, self.title)

    @property
    def total(self) -> float:
        return sum(self.counts.values())

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every series, with its count and its share of the total."""
        return tuple(
            Part(s, count, percent(count, self.total))
            for s in self.series
            for count in [self.counts.get(s.key, 0)]
        )

    @property
    def svg(self) -> str:
        """The strip as SVG text; an empty frame where there is nothing to count."""
        if not self.total:
            frame = element("rect", class_="bar empty", y=1, width="100%", height=STRIP_HEIGHT - 2,
                            fill="#ffffff", stroke=EDGE)  # fmt: skip
            return _chart(self.title, ["Nothing to count yet."], [frame], STRIP_HEIGHT, "img")
        drawn = _segments(self.counts, self.series, self.total, 1, STRIP_HEIGHT - 2)
        words = [f"{_in_words(self.counts, self.series)}."]
        return _chart(self.title, words, drawn, STRIP_HEIGHT, "img")


def percent(count: float, total: float) -> str:
    """A share in whole percent that never says 0% of something or 100% of less than all."""
    if not total or not count:
        return "0%"
    if count == total:
        return "100%"
    share = 100 * count / total
    return "under 1%" if share < 1 else f"{min(round(share), 99)}%"


def _check(counts: Mapping[str, float], series: tuple[Series, ...], where: str) -> None:
    if strange := set(counts) - {s.key for s in series}:
        raise ChartRefused(f"{where}: the chart has no part called {', '.join(sorted(strange))}")
    if any(count < 0 for count in counts.values()):
        raise ChartRefused(f"{where}: a count below zero cannot be drawn")


def _row(i: int, bar: Bar, series: tuple[Series, ...], longest: float) -> str:
    top = i * ROW_HEIGHT
    note = bar.note or _figure(sum(bar.counts.values()))
    detail = element("tspan", escape(f" {bar.detail}"), class_="chart-detail") if bar.detail else ""
    drawn = [
        element("title", escape(bar.label)),
        element("text", escape(bar.label) + detail, class_="chart-label", y=top + LABEL_SIZE,
                font_size=LABEL_SIZE),
        element("text", escape(note), class_="chart-note", x="100%", y=top + LABEL_SIZE + 6 + BAR_HEIGHT - 2,
                font_size=LABEL_SIZE, text_anchor="end"),
        *_segments(bar.counts, series, longest / BAR_SHARE, top + LABEL_SIZE + 6, BAR_HEIGHT),
    ]  # fmt: skip
    return element("a" if bar.href else "g", "".join(drawn), class_="chart-row", href=bar.href or None)


def _segments(
    counts: Mapping[str, float], series: tuple[Series, ...], whole: float, top: float, height: float
) -> Iterator[str]:
    """Rectangles side by side, in percent of the width."""
    left = 0.0
    for part in series:
        if not (count := counts.get(part.key, 0)):
            continue
        wide = 100 * count / whole
        yield element(
            "rect", element("title", escape(f"{part.words}: {_figure(count)}")), class_=f"bar {part.class_}",
            x=f"{left:.3f}%", y=top, width=f"{wide:.3f}%", height=height, fill=part.grey, stroke=EDGE,
        )  # fmt: skip
        left += wide


def _in_words(counts: Mapping[str, float], series: tuple[Series, ...]) -> str:
    return ", ".join(f"{_figure(counts.get(s.key, 0))} {s.words.lower()}" for s in series)


def _figure(count: float) -> str:
    """A count with its thousands set apart, and at most two decimals."""
    return f"{count:,.0f}" if count == int(count) else f"{count:,.2f}"


def _chart(title: str, description: Iterable[str], parts: Iterable[str], height: float, role: str) -> str:
    content = element("title", escape(title)) + element("desc", escape(" ".join(description)))
    return element(
        "svg", content + "".join(parts), xmlns="http://www.w3.org/2000/svg", class_="chart", width="100%",
        height=height, role=role, font_family=FONT,
    )  # fmt: skip
