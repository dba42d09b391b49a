"""Text on one line, CSV and JSON, as people and machines read them."""

import csv
import io
import json
import re
from collections.abc import Iterable, Sequence

# Also behind a semicolon, at which some programs begin a new cell, and by full-width signs, which some take
# for the plain ones.
_FORMULA = re.compile(r"(^|;)(\s*)(?=[=+@\-\t\r\uff1d\uff0b\uff20\uff0d])")


def as_csv(heading: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Write rows as CSV; a text that a spreadsheet would take for a formula gets an apostrophe in front."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(heading)
    writer.writerows([_guarded(value) for value in row] for row in rows)
    return stream.getvalue().rstrip("\n")


def _guarded(value: object) -> object:
    if value is None:
        return ""
    return _FORMULA.sub(r"\1\2'", value) if isinstance(value, str) else value


def as_json(document: object) -> str:
    """Write a document as JSON that a person can read too."""
    return json.dumps(document, ensure_ascii=False, indent=2)


def one_line(text: str) -> str:
    """Return a text as one line: line ends and tabs as blanks, other control signs left out.

    A cell, a heading or a sheet's title may hold any of them.
    """
    return " ".join("".join(sign for sign in text if sign.isspace() or not _is_control(sign)).split())


def _is_control(sign: str) -> bool:
    return sign < " " or "\x7f" <= sign < "\xa0"
