"""Who may do what: four roles, kept as groups. A manager may do everything; everyone signed in may read."""

from collections.abc import Callable
from functools import wraps

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse

MANAGER, MAKER, SURVEYOR, VIEWER = "manager", "maker", "surveyor", "viewer"
ROLES = (MANAGER, MAKER, SURVEYOR, VIEWER)


def roles_of(user) -> frozenset[str]:
    """The roles a signed-in user holds, read once a request."""
    if not hasattr(user, "_roles"):
        held = set(user.groups.values_list("name", flat=True)) if user.is_authenticated else set()
        user._roles = frozenset(held | ({MANAGER} if user.is_superuser else set()))
    return user._roles


def has_role(user, *roles: str) -> bool:
    """Whether a user holds one of the roles or is a manager."""
    return bool(roles_of(user) & {MANAGER, *roles})


def role_required(*roles: str) -> Callable:
    """Lets a view be used by managers and the roles named; others are told who may."""

    def decorate(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
        @wraps(view)
        def guarded(request: HttpRequest, *args, **kwargs) -> HttpResponse:
            if not has_role(request.user, *roles):
                allowed = " or ".join((*roles, MANAGER))
                raise PermissionDenied(
                    f"This needs the role {allowed}. Ask a manager to do it or to give you the role."
                )
            return view(request, *args, **kwargs)

        return guarded

    return decorate
