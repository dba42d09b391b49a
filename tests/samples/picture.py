"""Take the picture of the README: the demo club in LibreOffice, and an address just typed that is taken.

Run ``python -m tests.samples.picture``; it needs LibreOffice, python3-uno and poppler's ``pdftoppm``.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

from tests.live.club import Club
from tests.live.demo import write_demo_club
from tests.live.uno_session import Office

PICTURE = Path(__file__).parents[2] / "sample_workbooks" / "live.png"
DOTS_PER_INCH = 80
_SHEET = "Locomotives"
_ROWS = 9
_WIDTH_OF_ALERT = 115
"""In millimetres: as wide as what it says in these rows."""
_HIDDEN = (("Railway", "Decoder"), ("Address kind", "Notes"), ("CV29 read", "CV29 read"))
"""First and last of columns that say nothing of it."""


def main(target: Path = PICTURE) -> None:
    """Take it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        club = write_demo_club(folder / "club.xlsx")
        with Office(folder / "profile") as office:
            pdf = _typed(Club(office.open(club)), folder / "page.pdf")
        dots = ["-r", str(DOTS_PER_INCH), "-png", "-singlefile", "-q"]
        command = ["pdftoppm", *dots, str(pdf), str(target.with_suffix(""))]
        subprocess.run(command, check=True, timeout=60)


def _typed(club: Club, pdf: Path) -> Path:
    """Type the address of the first engine for the fourth, and print what is on the screen then."""
    club.type(_SHEET, "JV 0418", "Address", "2101")
    hidden = [f"{club.column(_SHEET, first)}1:{club.column(_SHEET, last)}1" for first, last in _HIDDEN]
    alert = club.column(_SHEET, "Alert")
    club.book.page(_SHEET, f"A1:{alert}{_ROWS}", hidden=hidden, widths={f"{alert}1": _WIDTH_OF_ALERT})
    return club.book.pdf(pdf, _SHEET)


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:]))
