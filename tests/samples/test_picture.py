"""The picture that the README shows."""

import struct
from pathlib import Path

import pytest

from tests.samples.picture import PICTURE, main

_BEGINS = b"\x89PNG\r\n\x1a\n"


def _size(picture: Path) -> tuple[int, int]:
    """Return width and height in dots, which stand at the beginning of a PNG file (ISO/IEC 15948, 11.2.2)."""
    content = picture.read_bytes()
    assert content.startswith(_BEGINS)
    width, height = struct.unpack(">II", content[16:24])
    return width, height


def test_the_picture_is_small() -> None:
    assert PICTURE.stat().st_size < 60_000
    assert _size(PICTURE)[0] < 1_200


@pytest.mark.slow
@pytest.mark.external
def test_it_is_taken_again_in_the_same_size(tmp_path: Path) -> None:
    main(tmp_path / "again.png")

    again, now = _size(tmp_path / "again.png"), _size(PICTURE)
    # Fonts differ a little from one machine to another.
    assert [abs(a - b) <= b / 20 for a, b in zip(again, now, strict=True)] == [True, True]
