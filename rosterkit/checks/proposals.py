"""What a fix proposes in place of an address: one that nothing uses and that engine may have."""

from typing import TYPE_CHECKING

from rosterkit.checks.framework import Scope, ScopedEngine
from rosterkit.cv.addresses import Address, Space, layout_key
from rosterkit.roster.model import Roster

if TYPE_CHECKING:
    from rosterkit.planning.addresses.next_free import NextFree


def another_address(scope: Scope, entry: ScopedEngine, column: str, *, instead_of: Address) -> str:
    """Say as a fix which address an engine could have instead: of the same kind, else of the other one."""
    kinds = [instead_of.space, *(kind for kind in Space if kind is not instead_of.space)]
    if entry.decoder_type is not None and entry.decoder_type.long_address == "no":
        kinds = [Space.SHORT]
    for kind in kinds:
        found = next_free(scope, entry.roster).best(
            kind,
            entry.engine.owner,
            near=instead_of.number,
            number=entry.engine.number,
            at_home=column == "address",
        )
        if found is not None:
            return f"Choose another, such as {found}."
    return "No address is free for it here: change Address ranges, or another engine's address."


def next_free(scope: Scope, roster: Roster) -> "NextFree":
    """Return what nothing uses in the workbooks of a scope on the same rails; the scope keeps it."""
    # Flags of ten thousand addresses are numpy's, which most rosters to check can do without.
    from rosterkit.planning.addresses.from_roster import layout_rules_of, used_addresses  # noqa: PLC0415
    from rosterkit.planning.addresses.next_free import NextFree  # noqa: PLC0415

    rails = layout_key(roster.layout)
    key = f"next free, {rails}"
    if key not in scope.kept:
        together = [one for one in scope.rosters if layout_key(one.layout) == rails]
        used = (address for one in together for address in used_addresses(one))
        scope.kept[key] = NextFree(used, layout_rules_of(together))
    found: NextFree = scope.kept[key]
    return found
