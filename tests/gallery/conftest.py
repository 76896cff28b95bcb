"""The demo museum for all tests of a process, loaded once for the processes of a run."""

from collections.abc import Iterator

import pytest

from tests.gallery.museum import Museum, load_once, served


@pytest.fixture(scope="session")
def museum(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Iterator[Museum]:
    own = tmp_path_factory.getbasetemp()
    shared = own if worker_id == "master" else own.parent
    with served(load_once(shared), tmp_path_factory.mktemp("museum") / "copy") as museum:
        yield museum
