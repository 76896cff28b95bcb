"""Big prints in the background: the worker makes the file and the job keeps it."""

from django.core.files.base import ContentFile
from django.urls import reverse

from housing.models import Job
from housing.services.jobs import runs
from housing.services.nesting import Progress


@runs(Job.Kind.PRINT)
def run_print(job: Job, progress: Progress) -> dict:
    """Make the PDF of a print and keep it with the job."""
    from housing.printing.pdfs import make_print  # late: most starts of the planner print nothing

    made = make_print(parameters=job.parameters, progress=progress)
    name = f"{job.parameters['what'].replace('_', '-')}-{job.pk}.pdf"
    job.file.save(name, ContentFile(made), save=False)
    return {
        "file": job.file,
        "message": f"{job.title}: the PDF file is ready.",
        "result_url": reverse("housing:print-file", args=[job.pk]),
    }
