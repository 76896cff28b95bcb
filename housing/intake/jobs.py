"""Long lists in the background: the worker saves them, all rows or none."""

from django.urls import reverse

from housing.intake.imports import save_list
from housing.models import Campaign, Job
from housing.services.jobs import runs
from housing.services.nesting import Progress
from objects.models import ListImport

# Rows from which a list is saved in the background; about two seconds of work, measured.
LONG_LIST = 2000


@runs(Job.Kind.IMPORT)
def run_import(job: Job, progress: Progress) -> dict:
    """Save a staged list; one that a killed worker had saved already is only reported again."""
    listed = ListImport.objects.get(pk=job.parameters["list"])
    if listed.state != ListImport.State.SAVED:
        progress(5, f"Saving {listed.file_name}")
        campaign = Campaign.objects.filter(pk=job.parameters["campaign"]).first()
        save_list(listed=listed, campaign=campaign, by=job.by)
    return {
        "message": f"“{listed.file_name}” is saved.",
        "result_url": reverse("housing:import-preview", args=[listed.pk]),
    }
