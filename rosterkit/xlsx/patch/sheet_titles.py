"""Titles for sheets of our own: such as a sheet may have, and never one that a member's sheet has."""

from collections.abc import Collection

from rosterkit.xlsx.titles import legal_title


def own_title(wanted: str, *, own: Collection[str], others: Collection[str]) -> str:
    """Return the title under which a page is put into a workbook.

    An own sheet that bears it already is preferred; else it is the first one that is free.

    Args:
        wanted: The page's title.
        own: Titles of the sheets of our own.
        others: Titles of all other sheets.
    """
    ours = {title.casefold(): title for title in own}
    theirs = {title.casefold() for title in others}
    endings = ["", " (rosterkit)", *(f" (rosterkit {number})" for number in range(2, len(theirs) + 3))]
    candidates = [legal_title(wanted, ending) for ending in endings]
    standing = next((title for title in candidates if title.casefold() in ours), None)
    if standing is not None:
        return ours[standing.casefold()]
    return next(title for title in candidates if title.casefold() not in theirs)
