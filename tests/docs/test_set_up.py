"""The README's two set-up commands do what it says, in surroundings as bare as a test can make them.

Bare means: a copy of the checkout, an empty environment but for a PATH, an empty HOME, and for apt-get a
machine on which nothing is installed and no package list was ever fetched. What is kept is how this machine
reaches its package index. Two things differ from a fresh machine: apt-get only simulates what it would
install, and the second command ends in a few tests in place of all, since this test is one of them.
"""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.docs.documents import CHECKOUT, README

FIRST, SECOND = re.findall(r"```sh\n(.*?)\n```", README.read_text(encoding="utf-8"), re.DOTALL)
WHOLE_SUITE = "python -m pytest -q -n 2"
_OF_THE_INDEX = re.compile(r"(?i)pip_.*|.*_proxy|ssl_cert_.*")
_SIMULATED = """\
Dir::State::lists "{folder}/lists";
Dir::State::status "{folder}/status";
Dir::Cache "{folder}/cache";
Debug::NoLocking "true";
APT::Sandbox::User "root";
APT::Get::Simulate "true";
"""
"""Settings of apt-get: no lists, nothing installed, nothing changed; the real archive answers."""


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    ignored = (CHECKOUT / ".gitignore").read_text(encoding="utf-8").split()
    patterns = shutil.ignore_patterns(".git", *(pattern.rstrip("/") for pattern in ignored))
    return Path(shutil.copytree(CHECKOUT, tmp_path / "checkout", ignore=patterns))


@pytest.fixture
def bare(tmp_path: Path) -> dict[str, str]:
    download = [
        sys.executable,
        "-m",
        "pip",
        "download",
        "-q",
        "--no-deps",
        "--dest",
        str(tmp_path / "probe"),
        "typer",
    ]
    if subprocess.run(download, capture_output=True, timeout=300, check=False).returncode:
        pytest.skip("no package index within reach")
    home = tmp_path / "home"
    home.mkdir()
    kept = {name: value for name, value in os.environ.items() if _OF_THE_INDEX.fullmatch(name)}
    return {**kept, "PATH": f"{sys.base_prefix}/bin:/usr/bin:/bin", "HOME": str(home)}


@pytest.fixture
def apt(tmp_path: Path, bare: dict[str, str]) -> Path:
    """Return the folder of an apt-get that knows no package yet, which ``bare`` then calls."""
    if shutil.which("apt-get", path=bare["PATH"]) is None:
        pytest.skip("no apt-get: not Debian or a relative")
    folder = tmp_path / "apt"
    for name in ("lists/partial", "cache/archives/partial", "bin"):
        (folder / name).mkdir(parents=True)
    (folder / "status").touch()
    (folder / "settings").write_text(_SIMULATED.format(folder=folder), encoding="utf-8")
    # sudo empties the environment and may ask for a password; a simulation needs no rights.
    (folder / "bin" / "sudo").write_text('#!/bin/sh\nexec "$@"\n', encoding="utf-8")
    (folder / "bin" / "sudo").chmod(0o755)
    bare["PATH"] = f"{folder / 'bin'}:{bare['PATH']}"
    bare["APT_CONFIG"] = str(folder / "settings")
    return folder


def _run(command: str, folder: Path, environment: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["sh", "-c", command],
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        timeout=1200,
        check=False,
    )


@pytest.mark.slow
def test_the_first_command_does_the_main_job(checkout: Path, bare: dict[str, str]) -> None:
    done = _run(FIRST, checkout, bare)

    assert done.returncode == 1, done.stdout
    sheet = load_workbook(checkout / "filled_roster.xlsx")["Locomotives"]
    column = [cell.value for cell in sheet[1]].index("CV29")
    computed = [row[column].value for row in sheet.iter_rows(min_row=2) if row[0].value]
    assert sum(value is not None for value in computed) >= 30


@pytest.mark.slow
def test_the_second_command_fetches_installs_and_tests(
    checkout: Path, bare: dict[str, str], apt: Path
) -> None:
    assert SECOND.endswith(f"&& {WHOLE_SUITE}")

    done = _run(f"{SECOND} tests/standards/test_speed_steps.py", checkout, bare)

    if not list((apt / "lists").glob("*_Packages*")):
        pytest.skip("no package archive within reach")
    assert done.returncode == 0, done.stdout
    assert re.search(r"^\d+ passed", done.stdout, re.MULTILINE)
    wanted = re.findall(
        r"(?<= )[a-z][a-z0-9-]+", SECOND.partition("--no-install-recommends")[2].partition(" &&")[0]
    )
    assert "libreoffice-calc" in wanted
    assert [name for name in wanted if f"\nInst {name} " not in done.stdout] == []


def test_the_ci_run_finds_both_commands_in_the_readme() -> None:
    script = (CHECKOUT / ".ci" / "run").read_text(encoding="utf-8")
    patterns = re.findall(r"\$\(sed -n '(.*?)' README\.md", script)

    found = [
        subprocess.run(
            ["sed", "-n", pattern, str(README)], capture_output=True, text=True, timeout=60, check=True
        ).stdout.strip()
        for pattern in patterns
    ]

    assert found == [WHOLE_SUITE, FIRST.rpartition(" && ")[2]]
