"""CSV that no spreadsheet program takes for formulas, and its reader.

RFC 4180: commas, CRLF at the end of every line, quote marks doubled. A spreadsheet program runs a
text that begins with = + - @, a tab or a line end as a formula even inside quote marks, so such a
text is given an apostrophe; one that begins with an apostrophe is given another, so that the
reader may always take one away. Written with a byte order mark, without which some programs
read × and µ wrongly.
"""

import csv
import io
from collections.abc import Iterable, Sequence

_GUARDED = ("=", "+", "-", "@", "\t", "\r", "\n", "'")
ENCODING = "utf-8-sig"

Field = str | int | float


def written(rows: Iterable[Sequence[Field]]) -> bytes:
    """Rows as the bytes of a CSV file; numbers are written as numbers.

    >>> print(written([["=1+1", 2]]).decode("utf-8-sig").rstrip())
    "'=1+1",2
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerows([_guarded(f) for f in r] for r in rows)
    return stream.getvalue().encode(ENCODING)


def read(data: bytes) -> list[list[str]]:
    """The rows of such a file, every field as the text it was.

    >>> read(written([["=1+1", 2]]))
    [['=1+1', '2']]
    """
    text = data.decode(ENCODING)
    rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    return [[field.removeprefix("'") for field in row] for row in rows]


class _Number(float):
    """A number that is written with as many digits as it has."""

    def __str__(self) -> str:
        return f"{float(self):.15g}"

    __repr__ = __str__


def _guarded(field: Field) -> str | float:
    if isinstance(field, str):
        return "'" + field if field.startswith(_GUARDED) else field
    return _Number(field)
