"""Blocks of the sheet Live for CVs that were read: the address that they make, and what is wrong there."""

from collections.abc import Iterator, Mapping
from dataclasses import fields

from rosterkit.cv.address_sentences import NOT_KNOWN
from rosterkit.cv.conflicts import CombinationFault
from rosterkit.cv.decode import decoded
from rosterkit.cv.stored_addresses import stored_words
from rosterkit.live.inputs import INPUTS
from rosterkit.live.machinery import Block, LiveCell, Machinery
from rosterkit.live.specimens import worded
from rosterkit.live.writing import either, is_digits, quoted, sentence, text
from rosterkit.standards.addresses import (
    DEFAULT_LONG_ADDRESS,
    DEFAULT_SHORT_ADDRESS,
    HIGH_BYTES,
    KIND_DIFFERS,
    SHORT_ADDRESSES,
    long_address_cvs,
)
from rosterkit.standards.bounds import BYTE
from rosterkit.standards.configuration import (
    ACCESSORY,
    ACCESSORY_RESERVED,
    BIDI,
    DC_OPERATION,
    EXTENDED,
    LONG_ADDRESS,
    OUTPUT_ADDRESSING,
    RESERVED,
    SPEED_TABLE,
    STEPS_28,
    AccessoryConfiguration,
    Configuration,
    accessory_configuration_words,
    configuration_words,
)

CVS = (1, 17, 18, 29)
"""The CVs that people type in."""
_READ = ("cv1", "cv17", "cv18", "cv29", "kind", "short", "long", "answers", "problem")
_UNSTATED, _SHORT, _LONG, _ACCESSORY, _ODD = range(5)
"""What CV29 says of the address; odd where one of the CVs is none that can be read."""
_ODD_WORDS = f"CVs are whole numbers from {BYTE.start} to {BYTE[-1]}"
_BEYOND = 99
"""The place of a fault that is not there: after all that are."""

FAULTS = 13
"""The kinds of faults that there are; hardly more than half of them come together."""


def read_blocks() -> list[Block]:
    """Declare the blocks."""
    return [
        Block(name="read", columns=("value",), rows=len(_READ)),
        Block(name="faults", columns=("severity", "words", "fix", "place"), rows=FAULTS),
    ]


def fill_read(machinery: Machinery) -> None:
    """Fill the blocks."""
    formulas = _values(machinery)
    machinery.put("read", "value", [LiveCell(formula=formulas[name]) for name in _READ])
    slots = list(_faults(machinery))
    assert len(slots) == FAULTS  # noqa: S101 - the block has a row for each
    for at, (severity, words, fix) in enumerate(slots):
        for name, formula in (("severity", severity), ("words", words), ("fix", fix)):
            machinery.put_one("faults", name, at, formula)
    said = machinery.here("faults", "words")
    machinery.fill("faults", "place", f'IF({said}="",{_BEYOND},{machinery.place()})')


def address_words(machinery: Machinery) -> str:
    """Say which address the CVs make a decoder answer."""
    kind, answers, short, long = (_ref(machinery, name) for name in ("kind", "answers", "short", "long"))
    count = f"COUNT({machinery.one('read', 'value', 0)}:{_last_cv(machinery)})"
    both, only_short, only_long = (
        worded(stored_words(values) or "", parts)
        for values, parts in (
            ({1: 25, 17: 208, 18: 81}, {"short 25": short, "long 4177": long}),
            ({1: 25}, {"short 25": short}),
            ({17: 208, 18: 81}, {"long 4177": long}),
        )
    )
    stored = f"IF({short}>0,IF({long}>0,{both},{only_short}),IF({long}>0,{only_long},{text(NOT_KNOWN)}))"
    known = f'IF({answers}=0,{text(NOT_KNOWN)},IF({answers}>0,"short ","long ")&ABS({answers}))'
    by_kind = f"IF({kind}={_UNSTATED},{stored},{known})"
    return f'IF({kind}={_ODD},{text(_ODD_WORDS)},IF({count}=0,"",{by_kind}))'


def configuration_in_words(machinery: Machinery) -> str:
    """Say what CV29 sets, bit by bit, as ``configuration_words`` does."""
    kind, cv29 = _ref(machinery, "kind"), _ref(machinery, "cv29")
    by_kind = f"IF({kind}={_ACCESSORY},{_accessory_words(cv29)},{_locomotive_words(cv29)})"
    return f'IF(OR({kind}={_ODD},{cv29}=""),"",{by_kind})'


def fault(machinery: Machinery, place: int) -> str:
    """Say the fault at a place, from 1, with what to do; an empty text where there are fewer."""
    places = machinery.whole("faults", "place")
    at = f"SMALL({places},{place})"
    severity, words, fix = (
        f"INDEX({machinery.whole('faults', name)},{at})" for name in ("severity", "words", "fix")
    )
    full = f'{severity}&": "&{words}&IF({fix}="","",". "&{fix})'
    return f'IF({at}={_BEYOND},"",{full})'


def more_faults(machinery: Machinery, shown: int) -> str:
    """Say how many faults there are beyond those shown."""
    count = f"(SUMPRODUCT(({machinery.whole('faults', 'place')}<{_BEYOND})*1)-{shown})"
    words = sentence("and {count} more: 'rosterkit decode' says all", count=count)
    return f'IF({count}>0,{words},"")'


def _ref(machinery: Machinery, name: str) -> str:
    return machinery.one("read", "value", _READ.index(name))


def _last_cv(machinery: Machinery) -> str:
    return machinery.one("read", "value", len(CVS) - 1).rpartition("!")[2]


def _values(machinery: Machinery) -> Mapping[str, str]:
    cv1, cv17, cv18, cv29 = (_ref(machinery, f"cv{cv}") for cv in CVS)
    formulas = {f"cv{cv}": _typed_byte(machinery, f"cv{cv}") for cv in CVS}
    odd = either(f'{one}="?"' for one in (cv1, cv17, cv18, cv29))
    by_bits = f"IF({cv29}>={ACCESSORY},{_ACCESSORY},IF({_bit(cv29, LONG_ADDRESS)},{_LONG},{_SHORT}))"
    formulas["kind"] = f'IF({odd},{_ODD},IF({cv29}="",{_UNSTATED},{by_bits}))'
    kind, short, long = (_ref(machinery, name) for name in ("kind", "short", "long"))
    no_number = f'OR({kind}={_ODD},{cv1}="")'
    formulas["short"] = f"IF({no_number},0,IF({_within(cv1, SHORT_ADDRESSES)},{cv1},0))"
    no_pair = f'OR({kind}={_ODD},{cv17}="",{cv18}="")'
    held = f"({cv17}-{HIGH_BYTES.start})*256+{cv18}"
    formulas["long"] = f"IF({no_pair},0,IF({_within(cv17, HIGH_BYTES)},{held},0))"
    formulas["answers"] = f"IF({kind}={_SHORT},{short},IF({kind}={_LONG},-{long},0))"
    # 1 where CV17 is outside, 2 where the pair is long 0.
    zero = f'IF({cv18}="",0,IF(AND({cv17}={HIGH_BYTES.start},{cv18}=0),2,0))'
    outside = f"IF({_within(cv17, HIGH_BYTES)},{zero},1)"
    formulas["problem"] = f'IF(OR({kind}={_ODD},{cv17}=""),0,{outside})'
    return formulas


def _typed_byte(machinery: Machinery, name: str) -> str:
    """Return the value that is typed for a CV; an empty text for none, a question mark for anything else."""
    typed = f"{quoted(machinery.title)}{INPUTS[name].reference}"
    number = f"VALUE(TRIM({typed}))"
    usable = f"IF({_within(number, BYTE)},{number},{text('?')})"
    return f'IF(TRIM({typed})="","",IF({is_digits(f"TRIM({typed})")},{usable},{text("?")}))'


def _within(number: str, numbers: range) -> str:
    return f"AND({number}>={numbers.start},{number}<={numbers[-1]})"


def _bit(value: str, bit: int) -> str:
    return f"MOD(INT({value}/{bit}),2)=1"


def _locomotive_words(cv29: str) -> str:
    off = configuration_words(Configuration())
    parts = []
    for at, one in enumerate(fields(Configuration)):
        on = configuration_words(Configuration(**{one.name: True}))
        without = text(f", {off[at]}") if at < len(off) else '""'
        parts.append(f"IF({_bit(cv29, 1 << at)},{text(f', {on[at]}')},{without})")
    return f"MID({'&'.join(parts)},3,999)"


def _accessory_words(cv29: str) -> str:
    off = accessory_configuration_words(AccessoryConfiguration())
    on = accessory_configuration_words(
        AccessoryConfiguration(bidi=True, extended=True, output_addressing=True, reserved=1)
    )
    bits = (BIDI, EXTENDED, OUTPUT_ADDRESSING)
    parts = [
        f"IF({_bit(cv29, bit)},{text(f'{on[at]}, ')},{text(f'{off[at]}, ')})" for at, bit in enumerate(bits)
    ]
    held = [bit for bit in (1, 2, 4, 16) if bit & ACCESSORY_RESERVED]
    reserved = "+".join(f"{bit}*MOD(INT({cv29}/{bit}),2)" for bit in held)
    words = worded(f", {on[-1]}", {"value 1": f"({reserved})"})
    return f'{"&".join(parts)}&{text(off[-1])}&IF({reserved}=0,"",{words})'


Slot = tuple[str, str, str]
"""Severity, words and what to do, each a formula."""


def _faults(machinery: Machinery) -> Iterator[Slot]:
    """Return the faults in the order in which ``decoded`` has them."""
    cv1, cv17, cv18, cv29 = (_ref(machinery, f"cv{cv}") for cv in CVS)
    kind, short, long, answers, problem = (
        _ref(machinery, name) for name in ("kind", "short", "long", "answers", "problem")
    )
    at = {1: "CV1 = {}", 17: "CV17 = {}", 18: "CV18 = {}", 29: "CV29 = {}"}
    refs = {1: cv1, 17: cv17, 18: cv18, 29: cv29}

    def said(values: dict[int, int], cvs: tuple[int, ...], more: Mapping[str, str] | None = None) -> Slot:
        found = _found(values, cvs)
        parts = {at[cv].format(value): refs[cv] for cv, value in values.items()}
        parts |= more or {}
        return (
            text(found.severity.value),
            _worded_where(found.message, parts),
            _worded_where(found.fix, parts) if found.fix else '""',
        )

    nothing: Slot = ('""', '""', '""')
    is_none = {_UNSTATED: f"{kind}={_UNSTATED}", _SHORT: f"{kind}={_SHORT}", _LONG: f"{kind}={_LONG}"}
    given = {cv: f'{refs[cv]}<>""' for cv in CVS}
    cells = f"{machinery.one('read', 'value', 0)}:{_last_cv(machinery)}"
    all_255 = f"AND({kind}<>{_ODD},COUNT({cells})>1,SUM({cells})={BYTE[-1]}*COUNT({cells}))"
    yield _if(all_255, said({1: 255, 17: 255}, (1, 17)), nothing)
    outside, zero = {17: 10, 18: 5}, {17: HIGH_BYTES.start, 18: 0}
    unstated = _if(f"{problem}=1", said(outside, (17, 18)), said(zero, (17, 18)))
    by_long = _if(
        f"{problem}=1", said({**outside, 29: 34}, (17, 18, 29)), said({**zero, 29: 34}, (17, 18, 29))
    )
    yield _if(
        f"OR({problem}=0,{kind}={_SHORT},{kind}>{_LONG})",
        nothing,
        _if(is_none[_LONG], by_long, unstated),
    )
    half = _if(
        f'AND({given[17]},{refs[18]}="")',
        said({17: 200}, (17,)),
        _if(f'AND({given[18]},{refs[17]}="")', said({18: 5}, (18,)), nothing),
    )
    yield _if(f"OR({is_none[_UNSTATED]},{is_none[_LONG]})", half, nothing)
    no_short = f"AND({given[1]},{short}=0)"
    pair_missing = _if(f'AND({cv17}="",{cv18}="")', said({29: 34}, (29,)), nothing)
    yield _if(
        is_none[_UNSTATED],
        _if(no_short, said({1: 201}, (1,)), nothing),
        _if(is_none[_LONG], pair_missing, nothing),
    )
    unused = _if(
        f"{short}>0",
        said({1: 5, 29: 34}, (1, 29)),
        _if(f"{cv1}=0", said({1: 0, 29: 34}, (1, 29)), said({1: 201, 29: 34}, (1, 29))),
    )
    default = _if(f"{short}={DEFAULT_SHORT_ADDRESS}", said({1: 3, 29: 2}, (1, 29)), nothing)
    unusable = _if(f"{cv1}=0", said({1: 0, 29: 2}, (1, 29)), said({1: 201, 29: 2}, (1, 29)))
    by_short = _if(given[1], _if(f"{short}=0", unusable, default), said({29: 2}, (29,)))
    yield _if(is_none[_LONG], _if(given[1], unused, nothing), _if(is_none[_SHORT], by_short, nothing))
    cv17_default, cv18_default = long_address_cvs(DEFAULT_LONG_ADDRESS)
    pair = (17, 18, 29)
    stored = _if(
        f"{long}={DEFAULT_LONG_ADDRESS}",
        said({1: 5, 17: cv17_default, 18: cv18_default, 29: 2}, pair),
        said({1: 5, 17: 200, 18: 5, 29: 2}, pair, {"long 2053": long}),
    )
    useless = _if(
        f"{problem}=1",
        said({1: 5, **outside, 29: 2}, pair),
        _if(f"{problem}=2", said({1: 5, **zero, 29: 2}, pair), nothing),
    )
    yield _if(is_none[_SHORT], _if(f"{long}>0", stored, useless), nothing)
    short_doubt = said({1: 105, 29: 2}, (1, 29), {"short 105": answers, "long 105": answers})
    long_doubt = said(
        {17: 192, 18: 105, 29: 34}, pair, {"long 105": f"ABS({answers})", "short 105": f"ABS({answers})"}
    )
    yield _if(
        f"AND({answers}>={KIND_DIFFERS.start},{answers}<={KIND_DIFFERS[-1]})",
        short_doubt,
        _if(f"AND({answers}<0,{answers}>={-SHORT_ADDRESSES[-1]})", long_doubt, nothing),
    )
    locomotive = f"OR({is_none[_SHORT]},{is_none[_LONG]})"
    for bit, wanted in ((DC_OPERATION, True), (STEPS_28, False), (RESERVED, True), (SPEED_TABLE, True)):
        specimen = bit | STEPS_28 if wanted else 0
        (only,) = [one for one in decoded({1: 5, 29: specimen}).faults if one.cvs == (29,)]
        slot = text(only.severity.value), text(only.message), text(only.fix)
        there = _bit(cv29, bit) if wanted else f"NOT({_bit(cv29, bit)})"
        yield _if(locomotive, _if(there, slot, nothing), nothing)
    beside = _if(f'IF({cv17}="",FALSE,{cv17}>7)', said({17: 8, 29: 128}, (17, 29)), said({29: 128}, (29,)))
    accessory = f"{kind}={_ACCESSORY}"
    yield _if(accessory, _if(all_255, nothing, beside), nothing)
    last = decoded({29: 128}).faults[-1]
    yield _if(accessory, (text(last.severity.value), text(last.message), text(last.fix)), nothing)


def _found(values: dict[int, int], cvs: tuple[int, ...]) -> CombinationFault:
    return next(one for one in decoded(values).faults if one.cvs == cvs)


def _worded_where(message: str, parts: Mapping[str, str]) -> str:
    return worded(message, {part: reference for part, reference in parts.items() if part in message})


def _if(condition: str, then: Slot, otherwise: Slot) -> Slot:
    """Choose a fault: each of its three texts by the same condition."""

    def chosen(at: int) -> str:
        same = then[at] == otherwise[at]
        return then[at] if same else f"IF({condition},{then[at]},{otherwise[at]})"

    return chosen(0), chosen(1), chosen(2)
