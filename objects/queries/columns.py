"""Which columns a reader has chosen for a table."""

from django.contrib.auth.models import AbstractBaseUser

from objects.models import TableColumns


def columns_kept(user: AbstractBaseUser, table: str) -> list[str]:
    """The choice as it was kept; empty where she has made none."""
    kept = TableColumns.objects.filter(user=user.pk, table=table).values_list("columns", flat=True).first()
    return [name for name in kept if isinstance(name, str)] if isinstance(kept, list) else []
