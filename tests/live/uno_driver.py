"""Drive one headless LibreOffice: a line of JSON asks for something, a line of JSON answers.

It runs under the system's own Python, which alone has Debian's python3-uno; `tests/live/uno_session.py`
starts it. LibreOffice is its child and ends when its input ends: nothing stays behind even where the
process that asked was killed.
"""

import json
import os
import queue
import signal
import subprocess
import sys
import threading
import time
import uuid
from contextlib import suppress
from pathlib import Path
from typing import Any

import uno
from com.sun.star.connection import NoConnectException

from tests.live.uno_requests import Requests

SECONDS_TO_START = 90
_STARTS_AGAIN = 81
"""What LibreOffice's first process says on a fresh profile before it starts once more."""

Process = subprocess.Popen[bytes]


def main(profile: str) -> None:
    """Start LibreOffice, answer until the input ends, and end LibreOffice."""
    pipe = f"workbook-{uuid.uuid4().hex}"
    command = ["soffice", f"-env:UserInstallation={Path(profile).as_uri()}", "--headless", "--norestore"]
    command += ["--nologo", "--nodefault", f"--accept=pipe,name={pipe};urp;"]
    office = subprocess.Popen(
        command,
        start_new_session=True,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    lines: queue.Queue[str] = queue.Queue()
    threading.Thread(target=_listen, args=(lines, office), daemon=True).start()
    requests = Requests(_connected(pipe, office))
    _say({"process": office.pid})
    while True:
        _say(_answer(requests, json.loads(lines.get())))


def _listen(lines: "queue.Queue[str]", office: Process) -> None:
    """Hand on each line; at the end of them end LibreOffice, whatever it is doing, and this process."""
    for line in sys.stdin:
        lines.put(line)
    _end(office)
    os._exit(0)


def _end(office: Process) -> None:
    """End LibreOffice and all that it started: they are a session of their own."""
    for how in (signal.SIGTERM, signal.SIGKILL):
        with suppress(ProcessLookupError):
            os.killpg(office.pid, how)
        with suppress(subprocess.TimeoutExpired):
            office.wait(10)
    # What outlived the first process of the session has been sent SIGKILL just before.


def _connected(pipe: str, office: Process) -> Any:
    """Return the context of LibreOffice as soon as it answers."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    until = time.monotonic() + SECONDS_TO_START
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            if time.monotonic() > until or office.poll() not in {None, _STARTS_AGAIN}:
                _end(office)
                raise
            time.sleep(0.1)


def _answer(requests: Requests, request: dict[str, Any]) -> dict[str, Any]:
    began = time.perf_counter()
    try:
        answer = {"result": getattr(requests, request.pop("do"))(**request)}
    except Exception as error:  # noqa: BLE001 - whatever LibreOffice says goes to who asked
        answer = {"error": f"{type(error).__name__}: {getattr(error, 'Message', error)}"}
    return {**answer, "seconds": time.perf_counter() - began}


def _say(answer: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(answer) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1])
