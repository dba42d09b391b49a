"""Verifies the workbook as a whole: its sheets, and that nobody needs what was replaced or taken out."""

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.package.relations import relationships_name
from rosterkit.xlsx.verify.claims import Claims
from rosterkit.xlsx.verify.remainder import VerificationError


def verify_sheets(before: Package, after: Package, claims: Claims) -> None:
    """Demand the sheets that the workbook had, and behind them ours, all in their parts.

    Raises:
        VerificationError: it has others.
    """
    seats, found = (
        [(sheet.title, sheet.part, sheet.kind, sheet.state, sheet.is_own) for sheet in package.sheets]
        for package in (before, after)
    )
    seats = [(*seat[:4], seat[4] or seat[1] in claims.ours) for seat in seats]
    known = {sheet.part for sheet in before.sheets}
    seats += [
        (one.title, one.part, "worksheet", "visible", not one.own_sheet.of_members)
        for one in claims.placed
        if one.part not in known
    ]
    numbers = [sheet.sheet_id for sheet in after.sheets]
    if found != seats or any(numbers.count(number) > 1 for number in numbers[len(known) :]):
        raise VerificationError("the workbook does not have the sheets that it should")


def verify_gone(package: Package, claims: Claims) -> None:
    """Demand that what was replaced or taken out was ours alone, or the list of formula cells.

    Raises:
        VerificationError: another part leads there.
    """
    touched = {*claims.charts, *claims.drawings} & claims.written & package.infos.keys()
    gone = claims.removed | touched
    ours = {*claims.ours, *claims.charts, *claims.drawings, *claims.removed}
    lists = {package.find(relationships_name(part)) for part in ours}
    links = package.relationships(package.workbook_part)
    chain = {link.target for link in links if link.kind == "calcChain"}
    leading: dict[str | None, set[str]] = {}
    for part in ("", *package.infos) if gone else ():
        for link in () if part.endswith(".rels") else package.relationships(part):
            leading.setdefault(link.target, set()).add(part)
    for part in gone - lists - chain:
        if not leading.get(part, {""}) <= ours:
            raise VerificationError(f"the part {shown(part)} is not ours alone")
