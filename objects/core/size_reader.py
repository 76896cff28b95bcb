"""Sizes read once: the same text is not read twice, and long lists are read on every core."""

import json
import multiprocessing
import os
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from decimal import Decimal
from multiprocessing.connection import Connection
from typing import Any

from objects.core.dimensions import DimensionReading, Dimensions, read_dimensions

MOST_CORES = 4  # more would wait for the rest of the reading; assumed
WORTH_SHARING = 200  # texts from which handing some to another process is quicker; measured

Text = tuple[str, str]  # as written, and the unit of its bare figures or ""
Plain = list[Any]  # a reading as JSON can hold it; see _plain()


class SizeReader:
    """Reads dimension texts and keeps what it understood, so that a list is saved as it was shown."""

    def __init__(self, packed: bytes | None = None) -> None:
        self._known: dict[Text, Plain] = {}
        if packed:
            kept = json.loads(zlib.decompress(packed))
            self._known = {(text, unit): reading for text, unit, *reading in kept}
        self._helpers: list[Connection] = []

    def read(self, text: str, unit: str) -> DimensionReading:
        """What a text says, read now or before."""
        if (text, unit) not in self._known:
            self._known[text, unit] = _plain(read_dimensions(text, unit or None))
        return _reading(self._known[text, unit])

    def read_ahead(self, texts: Iterable[Text]) -> None:
        """Read texts that are asked for soon, shared with the helpers where there are enough of them."""
        new = [text for text in dict.fromkeys(texts) if text not in self._known]
        share = len(new) // (len(self._helpers) + 1)
        helpers = self._helpers if len(new) >= WORTH_SHARING else []
        for place, helper in enumerate(helpers):
            with suppress(OSError):
                helper.send(new[place * share : (place + 1) * share])
        own = new[len(helpers) * share :]
        self._known |= zip(own, _read_all(own), strict=True)
        for place, helper in enumerate(helpers):
            theirs = new[place * share : (place + 1) * share]
            try:
                read = helper.recv()
            except (EOFError, OSError):  # it was killed; there is no hurry that it would be worth failing for
                read = _read_all(theirs)
            self._known |= zip(theirs, read, strict=True)

    def packed(self) -> bytes:
        """All that was read, to be kept with the list."""
        kept = [[*text, *reading] for text, reading in self._known.items()]
        return zlib.compress(json.dumps(kept).encode(), level=1)

    @contextmanager
    def with_helpers(self) -> Iterator[None]:
        """Has a process beside this one on each further core; they end with this one, however it ends."""
        fresh = multiprocessing.get_context("spawn")  # a copy of this process would share its database
        started = []
        try:
            for _ in range(min(os.cpu_count() or 1, MOST_CORES) - 1):
                ours, theirs = fresh.Pipe()
                process = fresh.Process(target=_help, args=(theirs,), daemon=True)
                process.start()
                theirs.close()  # so that the helper sees the end of the pipe when this process is gone
                started.append((ours, process))
            self._helpers = [ours for ours, _ in started]
            yield
        finally:
            self._helpers = []
            for ours, process in started:
                ours.close()
                process.join()


def _help(work: Connection) -> None:
    """Reads what comes until the pipe ends; Ctrl+C in a terminal reaches helpers too."""
    with suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            work.send(_read_all(work.recv()))


def _read_all(texts: Iterable[Text]) -> list[Plain]:
    return [_plain(read_dimensions(text, unit or None)) for text, unit in texts]


def _plain(reading: DimensionReading) -> Plain:
    """A reading as it is kept: small, and the same after a journey through text."""
    sides = [None if side is None else str(side) for side in reading.dimensions.sides]
    weight = None if reading.weight_g is None else str(reading.weight_g)
    return [reading.status, *sides, reading.unit, list(reading.notes), weight]


def _reading(plain: Plain) -> DimensionReading:
    status, *sides, unit, notes, weight = plain
    return DimensionReading(
        status,
        Dimensions(*(None if side is None else Decimal(side) for side in sides)),
        unit,
        tuple(notes),
        None if weight is None else Decimal(weight),
    )
