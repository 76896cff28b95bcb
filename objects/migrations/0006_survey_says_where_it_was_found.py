import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('objects', '0005_trail_of_stated_needs'),
    ]

    operations = [
        migrations.AddField(
            model_name='surveyentry',
            name='found',
            field=models.CharField(choices=[('here', 'Where it is recorded'), ('missing', 'Not found there'), ('elsewhere', 'At another place')], default='here', max_length=9),
        ),
        migrations.AddField(
            model_name='surveyentry',
            name='place',
            field=models.ForeignKey(blank=True, help_text='Where the person stood; none for what was said elsewhere than at a shelf.', null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to='objects.location'),
        ),
    ]
