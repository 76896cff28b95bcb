"""Label sheets, with a few to begin with that are told by their measures alone; common practice, no source."""

import django.core.validators
from decimal import Decimal
from django.db import migrations, models


# Name, page, across, down, label, margins on the left and above, gaps; mm. A4 is 210 x 297 mm, US Letter
# 8 1/2 x 11 in; sheets on Letter are divided in whole fractions of an inch.
SHEETS = (
    ("3 × 8 on A4", (210, 297), 3, 8, ("63.6667", "34.125"), ("7", "12"), ("2.5", "0")),
    ("2 × 7 on A4", (210, 297), 2, 7, ("99.1", "38.1"), ("4.65", "15.15"), ("2.5", "0")),
    ("2 × 4 on A4", (210, 297), 2, 4, ("99.1", "67.7"), ("4.65", "13.1"), ("2.5", "0")),
    ("3 × 10 on Letter", ("215.9", "279.4"), 3, 10, ("66.675", "25.4"), ("4.7625", "12.7"), ("3.175", "0")),
    ("2 × 5 on Letter", ("215.9", "279.4"), 2, 5, ("101.6", "50.8"), ("3.9688", "12.7"), ("4.7625", "0")),
    ("60 × 30 mm, one a page", (60, 30), 1, 1, (60, 30), (0, 0), (0, 0)),
    ("100 × 50 mm, one a page", (100, 50), 1, 1, (100, 50), (0, 0), (0, 0)),
)


def add_sheets(apps, schema_editor):
    label_sheet = apps.get_model("housing", "LabelSheet")
    for name, page, columns, rows, label, margins, gaps in SHEETS:
        pairs = {"page_width_mm": page[0], "page_height_mm": page[1], "label_width_mm": label[0],
                 "label_height_mm": label[1], "left_mm": margins[0], "top_mm": margins[1],
                 "gap_x_mm": gaps[0], "gap_y_mm": gaps[1]}
        sizes = {field: Decimal(value) for field, value in pairs.items()}
        label_sheet.objects.get_or_create(name=name, defaults={"columns": columns, "rows": rows, **sizes})


class Migration(migrations.Migration):

    dependencies = [
        ('housing', '0016_jobs_speak_a_language'),
    ]

    operations = [
        migrations.CreateModel(
            name='LabelSheet',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=80, unique=True, verbose_name='name')),
                ('page_width_mm', models.DecimalField(decimal_places=4, max_digits=8, verbose_name='width of the page')),
                ('page_height_mm', models.DecimalField(decimal_places=4, max_digits=8, verbose_name='height of the page')),
                ('columns', models.PositiveIntegerField(validators=[django.core.validators.MinValueValidator(1)], verbose_name='labels across')),
                ('rows', models.PositiveIntegerField(validators=[django.core.validators.MinValueValidator(1)], verbose_name='labels down')),
                ('left_mm', models.DecimalField(decimal_places=4, default=Decimal('0'), max_digits=8, verbose_name='margin on the left')),
                ('top_mm', models.DecimalField(decimal_places=4, default=Decimal('0'), max_digits=8, verbose_name='margin above')),
                ('label_width_mm', models.DecimalField(decimal_places=4, max_digits=8, verbose_name='width of a label')),
                ('label_height_mm', models.DecimalField(decimal_places=4, max_digits=8, verbose_name='height of a label')),
                ('gap_x_mm', models.DecimalField(decimal_places=4, default=Decimal('0'), max_digits=8, verbose_name='gap between columns')),
                ('gap_y_mm', models.DecimalField(decimal_places=4, default=Decimal('0'), max_digits=8, verbose_name='gap between rows')),
                ('offset_x_mm', models.DecimalField(decimal_places=4, default=Decimal('0'), max_digits=8, verbose_name='move to the right')),
                ('offset_y_mm', models.DecimalField(decimal_places=4, default=Decimal('0'), max_digits=8, verbose_name='move down')),
            ],
            options={
                'ordering': ['name'],
                'constraints': [models.CheckConstraint(condition=models.Q(('name', ''), _negated=True), name='label_sheet_has_a_name'), models.CheckConstraint(condition=models.Q(('columns__gte', 1), ('rows__gte', 1)), name='label_sheet_has_labels'), models.CheckConstraint(condition=models.Q(('label_height_mm__gt', 0), ('label_width_mm__gt', 0)), name='label_sheet_labels_have_size')],
            },
        ),
        migrations.RunPython(add_sheets, migrations.RunPython.noop),
    ]
