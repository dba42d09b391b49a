"""The page of cards in a browser: the lines that record what was read back, run as they stand there."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from rosterkit.cards.card import CardOptions
from tests.browser import Page
from tests.cards.pages import cards_for, field, opened, record_line
from tests.command_line import run, written
from tests.rosters import roster, workbook

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("the page of cards in a browser")]

ENGINE: dict[str, object] = {"Loco": "A", "Address": 12, "Speed steps": "28/128", "DC operation": "off"}


def test_the_line_records_what_was_read_and_nothing_else(browser: Page, tmp_path: Path) -> None:
    extras = [
        {"Loco": "$1 it's", "CV": 300, "Value": 5, "Index high": 16, "Index low": 1},
        {"Loco": "$1 it's", "CV": 301, "Value": 6, "Index high": 16, "Index low": 2},
    ]
    book = workbook([{**ENGINE, "Loco": "$1 it's"}], extras=extras)
    path = written(tmp_path / "my club.xlsx", book)
    assert run("cards", path, "--html", tmp_path / "cards.html").status == 0
    browser.open(tmp_path / "cards.html")
    browser.run("localStorage.clear()")
    browser.reload()

    for cv, nth, typed in ((8, 0, "13"), (300, 0, "5"), (32, 1, "3"), (301, 0, "6"), (1, 0, "12")):
        browser.type(field(browser, cv, ".number", nth=nth), typed)
    browser.click(field(browser, 29, ".noack input", nth=1))
    line = record_line(browser)

    assert '--record "8=13 1=12 29=- 31=16 32=1 300=5 32=3 301=6" --on ' in line
    command = ["bash", "-c", line.replace("rosterkit cards", '"$PYTHON" -m rosterkit cards', 1)]
    checkout, environment = Path(__file__).parents[2], {**os.environ, "PYTHON": sys.executable}
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=checkout, env=environment)
    assert done.returncode == 0, done.stderr
    assert "CV29 gave no acknowledgment" in done.stderr
    assert "CV300 read 5" in done.stderr
    kept = json.loads(run("cards", path, "--read-out", "--format", "json").out)["cards"][0]["steps"]
    read = {(step["cv"], tuple(step["page"] or ())): step["last_read"] for step in kept if step["last_read"]}
    assert read[300, (16, 1)] == 5
    assert read[301, (16, 3)] == 6


def test_a_line_that_was_keyed_in_again_makes_an_earlier_reading_old(browser: Page, tmp_path: Path) -> None:
    opened(browser, tmp_path, cards_for(CardOptions(), roster([{"Loco": "A", "Address": 12}])))

    browser.type(field(browser, 29, ".number"), "6")
    read_first = record_line(browser)
    browser.click(field(browser, 29, ".tick input", nth=1))
    keyed_in = record_line(browser)
    browser.type(field(browser, 29, ".number", nth=1), "2")

    assert '--record "29=6"' in read_first
    assert keyed_in == ""
    assert '--record "29=2"' in record_line(browser)


def test_a_cv_whose_index_nobody_knows_goes_before_the_others(browser: Page, tmp_path: Path) -> None:
    extras = [
        {"Loco": "A", "CV": 300, "Value": 5, "Index high": 16, "Index low": 1},
        {"Loco": "A", "CV": 300, "Value": 6, "Index high": 16, "Index low": 2},
    ]
    readings = [{"Loco": "A", "CV": 280, "Value": 4}]
    options = CardOptions(read_out=True)
    opened(browser, tmp_path, cards_for(options, roster([ENGINE], extras=extras, readings=readings)))

    browser.type(field(browser, 300, ".number", nth=0), "5")
    browser.type(field(browser, 280, ".number"), "4")
    unknown = record_line(browser)
    browser.type(field(browser, 31, ".number", nth=0), "8")
    browser.type(field(browser, 32, ".number", nth=0), "0")

    assert '--record "280=4 31=16 32=1 300=5"' in unknown
    assert '--record "31=8 32=0 280=4 31=16 32=1 300=5"' in record_line(browser)


def test_lines_of_all_engines_come_together_at_the_end(shown: Page) -> None:
    shown.type(field(shown, 1, ".number"), "12")
    shown.type(field(shown, 8, ".number", card=1), "13")

    lines = shown.run("document.querySelector('[data-all=POSIX]').value").splitlines()
    assert lines == [record_line(shown, 0), record_line(shown, 1)]
    assert shown.run("[...document.querySelectorAll('[data-all]')].map(it => it.parentElement.hidden)") == [
        False,
        True,
        True,
    ]
    shown.call("Browser.grantPermissions", permissions=["clipboardReadWrite", "clipboardSanitizedWrite"])
    shown.click("#c0 [data-copy]")
    said = shown.run("""new Promise(done => {
        const said = document.querySelector('#c0 .line output');
        const look = () => said.textContent ? done(said.textContent) : setTimeout(look, 10);
        look();
    })""")
    assert said == "copied"
    assert shown.run("navigator.clipboard.readText()") == record_line(shown)
