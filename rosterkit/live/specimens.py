"""Sentences of the tool's own code as formulas: what it says of a specimen, whose numbers give way."""

from collections.abc import Mapping

from rosterkit.live.writing import text


def worded(message: str, specimens: Mapping[str, str]) -> str:
    """Return a sentence as a formula in which references stand for the numbers of the specimen.

    Args:
        message: What the tool says of the specimen.
        specimens: Parts of it, such as ``CV1 = 201``, each with the reference to the number at its end.

    Raises:
        ValueError: if one of the parts does not stand in the sentence.
    """
    pieces: list[tuple[bool, str]] = [(False, message)]
    for part, reference in specimens.items():
        kept = part.rstrip("0123456789")
        if sum(piece.count(part) for is_formula, piece in pieces if not is_formula) < 1:
            raise ValueError(f"{part!r} does not stand in {message!r}")
        cut: list[tuple[bool, str]] = []
        for is_formula, piece in pieces:
            if is_formula:
                cut.append((True, piece))
                continue
            first, *others = piece.split(part)
            cut.append((False, first))
            for other in others:
                cut += [(False, kept), (True, reference), (False, other)]
        pieces = cut
    return _joined(pieces)


def _joined(pieces: list[tuple[bool, str]]) -> str:
    merged: list[tuple[bool, str]] = []
    for is_formula, piece in pieces:
        if merged and not is_formula and not merged[-1][0]:
            merged[-1] = (False, merged[-1][1] + piece)
        elif piece:
            merged.append((is_formula, piece))
    return "&".join(piece if is_formula else text(piece) for is_formula, piece in merged if piece)
