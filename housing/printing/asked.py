"""What somebody asks to be printed, so that it can be made at once, in pieces, or by the worker."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Self

from housing.printing.papers import PAPERS, Paper
from objects.readers import Reader


@dataclass(frozen=True)
class Asked:
    """A print: its kind, the records it is of by key, for whom and on what.

    base_url: the site's address, for codes. by: who prints it, in words. options: what only this kind knows.
    """

    what: str
    keys: tuple[int, ...]
    reader: Reader
    paper: Paper
    base_url: str
    by: str = ""
    options: Mapping[str, object] = field(default_factory=dict)

    def of(self, keys: Sequence[int], **options: object) -> Self:
        """The same print of other records, with some options changed."""
        return replace(self, keys=tuple(keys), options={**self.options, **options})

    def kept(self) -> dict:
        """As JSON, for a job to keep."""
        return {
            "what": self.what,
            "keys": list(self.keys),
            "unit": self.reader.unit,
            "hand": self.reader.hand,
            "paper": self.paper.key,
            "base_url": self.base_url,
            "by": self.by,
            "options": dict(self.options),
        }

    @classmethod
    def taken_up(cls, kept: dict) -> Self:
        """The print that kept() gave. Raises KeyError for a paper that is not ours."""
        paper = PAPERS[kept["paper"]]
        return cls(
            kept["what"],
            tuple(kept["keys"]),
            Reader(kept["unit"], paper.key, hand=kept["hand"]),
            paper,
            kept["base_url"],
            kept["by"],
            kept["options"],
        )
