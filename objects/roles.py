"""Who may do what: four roles, kept as groups. A manager may do everything; everyone signed in may read."""

from collections.abc import Callable
from functools import wraps

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse

from objects.core.words import noted, say

MANAGER, MAKER, SURVEYOR, VIEWER = "manager", "maker", "surveyor", "viewer"
ROLES = (MANAGER, MAKER, SURVEYOR, VIEWER)
ROLE_WORDS = {
    MANAGER: noted("manager"),
    MAKER: noted("maker"),
    SURVEYOR: noted("surveyor"),
    VIEWER: noted("viewer"),
}


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
                raise PermissionDenied(_who_may((*roles, MANAGER)))
            return view(request, *args, **kwargs)

        return guarded

    return decorate


def _who_may(roles: tuple[str, ...]) -> str:
    named = [say(ROLE_WORDS[role]) for role in roles]
    if len(named) == 1:
        return say(
            "This needs the role {role}. Ask a manager to do it or to give you the role.", role=named[0]
        )
    return say(
        "This needs the role {some} or {last}. Ask a manager to do it or to give you the role.",
        some=", ".join(named[:-1]),
        last=named[-1],
    )
