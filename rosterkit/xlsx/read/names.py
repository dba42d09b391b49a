"""Reads the defined names that hold a text: constants of the workbook, not of a sheet."""

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.opening import Package, explained
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import outline


def named_text(package: Package, name: str) -> str | None:
    """Return the text that a name of the whole workbook stands for.

    None if there is no such name, or it stands for something else than a text.

    Raises:
        CannotRunError: the workbook part is damaged.
    """
    with explained(package.name, f"part {shown(package.workbook_part)}"):
        data = package.xml(package.workbook_part)
        if name.casefold().encode() not in data.lower():
            return None
        root = outline(data, depth=2)
    for names in root.named("definedNames"):
        for one in names.named("definedName"):
            stated = one.attributes
            if stated.get("name", "").casefold() == name.casefold() and "localSheetId" not in stated:
                return _text(tags.plain(data[one.inside : one.outside].decode()))
    return None


def _text(formula: str) -> str | None:
    """Return what stands in the quotes of a formula that is a text and nothing else."""
    constant = formula.strip().removeprefix("=").strip()
    inside = constant[1:-1]
    quoted = len(constant) > 1 and constant.startswith('"') and constant.endswith('"')
    return inside.replace('""', '"') if quoted and '"' not in inside.replace('""', "") else None
