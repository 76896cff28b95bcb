"""Steps that were done as one are done as several: cutting had fetching and scoring in it, fitting labelling."""

from itertools import batched

from django.db import migrations

STEPS = ("measure", "fetch", "cut", "score", "glue", "lid", "fit", "label", "return")
HELD = {"cut": ("fetch", "score"), "glue": ("lid",), "fit": ("label",)}


def split_steps(apps, schema_editor):
    """What is finished stays so; the minutes stay with the step that had them. Open work is given out anew
    by the next planning."""
    Task, Blank = apps.get_model("housing", "Task"), apps.get_model("housing", "Blank")
    for place, step in enumerate(STEPS, start=1):
        Task.objects.filter(step=step).update(sequence=place)
    lids = set(Blank.objects.filter(part="lid").values_list("housing", flat=True))
    finished = Task.objects.filter(state="done", step__in=HELD).exclude(housing__status="dropped")
    new = (
        Task(
            housing_id=task.housing_id,
            step=step,
            sequence=STEPS.index(step) + 1,
            person_id=task.person_id,
            week=task.week,
            state="done",
            planned_minutes=0,
            started_at=task.started_at,
            done_at=task.done_at,
        )
        for task in finished.order_by("pk").iterator()
        for step in HELD[task.step]
        if step != "lid" or task.housing_id in lids
    )
    for some in batched(new, 500):
        Task.objects.bulk_create(some, ignore_conflicts=True)


class Migration(migrations.Migration):
    dependencies = [("housing", "0013_the_work")]

    operations = [migrations.RunPython(split_steps, migrations.RunPython.noop)]
