"""Run on its own, in a process of its own: a spreadsheet on its input, its cells on its output.

The reader beneath ends the whole process where a sheet takes more memory than there is, as one
does whose last cell is in the last row and column. So it runs apart, with a limit. Nothing of the
program is imported here.
"""

import io
import json
import sys
from datetime import date
from typing import Any

MOST_MEMORY = 2 * 2**30  # bytes
MOST_ROWS = 100_000  # that hold anything, in all sheets
MOST_COLUMNS = 256
_NO_SPREADSHEET = "no spreadsheet that can be read"


def main() -> None:
    """Print a line of JSON before each sheet is read, and one with what is in it."""
    _limit_memory()
    data = sys.stdin.buffer.read()
    from python_calamine import CalamineError, PasswordError, SheetTypeEnum, SheetVisibleEnum
    from python_calamine import load_workbook as load

    try:
        with load(io.BytesIO(data)) as book:
            rows_left = MOST_ROWS
            for about in book.sheets_metadata:
                if about.typ is not SheetTypeEnum.WorkSheet:
                    continue
                _say({"reading": about.name})
                sheet = book.get_sheet_by_name(about.name)
                rows = _rows(sheet, rows_left)
                rows_left -= len(rows)
                merged = [] if sheet.merged_cell_ranges is None else sheet.merged_cell_ranges
                hidden = about.visible is not SheetVisibleEnum.Visible
                _say({"name": about.name, "hidden": hidden, "merged": merged, "rows": rows})
    except PasswordError:
        _say({"refused": "an encrypted file"})
    except CalamineError as error:
        said = str(error)
        _say({"refused": _NO_SPREADSHEET if "detect" in said else said[:100]})
    except _TooManyError as error:
        _say({"refused": str(error)})
    except MemoryError:
        sys.exit(1)  # as the reader beneath, where it has no more
    except BaseException as error:  # a panic of the reader is no Exception
        _say({"refused": f"damaged data ({type(error).__name__})"})


class _TooManyError(Exception):
    pass


def _rows(sheet: Any, most: int) -> list[tuple[int, list[Any]]]:
    """The rows that hold anything: each with its number, counted from 1, and its cells from A on."""
    if sheet.start is None:
        return []
    top, left = sheet.start
    before = [""] * left
    found: list[tuple[int, list[Any]]] = []
    for number, cells in enumerate(sheet.to_python(skip_empty_area=True), top + 1):
        end = len(cells)
        while end and cells[end - 1] == "":
            end -= 1
        if not end:
            continue
        if left + end > MOST_COLUMNS:
            raise _TooManyError(f"a cell in column {left + end} of row {number}")
        if len(found) == most:
            raise _TooManyError(f"more than {MOST_ROWS:,} rows")
        found.append((number, before + cells[:end]))
    return found


def _say(found: Any) -> None:
    sys.stdout.buffer.write(json.dumps(found, default=_day).encode() + b"\n")
    sys.stdout.buffer.flush()


def _day(value: Any) -> dict[str, str]:
    shown = value.isoformat() if isinstance(value, date) else str(value)
    return {"time": shown[:10]}


def _limit_memory() -> None:
    try:
        import resource
    except ImportError:  # a system that has no such limit
        return
    try:
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    except (ValueError, OSError):  # a system that takes none, or has a lower one
        return


if __name__ == "__main__":
    main()
