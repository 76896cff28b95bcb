"""The demo museum for the tests of a process, loaded once for a run, and a browser signed in there."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import BrowserContext

from tests.gallery.museum import Museum, load_once, served


@pytest.fixture(scope="session")
def museum(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Iterator[Museum]:
    own = tmp_path_factory.getbasetemp()
    shared = own if worker_id == "master" else own.parent
    with served(load_once(shared), tmp_path_factory.mktemp("museum") / "copy") as museum:
        yield museum


@pytest.fixture(scope="module")
def signed_in(browser, museum: Museum) -> Iterator[BrowserContext]:
    context = browser.new_context()
    museum.sign_in(context)
    yield context
    context.close()
