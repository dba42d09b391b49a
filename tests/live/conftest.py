"""One LibreOffice for all tests of this room, because starting it takes seconds."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.live.uno_session import Office


@pytest.fixture(scope="session")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    """Return the LibreOffice."""
    profile: Path = tmp_path_factory.mktemp("libreoffice")
    with Office(profile) as started:
        yield started
