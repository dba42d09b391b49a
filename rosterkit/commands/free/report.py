"""Free addresses as text and JSON."""

from collections.abc import Callable, Mapping, Sequence

from rosterkit.findings import Place
from rosterkit.formats import as_json, as_lines
from rosterkit.planning.addresses import FreeAddress
from rosterkit.printable import printable


def free_text(found: Sequence[FreeAddress]) -> str:
    """Return one line per address, the best first, each with its reason."""
    if not found:
        return "no address is free"
    return as_lines(f"{one.kind:<8} {one.number:>5}  {one.because}" for one in found)


def free_json(found: Sequence[FreeAddress]) -> str:
    """Return one object with the addresses (schema/outputs/free.json)."""
    return as_json(
        {"addresses": [{"kind": one.kind, "address": one.number, "because": one.because} for one in found]}
    )


def doubts(unusable: Sequence[Place]) -> str:
    """Say that cells with an address cannot be understood, so that what is in them may be called free."""
    several = len(unusable) > 1
    more = f" and {len(unusable) - 3} more" if len(unusable) > 3 else ""
    where = printable(", ".join(map(str, unusable[:3]))) + more
    subject = f"{len(unusable)} cells with an address" if several else "a cell with an address"
    return (
        f"rosterkit: {subject} cannot be understood ({where}), and what {'they' if several else 'it'} "
        f"mean{'' if several else 's'} may be called free. Run 'rosterkit check' first."
    )


FREE_FORMATS: Mapping[str, Callable[[Sequence[FreeAddress]], str]] = {"text": free_text, "json": free_json}
