"""What was on hand and on the rack before there were ledgers of them opens those ledgers."""

from django.db import migrations

OPENING = "On hand when the ledger was begun"


def open_ledgers(apps, schema_editor):
    Supply, SupplyMovement = apps.get_model("boards", "Supply"), apps.get_model("boards", "SupplyMovement")
    SupplyMovement.objects.bulk_create(
        SupplyMovement(
            supply=supply,
            sequence=1,
            kind="count",
            quantity=supply.on_hand,
            counted=supply.on_hand,
            balance=supply.on_hand,
            note=OPENING,
        )
        for supply in Supply.objects.filter(on_hand__gt=0)
    )
    Offcut, RackEntry = apps.get_model("boards", "Offcut"), apps.get_model("boards", "RackEntry")
    for offcut in Offcut.objects.order_by("pk").iterator():
        kept = RackEntry.objects.create(offcut=offcut, kind="kept", by_id=offcut.kept_by_id, note=offcut.note)
        RackEntry.objects.filter(pk=kept.pk).update(at=offcut.kept_at)
        if offcut.gone_at:
            kind = "taken" if offcut.gone_note.startswith("Used for") else "gone"
            gone = RackEntry.objects.create(
                offcut=offcut, kind=kind, by_id=offcut.gone_by_id, note=offcut.gone_note
            )
            RackEntry.objects.filter(pk=gone.pk).update(at=offcut.gone_at)


class Migration(migrations.Migration):
    dependencies = [("boards", "0007_stock_counts_supply_ledger_and_rack")]

    operations = [migrations.RunPython(open_ledgers, migrations.RunPython.noop)]
