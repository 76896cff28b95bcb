"""The rack of offcuts: what is put on it and taken off it, entry by entry."""

from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format

from boards.models import Board, Offcut, RackEntry
from boards.services.ledgers import LONGEST_NOTE, StockRefused
from objects.core.retelling import retold
from objects.core.words import noted, say

Kind = RackEntry.Kind
NOT_THERE, THROWN_AWAY = noted("Not there any more"), noted("Thrown away")


@transaction.atomic
def keep_offcut(
    *,
    board: Board,
    along_mm: float,
    across_mm: float,
    note: str = "",
    by=None,
    reference: str = "",
    entry_id: UUID | None = None,
) -> Offcut:
    """Put an offcut on the rack; sides in mm along and across the flutes.

    entry_id: of the form, so that one sent twice puts one offcut there; it stands as the reference.
    """
    if entry_id:
        Board.objects.select_for_update(of=("self",)).get(pk=board.pk)  # one form after the other
        reference = f"form:{entry_id}"
        if there := RackEntry.objects.filter(reference=reference, kind=Kind.KEPT).first():
            return there.offcut
    offcut = Offcut.objects.create(
        board=board,
        along_mm=round(along_mm, 4),
        across_mm=round(across_mm, 4),
        note=note[:LONGEST_NOTE],
        kept_by=by,
    )
    _enter(offcut, Kind.KEPT, by, note, reference)
    return offcut


@transaction.atomic
def use_offcut(*, offcut: Offcut, by=None, note: str, reference: str = "") -> Offcut:
    """Take an offcut off the rack to cut it up; the lock keeps two people from taking the same one.

    Raises StockRefused when it is gone already.
    """
    held = _locked(offcut)
    if held.gone_at:
        day = date_format(held.gone_at, "d F Y")
        raise StockRefused(
            say(
                "{held} is no longer on the rack. It left on {day}: {became}.",
                held=held,
                day=day,
                became=retold(held.gone_note),
            )
            if held.gone_note
            else say("{held} is no longer on the rack. It left on {day}.", held=held, day=day)
        )
    return _leave(held, Kind.TAKEN, by, note, reference)


@transaction.atomic
def drop_offcut(*, offcut: Offcut, by=None, note: str = "", thrown: bool = False) -> Offcut:
    """Note that an offcut was thrown away, or found to be gone; of one gone already, nothing changes."""
    held = _locked(offcut)
    if held.gone_at:
        return held
    kind = Kind.THROWN if thrown else Kind.GONE
    return _leave(held, kind, by, note or (THROWN_AWAY if thrown else NOT_THERE), "")


@transaction.atomic
def put_back_offcut(*, offcut: Offcut, by=None, note: str = "") -> Offcut:
    """Put an offcut back on the rack that was taken, thrown away or missed by mistake; one there stays so.

    Raises StockRefused for one that was never meant to be there: it is kept anew instead.
    """
    held = _locked(offcut)
    if not held.gone_at:
        return held
    last = _last_standing(held)
    if last is None:
        raise StockRefused(
            say("{held} was put on the rack by mistake. Put it there as a new offcut.", held=held)
        )
    reverse_rack_entry(entry=last, by=by, note=note)
    held.refresh_from_db()
    return held


@transaction.atomic
def reverse_rack_entry(*, entry: RackEntry, by=None, note: str = "") -> RackEntry:
    """Undo a mistaken entry of the rack with a second one: what left is back, what was kept is off again.

    Raises StockRefused when it was reversed already, or the offcut has gone on from there.
    """
    held = _locked(entry.offcut)
    if entry.kind == Kind.REVERSAL:
        raise StockRefused(say("A reversal cannot be reversed. Enter what is right instead."))
    if RackEntry.objects.filter(reverses=entry).exists():
        raise StockRefused(say("This entry has been reversed already."))
    if (last := _last_standing(held)) != entry:
        raise StockRefused(
            say(
                "{held} has gone on since: {kind}. Reverse that first.",
                held=held,
                kind=last.get_kind_display().lower(),
            )
        )
    if entry.kind == Kind.KEPT:
        held.gone_at, held.gone_by = timezone.now(), by
        held.gone_note = (note or noted("Put on the rack by mistake"))[:LONGEST_NOTE]
    else:
        held.gone_at, held.gone_by, held.gone_note = None, None, ""
    held.save(update_fields=["gone_at", "gone_by", "gone_note"])
    return _enter(held, Kind.REVERSAL, by, note, entry.reference, entry)


def _last_standing(offcut: Offcut) -> RackEntry | None:
    """The last entry that was not reversed; it says where the offcut is."""
    return offcut.entries.exclude(kind=Kind.REVERSAL).filter(reversed_by=None).order_by("pk").last()


def _locked(offcut: Offcut) -> Offcut:
    return Offcut.objects.select_for_update(of=("self",)).select_related("board").get(pk=offcut.pk)


def _leave(held: Offcut, kind: str, by, note: str, reference: str) -> Offcut:
    held.gone_at, held.gone_by, held.gone_note = timezone.now(), by, note[:LONGEST_NOTE]
    held.save(update_fields=["gone_at", "gone_by", "gone_note"])
    _enter(held, kind, by, note, reference)
    return held


def _enter(
    offcut: Offcut, kind: str, by, note: str, reference: str, reverses: RackEntry | None = None
) -> RackEntry:
    return RackEntry.objects.create(
        offcut=offcut, kind=kind, by=by, note=note[:LONGEST_NOTE], reference=reference, reverses=reverses
    )
