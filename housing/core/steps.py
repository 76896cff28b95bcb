"""The steps of the work on one box: their order, what each waits for, and the skill it asks for."""

from collections.abc import Collection

MEASURE, FETCH, CUT, SCORE, GLUE = "measure", "fetch", "cut", "score", "glue"
LID, FIT, LABEL, RETURN = "lid", "fit", "label", "return"

# In working order. Base and lid may be folded side by side, by two people.
STEPS = (MEASURE, FETCH, CUT, SCORE, GLUE, LID, FIT, LABEL, RETURN)
_BEFORE = {
    MEASURE: (),
    FETCH: (MEASURE,),
    CUT: (FETCH,),
    SCORE: (CUT,),
    GLUE: (SCORE,),
    LID: (SCORE,),
    FIT: (GLUE, LID),
    LABEL: (FIT,),
    RETURN: (LABEL,),
}
# A lid is folded and glued by the same elements as the rest, so times and what is learned of them are one.
SAME_WORK_AS = {LID: GLUE}
# A sheet is fetched and cut by one person, whatever lies on it.
OF_SHEETS = frozenset({FETCH, CUT})

SKILL_OF_STEP = {
    MEASURE: "measure",
    FETCH: "cut",
    CUT: "cut",
    SCORE: "cut",
    GLUE: "fold",
    LID: "fold",
    FIT: "fit",
    LABEL: "label",
    RETURN: "return",
}
# Whoever has a skill can also do what these ask for; common practice, no source.
ALSO = {"fit": frozenset({"label"})}


def waits_for(step: str, there: Collection[str]) -> tuple[str, ...]:
    """The steps that have to be done directly before a step, in working order.

    there: the steps that the box has; what a step that it lacks would have waited for takes its place.
    """
    found: set[str] = set()
    for before in _BEFORE[step]:
        found.update((before,) if before in there else waits_for(before, there))
    waited_for = {one for other in found for one in _all_before(other)}
    return tuple(sorted(found - waited_for, key=STEPS.index))


def later_steps(step: str) -> frozenset[str]:
    """The steps that cannot be begun before a step is done."""
    return frozenset(other for other in STEPS if step in _all_before(other))


def _all_before(step: str) -> set[str]:
    return {one for before in _BEFORE[step] for one in (before, *_all_before(before))}


def skills_with(skills: Collection[str]) -> frozenset[str]:
    """Skills and all that they bring with them."""
    return frozenset(skills).union(*(ALSO.get(skill, frozenset()) for skill in skills))
