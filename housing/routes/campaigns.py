"""Addresses of the campaigns, their plans, the designs, the people, the work and the long jobs."""

from django.urls import path

from housing.views import campaigns, designs, explaining, jobs, people, plan_records, plans, tasks

urlpatterns = [
    # /campaigns/
    path("campaigns/", campaigns.campaign_list, name="campaign-list"),
    path("campaigns/new/", campaigns.campaign_new, name="campaign-new"),
    path("campaigns/<int:pk>/", campaigns.campaign_detail, name="campaign-detail"),
    path("campaigns/<int:pk>/edit/", campaigns.campaign_edit, name="campaign-edit"),
    path("campaigns/<int:pk>/make-plan/", plans.campaign_make_plan, name="campaign-make-plan"),
    path("campaigns/<int:pk>/plan/", plans.campaign_plan, name="campaign-plan"),
    path(
        "campaigns/<int:pk>/plan/compare/", plan_records.campaign_plan_compare, name="campaign-plan-compare"
    ),
    path("campaigns/<int:pk>/boxes.csv", plans.campaign_boxes, name="campaign-boxes"),
    path("campaigns/<int:pk>/progress/", campaigns.campaign_progress, name="campaign-progress"),
    path("sheets/<int:pk>/cut/", plans.sheet_cut, name="sheet-cut"),
    # /designs/
    path("designs/", designs.design_list, name="design-list"),
    path("designs/new/", designs.design_new, name="design-new"),
    path("designs/options/", designs.design_options, name="design-options"),
    path("designs/<int:pk>/", designs.design_detail, name="design-detail"),
    path("designs/<int:pk>/edit/", designs.design_edit, name="design-edit"),
    path("designs/<int:pk>/try/", designs.design_try, name="design-try"),
    path("designs/<int:pk>/keep/", designs.design_keep, name="design-keep"),
    # /boxes/
    path("boxes/explain/", explaining.box_explain, name="box-explain"),
    path("boxes/explain/keep/", explaining.box_explain_keep, name="box-explain-keep"),
    path("boxes/boards/<int:pk>/forget/", explaining.board_correction_forget, name="board-correction-forget"),
    # /people/
    path("people/", people.person_list, name="person-list"),
    path("people/new/", people.person_new, name="person-new"),
    path("people/<int:pk>/edit/", people.person_edit, name="person-edit"),
    # /work/
    path("work/", tasks.task_list, name="task-list"),
    path("work/<int:pk>/start/", tasks.task_start, name="task-start"),
    path("work/<int:pk>/done/", tasks.task_done, name="task-done"),
    # /jobs/
    path("jobs/<int:pk>/", jobs.job_detail, name="job-detail"),
    path("jobs/<int:pk>/finish/", jobs.job_finish, name="job-finish"),
    path("jobs/<int:pk>/cancel/", jobs.job_cancel, name="job-cancel"),
]
