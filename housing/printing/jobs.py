"""Big prints and lists in the background: the worker makes the file and the job keeps it."""

import tempfile

from django.core.files.base import ContentFile, File
from django.urls import reverse

from housing.models import Job
from housing.services.jobs import runs
from housing.services.nesting import Progress


@runs(Job.Kind.PRINT)
def run_print(job: Job, progress: Progress) -> dict:
    """Make the PDF of a print and keep it with the job."""
    # late: most starts of the planner print nothing
    from housing.printing.asked import Asked
    from housing.printing.pdfs import make_print

    made = make_print(asked=Asked.taken_up(job.parameters), progress=progress)
    name = f"{job.parameters['what'].replace('_', '-')}-{job.pk}.pdf"
    job.file.save(name, ContentFile(made), save=False)
    return {
        "file": job.file,
        "message": f"{job.title}: the PDF file is ready.",
        "result_url": reverse("housing:print-file", args=[job.pk]),
    }


@runs(Job.Kind.EXPORT)
def run_export(job: Job, progress: Progress) -> dict:
    """Write a list and keep it with the job."""
    from housing.printing.exports import Wanted, write_export  # late, as above

    wanted = Wanted(**job.parameters)
    with tempfile.TemporaryFile() as written:
        number = write_export(wanted, written, progress)
        job.file.save(f"objects-{job.pk}.{wanted.format}", File(written), save=False)
    return {
        "file": job.file,
        "message": f"{'1 object is' if number == 1 else f'{number:,} objects are'} in the file.",
        "result_url": reverse("housing:export-file", args=[job.pk]),
    }
