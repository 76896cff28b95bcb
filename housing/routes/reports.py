"""Addresses of the report of a period."""

from django.urls import path

from housing.views import reports

urlpatterns = [
    # /report/
    path("report/", reports.report, name="report"),
    path("report.pdf", reports.report_pdf, name="report-pdf"),
    path("report.xlsx", reports.report_xlsx, name="report-xlsx"),
]
