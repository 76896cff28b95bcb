"""Big prints and lists in the background: the worker makes the file and the job keeps it."""

import tempfile

from django.core.files.base import File
from django.urls import reverse

from housing.models import Job
from housing.services.jobs import JobCancelled, runs
from housing.services.nesting import Progress
from objects.core.words import decimal, say


@runs(Job.Kind.PRINT)
def run_print(job: Job, progress: Progress) -> dict:
    """Make the file of a print and keep it with the job; what is set of it waits for somebody to go on."""
    # late: most starts of the planner print nothing
    from housing.printing import pieces
    from housing.printing.asked import Asked
    from housing.printing.pdfs import write_print

    pieces.drop_old_pieces(but=job.pk)
    asked, folder = Asked.taken_up(job.parameters), pieces.folder_of(job.pk)
    try:
        made = write_print(asked=asked, folder=folder, title=job.title, tell=progress)
    except JobCancelled as cancelled:
        kept = say("It was cancelled. What is set of it is kept for {days} days.", days=pieces.KEPT_DAYS)
        raise JobCancelled(kept if pieces.kept_pieces(job.pk) else str(cancelled)) from cancelled
    ending, kind = ("zip", "ZIP") if made.suffix == ".zipped" else ("pdf", "PDF")
    size = decimal(made.stat().st_size / 1e6, 1)
    with made.open("rb") as file:
        job.file.save(f"{asked.what.replace('_', '-')}-{job.pk}.{ending}", File(file), save=False)
    pieces.drop_pieces(job.pk)
    return {
        "file": job.file,
        "message": say(
            "{title}: the {kind} file is ready, {size} MB.", title=job.title, kind=kind, size=size
        ),
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
