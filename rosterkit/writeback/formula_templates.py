"""The formulas of computed columns by sheet and column, each as a template for every row."""

from collections.abc import Mapping

from rosterkit.live.accessories import accessory_formulas
from rosterkit.live.consists import consist_formulas
from rosterkit.live.engines import engine_formulas
from rosterkit.live.machinery import Machinery
from rosterkit.live.places import Places


def formula_templates(
    places: Places, machinery: Machinery, *, counted: bool
) -> Mapping[str, Mapping[str, str]]:
    """Return the formulas by our own title and column; empty for sheets that have none.

    Args:
        places: Where the sheets stand.
        machinery: The blocks of the sheet Live.
        counted: Alert counts on how many engines an address is.
    """
    found: dict[str, Mapping[str, str]] = {title: {} for title in places}
    if "Locomotives" in places:
        found["Locomotives"] = engine_formulas(places, machinery, counted=counted)
    if "Consists" in places:
        found["Consists"] = consist_formulas(places, machinery)
    if "Accessories" in places:
        found["Accessories"] = accessory_formulas(places, machinery)
    return found
