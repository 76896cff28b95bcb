"""Addresses of the planner's pages; each group of pages keeps its own list in housing/routes/."""

from housing.routes import (
    budgets,
    campaigns,
    exports,
    grades,
    label_codes,
    learned,
    need,
    objects,
    phases,
    prints,
    purchases,
    ranges,
    ready_made,
    rules,
    scenarios,
    selections,
    sizes,
    standards,
)

app_name = "housing"
urlpatterns = [
    *objects.urlpatterns,
    *campaigns.urlpatterns,
    *budgets.urlpatterns,
    *phases.urlpatterns,
    *ranges.urlpatterns,
    *learned.urlpatterns,
    *purchases.urlpatterns,
    *rules.urlpatterns,
    *ready_made.urlpatterns,
    *grades.urlpatterns,
    *scenarios.urlpatterns,
    *sizes.urlpatterns,
    *selections.urlpatterns,
    *standards.urlpatterns,
    *prints.urlpatterns,
    *label_codes.urlpatterns,
    *need.urlpatterns,
    *exports.urlpatterns,
]
