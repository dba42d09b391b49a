"""Text on one line, CSV and JSON, as people and machines read them."""

import csv
import io
import json
import re
from collections.abc import Iterable, Sequence

from rosterkit.printable import ACTING_BEYOND_C0, printable

# Line ends and indents of the document itself are left; JSON has escaped the rest of C0 already.
_ACTING = re.compile(f"[{ACTING_BEYOND_C0}]")
# Also behind a semicolon, at which some programs begin a new cell, and by full-width signs, which some take
# for the plain ones.
_FORMULA = re.compile(r"(^|;)(\s*)(?=[=+@\-\t\r\uff1d\uff0b\uff20\uff0d])")


def as_csv(heading: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Write rows as CSV, each on one line; what a spreadsheet would take for a formula gets an apostrophe."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(heading)
    writer.writerows([_guarded(value) for value in row] for row in rows)
    return stream.getvalue().rstrip("\n")


def _guarded(value: object) -> object:
    if value is None:
        return ""
    return printable(_FORMULA.sub(r"\1\2'", value)) if isinstance(value, str) else value


def as_json(document: object) -> str:
    """Write a document as JSON that a person can read too; what would act on a terminal is an escape."""
    text = json.dumps(document, ensure_ascii=False, indent=2)
    return _ACTING.sub(lambda match: f"\\u{ord(match[0]):04x}", text)


def as_lines(lines: Iterable[str]) -> str:
    """Join lines of output, in each of which what came from elsewhere stays on its line."""
    return "\n".join(map(printable, lines))


def number_of(count: int, word: str) -> str:
    """Return a count with its word, in the plural unless it is 1."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
