"""Says where the rows of two sheets begin to differ, and whether two rows bear tags that say the same."""

import re
from functools import lru_cache
from operator import lt

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.xml import tags


def difference(old: bytes, new: bytes, prefix: bytes) -> VerificationError:
    """Say which is the first row that is not the same."""
    tag = re.compile(rb'<%brow r="([0-9]+)"' % re.escape(prefix))
    pieces = [tag.split(data) for data in (old, new)]
    before, after = (dict(zip(map(int, rows[1::2]), rows[2::2], strict=True)) for rows in pieces)
    numbers = [int(number) for number in pieces[1][1::2]]
    if not all(map(lt, numbers, [*numbers[1:], limits.LAST_ROW + 1])):
        return VerificationError("the rows are not in order")
    for number in sorted(before.keys() | after.keys()):
        if number not in after:
            return VerificationError(f"a row is missing, row {number}")
        if before.get(number) != after[number]:
            new_or_not = "" if number in before else f"row {number} is new, or "
            return VerificationError(f"{new_or_not}other cells of row {number} changed")
    return VerificationError("something before a row changed")


@lru_cache(maxsize=256)
def same_tag(old: bytes, new: bytes, first: int, last: int, *, own: bool) -> bool:
    """Tell whether the tags of a row say the same but for spans that were widened for claimed cells."""
    free = ("spans", "ht", "customHeight") if own else ("spans",)
    spans, wide = (tags.attributes(tag).get("spans", "") for tag in (old, new))
    if tags.without_attributes(old, *free) != tags.without_attributes(new, *free):
        return False
    if spans == wide or not (spans and wide):
        return spans == wide
    known, now = (tuple(map(int, one.replace(" ", ":").split(":"))) for one in (spans, wide))
    reach = min(first, known[0]), max(last, known[-1])
    return len(now) == 2 and reach[0] <= now[0] <= known[0] and known[-1] <= now[1] <= reach[1]
