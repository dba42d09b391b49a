"""Columns that no heading explains, but their contents do: only where those leave no doubt."""

import re
from collections.abc import Iterator, Mapping
from itertools import pairwise

from rosterkit.lists.columns.context import Context
from rosterkit.lists.columns.values import digits_in, has_letters, is_label, whole
from rosterkit.lists.tables import Origin
from rosterkit.lists.vocabulary import fields_of, subjects_of

Found = tuple[int, str, str]
"""The number of a heading, what it is read as, and why."""

_CV_TYPED = re.compile(r"cv\s?\d{1,4}\s?[=:]\s?\d", re.IGNORECASE)
_ALL = 0.8
_DIFFERENT = 0.9
_FEWEST = 3
_HIGH_BYTES = range(192, 232)
"""What CV17 may hold (NMRA S-9.2.2, Jul 2012, CV17/18)."""


def found_by_contents(context: Context, read: Mapping[int, str]) -> Iterator[Found]:
    """Yield headings that nobody knows with what they are read as; ``read`` has those that are known."""
    fields = set(read.values())
    yield from _typed_cvs(context, read)
    unknown = [
        number
        for number, some in enumerate(context.candidates)
        if number not in read and not some and not _is_own(context, number)
    ]
    of_others = any(subjects_of(heading.text) for heading in context.table.headings)
    if not of_others and not fields & {"loco", "engine", "number"}:
        found = next(_labels(context, unknown, read), None) or _described(context, read)
        if found:
            yield found
    if not fields & {"address", "cv:17", "cv:18", "cv:17/18"}:
        yield from _halves(context, unknown)


def _is_own(context: Context, number: int) -> bool:
    """Whether the vocabulary says that a heading is the member's own, or it is a title."""
    heading = context.table.headings[number]
    return heading.origin not in {Origin.COLUMN, Origin.ROW, Origin.LABEL} or bool(fields_of(heading.text))


def _typed_cvs(context: Context, read: Mapping[int, str]) -> Iterator[Found]:
    """Yield columns without a heading that hold CVs as people type them into notes, such as CV4=8."""
    for number, heading in enumerate(context.table.headings):
        contents = context.contents[number]
        if number not in read and not heading.text and contents.texts and contents.share(_is_cv) == 1.0:
            yield number, "notes", "it has no heading, and each cell holds CVs and their values"


def _is_cv(text: str) -> bool:
    return bool(_CV_TYPED.match(text.strip()))


def _labels(context: Context, unknown: list[int], read: Mapping[int, str]) -> Iterator[Found]:
    """Yield the first column of texts such as NE 5201 whose digits another has, or that leads them."""
    addresses = [number for number, field in read.items() if field in {"address", "cv:17/18"}]
    for number in unknown:
        contents = context.contents[number]
        if addresses and _leads(context, number, addresses):
            yield (
                number,
                "engine",
                "each cell with a number is letters and the number that another column has",
            )
            return
        if contents.labels < _ALL or contents.different < _DIFFERENT or contents.filled < _ALL:
            continue
        if context.agreement(number, addresses) >= _ALL:
            yield number, "engine", "each cell is letters and the number that another column has"
            return
        if number == 0 and (addresses or any(field.startswith("cv:") for field in read.values())):
            yield number, "engine", "the first column has letters and a number, another in each row"
            return


def _leads(context: Context, number: int, addresses: list[int]) -> bool:
    """Whether each number in a column follows letters and is the address; words alone may stand too."""
    texts = context.contents[number].texts
    named = [text for text in texts if digits_in(text)]
    labels = [text for text in named if is_label(text)]
    return (
        len(labels) >= _FEWEST
        and len(labels) >= _ALL * len(named)
        and len(set(labels)) >= _DIFFERENT * len(labels)
        and all(has_letters(text) for text in texts)
        and context.agreement(number, addresses) >= _ALL
    )


def _described(context: Context, read: Mapping[int, str]) -> Found | None:
    """Return the column of models or descriptions that has another for each engine: their label then."""
    for number, field in read.items():
        contents = context.contents[number]
        named = any(one.field in {"loco", "engine"} for one in context.candidates[number])
        if field == "model" and named and contents.different > _DIFFERENT and contents.filled > _DIFFERENT:
            word = "engine" if context.has_labels(number) else "loco"
            return number, word, "no other column names the engines, and here each has something else"
    return None


def _halves(context: Context, unknown: list[int]) -> Iterator[Found]:
    """Yield two columns beside each other that hold CV17 and CV18 of the engines' own numbers."""
    named = context.may_be(("loco", "engine", "number"), -1)
    for high, low in pairwise(unknown):
        if low != high + 1 or not named:
            continue
        both = context.contents[high].by_record.keys() & context.contents[low].by_record.keys()
        right = 0
        for record in both:
            upper = whole(context.contents[high].by_record[record].text)
            lower = whole(context.contents[low].by_record[record].text)
            if upper is None or upper not in _HIGH_BYTES or lower is None or lower > 255:
                right = -1
                break
            digits = f"{(upper - 192) * 256 + lower}"
            right += any(
                digits in (context.contents[one].by_record[record].text)
                for one in named
                if record in context.contents[one].by_record
            )
        if both and right >= _ALL * len(both):
            why = "the two columns hold CV17 and CV18 of the engines' own numbers"
            yield high, "cv:17", why
            yield low, "cv:18", why
            return
