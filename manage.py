#!/usr/bin/env python3
"""The one way in: `python3 manage.py demo` shows the planner, `python3 manage.py test` tests it.

The first run makes .venv beside this file and installs what the planner needs (housing/config/bootstrap.py).
This file keeps to what every Python since 2.7 can read, so that an old one gets a sentence to act on.
"""

import sys

OLDEST_PYTHON = (3, 12)


def version_problem(version, executable, arguments):
    """The sentence for a Python that is too old; None for one that will do."""
    if tuple(version[:2]) >= OLDEST_PYTHON:
        return None
    return (
        "The planner needs Python %d.%d or newer, and this is Python %d.%d (%s). "
        "Get a newer one from https://www.python.org/downloads/ or from your system's packages, "
        "then type for example: python3.13 manage.py %s"
        % (OLDEST_PYTHON + tuple(version[:2]) + (executable, " ".join(arguments)))
    )


def main():
    problem = version_problem(sys.version_info, sys.executable, sys.argv[1:])
    if problem:
        sys.exit(problem)
    from housing.config import bootstrap

    sys.exit(bootstrap.run(sys.argv[1:]))


if __name__ == "__main__":
    main()
