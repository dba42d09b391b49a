"""Make the lists of this folder and gold.json anew: ``python -m tests.lists.own.make [PART_OF_A_NAME]``."""

import json
import sys
from pathlib import Path

from tests.lists.own.club_book import CLUB_BOOK
from tests.lists.own.forms import FORMS
from tests.lists.own.headings import HEADINGS
from tests.lists.own.odd_cells import ODD_CELLS
from tests.lists.own.oddities import ODDITIES
from tests.lists.own.opendocument import OPENDOCUMENT
from tests.lists.own.own_list import OwnList
from tests.lists.own.railways import RAILWAYS
from tests.lists.own.semicolons import SEMICOLONS
from tests.lists.own.tabs import TABS
from tests.lists.own.workshop import WORKSHOP

FOLDER = Path(__file__).parent
LISTS: tuple[OwnList, ...] = (
    *SEMICOLONS,
    *TABS,
    *HEADINGS,
    *FORMS,
    *RAILWAYS,
    CLUB_BOOK,
    WORKSHOP,
    *ODDITIES,
    *ODD_CELLS,
    *OPENDOCUMENT,
)


def gold_text() -> str:
    """Return gold.json, as what stands beside the data of each list says it."""
    return json.dumps([one.gold() for one in LISTS], ensure_ascii=False, indent=1) + "\n"


def main() -> None:
    """Write the files whose names hold the word that was given, or all, and gold.json."""
    asked = sys.argv[1] if len(sys.argv) > 1 else ""
    for one in LISTS:
        if asked in one.file:
            one.write(FOLDER / one.file)
    (FOLDER / "gold.json").write_text(gold_text(), encoding="utf-8")


if __name__ == "__main__":
    main()
