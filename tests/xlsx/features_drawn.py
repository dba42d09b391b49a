"""Makes workbooks with one feature each that is drawn over the cells or hangs on them."""

import struct
import zlib
from io import BytesIO
from pathlib import Path

from tests.xlsx.clubs import club, locomotives

_VALUES = "=Locomotives!$E$2:$E$6"


def png(width: int = 24, height: int = 16) -> BytesIO:
    """Make a small picture."""
    lines = b"".join(
        b"\0" + b"".join(bytes((x * 9 % 256, y * 13 % 256, 90)) for x in range(width)) for y in range(height)
    )
    head = struct.pack(">2I5B", width, height, 8, 2, 0, 0, 0)
    chunks = (b"IHDR", head), (b"IDAT", zlib.compress(lines)), (b"IEND", b"")
    body = b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in chunks
    )
    return BytesIO(b"\x89PNG\r\n\x1a\n" + body)


def photos(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    picture = {"image_data": png(), "description": "an engine", "object_position": 1, "x_scale": 2}
    sheet.insert_image("A9", "engine.png", picture)
    sheet.insert_image("C9", "linked.png", {"image_data": png(), "url": "internal:Locomotives!A1"})
    book.close()


def photos_in_cells(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.embed_image("F2", "engine.png", {"image_data": png(), "description": "an engine"})
    sheet.embed_image("F3", "other.png", {"image_data": png(30, 20)})
    book.close()


def charts(path: Path) -> None:
    book = club(path)
    column = book.add_chart({"type": "column"})
    column.add_series({"values": _VALUES, "data_labels": {"value": True}, "trendline": {"type": "linear"}})
    column.set_title({"name": "Lengths"})
    column.set_style(37)
    locomotives(book).insert_chart("A10", column, {"description": "lengths of the engines"})
    alone = book.add_chartsheet("Chart alone")
    line = book.add_chart({"type": "line"})
    line.add_series({"values": _VALUES})
    alone.set_chart(line)
    book.close()


def text_boxes(path: Path) -> None:
    book = club(path)
    look = {"fill": {"color": "#DDEEFF"}, "font": {"bold": True}, "object_position": 3}
    locomotives(book).insert_textbox("A10", "Ask the keeper\nbefore a change", look)
    book.close()


def notes(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    look = {"author": "M01", "visible": True, "width": 250, "color": "#CCFFCC"}
    sheet.write_comment("C2", "the address of the shunter", look)
    sheet.write_comment("G3", "a note where a computed cell goes")
    book.close()


def background_picture(path: Path) -> None:
    book = club(path)
    locomotives(book).set_background(png())
    book.close()


def pictures_in_the_header(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.set_header("&L&G&CClub", {"image_left": "club.png", "image_data_left": png()})
    sheet.set_footer('&R&"Courier New,Bold"Page &P')
    book.close()


def buttons(path: Path) -> None:
    book = club(path)
    locomotives(book).insert_button("A10", {"macro": "renumber", "caption": "Renumber"})
    book.close()


def sparklines(path: Path) -> None:
    book = club(path)
    locomotives(book).add_sparkline("F2", {"range": "Locomotives!C2:E2", "type": "column", "markers": True})
    book.close()


def checkboxes(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    for row, checked in enumerate((True, False, True), start=1):
        sheet.insert_checkbox(row, 5, checked)
    book.close()


DRAWN = {
    "photos": photos,
    "photos in cells": photos_in_cells,
    "charts and a chart sheet": charts,
    "text boxes": text_boxes,
    "notes": notes,
    "a background picture": background_picture,
    "pictures in the header": pictures_in_the_header,
    "buttons": buttons,
    "sparklines": sparklines,
    "checkboxes": checkboxes,
}
