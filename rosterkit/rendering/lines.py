"""Texts out of cells as one line for a terminal or a printer."""


def one_line(text: str) -> str:
    """Give a text as one line: line ends and tabs as blanks, other control signs left out.

    A cell, a heading or a sheet's title may hold any of them.
    """
    return " ".join("".join(sign for sign in text if sign.isspace() or not _is_control(sign)).split())


def _is_control(sign: str) -> bool:
    return sign < " " or "\x7f" <= sign < "\xa0"
