"""Pictures placed in cells: to a reader that does not know of them, such a cell holds the error #VALUE!.

The cell's value metadata leads, over four lists in three parts, to a structure whose type says what it is
(MS-XLSX 2.3.6; the names of the two picture types are as spreadsheet programs write them).
"""

from collections.abc import Iterator

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import Found, elements, whole
from rosterkit.xlsx.package.opening import Package, explained

_PICTURES = {"_localImage", "_webImage"}


def picture_values(package: Package) -> frozenset[str]:
    """Return the numbers of the value metadata that stand for a picture.

    CannotRunError if one of the parts concerned is damaged.
    """
    parts = {link.kind: link.target for link in package.relationships(package.workbook_part) if link.target}
    try:
        metadata, values, structures = (
            parts[kind] for kind in ("sheetMetadata", "rdRichValue", "rdRichValueStructure")
        )
    except KeyError:
        return frozenset()
    kinds = [one.attributes.get("t", "") for one in _elements(package, structures) if one.kind == "s"]
    structure = [one.attributes.get("s", "") for one in _elements(package, values) if one.kind == "rv"]
    rich = _rich_values(package, metadata)
    return frozenset(
        str(number) for number, value in enumerate(rich, 1) if _at(kinds, _at(structure, value)) in _PICTURES
    )


def _elements(package: Package, part: str) -> Iterator[Found]:
    with explained(package.name, f"part {shown(part)}"):
        yield from elements(package.xml(part))


def _rich_values(package: Package, part: str) -> list[str]:
    """Return the index of the rich value that each entry of the value metadata leads to, "" for none."""
    types: list[str] = []
    rich: list[str] = []
    entries: list[tuple[str, str]] = []
    section = ""
    for _, kind, _, stated in _elements(package, part):
        if kind in {"futureMetadata", "cellMetadata", "valueMetadata"}:
            section = kind
        elif kind == "metadataType":
            types.append(stated.get("name", ""))
        elif kind == "rvb":
            rich.append(stated.get("i", ""))
        elif kind == "rc" and section == "valueMetadata":
            entries.append((stated.get("t", ""), stated.get("v", "")))
    of_rich_type = {str(number) for number, name in enumerate(types, 1) if name == "XLRICHVALUE"}
    return [_at(rich, value) if kind in of_rich_type else "" for kind, value in entries]


def _at(texts: list[str], index: str) -> str:
    """Return the text at an index as it is written, "" if there is none."""
    place = whole(index)
    return texts[place] if place is not None and place < len(texts) else ""
