"""The formula of Alert: what is wrong with an engine's row as it stands, in the words of the findings.

A part for each fault, joined as Check joins them; no part goes over other rows unless the one before it says
that there is something to look for.
"""

from rosterkit.cv import address_sentences as said
from rosterkit.cv.configured import SETTINGS
from rosterkit.cv.meanings import NEW_DECODERS
from rosterkit.findings import Severity
from rosterkit.live.machinery import Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.ranges import address_key, segment
from rosterkit.live.settings import chosen, setting
from rosterkit.live.writing import cell, column_range, is_whole, key, sentence, text
from rosterkit.roster.messages import SENTENCES
from rosterkit.roster.schema import Column, sheet
from rosterkit.standards.addresses import DEFAULT_SHORT_ADDRESS, SHORT_ADDRESSES

TITLE = "Locomotives"
BROKEN = "this cannot be computed; run 'rosterkit fill'"
"""What Alert says where something that it needs is gone, such as the sheet Live."""
_PARTED = "; "
_LONGEST = 4000
_WORDS = ("loco", "owner", "railway", "number", "model", "decoder")
"""Columns by which a row is known to be an engine's."""


def alert(places: Places, machinery: Machinery, *, counted: bool) -> str:
    """Return the template of Alert; without ``counted`` it does not look for other engines."""
    place = places[TITLE]
    parts = [
        *_address(place, machinery),
        *([_ranges(place, machinery)] if "segments" in machinery else []),
        *([_shared(place, machinery)] if counted else [_shared_at_fill(place, machinery)]),
        *([_with_consist(place, machinery)] if "consists" in machinery else []),
        *_settings(place, machinery),
        *([_decoder(place, machinery)] if "decoders" in machinery and "decoder" in place.columns else []),
    ]
    broken = text(f"{Severity.ERROR.value} [") + f"&{_heading(place, 'answers')}&" + text(f"] {BROKEN}")
    all_parts = "&".join(parts)
    said_of_engine = f"MID({all_parts},{len(_PARTED) + 1},{_LONGEST})"
    typed = "&".join(f"TRIM({cell(place, name)})" for name in _WORDS if name in place.columns)
    blank = f'AND({typed}="",TRIM({cell(place, "address")})="")'
    return f'IFERROR(IF({blank},"",{said_of_engine}),{broken})'


def _heading(place: SheetPlace, name: str) -> str:
    return cell(place, name, row=place.heading_row)


def _part(place: SheetPlace, severity: Severity, name: str, condition: str, words: str) -> str:
    """Say something of a column of the row while a condition holds."""
    begin = text(f"{_PARTED}{severity.value} [")
    return f'IF({condition},{begin}&{_heading(place, name)}&"] "&{words},"")'


def _words_of(keyword: str, column: Column) -> str:
    """Return the sentence of a finding on a cell; the cell's content is put in as formulas have it."""
    message, _ = SENTENCES[keyword](column, "{content}")
    return message


def _answers_words(answers: str) -> str:
    return f'IF({answers}>0,"short ","long ")&ABS({answers})'


def _address(place: SheetPlace, machinery: Machinery) -> list[str]:
    """Say that the address is missing, no number, not of its kind, not of the layout, or the default."""
    column = sheet(TITLE)["address"]
    address, answers = cell(place, "address"), cell(place, "answers")
    number = f"VALUE(TRIM({address}))"
    blank, known = f'TRIM({address})=""', f"IFERROR({is_whole(address)},FALSE)"
    low, high = column.schema["minimum"], column.schema["maximum"]
    content = f"TRIM({address})"
    small = sentence(_words_of("minimum", column), content=content)
    large = sentence(_words_of("maximum", column), content=content)
    not_of_kind = f"{SHORT_ADDRESSES[-1]}<{number}"
    kind_words = sentence(said.NOT_OF_KIND, number=number, kind='"short"', last=f'"{SHORT_ADDRESSES[-1]}"')
    kind_known = "TRUE"
    if "address_kind" in place.columns:
        kind_known = f"NOT(ISERROR({chosen(machinery, 'address_kind', cell(place, 'address_kind'))}))"
    wrong = (
        f"IF({blank},{_said(place, sentence(_words_of('required', column)))},"
        f"IF(NOT({known}),{_said(place, sentence(_words_of('type', column), content=content))},"
        f"IF({number}<{low},{_said(place, small)},"
        f"IF({number}>{high},{_said(place, large)},"
        f'IF(AND({answers}="",{not_of_kind},{kind_known}),{_said(place, kind_words)},"")))))'
    )
    return [wrong, _outside(place, machinery), _default(place, answers)]


def _said(place: SheetPlace, words: str, severity: Severity = Severity.ERROR) -> str:
    return f'{text(f"{_PARTED}{severity.value} [")}&{_heading(place, "address")}&"] "&{words}'


def _outside(place: SheetPlace, machinery: Machinery) -> str:
    answers = cell(place, "answers")
    parts = []
    for kind, sign in (("short", ""), ("long", "-")):
        first, last = (setting(machinery, f"{kind}_{end}") for end in ("first", "last"))
        number = f"{sign}{answers}"
        words = sentence(
            said.OUTSIDE_LAYOUT,
            address=f"{text(kind + ' ')}&{number}",
            kind=text(kind),
            first=first,
            last=last,
        )
        outside = f"AND({first}<={last},OR({number}<{first},{number}>{last}))"
        parts.append(f'IF({outside},{_said(place, words)},"")')
    return f'IF({answers}="","",IF({answers}>0,{parts[0]},{parts[1]}))'


def _default(place: SheetPlace, answers: str) -> str:
    words = said.STILL_DEFAULT.format(number=DEFAULT_SHORT_ADDRESS, decoders=NEW_DECODERS)
    return _part(place, Severity.WARNING, "address", f"{answers}={DEFAULT_SHORT_ADDRESS}", text(words))


def _ranges(place: SheetPlace, machinery: Machinery) -> str:
    """Say what the range is kept for that the address is in, or whose it is."""
    answers = cell(place, "answers")
    kept, whose = segment(machinery, answers, "kept"), segment(machinery, answers, "whose")
    address = _answers_words(answers)
    owner = cell(place, "owner") if "owner" in place.columns else '""'
    whose_words = (
        f'IF(TRIM({owner})="",{text(said.NO_OWNER)},{sentence(said.NOT_OWNERS, owner=f"TRIM({owner})")})'
    )
    theirs = f"{segment(machinery, answers, 'member')}<>{key(owner)}"
    words = _said(place, f"{address}&{whose}&{whose_words}", Severity.WARNING)
    another = f'IF({whose}="","",IF({theirs},{words},""))'
    reserved = f'IF({kept}="","",{_said(place, f"{address}&{kept}")})'
    return f'IF({answers}="","",{reserved}&{another})'


def _shared(place: SheetPlace, machinery: Machinery) -> str:
    """Name the engine before this one with the same address, for the first the second, as findings do."""
    answers = cell(place, "answers")
    all_answers, locos = column_range(place, "answers"), column_range(place, "loco")
    count = f"COUNTIF({all_answers},{answers})"
    same = f"({all_answers}={answers})"
    before = f"SUMPRODUCT(LARGE({same}*(ROW({all_answers})<ROW())*ROW({all_answers}),1))"
    second = f"SUMPRODUCT(LARGE({same}*ROW({all_answers}),{count}-1))"
    row = f"IF({before}>0,{before},{second})"
    other = f"INDEX({locos},{row}-{place.heading_row - 1})"
    named = f'IF(TRIM({other})="","the engine in row "&{row},"\'"&TRIM({other})&"\'")'
    more = f'IF({count}>2,{sentence(said.MORE, count=f"({count}-2)")},"")'
    words = f"{sentence(said.ALSO_OF, address=_answers_words(answers), other=named)}&{more}"
    clash = f'IF({_on_purpose(place, machinery, count)},"",{_said(place, words)})'
    return f'IF({answers}="","",IF({count}<2,"",{clash}))'


def _on_purpose(place: SheetPlace, machinery: Machinery, count: str) -> str:
    """Tell whether the last fill found that this engine shares its address with just so many on purpose."""
    answers = cell(place, "answers")
    labels, addresses = (
        machinery.whole("shared on purpose", "loco"),
        machinery.whole("shared on purpose", "address"),
    )
    excused = f"INDEX({addresses},MATCH({key(cell(place, 'loco'))},{labels},0))={answers}"
    return f"IFERROR(AND({excused},COUNTIF({addresses},{answers})={count}),FALSE)"


def _shared_at_fill(place: SheetPlace, machinery: Machinery) -> str:
    """Look among the addresses of the last fill, sorted, for one that another engine had."""
    answers = cell(place, "answers")
    column = machinery.whole("addresses at the last fill", "address")
    where = f"MATCH({answers},{column},1)"
    holder = f"INDEX({machinery.whole('addresses at the last fill', 'loco')},{where})"
    several = f"INDEX({machinery.whole('addresses at the last fill', 'engines')},{where})"
    key_of = f"INDEX({machinery.whole('addresses at the last fill', 'key')},{where})"
    taken = f"INDEX({column},{where})={answers}"
    words = sentence(said.ALSO_OF, address=_answers_words(answers), other=holder)
    clash = (
        f'IF({taken},IF(OR({several}>1,{key_of}<>{key(cell(place, "loco"))}),{_said(place, words)},""),"")'
    )
    return f'IF({answers}="","",IFERROR({clash},""))'


def _with_consist(place: SheetPlace, machinery: Machinery) -> str:
    """Name a consist that has the address and that the engine is not in."""
    answers = cell(place, "answers")
    rails, labels = machinery.whole("consists", "answers"), machinery.whole("consists", "label")
    number = address_key(answers)
    row = f"MATCH({key(cell(place, 'loco'))},{machinery.whole('consists', 'loco')},0)"
    own = f'IFERROR(INDEX({labels},{row}),"k")'
    where = f"SUMPRODUCT(LARGE(({rails}={number})*({labels}<>{own})*(100000-ROW({rails})),1))"
    name = f"INDEX({machinery.whole('consists', 'named')},100000-{where}-1)"
    consist = sentence(said.CONSIST, label=name)
    words = sentence(said.ALSO_OF, address=_answers_words(answers), other=consist)
    clash = f'IF({where}>0,{_said(place, words)},"")'
    return f'IF({answers}="","",IF(COUNTIF({rails},{number})=0,"",{clash}))'


def _settings(place: SheetPlace, machinery: Machinery) -> list[str]:
    """Say of each setting that it is none of its choices, and of a lock that it is no number of a lock."""
    parts = []
    for name in ("address_kind", *SETTINGS):
        if name in place.columns:
            column, typed = sheet(TITLE)[name], cell(place, name)
            words = sentence(_words_of("enum", column), content=f"TRIM({typed})")
            parts.append(
                _part(place, Severity.ERROR, name, f"ISERROR({chosen(machinery, name, typed)})", words)
            )
    if "lock" in place.columns:
        column, typed = sheet(TITLE)["lock"], cell(place, "lock")
        low, high = column.schema["minimum"], column.schema["maximum"]
        number, content = f"VALUE(TRIM({typed}))", f"TRIM({typed})"
        small, large, other = (
            _part(
                place,
                Severity.ERROR,
                "lock",
                condition,
                sentence(_words_of(keyword, column), content=content),
            )
            for keyword, condition in (
                ("minimum", f"{number}<{low}"),
                ("maximum", f"{number}>{high}"),
                ("type", "TRUE"),
            )
        )
        known = f"IFERROR({is_whole(typed)},FALSE)"
        parts.append(f'IF({content}="","",IF({known},{small}&{large},{other}))')
    return parts


def _decoder(place: SheetPlace, machinery: Machinery) -> str:
    """Say that the kind of decoder is not among the decoder types, if there are any."""
    decoder, known = cell(place, "decoder"), machinery.whole("decoders", "decoder")
    words = sentence(said.DECODER_UNKNOWN, decoder=f"TRIM({decoder})")
    unknown = f"ISERROR(MATCH({key(decoder)},{known},0))"
    some = f'SUMPRODUCT(({known}<>"k")*1)>0'
    inner = _part(place, Severity.WARNING, "decoder", f"AND({unknown},{some})", words)
    return f'IF(TRIM({decoder})="","",{inner})'
