"""Addresses of the grades of people."""

from django.urls import path

from housing.views import grades

urlpatterns = [
    # /people/grades/
    path("people/grades/", grades.grade_list, name="grade-list"),
    path("people/grades/new/", grades.grade_new, name="grade-new"),
    path("people/grades/<int:pk>/edit/", grades.grade_edit, name="grade-edit"),
    path("people/grades/<int:pk>/delete/", grades.grade_delete, name="grade-delete"),
]
