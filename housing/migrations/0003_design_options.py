"""A design keeps the choices of its form as one value, since every form has its own."""

from decimal import Decimal

from django.db import migrations, models

import housing.models.designs

KEPT = {"flap_width_mm": "flap_width", "lid_depth_mm": "lid_depth", "lid_clearance_mm": "lid_clearance"}
DEFAULTS = {"flap_width": None, "lid_depth": 88.9, "lid_clearance": 3.175, "flaps_on_long_walls": True}


def gather(apps, schema_editor):
    for design in apps.get_model("housing", "Design").objects.all():
        found = {key: getattr(design, column) for column, key in KEPT.items()}
        found = {key: value if value is None else float(value) for key, value in found.items()}
        found["flaps_on_long_walls"] = design.flaps_on_long_walls
        if design.form == "tray":
            del found["lid_depth"], found["lid_clearance"]
        design.options = {key: value for key, value in found.items() if value != DEFAULTS[key]}
        design.save(update_fields=["options"])


def scatter(apps, schema_editor):
    for design in apps.get_model("housing", "Design").objects.all():
        found = DEFAULTS | {key: value for key, value in design.options.items() if key in DEFAULTS}
        for column, key in KEPT.items():
            setattr(design, column, None if found[key] is None else Decimal(repr(found[key])))
        design.flaps_on_long_walls = found["flaps_on_long_walls"]
        design.save()


class Migration(migrations.Migration):
    dependencies = [("housing", "0002_roles")]

    operations = [
        migrations.AddField(
            "design",
            "options",
            models.JSONField(
                blank=True,
                default=dict,
                help_text="Those that differ from the form's own, by key; lengths in mm.",
                verbose_name="choices of the form",
            ),
        ),
        migrations.RunPython(gather, scatter),
        migrations.RemoveConstraint("design", "design_flap_positive"),
        migrations.RemoveConstraint("design", "design_lid_possible"),
        migrations.RemoveField("design", "flap_width_mm"),
        migrations.RemoveField("design", "flaps_on_long_walls"),
        migrations.RemoveField("design", "lid_depth_mm"),
        migrations.RemoveField("design", "lid_clearance_mm"),
        migrations.AlterField(
            "design",
            "form",
            models.CharField(
                choices=housing.models.designs.form_choices, default="lidded_tray", max_length=40
            ),
        ),
    ]
