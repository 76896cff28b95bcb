"""Tells Django about the boards and their stock."""

from django.apps import AppConfig


class BoardsConfig(AppConfig):
    name = "boards"
