"""Staging a list, showing what was understood of it, and saving it in one transaction or not at all."""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from django.db import transaction
from django.utils import timezone

from housing.intake import KINDS
from housing.models import Campaign
from housing.services.outdating import outdate
from objects.intake import IntakeRefused, ListKind, Preview, preview
from objects.models import ImportedRow, ListImport

State = ListImport.State


def stage_list(*, kind: str, file_name: str, data: bytes, unit: str = "", by=None) -> ListImport:
    """Keep a list that was handed in, columns matched by name. Raises IntakeRefused when it is no list."""
    understood = preview(KINDS[kind](), data, None, unit)
    return ListImport.objects.create(
        kind=kind,
        file_name=Path(file_name).name[:200],
        file_hash=hashlib.sha256(data).hexdigest(),
        data=data,
        columns=understood.columns,
        unit=unit,
        counts=understood.counts,
        by=by,
    )


def preview_list(
    *, listed: ListImport, campaign: Campaign | None = None, photos: Path | None = None
) -> Preview:
    """What is understood of a staged list as things stand now."""
    kind = KINDS[listed.kind](campaign=campaign, photos=photos)
    return preview(kind, bytes(listed.data), listed.columns, listed.unit)


def match_list(*, listed: ListImport, columns: Mapping[str, str], unit: str) -> ListImport:
    """Keep which column a person says means which field."""
    _require_staged(listed)
    listed.columns, listed.unit = dict(columns), unit
    listed.save(update_fields=["columns", "unit"])
    return listed


def save_list(
    *, listed: ListImport, campaign: Campaign | None = None, photos: Path | None = None, by=None
) -> dict[str, int]:
    """Save every row of a staged list that was not refused, all of them or none.

    campaign: whose rules a list of rules replaces. photos: the folder that photo names refer to.
    Returns the rows by status. Raises IntakeRefused when nothing can be saved.
    """
    with transaction.atomic():
        listed = ListImport.objects.select_for_update().get(pk=listed.pk)
        _require_staged(listed)
        understood = preview_list(listed=listed, campaign=campaign, photos=photos)
        _require_usable(understood)
        started = timezone.now()
        if rows := understood.kind.rows_to_write(understood.rows):
            understood.kind.save(rows, by)
            _mark_plans(understood.kind, campaign, started)
        listed.rows.bulk_create(
            ImportedRow(
                listed=listed, line=row.line, key=row.key, status=row.status, messages=list(row.messages)
            )
            for row in understood.rows
        )
        listed.counts = understood.counts
        listed.state, listed.saved_at = State.SAVED, timezone.now()
        listed.save(update_fields=["counts", "state", "saved_at"])
    return listed.counts


def drop_list(*, listed: ListImport) -> ListImport:
    """Put a staged list aside without saving any of it."""
    with transaction.atomic():
        listed = ListImport.objects.select_for_update().get(pk=listed.pk)
        _require_staged(listed)
        listed.state = State.DROPPED
        listed.save(update_fields=["state"])
    return listed


def load_list(
    kind: str,
    path: Path,
    *,
    unit: str = "",
    campaign: Campaign | None = None,
    photos: Path | None = None,
    by=None,
) -> ListImport:
    """Stage and save a list that lies in a file. Returns it with the rows counted by status."""
    listed = stage_list(kind=kind, file_name=path.name, data=path.read_bytes(), unit=unit, by=by)
    save_list(listed=listed, campaign=campaign, photos=photos, by=by)
    listed.refresh_from_db()
    return listed


def _require_staged(listed: ListImport) -> None:
    if listed.state != State.STAGED:
        raise IntakeRefused(
            f"“{listed.file_name}” is already {listed.get_state_display().lower()}. Hand it in again."
        )


def _require_usable(understood: Preview) -> None:
    if understood.missing:
        names = ", ".join(field.label for field in understood.missing)
        raise IntakeRefused(f"No column was matched to: {names}. Choose the column and read the list again.")
    if understood.counts["refused"] == len(understood.rows):
        raise IntakeRefused("Every row was refused, so nothing can be saved. Correct the list as they say.")
    understood.kind.check_whole(understood.rows)


def _mark_plans(kind: ListKind, campaign: Campaign | None, started: datetime) -> None:
    """Note in the campaigns concerned that their plans are out of date."""
    campaigns = Campaign.objects.filter(is_closed=False)
    if kind.key == ListImport.Kind.OBJECTS:
        campaigns = campaigns.filter(memberships__object__changed_at__gte=started)
    elif kind.key == ListImport.Kind.RULES:
        campaigns = campaigns.filter(pk=campaign.pk)
    elif kind.key not in (ListImport.Kind.BOARDS, ListImport.Kind.DESIGNS, ListImport.Kind.PEOPLE):
        return
    outdate(Campaign.objects.filter(pk__in=campaigns.values("pk")))
