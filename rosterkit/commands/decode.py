"""What CV values mean, as text and JSON."""

from collections.abc import Callable, Mapping
from dataclasses import asdict

from rosterkit.cv.address_sentences import NOT_KNOWN
from rosterkit.cv.decode import Decoded
from rosterkit.formats import as_json


def decode_text(decoded: Decoded) -> str:
    """Return the address, what the values come to, then each CV, then the faults with what to do."""
    address = f"{decoded.kind} {decoded.number}" if decoded.number is not None else NOT_KNOWN
    lines = [f"address: {address}", *(f"{subject}: {words}" for subject, words in decoded.summary.items())]
    for setting in decoded.settings:
        bits = f"{setting.value >> 4:04b} {setting.value & 15:04b}"
        lines.append(f"{f'CV{setting.cv}':<6} = {setting.value:>3}  {bits}  {setting.meaning}")
    for fault in decoded.faults:
        cvs = " ".join(f"CV{cv}" for cv in fault.cvs)
        lines.append(f"{fault.severity.value}: [{cvs}] {fault.message}")
        lines += [f"    fix: {fault.fix}"] if fault.fix else []
    return "\n".join(lines)


def decode_json(decoded: Decoded) -> str:
    """Return one object with address, kind, summary, settings and faults (schema/outputs/decode.json)."""
    return as_json(
        {
            "address": decoded.number,
            "kind": decoded.kind,
            "summary": dict(decoded.summary),
            "settings": [asdict(setting) for setting in decoded.settings],
            "faults": [asdict(fault) for fault in decoded.faults],
        }
    )


DECODE_FORMATS: Mapping[str, Callable[[Decoded], str]] = {"text": decode_text, "json": decode_json}
