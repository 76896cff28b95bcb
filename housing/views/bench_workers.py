"""Who stands at the bench, and what they may work on."""

from django.contrib.auth.models import AbstractBaseUser
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from housing.models import Housing, Person, PlannedSheet, Task
from housing.queries.tasks import person_of
from objects.roles import MAKER, has_role

CHOSEN = "bench_person"  # in the session: who said “I am” on a tablet that several people share
NOT_YOURS = _("This is somebody else's work. Ask a maker or a manager to do it or to give it to you.")


def worker_of(request: HttpRequest) -> Person | None:
    """The person whose work is shown: who was chosen on a shared tablet, else whose login it is."""
    own = person_of(request.user)
    if (chosen := request.session.get(CHOSEN)) and has_role(request.user, MAKER):
        return Person.objects.filter(pk=chosen, is_active=True).first() or own
    return own


def may_work_on(
    user: AbstractBaseUser,
    *,
    task: Task | None = None,
    sheet: PlannedSheet | None = None,
    housing: Housing | None = None,
) -> bool:
    """Makers and managers may work on anything, others on what is given to them: a task, a sheet, a box of
    which a step is theirs."""
    if has_role(user, MAKER):
        return True
    if (own := person_of(user)) is None:
        return False
    if task is not None:
        return task.person_id == own.pk
    if sheet is not None:
        return sheet.person_id == own.pk
    return housing is not None and housing.tasks.filter(person=own).exists()
