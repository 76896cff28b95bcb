"""Several people at once: each in a thread of their own, with a connection of their own to one database."""

import sqlite3
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from threading import Barrier
from typing import Any

from django.db import connection, connections

from objects.core.refusals import Refusal

TOO_LONG_S = 60  # a test that hangs ends with an error instead


class People:
    """Who works at once on the records of a test that commits them (`django_db(transaction=True)`).

    On SQLite the test's own database is in memory, where other connections cannot wait for each other; what
    is done here is done on a copy of it in a file, as the site has it. So look at the outcome by `alone()`.
    """

    def __init__(self, folder: Path) -> None:
        self.file = folder / "planner.sqlite3" if connection.vendor == "sqlite" else None
        if self.file:
            with closing(sqlite3.connect(self.file)) as copy:
                connection.connection.backup(copy)

    def at_once(self, *acts: Callable[[], Any]) -> list[Any]:
        """Let all begin at the same moment; returns what each returned, or the refusal that it met."""
        gate = Barrier(len(acts), timeout=TOO_LONG_S)

        def one(act: Callable[[], Any]) -> Any:
            gate.wait()
            try:
                return act()
            except Refusal as refused:
                return refused

        with ThreadPoolExecutor(len(acts)) as pool:
            running = [pool.submit(self._connected, lambda act=act: one(act)) for act in acts]
            return [each.result(timeout=TOO_LONG_S) for each in running]

    def alone(self, act: Callable[[], Any]) -> Any:
        """What one of them finds or does afterwards."""
        with ThreadPoolExecutor(1) as pool:
            return pool.submit(self._connected, act).result(timeout=TOO_LONG_S)

    def _connected(self, act: Callable[[], Any]) -> Any:
        if self.file:
            own = connections.create_connection("default")
            own.settings_dict = {**own.settings_dict, "NAME": str(self.file)}
            connections["default"] = own
        try:
            return act()
        finally:
            connections["default"].close()
