"""How large and how odd a workbook may be before it is refused: every limit of reading, in one place."""

MIB = 1024 * 1024

MAX_FILE_BYTES = 256 * MIB
"""Size of the workbook file itself."""

MAX_PARTS = 10_000
"""Files inside the workbook (an .xlsx file is a zip archive of them)."""

MAX_PART_BYTES = 256 * MIB
"""Size of one part when it is unpacked."""

MAX_TOTAL_BYTES = 1024 * MIB
"""Size of all parts together when they are unpacked."""

MAX_RATIO = 200
"""How many times smaller than its content a packed part above 16 MiB may be."""

FREE_RATIO_BYTES = 16 * MIB
"""Parts up to this size may be packed as tightly as they like."""

MAX_STRUCTURE_BYTES = 32 * MIB
"""Size of a part that holds structure rather than cells: workbook, styles, content types, relationships."""

MAX_STRINGS_BYTES = 128 * MIB
"""Size of the list of texts that the cells share."""

MAX_SHEETS = 1_000
"""Sheets in one workbook."""

MAX_NAMES = 50_000
"""Defined names in one workbook."""

MAX_DEPTH = 200
"""How deeply the elements of a part may be nested."""

MAX_CELLS = 5_000_000
"""Cells with a value in one sheet."""

MAX_ODD_ELEMENTS = 1_500_000
"""Elements of a sheet or of the shared texts where an unusual spelling asks for reading them one by one."""

MAX_SLOTS = 20_000_000
"""Places of cells up to the last cell with a value in each row, in one sheet."""

MAX_MERGED = 100_000
"""Merged ranges in one sheet."""

LAST_ROW = 1_048_576
"""Rows of a sheet; a limit of the file format (ECMA-376)."""

LAST_COLUMN = 16_384
"""Columns of a sheet, A to XFD; a limit of the file format (ECMA-376)."""

KEPT_BYTES = 48 * MIB
"""Unpacked parts are kept in memory up to this size together; beyond it they are unpacked when needed."""
