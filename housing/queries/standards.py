"""The standard times that hold, and what changes them in a campaign."""

from collections import Counter
from decimal import Decimal

from housing.core.labour.allowances import AllowanceOf
from housing.core.labour.elements import Element, Minutes
from housing.core.labour.learning import Model
from housing.core.labour.rates import HourRate, Supervision
from housing.core.labour.work import StandardTimes, WorkTerms
from housing.models import BudgetTerms, Campaign, Housing, Person, StandardTime

MADE = (Housing.Status.MADE, Housing.Status.HOUSED)


def standard_times() -> StandardTimes:
    """The times entered by hand; shipped ones hold for the rest."""
    everywhere: dict[Element, Minutes] = {}
    of_design: dict[tuple[str, Element], Minutes] = {}
    for time in StandardTime.objects.all():
        element = Element(time.element)
        if time.design_id is None:
            everywhere[element] = time.to_core()
        else:
            of_design[str(time.design_id), element] = time.to_core()
    return StandardTimes(everywhere, of_design)


def work_terms(campaign: Campaign, terms: BudgetTerms, corrections: dict | None = None) -> WorkTerms:
    """What changes standard times in a campaign. corrections: what logged minutes say, if they are to count.

    Boxes of other campaigns that are made count as made before.
    """
    made = Housing.objects.filter(status__in=MADE).exclude(campaign=campaign).order_by()
    return WorkTerms(
        allowance_share=float(terms.allowance_share),
        allowance_of=AllowanceOf(terms.allowance_of),
        alike_share=float(terms.alike_share),
        learning=Model(terms.learning),
        learning_rate=float(terms.learning_rate),
        learning_rates={form: float(rate) for form, rate in terms.learning_rates.items()},
        learning_reference=terms.learning_reference,
        made_before=Counter(made.values_list("design__form", flat=True)),
        corrections=corrections or {},
    )


def hour_rates(campaign: Campaign) -> list[HourRate]:
    """What an hour of each person costs, and of whoever is still to be found."""
    people = Person.objects.select_related("grade").order_by("name")
    return [HourRate("", "", "staff", campaign.rate_per_hour), *map(rate_of, people)]


def rate_of(person: Person) -> HourRate:
    """A person's own figures, else those of the grade; a volunteer costs nothing."""
    grade = person.grade
    own = person.rate_per_hour or (grade.rate_per_hour if grade else person.rate_per_hour)
    on_costs, worth = person.on_cost_share, person.in_kind_rate
    if on_costs is None:
        on_costs = grade.on_cost_share if grade else Decimal()
    if worth is None:
        worth = grade.in_kind_rate if grade else Decimal()
    return HourRate(
        key=str(person.pk),
        name=person.name,
        kind=person.kind,
        rate=own,
        on_cost_share=on_costs,
        in_kind_rate=worth,
        source=grade.source if grade else "",
        hours_per_week=person.hours_per_week,
    )


def supervision_of(terms: BudgetTerms) -> Supervision:
    """Who supervises, and for what share of the hours of volunteers and interns."""
    return Supervision(terms.supervision_share, str(terms.supervisor_id) if terms.supervisor_id else "")
