"""Minutes at the bench."""

import pytest

from housing.core.estimate import BenchWork, LabourFigures
from tests.housing.core.made import worked_base


def worked_work(is_padded=False) -> BenchWork:
    blank = worked_base()
    return BenchWork(
        score_length_mm=blank.score_length_mm,
        cut_length_mm=blank.cut_length_mm + blank.outline_length_mm,
        glue_joints=blank.glue_joints,
        is_padded=is_padded,
    )


def test_worked_base_takes_28_77_minutes_until_it_is_fitted():
    # By hand, figures assumed: scores 83 3/4 in = 2.127 m x 1.2 = 2.553; cuts 88 + 127 3/4 in = 5.480 m
    # x 1.5 = 8.220; set-up 8; four joints 4; fitting 6: 28.77 min. The way back to the shelf comes on top.
    minutes = LabourFigures().minutes_by_step(worked_work())

    assert minutes["cut"] == pytest.approx(8 + 2.553 + 8.220, abs=0.001)
    assert minutes["cut"] + minutes["glue"] + minutes["fit"] == pytest.approx(28.77, abs=0.005)
    assert minutes["return"] == 4


def test_steps_are_listed_in_working_order():
    assert list(LabourFigures().minutes_by_step(worked_work())) == ["cut", "glue", "fit", "return"]


def test_padding_takes_its_minutes_when_the_housing_is_fitted():
    plain = LabourFigures().minutes_by_step(worked_work())
    padded = LabourFigures().minutes_by_step(worked_work(is_padded=True))

    assert {step: padded[step] - plain[step] for step in plain} == {
        "cut": 0,
        "glue": 0,
        "fit": 3,
        "return": 0,
    }


def test_figures_taken_at_the_bench_replace_the_assumed_ones():
    # By hand: 10 + 2 m x 3 + 4 m x 2 = 24; five joints x 1.5 = 7.5; 1 + 2; 0.
    figures = LabourFigures(
        setup_minutes=10, score_minutes_m=3, cut_minutes_m=2, joint_minutes=1.5,
        padding_minutes=2, fit_minutes=1, return_minutes=0,
    )  # fmt: skip

    minutes = figures.minutes_by_step(BenchWork(2000, 4000, 5, is_padded=True))

    assert minutes == {"cut": 24, "glue": 7.5, "fit": 3, "return": 0}
