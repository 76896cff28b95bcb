"""Minutes that people have logged, beside what they should have taken."""

from collections import Counter

import numpy as np

from housing.core.labour.learning import Model, unit_factors
from housing.core.labour.posterior import Logged, corrections
from housing.core.steps import CUT, FIT, GLUE, LABEL, LID, SCORE
from housing.models import BudgetTerms, Task

# Steps that are mostly work that people get quicker at; what of them stays as it is, is not told apart here.
LEARNED_STEPS = (CUT, SCORE, GLUE, LID, FIT, LABEL)


def logged_tasks(terms: BudgetTerms) -> list[Logged]:
    """Finished steps of every campaign for which minutes were logged and a standard time is known.

    terms: of the campaign that asks; what its learning curve makes of a step is part of what the step should
    have taken, so that nothing is learned twice.
    """
    done = Task.objects.filter(state=Task.State.DONE, housing__design__isnull=False)
    rows = done.order_by("done_at", "pk").values_list(
        "housing__design__form", "step", "person", "standard_minutes", "spent_minutes"
    )
    numbers: Counter[tuple[str, str]] = Counter()
    logged = []
    for form, step, person, standard, spent in rows:
        numbers[form, step] += 1
        if standard and spent:
            learning = _learning(terms, form, step, numbers[form, step])
            # a lid is folded and glued like the rest
            learned = Task.Step.GLUE if step == Task.Step.LID else step
            logged.append(Logged(form, learned, str(person or ""), float(standard) * learning, float(spent)))
    return logged


def _learning(terms: BudgetTerms, form: str, step: str, number: int) -> float:
    """What learning multiplies the standard time of a form's box of that number by."""
    model = Model(terms.learning)
    if model is Model.NONE or step not in LEARNED_STEPS:
        return 1.0
    rate = float(terms.learning_rates.get(form, terms.learning_rate))
    here, reference = unit_factors(np.array([number, terms.learning_reference]), rate, model)
    return float(here / reference)


def corrections_of(terms: BudgetTerms) -> dict[tuple[str, str], float]:
    """Factors by form and step, if the campaign lets the log correct its standard times; else none."""
    return dict(corrections(logged_tasks(terms))) if terms.uses_logged_times else {}
