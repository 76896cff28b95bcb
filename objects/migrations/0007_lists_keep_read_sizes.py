from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("objects", "0006_survey_says_where_it_was_found"),
    ]

    operations = [
        migrations.AddField(
            model_name="listimport",
            name="sizes",
            field=models.BinaryField(
                editable=False,
                help_text="What its sizes were read as, packed; kept until it is saved as it was shown.",
                null=True,
            ),
        ),
    ]
