"""Conditional formats of our own: known again by a text in their formula, and replaced."""

import re
from collections.abc import Iterable

from rosterkit.xlsx.changes import Highlight
from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.splices import Splice, place_for
from rosterkit.xlsx.patch.styles import Styles
from rosterkit.xlsx.patch.worksheet import ORDER, SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element

MARK = 'N("rosterkit")'
"""What the formula of each of our conditional formats holds; its value is 0."""

# Programs write the quotes in a formula plain or as any of these references.
_QUOTE = rb"""(?:"|&quot;|&#34;|&#x22;)"""
_OURS = re.compile(rb"\bN\(\s*" + _QUOTE + rb"rosterkit" + _QUOTE + rb"\s*\)", re.IGNORECASE)
_FORMULA = re.compile(rb"<(?:[^\s<>/:]+:)?formula(?:\s[^>]*)?>(.*?)</(?:[^\s<>/:]+:)?formula\s*>", re.DOTALL)
# Any prefix: rules stand in the extensions of a sheet too.
_PRIORITY = re.compile(rb"""<[^\s<>/]*cfRule\s[^>]*?\bpriority\s*=\s*["']([0-9]{1,9})["']""")


def marked_formula(formula: str) -> str:
    """Return a formula by which a conditional format is known as ours."""
    return formula if MARK.casefold() in formula.casefold() else f"AND({MARK}=0,{formula})"


def is_ours(markup: bytes) -> bool:
    """Tell by its formula, not by its extensions, whether a conditional format's rule was of our own."""
    return any(_OURS.search(formula[1]) for formula in _FORMULA.finditer(markup))


def highlight_splices(sheet: SheetText, highlights: Iterable[Highlight], styles: Styles) -> list[Splice]:
    """Work out the splices that take our earlier conditional formats out and put the new ones in.

    The new ones stand behind all others and come after them in priority.
    """
    removed, stay = _split(sheet)
    new = _markup(sheet, highlights, styles, _last_priority(sheet, stay) + 1)
    place = place_for(sheet.root, "conditionalFormatting", ORDER)
    return [*removed, Splice(place, place, new)] if new else removed


def _split(sheet: SheetText) -> tuple[list[Splice], list[Element]]:
    """Return the splices that remove our rules, and the rules that stay.

    A group into which somebody else put something keeps its place, and one rule of ours without effect if it
    would have none: the format wants one.
    """
    removed: list[Splice] = []
    stay: list[Element] = []
    for formatting in sheet.root.named("conditionalFormatting"):
        rules = list(formatting.named("cfRule"))
        ours = [rule for rule in rules if is_ours(sheet.data[rule.start : rule.end])]
        stay += [rule for rule in rules if rule not in ours]
        gone = [Splice(rule.start, rule.end, b"") for rule in ours]
        if gone and not _left(sheet.data, formatting, ours):
            gone = [Splice(formatting.start, formatting.end, b"")]
        elif ours and len(ours) == len(rules):
            gone[0] = gone[0]._replace(new=_without_effect(sheet, ours[0]))
            stay.append(ours[0])
        removed += gone
    return removed, stay


def _left(data: bytes, formatting: Element, ours: Iterable[Element]) -> bytes:
    """Return what a group holds beside our rules."""
    starts = [formatting.inside, *(rule.end for rule in ours)]
    ends = [*(rule.start for rule in ours), formatting.outside]
    return b"".join(data[start:end] for start, end in zip(starts, ends, strict=True)).strip()


def _without_effect(sheet: SheetText, rule: Element) -> bytes:
    tag, name = sheet.data[rule.start : rule.inside], sheet.prefix + b"formula"
    formula = tags.text_markup(marked_formula("FALSE")).encode()
    return b"%b<%b>%b</%b>%b" % (tag, name, formula, name, sheet.data[rule.outside : rule.end])


def _last_priority(sheet: SheetText, stay: Iterable[Element]) -> int:
    """Return the greatest priority that is taken by what stays, the sheet's extensions included."""
    taken = [whole(rule.attributes.get("priority")) or 0 for rule in stay]
    for extension in sheet.root.named("extLst"):
        taken += map(int, _PRIORITY.findall(sheet.data[extension.start : extension.end]))
    return max(taken, default=0)


def _markup(sheet: SheetText, highlights: Iterable[Highlight], styles: Styles, priority: int) -> bytes:
    prefix = sheet.prefix
    pieces: list[bytes] = []
    for place, highlight in enumerate(highlights):
        formula = tags.text_markup(marked_formula(highlight.formula)).encode()
        pieces.append(
            b'<%bconditionalFormatting sqref="%b">' % (prefix, " ".join(highlight.ranges).encode())
            + b'<%bcfRule type="expression" dxfId="%d" priority="%d">'
            % (prefix, styles.standing_out(highlight.look), priority + place)
            + b"<%bformula>%b</%bformula>" % (prefix, formula, prefix)
            + b"</%bcfRule></%bconditionalFormatting>" % (prefix, prefix)
        )
    return b"".join(pieces)
