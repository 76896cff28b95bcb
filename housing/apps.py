"""Tells Django about the planner, and has it checked at every start."""

from django.apps import AppConfig


class HousingConfig(AppConfig):
    name = "housing"

    def ready(self) -> None:
        from housing import checks  # noqa: F401  importing it registers the checks
        from housing.intake import jobs as imports  # noqa: F401  importing it registers who saves long lists
        from housing.printing import jobs as prints  # noqa: F401  importing it registers who makes big prints
        from housing.services import (  # noqa: F401  importing it registers who does the work
            bench_kinds,
            scenarios,
            selections,
            size_families,
            weeks,
        )
