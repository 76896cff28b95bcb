"""What is refused of a board."""

import pytest

from boards.core.board import BoardRefused, BoardSpec


@pytest.mark.parametrize("share", [0, 0.5, 1])
def test_every_way_of_folding_from_cut_scored_to_relieved_is_accepted(share):
    assert BoardSpec(caliper_mm=3, fold_share=share).fold_share == share


@pytest.mark.parametrize("caliper", [0, -1.6, float("nan")])
def test_board_without_thickness_is_refused(caliper):
    with pytest.raises(BoardRefused) as refused:
        BoardSpec(caliper_mm=caliper)

    assert str(refused.value) == (
        f"The board's caliper is {caliper:g} mm; it must be above 0. Measure it and correct it."
    )


@pytest.mark.parametrize("share", [-0.1, 1.1, float("nan")])
def test_fold_share_outside_0_to_1_is_refused(share):
    with pytest.raises(BoardRefused, match="it must lie between 0 and 1"):
        BoardSpec(caliper_mm=3, fold_share=share)
