"""The records of a test for other processes, in a file as they are kept in use, or on PostgreSQL."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

from django.conf import settings
from django.db import connection


class SharedDatabase:
    """The records of a test as other processes can use them: on PostgreSQL themselves, of SQLite a copy."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.file = folder, folder / "planner.sqlite3"
        if connection.vendor == "sqlite":
            with closing(sqlite3.connect(self.file)) as copy:
                connection.connection.backup(copy)

    @property
    def url(self) -> str:
        if connection.vendor == "sqlite":
            return f"sqlite:///{self.file}"
        return os.environ["DATABASE_URL"].replace("/planner?", f"/{connection.settings_dict['NAME']}?")

    def rows(self, table: str, columns: str = "*") -> list[tuple]:
        sql = f"SELECT {columns} FROM {table} ORDER BY id"
        if connection.vendor == "sqlite":
            with closing(sqlite3.connect(self.file)) as copy:
                return copy.execute(sql).fetchall()
        with connection.cursor() as cursor:
            cursor.execute(sql)
            return [tuple(bytes(v) if isinstance(v, memoryview) else v for v in row) for row in cursor]

    def start(self, script: str, *arguments: str) -> subprocess.Popen:
        of_the_site = {"VAR_DIR": str(self.folder), "DJANGO_SETTINGS_MODULE": "housing.config.settings"}
        return subprocess.Popen(
            [sys.executable, "-c", script, *arguments],
            cwd=settings.BASE_DIR,
            env={**os.environ, **of_the_site, "DATABASE_URL": self.url},
            stdout=subprocess.PIPE,
            text=True,
        )
