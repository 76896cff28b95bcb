"""Addresses of the rules: which object gets what, and choosing over them."""

from django.urls import path

from housing.views import rules

urlpatterns = [
    # /campaigns/.../rules/
    path("campaigns/<int:pk>/rules/", rules.rule_list, name="rule-list"),
    path("campaigns/<int:pk>/rules/new/", rules.rule_new, name="rule-new"),
    path("campaigns/<int:pk>/rules/try/", rules.rule_try_new, name="rule-try-new"),
    path("campaigns/<int:pk>/rules/shipped/", rules.rule_add_shipped, name="rule-add-shipped"),
    path("campaigns/<int:pk>/rules/dry-run/", rules.rule_dry_run, name="rule-dry-run"),
    path("campaigns/<int:pk>/rules/conflicts/", rules.rule_conflicts, name="rule-conflicts"),
    path("campaigns/<int:pk>/rules.csv", rules.rule_download, name="rule-download"),
    # /rules/
    path("rules/<int:pk>/edit/", rules.rule_edit, name="rule-edit"),
    path("rules/<int:pk>/try/", rules.rule_try, name="rule-try"),
    path("rules/<int:pk>/copy/", rules.rule_copy, name="rule-copy"),
    path("rules/<int:pk>/delete/", rules.rule_delete, name="rule-delete"),
    path("rules/<int:pk>/move/", rules.rule_move, name="rule-move"),
    # /objects/.../
    path("objects/<int:pk>/rules/", rules.object_rules, name="object-rules"),
    path("objects/<int:pk>/overrule/", rules.object_overrule, name="object-overrule"),
]
