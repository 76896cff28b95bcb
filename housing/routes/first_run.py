"""Addresses of the first steps, of the glossary and of the guide."""

from django.urls import path

from housing.views import first_run, glossary, guide

urlpatterns = [
    # /first-steps/
    path("first-steps/", first_run.first_run, name="first-run"),
    path("first-steps/samples/", first_run.first_run_all, name="first-run-all"),
    path("first-steps/samples/remove/", first_run.first_run_remove, name="first-run-remove"),
    path("first-steps/samples/<slug:kind>/", first_run.first_run_sample, name="first-run-sample"),
    path("first-steps/samples/<slug:kind>.csv", first_run.first_run_file, name="first-run-file"),
    path("first-steps/campaign/", first_run.first_run_campaign, name="first-run-campaign"),
    # /glossary/
    path("glossary/", glossary.glossary, name="glossary"),
    # /guide/
    path("guide/", guide.guide, name="guide"),
    path("guide/<slug:page>/", guide.guide_page, name="guide-page"),
]
