"""Addresses of the catalogue."""

from django.urls import path

from objects.views import catalogue, measurements, survey, tables, words

app_name = "objects"
urlpatterns = [
    # /catalogue/
    path("new/", catalogue.object_new, name="object-new"),
    path("<int:pk>/edit/", catalogue.object_edit, name="object-edit"),
    path("<int:pk>/photo/", catalogue.photo, name="photo"),
    path("words/<str:language>.js", words.words, name="words"),
    # /catalogue/locations/
    path("locations/", catalogue.location_list, name="location-list"),
    path("locations/new/", catalogue.location_new, name="location-new"),
    path("locations/<int:pk>/edit/", catalogue.location_edit, name="location-edit"),
    # /catalogue/survey/
    path("survey/", survey.survey_start, name="survey-start"),
    path("survey/worker.js", survey.survey_worker, name="survey-worker"),
    path("survey/<int:pk>/", survey.survey_place, name="survey-place"),
    path("survey/<int:pk>/objects/", survey.survey_objects, name="survey-objects"),
    path("survey/<int:pk>/entries/", survey.survey_entries, name="survey-entries"),
    # /catalogue/measurements/
    path("measurements/<int:pk>/photo/", measurements.photo, name="survey-photo"),
    path("measurements/<int:pk>/decide/", measurements.decision, name="survey-decision"),
    # /catalogue/measuring/
    path("measuring/", measurements.rules, name="survey-rules"),
    # /catalogue/columns/
    path("columns/<slug:table>/", tables.columns_choose, name="columns"),
    # /catalogue/preferences/
    path("preferences/", catalogue.preferences, name="preferences"),
]
