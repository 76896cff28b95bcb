"""Serving the pages on this computer, with the one worker beside them that does the long work."""

import os
import socket
import subprocess
import sys

from django.conf import settings
from django.core.management import CommandError, call_command

WORKER_GRACE_SECONDS = 10  # a print or a small plan ends in that; few wait longer for a Ctrl+C


def refuse_taken(port: int, what: str) -> None:
    """Raises CommandError where a port is in use, perhaps by what is about to be served."""
    with socket.socket() as probe:
        if probe.connect_ex(("127.0.0.1", port)) == 0:
            raise CommandError(
                f"Port {port} is in use; perhaps {what} runs already. Stop it, or add --port {port + 1}."
            )


def serve(port: int) -> None:
    """Serve the pages until Ctrl+C."""
    worker = subprocess.Popen(
        [sys.executable, str(settings.BASE_DIR / "manage.py"), "worker", f"--parent={os.getpid()}"]
    )
    os.environ["DJANGO_RUNSERVER_HIDE_WARNING"] = "true"  # this server is only for this computer
    try:
        call_command("runserver", f"127.0.0.1:{port}", use_reloader=False, verbosity=0)
    finally:
        stop(worker)


def stop(worker: subprocess.Popen) -> None:
    """Let the work at hand end if it is soon done; what is cut short is begun again by the next start."""
    worker.terminate()
    try:
        worker.wait(timeout=WORKER_GRACE_SECONDS)
    except subprocess.TimeoutExpired:
        worker.kill()
        worker.wait()
