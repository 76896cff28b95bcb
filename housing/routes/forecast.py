"""Address of the forecast of a campaign."""

from django.urls import path

from housing.views import forecast

urlpatterns = [
    # /campaigns/.../forecast/
    path("campaigns/<int:pk>/forecast/", forecast.campaign_forecast, name="campaign-forecast"),
]
