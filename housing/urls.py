"""Addresses of the planner's pages; each group of pages keeps its own list in housing/routes/."""

from housing.routes import campaigns, exports, need, objects, prints, ready_made, rules

app_name = "housing"
urlpatterns = [
    *objects.urlpatterns,
    *campaigns.urlpatterns,
    *rules.urlpatterns,
    *ready_made.urlpatterns,
    *prints.urlpatterns,
    *need.urlpatterns,
    *exports.urlpatterns,
]
