"""Tables that are plainly about consists though their headings are not quite ours."""

from collections.abc import Sequence

from rosterkit.lists.columns.contents import Contents
from rosterkit.lists.columns.titles import TITLES
from rosterkit.lists.columns.values import address, is_cv_value, means, whole
from rosterkit.lists.heading_text import cvs_of, folded_heading, without_unit
from rosterkit.lists.reading import NOTHING, OWN, ColumnReading, Sure
from rosterkit.lists.tables import Table
from rosterkit.lists.vocabulary import fields_of
from rosterkit.roster.schema import schema_file

CONSISTS = "Consists"
_NEEDED = frozenset({"consist", "loco"})
_TOLD = frozenset({"position", "facing"})
_CVS = frozenset({"cv:19", "cv:20", "cv:21", "cv:22"})
"""What decoders keep of a consist (NMRA S-9.2.2)."""
_NEARLY_ALL = 0.8
_HIGHEST_PLACE = 20


def consist_columns(table: Table, contents: Sequence[Contents]) -> list[ColumnReading]:
    """Return what the headings of a table of consists are read as; [] where it is not plainly one.

    Plainly: a column of consists, one of engines, and one that says the place or the direction of each.
    """
    words = [_meant(one.text) if one.origin not in TITLES else "" for one in table.headings]
    for number, word in enumerate(words):
        if word and (words.count(word) > 1 or not _fits(word, contents[number])):
            words[number] = ""
    if not set(words) >= _NEEDED or not _TOLD & set(words):
        return []
    found = []
    for number, (heading, word) in enumerate(zip(table.headings, words, strict=True)):
        samples = contents[number].samples
        if heading.origin in TITLES:
            found.append(ColumnReading(number, NOTHING, Sure.SURE, "the title of the table", samples))
        elif word:
            why = f"'{heading.text}' stands in a table of consists"
            found.append(ColumnReading(number, word, Sure.SURE, why, samples))
        else:
            why = f"'{heading.text}' is no heading that is known of consists"
            found.append(ColumnReading(number, OWN, Sure.SURE, why, samples))
    return found


def _meant(text: str) -> str:
    """Return the column of Consists, or the CV of it, that a heading stands for; blank if none."""
    if cvs_of(text) and cvs_of(text)[0] in _CVS:
        return cvs_of(text)[0]
    folded = folded_heading(without_unit(text)[0])
    known = schema_file("lists/headings.json")["consists"]
    for name, spellings in known.items():
        if folded in {folded_heading(word) for word in spellings}:
            return str(name)
    fields = fields_of(text)
    if set(fields) & {"loco", "engine"}:
        return "loco"
    return "address" if fields[:1] == ("address",) else ""


def _fits(word: str, contents: Contents) -> bool:
    if word == "position":
        return contents.share(lambda text: 1 <= (whole(text) or 0) <= _HIGHEST_PLACE) >= _NEARLY_ALL
    if word == "facing":
        return contents.share(means("forward", "reverse")) >= _NEARLY_ALL
    if word == "address":
        return contents.share(lambda text: address(text) is not None) >= _NEARLY_ALL
    if word in _CVS:
        return contents.share(is_cv_value) >= _NEARLY_ALL
    return bool(contents.texts)
