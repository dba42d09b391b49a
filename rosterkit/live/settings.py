"""Blocks of the sheet Live: the settings of the layout, and how each choice may be written."""

from rosterkit.cv.address_sentences import OUTSIDE_LAYOUT
from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.writing import both, choice, column_range, is_whole, sentence, spellings, text, whole
from rosterkit.roster.schema import Column, folded, sheet
from rosterkit.standards.addresses import SHORT_ADDRESSES

SETTINGS = (
    "short_first",
    "short_last",
    "long_first",
    "long_last",
    "first_long",
    "steps_28",
    "accessory_offset",
    "short_lowest",
    "short_highest",
    "long_lowest",
    "long_highest",
    "short_outside",
    "long_outside",
    "sound",
)
"""What formulas need to know of the layout, in the order of the block; and whether the blocks are sound."""
TYPED = ("short_range", "long_range", "long_from", "speed_steps", "accessory_offset")
"""The settings of the sheet Layout that they come from."""
_BEYOND = 99999
_MORE_SETTINGS = 10
"""Rows that may be added to the sheet Layout."""
CHOICES: dict[str, tuple[str, str, tuple[str | None, ...]]] = {
    "address_kind": ("Locomotives", "address_kind", ("short", "long", None)),
    "direction": ("Locomotives", "direction", ("normal", "reversed", None)),
    "speed_steps": ("Locomotives", "speed_steps", ("14", "28/128", None)),
    "dc_operation": ("Locomotives", "dc_operation", ("off", "on", None)),
    "bidi": ("Locomotives", "bidi", ("off", "on", None)),
    "speed_curve": ("Locomotives", "speed_curve", ("3-point", "table", None)),
    "range_kind": ("Address ranges", "kind", ("short", "long", "consist", "accessory", None)),
    "range_use": (
        "Address ranges",
        "use",
        ("engines", "meet only", "consists", "devices", "new decoders", "never", None),
    ),
    "facing": ("Consists", "facing", ("forward", "reverse", None)),
    "method": ("Accessories", "method", ("decoder", "output", None)),
    "accessory_bidi": ("Accessories", "bidi", ("off", "on", None)),
    "layout_steps": ("Layout", "speed_steps", ("14", "28/128", None)),
    "layout_offset": ("Layout", "accessory_offset", ("0", "4", None)),
}
"""By the name of its list: sheet, column, and the choices in the order in which ``choice`` numbers them."""


def settings_blocks(places: Places) -> list[Block]:
    """Declare the blocks."""
    layout = places.get("Layout")
    rows = layout.last_row - layout.heading_row + _MORE_SETTINGS if layout else 1
    return [
        Block(name="settings", columns=("value",), rows=len(SETTINGS)),
        Block(name="choices", columns=("list",), rows=len(CHOICES)),
        Block(name="layout", columns=("setting", "value"), rows=rows),
        Block(name="typed", columns=("as typed", "as a range"), rows=len(TYPED)),
    ]


def fill_settings(machinery: Machinery, places: Places) -> None:
    """Fill the blocks of settings, of spellings, and of the sheet Layout as they are compared."""
    machinery.put("choices", "list", [spellings(_column(name), CHOICES[name][2]) for name in CHOICES])
    _fill_layout(machinery, places)
    for at, name in enumerate(TYPED):
        machinery.put_one("typed", "as typed", at, layout_setting(machinery, name))
        machinery.put_one("typed", "as a range", at, _plain(machinery.one("typed", "as typed", at)))
    short, long = _ends(machinery, "short_range"), _ends(machinery, "long_range")
    formulas = {
        "short_first": short[0],
        "short_last": short[1],
        "long_first": long[0],
        "long_last": long[1],
        "first_long": _first_long(machinery),
        "steps_28": _second_chosen(machinery, "speed_steps", "layout_steps"),
        "accessory_offset": f"4*{_second_chosen(machinery, 'accessory_offset', 'layout_offset')}",
        "short_lowest": _called(machinery, "short", "first", 0),
        "short_highest": _called(machinery, "short", "last", _BEYOND),
        "long_lowest": _called(machinery, "long", "first", 0),
        "long_highest": _called(machinery, "long", "last", _BEYOND),
        "short_outside": _outside(machinery, "short"),
        "long_outside": _outside(machinery, "long"),
        "sound": machinery.is_whole(),
    }
    for name, formula in formulas.items():
        machinery.put_one("settings", "value", SETTINGS.index(name), formula)


def setting(machinery: Machinery, name: str) -> str:
    """Refer to a setting of the layout."""
    return machinery.one("settings", "value", SETTINGS.index(name))


def sound(machinery: Machinery) -> str:
    """Tell whether the blocks stand as they were made; an error where they do not, or are gone."""
    return f"{setting(machinery, 'sound')}=1"


def listed(machinery: Machinery, name: str) -> str:
    """Refer to the list of how a choice may be written."""
    return machinery.one("choices", "list", list(CHOICES).index(name))


def chosen(machinery: Machinery, name: str, reference: str) -> str:
    """Return which choice a cell holds, from 0 in the order of ``CHOICES``; an error for anything else."""
    return choice(reference, listed(machinery, name))


def _column(name: str) -> Column:
    title, column, _ = CHOICES[name]
    return sheet(title)[column]


def _fill_layout(machinery: Machinery, places: Places) -> None:
    layout = places.get("Layout")
    if layout is None:
        return
    heading, value = (
        f"INDEX({column_range(layout, name, titled=True, beyond=_MORE_SETTINGS)},{machinery.place()}+1)"
        for name in ("heading", "value")
    )
    plain = f'LOWER(SUBSTITUTE(SUBSTITUTE({heading}&""," ",""),":",""))'
    machinery.fill("layout", "setting", f'IFERROR({plain},"")')
    machinery.fill("layout", "value", f'IFERROR(IF({value}="","",{value}),"")')


def layout_setting(machinery: Machinery, name: str) -> str:
    """Return what is typed for a setting, by its heading or another name of it; an empty text for nothing."""
    column = sheet("Layout")[name]
    found = '""'
    for heading in reversed((column.heading, *column.aliases)):
        where = f"MATCH({text(folded(heading))},{machinery.whole('layout', 'setting')},0)"
        found = f"IFERROR(INDEX({machinery.whole('layout', 'value')},{where}),{found})"
    return found


def _plain(reference: str) -> str:
    """Return a range of addresses as two numbers with one hyphen between them."""
    plain = f'SUBSTITUTE({reference}&""," ","")'
    for other in ("\u2013", "\u2014", "to", "...", ".."):
        plain = f'SUBSTITUTE({plain},"{other}","-")'
    return plain


def typed_setting(machinery: Machinery, name: str) -> str:
    """Refer to what is typed for a setting, one of ``TYPED``; an empty text where nothing is."""
    return machinery.one("typed", "as typed", TYPED.index(name))


def _ends(machinery: Machinery, name: str) -> tuple[str, str]:
    """Return the ends of a range of addresses; those of its default where it is not understood."""
    default = str(sheet("Layout")[name].default).split("-")
    plain = machinery.one("typed", "as a range", TYPED.index(name))
    ends = f'LEFT({plain},FIND("-",{plain})-1)', f'MID({plain},FIND("-",{plain})+1,9)'
    usable = both([is_whole(ends[0]), is_whole(ends[1]), f'{ends[0]}<>""', f"LEN({plain})<12"])
    first, last = (
        f"IFERROR(IF({usable},VALUE({end}),{standard}),{standard})"
        for end, standard in zip(ends, default, strict=True)
    )
    return first, last


def _first_long(machinery: Machinery) -> str:
    """Return the lowest number that is taken for long where nobody says which (``cv.addresses``)."""
    highest = SHORT_ADDRESSES.stop
    first, last = setting(machinery, "short_first"), setting(machinery, "short_last")
    column = sheet("Layout")["long_from"]
    low, high, default = column.schema["minimum"], column.schema["maximum"], column.default
    number = whole(typed_setting(machinery, "long_from"))
    long_from = f"IFERROR(IF(AND({number}>={low},{number}<={high}),{number},{default}),{default})"
    return f"MIN(IF({first}>{last},{highest},{last}+1),{long_from},{highest})"


def _second_chosen(machinery: Machinery, name: str, listed_as: str) -> str:
    """Return 1 for the second choice of a setting, 0 for the first; the default's where it is not clear."""
    default = CHOICES[listed_as][2].index(str(sheet("Layout")[name].default))
    found = chosen(machinery, listed_as, typed_setting(machinery, name))
    return f"IFERROR(CHOOSE(1+{found},0,1,{default}),{default})"


def _called(machinery: Machinery, kind: str, end: str, otherwise: int) -> str:
    """Return an end of what the layout calls; a range that ends before it begins sets no limit."""
    first, last = (setting(machinery, f"{kind}_{one}") for one in ("first", "last"))
    return f"IF({first}>{last},{otherwise},{first if end == 'first' else last})"


def _outside(machinery: Machinery, kind: str) -> str:
    """Say, behind an address, that the layout does not call it."""
    first, last = (setting(machinery, f"{kind}_{end}") for end in ("first", "last"))
    return sentence(OUTSIDE_LAYOUT.removeprefix("{address} "), kind=text(kind), first=first, last=last)
