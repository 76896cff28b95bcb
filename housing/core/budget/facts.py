"""What a budget needs to know of a box, whether it is stored or only thought of in a scenario."""

from dataclasses import dataclass


@dataclass(frozen=True)
class BoxFacts:
    """One box: what is to be done for it and what it takes. Lengths in m, areas in m2, volumes in litres.

    key, form, design, board: names as text. alike: boxes with the same text are marked out together.
    objects: how many it holds. blanks, folds, joints: counts over all its parts of board;
    lid_folds, lid_joints: those of them that a lid made apart has. score_m, cut_m:
    all scores; all cuts with the outlines. joint_m: the lengths of its glue joints added up. lining: the name
    of what lines it, blank for none, lining_m2 of it, lining_mm thick. gap_litres: what is left between the
    objects and the lined inside. supplies: what else its form asks for, parts of
    other materials among it: name, how many, metres or m2 of each or 0.
    outside_litres: room taken on the shelf. blank_m2: area of its blanks as rectangles.
    to_measure: whether its objects are still to be measured. ready_made: the key of the bought box that is
    used in its place, blank where it is made. priority, score, location, batch: as its objects have them.
    """

    key: str
    form: str
    design: str
    board: str
    alike: str = ""
    objects: int = 1
    blanks: int = 0
    folds: int = 0
    joints: int = 0
    lid_folds: int = 0
    lid_joints: int = 0
    score_m: float = 0.0
    cut_m: float = 0.0
    joint_m: float = 0.0
    blank_m2: float = 0.0
    lining: str = ""
    lining_m2: float = 0.0
    lining_mm: float = 0.0
    gap_litres: float = 0.0
    supplies: tuple[tuple[str, int, float], ...] = ()
    outside_litres: float = 0.0
    to_measure: bool = False
    ready_made: str = ""
    priority: str = ""
    score: float = 0.0
    location: str = ""
    batch: int = 1
