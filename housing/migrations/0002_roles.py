"""Creates the four roles, so that a fresh database can give them to people at once."""

from django.db import migrations

ROLES = ("manager", "maker", "surveyor", "viewer")


def create_roles(apps, schema_editor):
    group = apps.get_model("auth", "Group")
    for name in ROLES:
        group.objects.get_or_create(name=name)


class Migration(migrations.Migration):
    dependencies = [("housing", "0001_initial"), ("auth", "0012_alter_user_first_name_max_length")]
    operations = [migrations.RunPython(create_roles, migrations.RunPython.noop)]
