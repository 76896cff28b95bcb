"""Addresses of the purchase lists of campaigns."""

from django.urls import path

from housing.views import purchases

urlpatterns = [
    # /campaigns/.../purchases/
    path("campaigns/<int:pk>/purchases/", purchases.campaign_purchases, name="campaign-purchases"),
    path("campaigns/<int:pk>/purchases.csv", purchases.campaign_purchases_csv, name="campaign-purchases-csv"),
    path("campaigns/<int:pk>/purchases.pdf", purchases.campaign_purchases_pdf, name="campaign-purchases-pdf"),
]
