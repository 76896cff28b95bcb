"""What each cutting plan of a campaign was is kept, so that two can be compared."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('housing', '0005_jobs_can_be_stopped'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='PlanRecord',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now, verbose_name='when the plan was made')),
                ('rules', models.JSONField(default=dict, help_text='What the plan went by: label to words.')),
                ('boards', models.JSONField(default=list, help_text='The figures of each board; money as text.')),
                ('sheets', models.JSONField(default=list, help_text='Each sheet with the names of the blanks on it.')),
                ('note', models.CharField(blank=True, max_length=200)),
                ('by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('campaign', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='plan_records', to='housing.campaign')),
            ],
            options={
                'ordering': ['campaign', '-pk'],
            },
        ),
    ]
