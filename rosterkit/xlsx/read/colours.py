"""What colours come to: as the format writes them, by number, of the theme, or none at all."""

import colorsys
from collections.abc import Sequence

from lxml import etree

from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.xml.nodes import parsed

_EIGHT = ("000000", "FFFFFF", "FF0000", "00FF00", "0000FF", "FFFF00", "FF00FF", "00FFFF")
INDEXED = (
    *_EIGHT, *_EIGHT,
    "800000", "008000", "000080", "808000", "800080", "008080", "C0C0C0", "808080",
    "9999FF", "993366", "FFFFCC", "CCFFFF", "660066", "FF8080", "0066CC", "CCCCFF",
    "000080", "FF00FF", "FFFF00", "00FFFF", "800080", "800000", "008080", "0000FF",
    "00CCFF", "CCFFFF", "CCFFCC", "FFFF99", "99CCFF", "FF99CC", "CC99FF", "FFCC99",
    "3366FF", "33CCCC", "99CC00", "FFCC00", "FF9900", "FF6600", "666699", "969696",
    "003366", "339966", "003300", "333300", "993300", "993366", "333399", "333333",
)  # fmt: skip
"""The usual palette (ISO/IEC 29500-1, 18.8.27); what comes behind it is the system's own."""
_OF_THEME = ("lt1", "dk1", "lt2", "dk2", *(f"accent{number}" for number in range(1, 7)), "hlink", "folHlink")
"""The order in which cells number the colours of the theme."""


def theme_colours(package: Package) -> tuple[str, ...]:
    """Return the colours of a workbook's theme in six hexadecimal digits each; none without a theme.

    Raises:
        CannotRunError: the part is damaged.
    """
    links = package.relationships(package.workbook_part)
    part = next((link.target for link in links if link.kind == "theme" and link.target), None)
    if part is None:
        return ()
    found: dict[str, str] = {}
    for scheme in parsed(package.xml(part)).iter("{*}clrScheme"):
        for one in scheme.iterchildren(etree.Element):
            stated = next(one.iterchildren(etree.Element), None)
            if stated is not None:
                found[etree.QName(one).localname] = (stated.get("lastClr") or stated.get("val") or "").upper()
    return tuple(found.get(name, "") for name in _OF_THEME)


def colour(stated: etree._Element | None, theme: Sequence[str], palette: Sequence[str] = ()) -> str | None:
    """Return a colour in six hexadecimal digits; None for the usual one, or where it cannot be told.

    Args:
        stated: The element that states it, None where none does.
        theme: The colours of the theme.
        palette: Those that the workbook has in place of the usual ones, by number.
    """
    if stated is None or stated.get("auto") in {"1", "true"}:
        return None
    number, indexed = whole(stated.get("theme")), whole(stated.get("indexed"))
    plain: str | None = (stated.get("rgb") or "")[-6:].upper()
    if number is not None and number < len(theme):
        plain = theme[number]
    elif indexed is not None:
        colours = palette or INDEXED
        plain = colours[indexed] if indexed < len(colours) else None
    if not plain or len(plain) != len("RRGGBB"):
        return None
    return _tinted(plain, stated.get("tint"))


def _tinted(plain: str, tint: str | None) -> str | None:
    """Return a colour made lighter (to 1) or darker (to -1), as the format says (18.8.19)."""
    try:
        by = float(tint or "0")
        red, green, blue = (int(plain[at : at + 2], 16) / 255 for at in (0, 2, 4))
    except ValueError:
        return None
    if not by:
        return plain
    hue, light, saturation = colorsys.rgb_to_hls(red, green, blue)
    light = light * (1 + by) if by < 0 else light * (1 - by) + by
    return "".join(f"{round(255 * one):02X}" for one in colorsys.hls_to_rgb(hue, min(1, light), saturation))
