"""The formula of Alert: what is wrong with an engine's row as it stands, in the words of the findings.

A part for each fault, joined as Check joins them; no part goes over other rows unless the one before it says
that there is something to look for.
"""

from rosterkit.cv import address_sentences as said
from rosterkit.cv.configured import SETTINGS
from rosterkit.cv.meanings import NEW_DECODERS
from rosterkit.findings import Severity
from rosterkit.live.machinery import FIRST_ROW, Block, Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.ranges import segment
from rosterkit.live.settings import chosen, setting, sound
from rosterkit.live.writing import SPACE, cell, column_range, is_whole, key, looked_up, sentence, text
from rosterkit.roster.messages import SENTENCES
from rosterkit.roster.schema import Column, sheet
from rosterkit.standards.addresses import DEFAULT_SHORT_ADDRESS, SHORT_ADDRESSES

TITLE = "Locomotives"
COVERED = frozenset(
    {
        "address-missing",
        "address-out-of-range",
        "address-shared",
        "address-default",
        "address-not-for-engines",
        "address-in-another-range",
        "decoder-unknown",
        "value-not-allowed",
    }
)
"""The checks of which Alert says what they find in an engine's row, notes left out."""
BROKEN = "this cannot be computed; run 'rosterkit fill'"
"""What Alert says where something that it needs is gone, such as the sheet Live."""
_PARTED = "; "
_LONGEST = 4000
_WORDS = ("loco", "owner", "railway", "number", "model", "decoder")
"""Columns by which a row is known to be an engine's."""
_SETTINGS = ("address_kind", *SETTINGS)
_BEGINS = (
    *((Severity.ERROR, name) for name in ("address", *_SETTINGS, "lock")),
    *((Severity.WARNING, name) for name in ("address", "decoder")),
)
"""What parts may say: a severity, and the column that they are about."""


def alert(places: Places, machinery: Machinery, *, counted: bool) -> str:
    """Return the template of Alert; without ``counted`` it does not look for other engines."""
    place = places[TITLE]
    ranged = "segments" in machinery
    parts = [
        _address(place, machinery),
        _outside(place, machinery),
        *([_kept(place, machinery)] if ranged else []),
        *([_shared(place, machinery)] if counted else []),
        *([_shared_at_fill(place, machinery)] if "addresses at the last fill" in machinery else []),
        *([_with_consist(place, machinery)] if "consists" in machinery else []),
        *_settings(place, machinery),
        _default(place, machinery),
        *(
            [_in_range_of_another(place, machinery)]
            if ranged and "member" in machinery.names("ranges")
            else []
        ),
        *([_decoder(place, machinery)] if "decoders" in machinery and "decoder" in place.columns else []),
    ]
    heading = cell(place, "alert", row=place.heading_row)
    broken = f"{text(f'{Severity.ERROR.value} [')}&{heading}&{text(f'] {BROKEN}')}"
    all_parts = "&".join(parts)
    said_of_engine = f"MID({all_parts},{len(_PARTED) + 1},{_LONGEST})"
    typed = "&".join(f"TRIM({cell(place, name)})" for name in _WORDS if name in place.columns)
    blank = f'AND({typed}="",TRIM({cell(place, "address")})="")'
    # Where the sheet Live is gone, nothing that is said below can be trusted.
    return f'IFERROR(IF({blank},"",IF({sound(machinery)},{said_of_engine},1/0)),{broken})'


def words_block(places: Places) -> list[Block]:
    """Declare the block of what stands before each part: its severity, and the heading that it is about."""
    columns = places[TITLE].columns if TITLE in places else {}
    return [Block(name="words", columns=("begin",), rows=len(_BEGINS))] if "loco" in columns else []


def fill_words(machinery: Machinery, places: Places) -> None:
    """Fill the block, if it was declared."""
    if "words" not in machinery:
        return
    place = places[TITLE]
    for at, (severity, name) in enumerate(_BEGINS):
        if name in place.columns:
            heading = cell(place, name, row=place.heading_row, titled=True)
            # A program strips blanks from the ends of a stored text, so the one behind it is put in later.
            begin = f'{text(f"{_PARTED}{severity.value} [")}&{heading}&"]"'
            machinery.put_one("words", "begin", at, begin)


def _said(
    machinery: Machinery, words: str, name: str = "address", severity: Severity = Severity.ERROR
) -> str:
    """Say something of a column."""
    return f"{machinery.one('words', 'begin', _BEGINS.index((severity, name)))}&{SPACE}&{words}"


def _words_of(keyword: str, column: Column) -> str:
    """Return the sentence of a finding on a cell; the cell's content is put in as formulas have it."""
    message, _ = SENTENCES[keyword](column, "{content}")
    return message


def _answers_words(answers: str) -> str:
    return f'IF({answers}>0,"short ","long ")&ABS({answers})'


def _address(place: SheetPlace, machinery: Machinery) -> str:
    """Say that the address is missing, no number, or none of its kind."""
    column = sheet(TITLE)["address"]
    address, answers = cell(place, "address"), cell(place, "answers")
    content, number = f"TRIM({address})", f"VALUE(TRIM({address}))"
    missing, other, small, large = (
        _said(machinery, sentence(_words_of(keyword, column), content=content))
        for keyword in ("required", "type", "minimum", "maximum")
    )
    last = str(SHORT_ADDRESSES[-1])
    no_short = sentence(said.NOT_OF_KIND.replace("{kind}", "short").replace("{last}", last), number=number)
    is_short = f"{number}>{last}"
    if "address_kind" in place.columns:
        is_short = f"IFERROR({chosen(machinery, 'address_kind', cell(place, 'address_kind'))}=0,FALSE)"
    of_kind = f'IF({is_short},{_said(machinery, no_short)},"")'
    low, high = column.schema["minimum"], column.schema["maximum"]
    judged = f"IF({number}<{low},{small},IF({number}>{high},{large},{of_kind}))"
    typed = f'IF({content}="",{missing},IF({is_whole(address)},{judged},{other}))'
    return f'IF({answers}<>"","",{typed})'


def _outside(place: SheetPlace, machinery: Machinery) -> str:
    """Say that the layout does not call the address."""
    answers = cell(place, "answers")
    parts = []
    for kind, number in (("short", answers), ("long", f"-{answers}")):
        low, high, outside = (setting(machinery, f"{kind}_{end}") for end in ("lowest", "highest", "outside"))
        words = _said(machinery, f"{text(f'{kind} ')}&{number}&{SPACE}&{outside}")
        parts.append(f'IF(OR({number}<{low},{number}>{high}),{words},"")')
    return f'IF({answers}="","",IF({answers}>0,{",".join(parts)}))'


def _default(place: SheetPlace, machinery: Machinery) -> str:
    words = text(said.STILL_DEFAULT.format(number=DEFAULT_SHORT_ADDRESS, decoders=NEW_DECODERS))
    warning = _said(machinery, words, severity=Severity.WARNING)
    return f'IF({cell(place, "answers")}={DEFAULT_SHORT_ADDRESS},{warning},"")'


def _kept(place: SheetPlace, machinery: Machinery) -> str:
    """Say what the range is kept for that the address is in."""
    answers = cell(place, "answers")
    kept = segment(machinery, answers, "kept")
    words = _said(machinery, f"{_answers_words(answers)}&{SPACE}&{kept}")
    return f'IF({answers}="","",IF({kept}="","",{words}))'


def _in_range_of_another(place: SheetPlace, machinery: Machinery) -> str:
    """Say whose range the address is in, where it is not the owner's."""
    answers = cell(place, "answers")
    whose, member = (segment(machinery, answers, name) for name in ("whose", "member"))
    owner = cell(place, "owner") if "owner" in place.columns else '""'
    not_owners = sentence(said.NOT_OWNERS, owner=f"TRIM({owner})")
    whose_not = f'IF(TRIM({owner})="",{text(said.NO_OWNER)},{not_owners})'
    words = f"{_answers_words(answers)}&{SPACE}&{whose}&{SPACE}&{whose_not}"
    warning = _said(machinery, words, severity=Severity.WARNING)
    return f'IF({answers}="","",IF({whose}="","",IF({member}={key(owner)},"",{warning})))'


def _shared(place: SheetPlace, machinery: Machinery) -> str:
    """Name the engine before this one with the same address, for the first the second, as findings do."""
    answers = cell(place, "answers")
    all_answers, locos = column_range(place, "answers"), column_range(place, "loco")
    count, same = f"COUNTIF({all_answers},{answers})", f"({all_answers}={answers})*ROW({all_answers})"
    # Rows are counted from the heading by reference: some may be inserted above it.
    above = f"(ROW({cell(place, 'loco', row=place.heading_row)})-1)"
    first = f"MATCH({answers},{all_answers},0)=ROW()-{above}"
    second = f"SUMPRODUCT(LARGE({same},{count}-1))"
    before = f"SUMPRODUCT(LARGE({same}*(ROW({all_answers})<ROW()),1))"
    other = f"TRIM(INDEX({locos},IF({first},{second},{before})-{above}))"
    named = f'IF({other}="",{text(said.NAMELESS)},"\'"&{other}&"\'")'
    more = f'IF({count}>2,{sentence(said.MORE, count=f"({count}-2)")},"")'
    words = f"{sentence(said.ALSO_OF, address=_answers_words(answers), other=named)}&{more}"
    clash = f'IF({_on_purpose(place, machinery, count)},"",{_said(machinery, words)})'
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
    answers, block = cell(place, "answers"), "addresses at the last fill"
    column = machinery.whole(block, "address")
    taken, several, holder = (
        f"INDEX({machinery.whole(block, name)},MATCH({answers},{column},1))"
        for name in ("address", "several", "loco")
    )
    # The label stands between quotes there, so that it is a text whatever it is.
    own = f"""{_spelt(holder)}="'"&{_spelt(cell(place, "loco") + '&""')}&"'\""""
    other = f"IF({own},{text(said.NAMELESS)},{holder})"
    words = _said(machinery, sentence(said.ALSO_OF, address=_answers_words(answers), other=other))
    another = f"OR({several}=1,NOT({own}))"
    clash = f'IF({taken}={answers},IF({another},{words},""),"")'
    return f'IF({answers}="","",IFERROR({clash},""))'


def _spelt(label: str) -> str:
    """Return a label as labels are compared where signs of wildcards are no matter."""
    return f'LOWER(SUBSTITUTE({label}," ",""))'


def _with_consist(place: SheetPlace, machinery: Machinery) -> str:
    """Name a consist that has the address and that the engine is not in."""
    answers = cell(place, "answers")
    rails, labels, locos, names = (
        machinery.whole("consists", name) for name in ("answers", "label", "loco", "named")
    )
    own = f'IFERROR({looked_up(key(cell(place, "loco")), locos, labels)},"k")'
    row = f"SUMPRODUCT(LARGE(({rails}={answers})*({labels}<>{own})*ROW({rails}),1))"
    # Without such a consist the row is 0, and there is no cell so far above.
    name = f"INDEX({names},{row}-{FIRST_ROW - 1})"
    consist = sentence(said.CONSIST, label=name)
    words = _said(machinery, sentence(said.ALSO_OF, address=_answers_words(answers), other=consist))
    return f'IF({answers}="","",IF(COUNTIF({rails},{answers})=0,"",IFERROR({words},"")))'


def _settings(place: SheetPlace, machinery: Machinery) -> list[str]:
    """Say of each setting that it is none of its choices, and of a lock that it is no number of a lock."""
    parts = []
    for name in _SETTINGS:
        if name in place.columns:
            column, typed = sheet(TITLE)[name], cell(place, name)
            words = sentence(_words_of("enum", column), content=f"TRIM({typed})")
            error = _said(machinery, words, name)
            unknown = f"ISERROR({chosen(machinery, name, typed)})"
            parts.append(f'IF({unknown},{error},"")')
    if "lock" in place.columns:
        parts.append(_lock(place, machinery))
    return parts


def _lock(place: SheetPlace, machinery: Machinery) -> str:
    column, typed = sheet(TITLE)["lock"], cell(place, "lock")
    number, content = f"VALUE(TRIM({typed}))", f"TRIM({typed})"
    small, large, other = (
        _said(machinery, sentence(_words_of(keyword, column), content=content), "lock")
        for keyword in ("minimum", "maximum", "type")
    )
    low, high = column.schema["minimum"], column.schema["maximum"]
    judged = f'IF({number}<{low},{small},IF({number}>{high},{large},""))'
    return f'IF({content}="","",IF({is_whole(typed)},{judged},{other}))'


def _decoder(place: SheetPlace, machinery: Machinery) -> str:
    """Say that the kind of decoder is not among the decoder types, if there are any."""
    decoder, known = cell(place, "decoder"), machinery.whole("decoders", "decoder")
    words = sentence(said.DECODER_UNKNOWN, decoder=f"TRIM({decoder})")
    some = f'SUMPRODUCT(({known}<>"k")*1)>0'
    warning = f'IF({some},{_said(machinery, words, "decoder", Severity.WARNING)},"")'
    unknown = f"ISERROR(MATCH({key(decoder)},{known},0))"
    return f'IF(TRIM({decoder})="","",IF({unknown},{warning},""))'
