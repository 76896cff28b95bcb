"""Gathers the messages of the whole project for the catalogues in objects/locale."""

from django.core.management.commands import makemessages


class Command(makemessages.Command):
    """As the framework's, but it also finds what say(), say_count() and noted() say."""

    xgettext_options = [
        *makemessages.Command.xgettext_options,
        "--keyword=say:1",
        "--keyword=say_later:1",
        "--keyword=say_count:1,2",
        "--keyword=sayCount:1,2",  # in scripts
        "--keyword=noted:1",
        "--from-code=UTF-8",
    ]
