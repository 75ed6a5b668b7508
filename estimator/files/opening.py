"""Opening any file that a person gives: a plain file, of a size that can be, read once.

A pipe or a device is refused before it is read, so nothing waits for it or is filled by it.
"""

import csv
import io
import os
import re
import stat
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..errors import FileError

MOST_TEXT = 4 * 2**20  # bytes of a job file, a price file or a file of settings
MOST_LINES = 10_000  # of a price file, as of a list in a workbook
_FIGURE = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")


def file_bytes(path: Path, kind: str, most: int, missing: str = "a file that exists") -> bytes:
    """The bytes of a plain file of up to so many.

    Raises FileError for what is missing, no plain file, larger, or cannot be read.
    """
    try:
        # Without waiting: a pipe that nobody writes to would never open.
        handle = os.open(
            path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        )
        with os.fdopen(handle, "rb") as stream:
            told = os.fstat(handle)
            if not stat.S_ISREG(told.st_mode):
                raise FileError(str(path), "no plain file", kind)
            data = stream.read(most + 1) if told.st_size <= most else b""
    except FileNotFoundError:
        raise FileError(str(path), None, missing) from None
    except IsADirectoryError:
        raise FileError(str(path), "a folder", kind) from None
    except OSError as error:
        raise FileError(str(path), error.strerror, "a file that can be read") from None
    except ValueError:  # a name with a NUL in it
        raise FileError(repr(str(path)), "a name that no file can have", kind) from None
    if told.st_size > most or len(data) > most:
        size = f"{max(told.st_size, len(data)) / 2**20:.1f} MB"
        raise FileError(str(path), size, f"{kind} of up to {most / 2**20:.0f} MB")
    return data


def file_text(path: Path, missing: str = "a file that exists") -> str:
    """The text of a plain file. Raises FileError for one that is none, or not in UTF-8."""
    data = file_bytes(path, "a plain text file", MOST_TEXT, missing)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(str(path), "UnicodeDecodeError", "a readable file in UTF-8") from None


def toml_in(text: str) -> dict[str, Any]:
    """The entries of a TOML file. Raises ValueError, in words, for a text that is none."""
    try:
        return tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError:
        raise
    except RecursionError:
        raise ValueError("lists within lists within lists") from None
    except ValueError:  # a number of more digits than Python turns into one
        raise ValueError("a number of thousands of digits") from None


def csv_lines(
    text: str, delimiter: str = ",", most: int = MOST_LINES
) -> Iterator[tuple[int, list[str]]]:
    """The lines of a CSV file that hold anything, each with its number, counted from 1.

    A line break within quotes belongs to its cell. Raises ValueError, in words.
    """
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, delimiter=delimiter)
    before = count = 0
    try:
        for cells in reader:
            at, before = before + 1, reader.line_num
            if any(cells):
                count += 1
                if count > most:
                    raise ValueError(f"more than {most:,} lines")
                yield at, cells
    except csv.Error as error:
        raise ValueError(f"{error}, in the row that begins in line {before + 1}") from None


def figure(text: str) -> float:
    """A figure as it is written plainly: 0.5, -3 or 1200, in these digits and with no other sign.

    Raises ValueError for any other text.

    >>> figure("31.50")
    31.5
    """
    if not _FIGURE.fullmatch(text.strip(" ")):
        raise ValueError(text)
    return float(text)
