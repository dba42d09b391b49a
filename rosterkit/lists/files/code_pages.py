"""Guesses the code page of a text that is not in Unicode by the letters that come out of its bytes.

A page fits if the letters that it gives all belong to one language, stand as letters do in words, and if no
signs stand within words. Of pages that fit alike the first is taken: most lists are in it.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

_WESTERN = (
    "äöüß",
    "éèêëàâçîïôûùüœæÿ",
    "æøå",
    "äöåé",
    "áéíóúñü",
    "ãáâàçéêíóôõú",
    "àèéìíîòóùú",
    "ëéèïöüáó",
    "äöüõšž",
    "ðþæáéíóúýö",
)
_CENTRAL = ("ěščřžýáíéúůťďňó", "áäčďéíĺľňóôŕšťúýž", "ąćęłńóśźż", "áéíóöőúüű", "čšžćđ", "ăâîșțşţ", "äöüß")
_TURKISH = ("çğıöşüâîû",)
_RUSSIAN = ("абвгдеёжзийклмнопрстуфхцчшщъыьэюяіїєґў",)

_PAGES: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("cp1252", "windows-1252", _WESTERN),
    ("cp1250", "windows-1250", _CENTRAL),
    ("cp850", "IBM850", _WESTERN),
    ("cp852", "IBM852", _CENTRAL),
    ("mac_roman", "macintosh", _WESTERN),
    ("cp1251", "windows-1251", _RUSSIAN),
    ("cp1254", "windows-1254", _TURKISH),
)
"""Codec, the name that it is registered by (IANA, character sets), and the letters beyond ASCII of each
language that is written with it.
"""

_AROUND_WORDS = set("°€–—…„“”‚‘’«»‹›½¼¾§±²³µ×·©®™†•\xa0´¹º¿¡")
"""Signs that people type, mostly beside words or behind numbers."""
_RAISED = set("²³¹")
"""Figures that stand behind a letter or another figure, as in m³."""
_HIGH = re.compile(rb"[\x80-\xff]")
_WORD = re.compile(rb"[A-Za-z\x80-\xff]*[\x80-\xff][A-Za-z\x80-\xff]*")
_LONGEST_SAMPLE = 24


class Guess(NamedTuple):
    """A text by the code page that fits best."""

    text: str
    page: str
    """The name that it is registered by."""
    samples: tuple[str, ...]
    """Words by which a person sees whether it is right."""


def guessed(raw: bytes) -> Guess:
    """Return a text that is not in UTF-8 by the code page that fits best; no byte of it is lost."""
    windows = Counter(_windows(raw))
    codec, page, _ = max(_PAGES, key=lambda one: _fit(one[0], one[2], windows))
    words = dict.fromkeys(match[0] for match in _WORD.finditer(raw) if len(match[0]) <= _LONGEST_SAMPLE)
    samples = tuple(_text(word, codec) for word, _ in zip(words, range(8), strict=False))
    return Guess(_text(raw, codec), page, samples)


def _windows(raw: bytes) -> Iterator[bytes]:
    """Return each byte beyond ASCII between its neighbours, line ends at the ends of the file."""
    padded = b"\n" + raw + b"\n"
    for match in _HIGH.finditer(padded):
        yield padded[match.start() - 1 : match.end() + 1]


def _text(raw: bytes, codec: str) -> str:
    return raw.decode("latin-1").translate(_table(codec))


@lru_cache(maxsize=16)
def _table(codec: str) -> Mapping[int, str]:
    """Return what the bytes beyond ASCII stand for; one that stands for nothing is its own control sign."""
    return {byte: _sign(byte, codec) for byte in range(0x80, 0x100)}


def _sign(byte: int, codec: str) -> str:
    try:
        return bytes([byte]).decode(codec)
    except UnicodeDecodeError:
        return chr(byte)


def _fit(codec: str, languages: tuple[str, ...], windows: Mapping[bytes, int]) -> float:
    """Return how well a page fits: 1 where every sign is one of a language's letters, and in its place."""
    shown = {window: _text(window, codec) for window in windows}
    total = sum(windows.values()) or 1
    return max(
        sum(count * _fits(shown[window], letters) for window, count in windows.items()) / total
        for letters in languages
    )


def _fits(window: str, letters: str) -> float:
    """Return how well a sign stands between two others: 1 as in words of the language, -2 as in none."""
    before, sign, behind = window[0], window[1], window[2]
    # A letter alone, such as one in place of the euro before a price, says less than one in a word.
    alone = not (before.isalpha() or behind.isalpha())
    if sign.lower() in letters:
        foreign = sign > "\u0370" and any(near.isascii() and near.isalpha() for near in (before, behind))
        shortened = sign.islower() and behind == "."
        return (
            -1 if foreign or (sign.isupper() and before.islower()) else 0.5 if alone and not shortened else 1
        )
    if sign.isalpha():
        return -0.5 if not (sign.isupper() and before.islower()) else -1.5
    if sign in _AROUND_WORDS:
        within = before.isalpha() and behind.isalpha() and sign not in "’´‘–—\xa0·"
        raised = sign in _RAISED and not before.isalnum()
        return -1 if within or raised else 1 if alone else 0.5
    return -2
