"""Minutes at the bench, from the lengths scored and cut and the joints glued."""

from dataclasses import dataclass

MM_PER_M = 1000.0


@dataclass(frozen=True)
class BenchWork:
    """What has to be done for one housing, lid included.

    score_length_mm, cut_length_mm: all scores; all cuts with the outlines, mm. glue_joints: how many.
    is_padded: whether floor and walls are lined.
    """

    score_length_mm: float
    cut_length_mm: float
    glue_joints: int
    is_padded: bool = False


@dataclass(frozen=True)
class LabourFigures:
    """How long things take, in minutes, or minutes a metre.

    setup_minutes: fetching the board and setting out. score_minutes_m, cut_minutes_m: a metre scored or cut.
    joint_minutes: a glued corner. padding_minutes: lining. fit_minutes: fitting, labelling, photographing.
    return_minutes: back to the shelf. measure_minutes: taking the size of an object that has none on record.
    Source: assumed, since published times differ by a factor of ten with form, tools and practice; a fixed
        part plus a part that grows with the lengths follows what crating estimators report. Replace them by
        times taken at your own bench.
    """

    setup_minutes: float = 8.0
    score_minutes_m: float = 1.2
    cut_minutes_m: float = 1.5
    joint_minutes: float = 1.0
    padding_minutes: float = 3.0
    fit_minutes: float = 6.0
    return_minutes: float = 4.0
    measure_minutes: float = 6.0

    def minutes_by_step(self, work: BenchWork) -> dict[str, float]:
        """Minutes of each step in working order: cut (setting out and scoring too), glue, fit, return.

        work: lengths in mm and joints of one housing. Returns minutes by step.
        Source: assumed, see above; worked by hand in tests/housing/core/estimate/test_labour.py.
        """
        return {
            "cut": self.setup_minutes
            + self.score_minutes_m * work.score_length_mm / MM_PER_M
            + self.cut_minutes_m * work.cut_length_mm / MM_PER_M,
            "glue": self.joint_minutes * work.glue_joints,
            "fit": self.fit_minutes + (self.padding_minutes if work.is_padded else 0.0),
            "return": self.return_minutes,
        }
