from django.db import migrations


class Migration(migrations.Migration):
    """Apart from the rows' own migration: PostgreSQL alters no table with rows still to be checked."""

    dependencies = [
        ("objects", "0003_survey_need_and_imported_rows"),
    ]

    operations = [
        migrations.RemoveField(
            model_name="listimport",
            name="problems",
        ),
    ]
