"""LibreOffice as a member uses it: a workbook opened, typed into, changed, saved and read, from a test."""

import json
import selectors
import subprocess
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from tests.live.uno_document import Document

_CHECKOUT = Path(__file__).parents[2]
_SYSTEM_PYTHON = "/usr/bin/python3"
"""The one that Debian's python3-uno belongs to."""


class OfficeError(Exception):
    """LibreOffice does not do what it was asked for, or not in time."""


class Office:
    """One LibreOffice with a profile of its own, for as long as a with statement lasts."""

    def __init__(self, profile: Path, *, seconds: float = 120) -> None:
        """Take the folder for the profile, and the longest time that one request may take."""
        self._profile = profile
        self.limit = seconds
        self.seconds = 0.0
        """What the last request took, as measured beside LibreOffice."""

    def __enter__(self) -> Self:
        command = [_SYSTEM_PYTHON, "-m", "tests.live.uno_driver", str(self._profile.absolute())]
        self._driver = subprocess.Popen(
            command, cwd=_CHECKOUT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, start_new_session=True
        )
        try:
            self.process = int(self._answer()["process"])
        except BaseException:
            self._end()
            raise
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        # A workbook that is still open would leave its lock beside it.
        with suppress(OfficeError):
            self.ask("close")
        self._end()

    def open(self, path: Path) -> Document:
        """Open a workbook; the one that was open is closed unsaved."""
        self.ask("open", path=str(path.absolute()))
        return Document(self.ask)

    def ask(self, what: str, **values: object) -> Any:
        """Return the answer to one of the requests of `tests/live/uno_requests.py`.

        Raises:
            OfficeError: if LibreOffice refuses, or the time is up; it is ended then.
        """
        assert self._driver.stdin is not None
        try:
            self._driver.stdin.write(json.dumps({"do": what, **values}).encode() + b"\n")
            self._driver.stdin.flush()
        except (BrokenPipeError, ValueError) as error:
            raise OfficeError("LibreOffice has ended") from error
        answer = self._answer()
        if "error" in answer:
            raise OfficeError(f"{what}: {answer['error']}")
        self.seconds = answer["seconds"]
        return answer["result"]

    def _answer(self) -> dict[str, Any]:
        assert self._driver.stdout is not None
        with selectors.DefaultSelector() as waiting:
            waiting.register(self._driver.stdout, selectors.EVENT_READ)
            if not waiting.select(self.limit):
                self._end()
                raise OfficeError(f"no answer within {self.limit:g} seconds")
        # One request has one answer, so that no second line waits behind the first.
        line = self._driver.stdout.readline()
        if not line:
            raise OfficeError(f"the driver ended with status {self._driver.wait(30)}")
        answer: dict[str, Any] = json.loads(line)
        return answer

    def _end(self) -> None:
        """Close the driver's input, at which it ends LibreOffice and itself."""
        for stream in (self._driver.stdin, self._driver.stdout):
            assert stream is not None
            if not stream.closed:
                stream.close()
        self._driver.wait(60)
