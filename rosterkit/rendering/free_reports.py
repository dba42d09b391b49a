"""Free addresses as text and JSON."""

from collections.abc import Callable, Mapping, Sequence

from rosterkit.planning import FreeAddress
from rosterkit.rendering.tables import as_json


def free_text(found: Sequence[FreeAddress]) -> str:
    """Give one line an address, the best first, each with its reason."""
    if not found:
        return "no address is free"
    return "\n".join(f"{one.kind:<8} {one.number:>5}  {one.because}" for one in found)


def free_json(found: Sequence[FreeAddress]) -> str:
    """Give one object with the addresses (schema/outputs/free.json)."""
    return as_json(
        {"addresses": [{"kind": one.kind, "address": one.number, "because": one.because} for one in found]}
    )


FREE_FORMATS: Mapping[str, Callable[[Sequence[FreeAddress]], str]] = {"text": free_text, "json": free_json}
