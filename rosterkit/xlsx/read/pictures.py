"""Pictures placed in cells: to a reader that does not know of them, such a cell holds the error #VALUE!.

The cell's value metadata leads, over four lists in three parts, to a structure whose type says what it is
(MS-XLSX 2.3.6; the names of the two picture types are as spreadsheet programs write them).
"""

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import local, walked
from rosterkit.xlsx.package.opening import Package, explained

_PICTURES = {"_localImage", "_webImage"}


def picture_values(package: Package) -> frozenset[str]:
    """Return the numbers of the value metadata that stand for a picture.

    Raises:
        CannotRunError: one of the parts concerned is damaged.
    """
    parts = {link.kind: link.target for link in package.relationships(package.workbook_part) if link.target}
    metadata, values, structures = (parts.get(kind) for kind in _KINDS)
    if metadata is None or values is None or structures is None:
        return frozenset()
    kinds = _attributes(package, structures, "s", "t")
    rich = [
        kinds[index] if index < len(kinds) else ""
        for index in _numbers(_attributes(package, values, "rv", "s"))
    ]
    cells = _metadata(package, metadata)
    return frozenset(
        str(number) for number, value in enumerate(cells, 1) if value < len(rich) and rich[value] in _PICTURES
    )


_KINDS = ("sheetMetadata", "rdRichValue", "rdRichValueStructure")


def _attributes(package: Package, part: str, element: str, attribute: str) -> list[str]:
    found: list[str] = []

    def started(name: str, attributes: dict[str, str]) -> None:
        if local(name) == element:
            found.append(attributes.get(attribute, ""))

    with explained(package.name, f"part {shown(part)}"):
        walked(package.xml(part), started)
    return found


def _metadata(package: Package, part: str) -> list[int]:
    """Return the rich value that each entry of the value metadata leads to."""
    types: list[str] = []
    rich: list[str] = []
    entries: list[tuple[str, str]] = []
    within = ""

    def started(name: str, attributes: dict[str, str]) -> None:
        nonlocal within
        kind = local(name)
        if kind in {"futureMetadata", "cellMetadata", "valueMetadata"}:
            within = kind
        elif kind == "metadataType":
            types.append(attributes.get("name", ""))
        elif kind == "rvb":
            rich.append(attributes.get("i", ""))
        elif kind == "rc" and within == "valueMetadata":
            entries.append((attributes.get("t", ""), attributes.get("v", "")))

    with explained(package.name, f"part {shown(part)}"):
        walked(package.xml(part), started)
    of_rich_type = [str(number) for number, name in enumerate(types, 1) if name == "XLRICHVALUE"]
    indices = _numbers(rich)
    led = [
        index if kind in of_rich_type else _NOWHERE for kind, index in zip(*_columns(entries), strict=True)
    ]
    return [indices[index] if index < len(indices) else _NOWHERE for index in led]


_NOWHERE = 1 << 40


def _columns(entries: list[tuple[str, str]]) -> tuple[list[str], list[int]]:
    return [kind for kind, _ in entries], _numbers([value for _, value in entries])


def _numbers(texts: list[str]) -> list[int]:
    return [int(text) if text.isascii() and text.isdigit() and len(text) < 10 else _NOWHERE for text in texts]
