"""Minutes that differ in a design become standard times of that design, before their fields go."""

from decimal import Decimal

from django.db import migrations

# Field of a design and its default; then the elements it stood for, each with its time where the field has its
# default, and how low and high that time may well be. A design's minutes to set out held for two blanks, to
# fit for one object, to pad for a box with three eighths of a square metre of lining.
MOVED = {
    "setup_minutes": ("8", {"fetch": ("3", "2", "8"), "mark_out": ("2.5", "1.5", "5")}),
    "score_minutes_m": ("1.2", {"score": ("1.2", "0.8", "2")}),
    "cut_minutes_m": ("1.5", {"cut": ("1.5", "1", "3")}),
    "joint_minutes": ("1", {"glue": ("1", "0.5", "2")}),
    "padding_minutes": ("3", {"pad": ("8", "4", "20")}),
    "fit_minutes": (
        "6", {"fit": ("2.5", "1", "8"), "label": ("1.5", "1", "3"), "photograph": ("2", "1", "5")},
    ),
    "return_minutes": ("4", {"return": ("4", "2", "10")}),
}  # fmt: skip
SOURCE = (
    "Moved from the design's own minutes ({} of them), whose source is not known, and shared out as the usual "
    "times are; at best and at worst are assumed"
)
LARGEST, STEP = Decimal("9999.999"), Decimal("0.001")


def move_minutes(apps, schema_editor):
    """Elements for which a design has a standard time by now keep that."""
    StandardTime = apps.get_model("housing", "StandardTime")
    has = set(StandardTime.objects.exclude(design=None).values_list("design", "element"))
    made = []
    for design in apps.get_model("housing", "Design").objects.order_by("pk"):
        for field, (default, elements) in MOVED.items():
            minutes = getattr(design, field)
            if minutes == Decimal(default):
                continue
            for element, (likely, low, high) in elements.items():
                if (design.pk, element) not in has:
                    made.append(
                        StandardTime(
                            design=design,
                            element=element,
                            low=_shared(minutes, default, low),
                            likely=_shared(minutes, default, likely),
                            high=_shared(minutes, default, high),
                            source=SOURCE.format(f"{minutes:f}"),
                        )
                    )
    StandardTime.objects.bulk_create(made)


def give_minutes_back(apps, schema_editor):
    """Only times that were moved, and are as they were then, go back; others stay standard times."""
    Design, StandardTime = (apps.get_model("housing", name) for name in ("Design", "StandardTime"))
    before, after = SOURCE.split("{}")
    moved = StandardTime.objects.filter(source__startswith=before, source__endswith=after).exclude(design=None)
    for time in moved:
        for field, (default, elements) in MOVED.items():
            minutes = Decimal(time.source.removeprefix(before).removesuffix(after))
            if time.element in elements and time.likely == _shared(minutes, default, elements[time.element][0]):
                Design.objects.filter(pk=time.design_id).update(**{field: minutes})
                time.delete()


def _shared(minutes, default, usual):
    return min((minutes * Decimal(usual) / Decimal(default)).quantize(STEP), LARGEST)


class Migration(migrations.Migration):
    dependencies = [("housing", "0010_budgets_and_ways_of_doing_it")]
    operations = [migrations.RunPython(move_minutes, give_minutes_back)]
