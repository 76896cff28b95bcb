"""How long the budget of 5,000 objects takes beyond nesting: python -m tests.benchmarks.budgets"""

import os
import sys
from decimal import Decimal
from tempfile import TemporaryDirectory

from tests.benchmarks.planning import _fill, timed

OBJECTS = 5_000


def main(objects: int) -> None:
    with TemporaryDirectory(prefix="planner-budgets-") as folder:
        os.environ.update(DEBUG="", VAR_DIR=folder, DATABASE_URL=f"sqlite:///{folder}/budgets.sqlite3")
        os.environ["DJANGO_SETTINGS_MODULE"] = "housing.config.settings"
        import django

        django.setup()
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        _measure(_fill(objects))


def _measure(campaign) -> None:
    from django.test import Client

    from housing.models import Budget, BudgetTerms
    from housing.queries.budgets import changes_since, live_budget
    from housing.services.budgets import freeze_budget, make_budget
    from housing.services.campaigns import plan_campaign
    from tests.factories import make_user

    def told() -> str:
        live = live_budget(campaign)
        return f"{live.boxes:,} boxes, {live.money:,.2f}" if live else "none"

    BudgetTerms.objects.create(campaign=campaign, indirect_share=Decimal("0.15"), learning="unit")
    with timed("planning, nesting and budget together", told):
        plan_campaign(campaign=campaign)
    Budget.objects.all().delete()
    campaign.housings.update(board_cost=0, labour_cost=0)
    with timed("budget without its range", told):
        make_budget(campaign=campaign, with_range=False)
    with timed("budget with its range", told):
        make_budget(campaign=campaign)
    campaign.people.update(rate_per_hour=30)  # every box costs something else then
    with timed("the same after a change of pay", told):
        make_budget(campaign=campaign)
    with timed("freezing it", told):
        freeze_budget(campaign=campaign, name="Baseline")
    with timed("seeing whether it is out of date", told):
        changes_since(live_budget(campaign))
    client = Client(headers={"host": "localhost"})
    client.force_login(make_user("viewer"))
    client.get(f"/campaigns/{campaign.pk}/budget/")
    with timed("its page", told):
        assert client.get(f"/campaigns/{campaign.pk}/budget/").status_code == 200


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else OBJECTS)
