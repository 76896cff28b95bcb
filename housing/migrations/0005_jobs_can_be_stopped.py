"""A job can be asked to finish early or to stop, and says how it stands meanwhile."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("housing", "0004_blanks_know_their_folds")]

    operations = [
        migrations.AddField(
            "job",
            "standing",
            models.JSONField(
                blank=True,
                default=dict,
                help_text="Words and figures by their label.",
                verbose_name="how it stands meanwhile",
            ),
        ),
        migrations.AddField(
            "job",
            "wish",
            models.CharField(
                blank=True,
                choices=[("", "Go on"), ("finish", "Take the best so far"), ("cancel", "Cancel")],
                default="",
                max_length=8,
                verbose_name="what is wished of it meanwhile",
            ),
        ),
        migrations.AlterField(
            "job",
            "state",
            models.CharField(
                choices=[
                    ("waiting", "Waiting for its turn"),
                    ("running", "Running"),
                    ("done", "Done"),
                    ("failed", "Failed"),
                    ("cancelled", "Cancelled"),
                ],
                default="waiting",
                max_length=10,
            ),
        ),
    ]
