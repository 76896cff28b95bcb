"""How the folds of a board are made, and on which face, in words."""

from boards.models import Board
from objects.core.words import noted, say

# Common practice, no source: how a fold of each kind is made. By the share of a caliper lost inside.
WAYS = {
    Board.Fold.INSIDE: (
        noted("outside"),
        noted("half cut on the outside face"),
        noted(
            "Carry the marks of the scores over the edge, turn the blank over, join them with the rule and "
            "cut half through the board on the outside face."
        ),
    ),
    Board.Fold.MIDDLE: (
        noted("inside"),
        noted("crease on the inside face"),
        noted(
            "Join the marks of the scores with the rule and crease along it on the inside face with a bone "
            "folder; do not cut."
        ),
    ),
    Board.Fold.OUTSIDE: (
        noted("inside"),
        noted("relief cut on the inside face"),
        noted(
            "Join the marks of the scores with the rule and relieve the board along it on the inside face, "
            "half through."
        ),
    ),
}


def scored_face(board: Board) -> str:
    """The face scores are made on: inside or outside, in English."""
    return WAYS[Board.Fold(board.fold_share)][0]


def scored_with(board: Board) -> str:
    """What a score line means, in a few words for a key, in English."""
    return WAYS[Board.Fold(board.fold_share)][1]


def scoring_step(board: Board) -> str:
    """What the maker does to score, one sentence."""
    return say(WAYS[Board.Fold(board.fold_share)][2])
