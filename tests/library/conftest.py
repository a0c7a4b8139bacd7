"""Libraries for the fault tests."""

from pathlib import Path

import pytest

from advisor.library.store import migrations
from advisor.library.store.store import open_library
from tests.library import fault_work as work
from tests.library.fault_helpers import CASES


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A library with all CASES, closed. Only to be copied."""
    path = tmp_path_factory.mktemp("filled") / "library.sqlite"
    with open_library(path) as library:
        library.add(CASES, work.nothing)
    return path


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> None:
    """This program is of the later version."""
    monkeypatch.setattr(migrations, "KNOWN", ("0001", "0002"))
    monkeypatch.setattr(migrations, "VERSIONS", (migrations.HERE / "versions", work.LATER))
