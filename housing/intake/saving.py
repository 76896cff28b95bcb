"""Saving a list that a person agreed to: every row that was not refused in one transaction, or none."""

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from django.db import IntegrityError, transaction
from django.utils import timezone

from housing.intake.imports import (
    require_staged,
    several_cores,
    silent,
    stage_list,
    stored_changes,
    understood_of,
)
from housing.models import Campaign
from housing.services.nesting import Progress
from housing.services.outdating import outdate
from objects.core.words import noted, say
from objects.intake import IntakeRefused, Preview
from objects.intake.columns import remember_columns
from objects.intake.waiting import WaitingRows
from objects.models import ImportedRow, ListImport

State = ListImport.State
STORING = noted("Storing all rows at once; this takes a moment and cannot be stopped")


def save_list(
    *,
    listed: ListImport,
    campaign: Campaign | None = None,
    photos: Path | None = None,
    by=None,
    progress: Progress = silent,
) -> dict[str, int]:
    """Save every row of a staged list that was not refused, all of them or none.

    campaign: whose rules a list of rules replaces. photos: the folder that photo names refer to. progress: is
    told how far it is; what it raises ends the work with nothing stored.
    Returns the rows by status. Raises IntakeRefused when nothing can be saved.
    """
    require_staged(listed)
    understood = understood_of(listed, campaign=campaign, photos=photos, by=by)
    if understood.missing:
        names = ", ".join(say(field.label) for field in understood.missing)
        raise IntakeRefused(
            say("No column was matched to: {names}. Choose the column and read the list again.", names=names)
        )
    if understood.kind.is_long:
        return _save_waiting(listed, understood, progress)
    return _save_whole(listed, understood, campaign)


def _save_waiting(listed: ListImport, understood: Preview, progress: Progress) -> dict[str, int]:
    """The work is done row by row beforehand, which the progress tells; storing it is one short step."""
    total = len(understood.read.rows)
    with WaitingRows(understood) as waiting:
        with several_cores(understood):
            waiting.fill(
                lambda done: progress(
                    95 * done // total, say("Worked out row {done:,} of {total:,}", done=done, total=total)
                )
            )
        require_usable(waiting.counts)
        progress(95, say(STORING))
        try:
            with transaction.atomic():
                listed, now = _take_turn(listed), timezone.now()
                listed.reading["places_made"] = [place.pk for place in waiting.store(listed, now)]
                if waiting.is_anything_written:
                    _mark_plans(listed.kind, None, now)
                _keep_saved(listed, understood, waiting.counts)
        except IntegrityError as error:
            raise IntakeRefused(
                say(
                    "Somebody added an object or a place of this list at the very same moment, so nothing "
                    "was saved. Save the list again."
                )
            ) from error
    return listed.counts


@transaction.atomic
def _save_whole(listed: ListImport, understood: Preview, campaign: Campaign | None) -> dict[str, int]:
    listed, now = _take_turn(listed), timezone.now()
    require_usable(understood.counts)
    kind, rows = understood.kind, understood.rows
    kind.check_whole(rows)
    written = kind.rows_to_write(rows)
    added = {row.line for row in written if row.instance is None}
    if written:
        kind.save(written, kind.by)
        _mark_plans(listed.kind, campaign, now)
    listed.rows.all().delete()
    ImportedRow.objects.bulk_create(
        ImportedRow(
            listed=listed,
            line=row.line,
            key=row.key[:200],
            status=row.status,
            record=row.instance.pk if row.instance else None,
            is_added=row.line in added,
            changes=stored_changes(row),
            messages=list(row.messages),
        )
        for row in rows
    )
    listed.reading["places_made"] = [place.pk for place in kind.places_made]
    _keep_saved(listed, understood, understood.counts)
    return listed.counts


def _take_turn(listed: ListImport) -> ListImport:
    """The list, locked: of two people who save it at once, one does."""
    locked = ListImport.objects.select_for_update().get(pk=listed.pk)
    require_staged(locked)
    return locked


def _keep_saved(listed: ListImport, understood: Preview, counts: dict[str, int]) -> None:
    listed.counts, listed.sizes = counts, None
    listed.state, listed.saved_at = State.SAVED, timezone.now()
    listed.save(update_fields=["counts", "sizes", "state", "saved_at", "reading"])
    remember_columns(understood.kind, understood.read.header, understood.columns)


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


def require_usable(counts: Mapping[str, int]) -> None:
    if counts["refused"] == sum(counts.values()):
        raise IntakeRefused(
            say("Every row was refused, so nothing can be saved. Correct the list as they say.")
        )


def _mark_plans(kind: str, campaign: Campaign | None, started: datetime) -> None:
    """Note in the campaigns concerned that their plans are out of date."""
    campaigns = Campaign.objects.filter(is_closed=False)
    if kind == ListImport.Kind.OBJECTS:
        campaigns = campaigns.filter(memberships__object__changed_at__gte=started)
    elif kind == ListImport.Kind.RULES:
        campaigns = campaigns.filter(pk=campaign.pk)
    elif kind not in (ListImport.Kind.BOARDS, ListImport.Kind.DESIGNS, ListImport.Kind.PEOPLE):
        return
    outdate(Campaign.objects.filter(pk__in=campaigns.values("pk")))
