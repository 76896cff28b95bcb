"""A blank tells which panel hangs on which and where its part stands, so that it can be folded again."""

from decimal import Decimal

from django.db import migrations, models


def tell_folds(apps, schema_editor):
    """Blanks stored so far are trays and their lids: walls on the floor, flaps on two of the walls."""
    for blank in apps.get_model("housing", "Blank").objects.select_related("housing__design__board").iterator():
        geometry = blank.geometry
        walls = {score["panel"].split()[0] for score in geometry["scores"] if score["is_flap"]}
        joints = []
        for score in geometry["scores"]:
            edge, *rest = score["panel"].split()
            if score["is_flap"]:
                score |= {"parent": f"{edge} wall", "edge": rest[0], "stage": 2}
                joints.append([score["panel"], f"{rest[0]} wall", False])
            else:
                score |= {"parent": "floor", "edge": edge, "stage": 1 if edge in walls else 0}
        geometry["openings"] = []
        blank.assembly = {
            "seat": "over" if blank.part == "lid" else "first",
            "at_mm": [0.0, 0.0],
            "lift_mm": 0.0,
            "thick_mm": float(blank.housing.design.board.caliper_mm),
            "joints": joints,
        }
        blank.save(update_fields=["geometry", "assembly"])


class Migration(migrations.Migration):

    dependencies = [
        ('boards', '0001_initial'),
        ('housing', '0003_design_options'),
    ]

    operations = [
        migrations.AddField(
            model_name='blank',
            name='assembly',
            field=models.JSONField(default=dict, help_text='Where the part stands, how thick, what is glued.'),
        ),
        migrations.AddField(
            model_name='blank',
            name='material',
            field=models.CharField(default='board', help_text='What it is cut from.', max_length=40),
        ),
        migrations.AddField(
            model_name='design',
            name='lining_mm',
            field=models.DecimalField(decimal_places=4, default=Decimal('0'), help_text='Of what lines floor and walls; the enclosure is made so much larger.', max_digits=8, verbose_name='thickness of the lining'),
        ),
        migrations.AddField(
            model_name='design',
            name='rounding',
            field=models.CharField(blank=True, choices=[('1/16 in', '1/16 in'), ('1/8 in', '1/8 in'), ('1 mm', '1 mm')], default='', max_length=8, verbose_name='positions rounded to'),
        ),
        migrations.AddField(
            model_name='housing',
            name='supplies',
            field=models.JSONField(blank=True, default=list, help_text='What else it needs, and how many.'),
        ),
        migrations.AlterField(
            model_name='blank',
            name='part',
            field=models.CharField(max_length=40),
        ),
        migrations.AddConstraint(
            model_name='design',
            constraint=models.CheckConstraint(condition=models.Q(('lining_mm__gte', 0)), name='design_lining_not_negative'),
        ),
        migrations.RunPython(tell_folds, migrations.RunPython.noop),
    ]
