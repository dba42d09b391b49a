"""What the text of one cell looks like: a number, a CV, a label, a sentence."""

import re
from datetime import date, time, timedelta
from functools import lru_cache

from rosterkit.lists.plain import PlainCell
from rosterkit.lists.vocabulary import is_heading_word

_NUMBER = re.compile(r"[-+]?\d[\d., ]*%?")
_CV = re.compile(r"cvs?\s*[-#.:(]?\s*(\d{1,4})\b(?!\s*[=:]\s*\d).*", re.IGNORECASE)
_CV_WORD = re.compile(r"cv(?:s|\s*[-#.]?\s*(?:no|nr|number|nummer|num)?\.?)?\s*[:#]?", re.IGNORECASE)
_CV_WORDS = re.compile(r"\bcvs?\b", re.IGNORECASE)
_INLINE = re.compile(r"([^\W\d][^:=]{0,29}?)\s*[:=]\s*(\S.*)")
_DOTS = re.compile(r"\s*(?:(?:[.…_]\s?){2,}|…)?\s*:?\s*$")
"""What leads from a label to its value: a colon, or a row of dots."""
LONGEST_HEADING = 40
"""Longer texts over a column are remarks, not headings; more than the longest heading of our own sheets."""
_WORDS_OF_A_SENTENCE = 7
_HIGHEST_CV = 1024


def is_number(cell: PlainCell) -> bool:
    """Whether a cell holds a number, also one typed as text such as 007 or 182,5."""
    if isinstance(cell.value, int | float) and not isinstance(cell.value, bool):
        return True
    return _NUMBER.fullmatch(cell.text) is not None


def is_day_or_time(cell: PlainCell) -> bool:
    """Whether a cell holds a date, a time or a duration by the file."""
    return isinstance(cell.value, date | time | timedelta)


@lru_cache(maxsize=65536)
def shape(text: str) -> str:
    """Return a text with each run of digits as 9 and each run of letters as a: 'NE 5201' is 'a 9'."""
    return re.sub(r"[^\W\d_]+", "a", re.sub(r"\d+", "9", text))


def normal(text: str) -> str:
    """Return a text for comparing headings: case folded, without the marks and blanks around it."""
    return " ".join(text.casefold().split()).rstrip(" .:")


def cv_number(text: str) -> int | None:
    """Return the CV (1 to 1024) that a label such as CV29, 'CV 2' or 'cv#5 (top)' begins with, or None."""
    found = _CV.fullmatch(text.strip())
    number = int(found[1]) if found else 0
    return number if 1 <= number <= _HIGHEST_CV else None


def is_cv_word(text: str) -> bool:
    """Whether a text is the heading of CV numbers: CV, CVs, 'CV no.'."""
    return _CV_WORD.fullmatch(text.strip()) is not None


def speaks_of_cvs(text: str) -> bool:
    """Whether CV is one of the words of a text."""
    return _CV_WORDS.search(text) is not None


def plain_cv(cell: PlainCell) -> int | None:
    """Return the CV number (1 to 1024) that a cell is, such as 29 under the heading CV, or None."""
    text = cell.text.removesuffix(".0")
    return int(text) if text.isdecimal() and 1 <= int(text[:6]) <= _HIGHEST_CV else None


@lru_cache(maxsize=65536)
def is_word(text: str) -> bool:
    """Whether a text is known as a heading: by the vocabulary, or as a CV."""
    bare = label_text(text)
    return (
        len(text) <= LONGEST_HEADING
        and not bare.isdecimal()
        and (cv_number(text) is not None or is_cv_word(text) or is_heading_word(bare))
    )


def is_label(text: str) -> bool:
    """Whether a text names what stands beside it: it ends with a colon, or is a heading."""
    return len(text) <= LONGEST_HEADING and (
        (text.endswith(":") and any(map(str.isalpha, text))) or is_word(text)
    )


def inline_label(text: str) -> tuple[str, str] | None:
    """Return label and value of 'Owner: M01' or 'CV2=5', None if the text is no such pair."""
    found = _INLINE.fullmatch(text)
    if found is None or not is_word(found[1]) or (cv_number(found[1]) and not found[2].isdecimal()):
        return None
    return found[1].strip(), found[2].strip()


def label_text(text: str) -> str:
    """Return a label without the colon or the dots that lead to its value."""
    return _DOTS.sub("", text.strip())


def is_sentence(text: str) -> bool:
    """Whether a text says more than a name does."""
    return len(text) > LONGEST_HEADING or len(text.split()) >= _WORDS_OF_A_SENTENCE
