"""Verifies an edited workbook by its bytes: the new file, less what the edit claims, is the old file.

Of the edit it takes over what was asked for, which parts were written, and where our own sheets were placed
(``claims``), and nothing else:

- ``verify`` gives each part the look that it has to stand; ``remainder`` takes out what may be put in.
- ``archive``, ``lists``, ``whole``: what nobody wrote, what the package lists, which sheets and parts it has.
- ``sheet_data``, ``rows``, ``cells``, ``frame``: a worksheet of a member's, its rows and what is around them.
- ``growth``: filters, tables and what they sort, which grow with a list.
- ``parts``: workbook part, styles and tables. ``own_sheet``, ``charts``: what is ours, read back.
"""
