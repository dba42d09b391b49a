"""A list read, laid out, recognised and settled, as the command adopt does it before it writes."""

from pathlib import Path

from rosterkit.lists.adopted import Adopted
from rosterkit.lists.reading import Corrections


def adopted_from(path: Path) -> Adopted:
    """Return what a list comes to where nobody has said anything about it; CannotRunError if it cannot."""
    # Inside, so that the scorer itself can be read, checked and tested before there is anything to score.
    from rosterkit.lists.columns.recognise import recognised  # noqa: PLC0415
    from rosterkit.lists.files.opening import read_list  # noqa: PLC0415
    from rosterkit.lists.layout.tables_of import laid_out  # noqa: PLC0415
    from rosterkit.lists.settle.settle import settled  # noqa: PLC0415

    nothing_said = Corrections({}, {})
    plain = read_list(path)
    layout = laid_out(plain, nothing_said)
    return settled(layout, recognised(layout, nothing_said), plain)
