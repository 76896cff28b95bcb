"""Minutes that people have logged, beside the standard ones they were planned with."""

from housing.core.labour.posterior import Logged, corrections
from housing.models import BudgetTerms, Task


def logged_tasks() -> list[Logged]:
    """Finished steps of every campaign for which minutes were logged and a standard time is known."""
    rows = (
        Task.objects.filter(
            state=Task.State.DONE, spent_minutes__gt=0, standard_minutes__gt=0, housing__design__isnull=False
        )
        .order_by("pk")
        .values_list("housing__design__form", "step", "person", "standard_minutes", "spent_minutes")
    )
    return [
        Logged(form, step, str(person or ""), float(standard), float(spent))
        for form, step, person, standard, spent in rows
    ]


def corrections_of(terms: BudgetTerms) -> dict[tuple[str, str], float]:
    """Factors by form and step, if the campaign lets the log correct its standard times; else none."""
    return dict(corrections(logged_tasks())) if terms.uses_logged_times else {}
