"""Which columns a reader sees: kept for each of her tables."""

from collections.abc import Iterable

from django.contrib.auth.models import AbstractBaseUser

from objects.core.columns import keep
from objects.models import TableColumns


def keep_columns(*, user: AbstractBaseUser, table: str, order: Iterable[str], ticked: Iterable[str]) -> None:
    """Keep the order of a table's columns and which of them are shown."""
    TableColumns.objects.update_or_create(user=user, table=table, defaults={"columns": keep(order, ticked)})


def forget_columns(*, user: AbstractBaseUser, table: str) -> None:
    """Go back to the usual columns."""
    TableColumns.objects.filter(user=user, table=table).delete()
