"""Minutes that differ in a design become standard times of that design, before their fields go."""

from decimal import Decimal

from django.db import migrations

# Field of a design: its default, the element it becomes, what is taken off it for the other elements that it
# stood for, what it is multiplied by (a box took 3 minutes to pad where a square metre now takes 8), and the
# shares of the likely time that are low and high, as shipped.
MOVED = {
    "setup_minutes": ("8", "fetch", "5", "1", "0.667", "2.667"),
    "score_minutes_m": ("1.2", "score", "0", "1", "0.667", "1.667"),
    "cut_minutes_m": ("1.5", "cut", "0", "1", "0.667", "2"),
    "joint_minutes": ("1", "glue", "0", "1", "0.5", "2"),
    "padding_minutes": ("3", "pad", "0", "2.667", "0.5", "2.5"),
    "fit_minutes": ("6", "fit", "3.5", "1", "0.4", "3.2"),
    "return_minutes": ("4", "return", "0", "1", "0.5", "2.5"),
}
SOURCE = "The design's own minutes, as they were entered there; how low and high they may be is assumed"
STEP = Decimal("0.001")


def move_minutes(apps, schema_editor):
    Design = apps.get_model("housing", "Design")
    StandardTime = apps.get_model("housing", "StandardTime")
    made = []
    for design in Design.objects.all():
        for field, (default, element, less, times, low, high) in MOVED.items():
            minutes = getattr(design, field)
            if minutes != Decimal(default):
                likely = (max(minutes - Decimal(less), Decimal()) * Decimal(times)).quantize(STEP)
                made.append(
                    StandardTime(
                        design=design,
                        element=element,
                        low=(likely * Decimal(low)).quantize(STEP),
                        likely=likely,
                        high=(likely * Decimal(high)).quantize(STEP),
                        source=SOURCE,
                    )
                )
    StandardTime.objects.bulk_create(made)


class Migration(migrations.Migration):
    dependencies = [("housing", "0010_budgets_and_ways_of_doing_it")]
    # Backward, the designs take the usual minutes again.
    operations = [migrations.RunPython(move_minutes, migrations.RunPython.noop)]
