"""Markdown as the documents need it: tables to write; headings, links and names of files to read."""

import re
from collections.abc import Collection, Iterable, Sequence

_FENCE = re.compile(r"^```.*?^```$", re.MULTILINE | re.DOTALL)
_HEADING = re.compile(r"^#+ (.*)$", re.MULTILINE)
_LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
_CODE = re.compile(r"`([^`\n]+)`")
_PATH = re.compile(r"[\w.*-]+(?:/[\w.*-]+)*/?")
_SUFFIXES = (".cfg", ".json", ".md", ".py", ".toml", ".yaml", "/")


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return rows of text as a Markdown table."""
    lines = [headings, ["---"] * len(headings), *rows]
    return "\n".join("| " + " | ".join(cell.replace("|", "\\|") for cell in line) + " |" for line in lines)


def anchors(text: str) -> set[str]:
    """Return the anchors of a document's headings, as code hosts make them."""
    headings = _HEADING.findall(_FENCE.sub("", text))
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def relative_links(text: str) -> list[str]:
    """Return what a document's links lead to, apart from those to other hosts."""
    return [link for link in _LINK.findall(_FENCE.sub("", text)) if "://" not in link]


def named_files(text: str, folders: Collection[str]) -> list[str]:
    """Return what stands in backticks and looks like a file or a folder of the tree; ``*`` stands for any.

    That is a name with one of a few endings, or one below any of these folders (``km/h`` is none).
    """
    code = [one for one in _CODE.findall(_FENCE.sub("", text)) if _PATH.fullmatch(one)]
    return [one for one in code if one.endswith(_SUFFIXES) or ("/" in one and one.split("/")[0] in folders)]
