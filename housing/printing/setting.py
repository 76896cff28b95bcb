"""A process that sets pieces of prints, one after another, as another process asks for them.

    python -m housing.printing.setting

Its input tells, a line of JSON each, first which records to read and then the pieces; its output answers each
with a line. It ends when its input does, at once: whoever asked is gone then, even if killed.
"""

import gc
import json
import os
import queue
import signal
import sys
import threading
import traceback
from pathlib import Path
from typing import TextIO

from django.apps import AppConfig

ANSWERS_TO = 1  # standard output


class PressConfig(AppConfig):
    """The planner without those who do other long work: that spares half of the memory, and 2 s."""

    name = "housing"


def main() -> None:
    """Answer until nobody asks any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is for whoever asks, who then ends this process
    answers = os.fdopen(os.dup(ANSWERS_TO), "w", encoding="utf-8")
    os.dup2(sys.stderr.fileno(), ANSWERS_TO)  # what libraries print is no answer
    asked: queue.SimpleQueue[str] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(asked,), daemon=True).start()
    _set_up(json.loads(asked.get()))
    while True:
        _answer(json.loads(asked.get()), answers)


def _listen(asked: "queue.SimpleQueue[str]") -> None:
    for line in sys.stdin:
        asked.put(line)
    os._exit(0)  # in the middle of a piece too: its file is not there until it is whole


def _set_up(where: dict) -> None:
    """Make ready with the settings of whoever asks; in a test its database has another name."""
    import django
    from django.conf import settings

    from housing.printing import addresses

    this = PressConfig.__qualname__
    settings.INSTALLED_APPS = [
        f"housing.printing.setting.{this}" if app == "housing" else app for app in settings.INSTALLED_APPS
    ]
    settings.DATABASES["default"]["NAME"] = where["database"]
    settings.MEDIA_ROOT = where["media"]
    settings.ROOT_URLCONF = addresses.__name__
    addresses.urlpatterns[:] = addresses.taken_over(where["addresses"])
    django.setup()
    gc.freeze()  # what is there now stays; looking through it after every piece would take time


def _answer(asked: dict, answers: TextIO) -> None:
    from housing.printing.asked import Asked
    from housing.printing.pieces import PrintRefused, set_piece
    from objects.speaking import in_language

    try:
        with in_language(asked["language"]):
            answer = {"file": set_piece(Asked.taken_up(asked["piece"]), Path(asked["folder"]))}
    except PrintRefused as refused:
        answer = {"refused": str(refused)}
    except Exception:
        answer = {"failed": traceback.format_exc()}
    gc.collect()  # the boxes of a page know each other, so they do not go by themselves
    answer["peak_mb"] = peak_mb()
    answers.write(json.dumps(answer) + "\n")
    answers.flush()


def peak_mb() -> int:
    """The most memory this process has taken so far, in MB; 0 where the system does not tell."""
    try:
        import resource
    except ImportError:  # Windows
        return 0
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak // 1024 // (1024 if sys.platform == "darwin" else 1)  # macOS counts bytes, Linux kilobytes


if __name__ == "__main__":
    main()
