"""The page of cards as a file: written whole, over another only if asked for, with every kind of card."""

from pathlib import Path

import pytest
from lxml import html

from tests.command_line import Ran, run, written
from tests.rosters import workbook


@pytest.fixture
def club(tmp_path: Path) -> Path:
    engines = [
        {"Loco": "A", "Address": 12, "At meet": "yes", "Meet address": 40},
        {"Loco": "B", "Address": 13, "At meet": "", "Meet address": ""},
    ]
    readings = [{"Date": "2026-04-18", "Loco": "A", "CV": cv, "Value": 12} for cv in (1, 3)]
    return written(tmp_path / "club.xlsx", workbook(engines, readings=readings))


def _title(path: Path) -> str:
    return str(html.document_fromstring(path.read_bytes()).findtext(".//h1"))


def _engines(path: Path) -> list[str]:
    return [str(one.text) for one in html.document_fromstring(path.read_bytes()).findall(".//article//h2")]


@pytest.mark.parametrize(
    ("words", "title", "engines"),
    [
        pytest.param([], "Cards for the programming track", ["A", "B"], id="all"),
        pytest.param(["--loco", "B"], "Cards for the programming track", ["B"], id="one engine"),
        pytest.param(["--changes"], "Cards for the programming track", ["A", "B"], id="changes"),
        pytest.param(["--after-reset"], "Cards for the programming track", ["A", "B"], id="after a reset"),
        pytest.param(["--read-out"], "What to read before a decoder is reset", ["A", "B"], id="read out"),
        pytest.param(["--restore"], "What puts the newest readings back", ["A"], id="restore"),
        pytest.param(["--meet", "before"], "Cards for the programming track", ["A"], id="before a meet"),
        pytest.param(["--meet", "after"], "Cards for the programming track", ["A"], id="after a meet"),
        pytest.param(["--mode", "paged"], "Cards for the programming track", ["A", "B"], id="paged mode"),
        pytest.param(["--format", "json"], "Cards for the programming track", ["A", "B"], id="beside JSON"),
    ],
)
def test_every_kind_of_cards_makes_a_page_beside_what_is_printed(
    club: Path, tmp_path: Path, words: list[str], title: str, engines: list[str]
) -> None:
    page = tmp_path / "cards.html"

    ran, without = run("cards", club, *words, "--html", page), run("cards", club, *words)

    assert ran == Ran(status=0, out=without.out, err=f"made {page}\n")
    assert (_title(page), _engines(page)) == (title, engines)


def test_a_page_there_is_replaced_only_when_asked_for(club: Path, tmp_path: Path) -> None:
    page = tmp_path / "cards.html"
    page.write_text("mine")

    refused = run("cards", club, "--html", page, "--loco", "A", "--record", "1=12")

    assert (refused.status, refused.out) == (2, "")
    assert refused.err.startswith(f"rosterkit: '{page}' is there already")
    assert page.read_text() == "mine"
    assert not (tmp_path / "club.earlier.xlsx").exists()
    assert run("cards", club, "--html", page, "--force").status == 0
    assert _engines(page) == ["A", "B"]
    assert sorted(one.name for one in tmp_path.iterdir()) == ["cards.html", "club.xlsx"]


def test_a_workbook_of_cards_is_replaced_when_asked_for(club: Path, tmp_path: Path) -> None:
    out = tmp_path / "cards.xlsx"
    out.write_text("mine")

    assert run("cards", club, "-o", out).status == 2
    assert out.read_text() == "mine"
    assert run("cards", club, "-o", out, "--force").status == 0
    assert out.read_bytes().startswith(b"PK")


@pytest.mark.parametrize(
    ("name", "why"),
    [
        pytest.param("cards.xlsx", "does not end in .html", id="the ending of a workbook"),
        pytest.param("cards", "does not end in .html", id="no ending"),
        pytest.param("folder.html", "is a folder", id="a folder"),
        pytest.param("nowhere/cards.html", "is not a folder to write into", id="a folder that is not there"),
    ],
)
def test_a_page_that_cannot_be_made_is_refused_before_anything_is_written(
    club: Path, tmp_path: Path, name: str, why: str
) -> None:
    (tmp_path / "folder.html").mkdir()
    before = sorted(tmp_path.iterdir())

    ran = run(
        "cards",
        club,
        "-o",
        tmp_path / "out.xlsx",
        "--html",
        tmp_path / name,
        "--loco",
        "A",
        "--record",
        "1=3",
    )

    assert (ran.status, ran.out) == (2, "")
    assert why in ran.err
    assert sorted(tmp_path.iterdir()) == before


def test_after_recording_the_page_has_what_is_left(club: Path, tmp_path: Path) -> None:
    page = tmp_path / "cards.html"

    before = run("cards", club, "--loco", "B", "--html", page)
    cvs = html.document_fromstring(page.read_bytes()).xpath("//li[@class='step']/@data-cv")
    ran = run("cards", club, "--loco", "B", "--record", "29=2 1=3 19=0", "--html", page, "--force")

    assert (before.status, ran.status) == (0, 0)
    assert cvs == ["8", "7", "29", "19", "1", "29"]
    left = html.document_fromstring(page.read_bytes()).xpath("//li[@class='step']/@data-cv")
    assert left == ["8", "7", "1"]


def test_the_same_workbook_makes_the_same_page(club: Path, tmp_path: Path) -> None:
    first, second = tmp_path / "1.html", tmp_path / "2.html"

    run("cards", club, "--html", first)
    run("cards", club, "--html", second)

    assert first.read_bytes() == second.read_bytes()
