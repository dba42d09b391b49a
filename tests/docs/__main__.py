"""Write the derived parts of every document anew; with ``--check`` only name what is out of date."""

import sys

from tests.docs.documents import CHECKOUT, derived, documents


def main(arguments: list[str]) -> int:
    """Write or compare every document; return 1 where --check finds one that is out of date, else 0."""
    stale = []
    for path in documents():
        text = path.read_text(encoding="utf-8")
        made = derived(text)
        if made != text:
            stale.append(path)
            if "--check" not in arguments:
                path.write_text(made, encoding="utf-8")
    word = "out of date" if "--check" in arguments else "made anew"
    sys.stdout.writelines(f"{path.relative_to(CHECKOUT)}: {word}\n" for path in stale)
    return int(bool(stale) and "--check" in arguments)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
