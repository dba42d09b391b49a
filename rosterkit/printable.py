"""Texts that come from elsewhere, such as a cell, a file's name or an argument, made safe to print."""

import re

# Controls (C0, C1) move the cursor, change its colours or end a line, as U+2028 and U+2029 do; the
# bidirectional ones show signs in another order than they stand in.
ACTING_BEYOND_C0 = "\x7f-\x9f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069"
"""Those of these signs that are not in C0, for a class of a regular expression."""

_ACTING = re.compile(f"[\x00-\x1f{ACTING_BEYOND_C0}]")


def printable(text: str) -> str:
    r"""Return a text for one line: signs that would act rather than show are escapes, such as ``\n``."""
    return _ACTING.sub(_escape, text)


def _escape(match: re.Match[str]) -> str:
    return match[0].encode("unicode_escape").decode("ascii")
