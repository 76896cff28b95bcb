"""The addresses of the site."""

from django.contrib.auth import views as auth_views
from django.urls import include, path

urlpatterns = [
    path("", include("housing.urls")),
    path("boards/", include("boards.urls")),
    path("catalogue/", include("objects.urls")),
    # /accounts/
    path("accounts/login/", auth_views.LoginView.as_view(redirect_authenticated_user=True), name="login"),
    path("accounts/logout/", auth_views.LogoutView.as_view(), name="logout"),
    path("accounts/password/", auth_views.PasswordChangeView.as_view(), name="password_change"),
    path("accounts/password/done/", auth_views.PasswordChangeDoneView.as_view(), name="password_change_done"),
]
