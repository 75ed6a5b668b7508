"""Sheet data in the plain spelling that spreadsheet programs write, read in one stride.

Parsing 50,000 cells element by element takes longer than working a job out. What is spelled in any
other way, or may be damaged, is left to the parser: `plain_cells` says None of it.
"""

import re
from collections.abc import Iterator

from lxml import etree

from . import opening

MOST_BYTES = 32 * 2**20  # of a part that is read so; all its cells are in memory at a time
_OPEN, _SHUT = "<sheetData>", "</sheetData>"
# What would need a parser to be read rightly, or to be refused.
_NO_TEXT = re.compile(r"[\x00-\x08\x0b-\x1f\ufffe\uffff]")
# The same in UTF-8: those of one byte, and those of more.
_NO_TEXT_BYTES = bytes(n for n in range(128) if _NO_TEXT.match(chr(n)))
_NO_TEXT_LONGER = [chr(n).encode() for n in (0xFFFE, 0xFFFF) if _NO_TEXT.match(chr(n))]
_CODED = r"(?:(amp|lt|gt|quot|apos)|#([0-9]{1,7})|#x([0-9A-Fa-f]{1,6}));"
_LOOSE, _SIGN = re.compile(f"&(?!{_CODED})"), re.compile(f"&{_CODED}")
_NUMBERED = re.compile("&#[0-9A-Fa-fx]+;")
_NAMED = {"lt": "<", "gt": ">", "quot": '"', "apos": "'", "amp": "&"}
_ROW = r'<row r="[1-9][0-9]{0,5}"(?: [\w:]+="[^"<>]*")*'
_ROW_OPENED, _ROWS_BLANK = re.compile(rf"(?:{_ROW}/>)*{_ROW}>"), re.compile(rf"(?:{_ROW}/>)*")
_CELL = re.compile(
    r'(<c r="([A-Z]{1,3})([1-9][0-9]{0,5})"(?: s="([0-9]+)")?(?: t="(n|s|str|inlineStr|e|b)")?'
    r'(?:/>|>(?:<f(?: aca="false")?>([^<]+)</f>)?(?:(<v>[^<]*)</v>)?'
    r'(?:<is><t(?: xml:space="preserve")?>([^<]*)</t></is>)?</c>))'
)
# Letters and digits of the address, style, kind, formula, and the text of its value.
Plain = tuple[str, str, str, str, str | None, str | None]


def plain_cells(data: bytes) -> Iterator[Plain] | None:
    """Every cell of a sheet's part, in its order; None where only a parser can tell."""
    if len(data) > MOST_BYTES:
        return None
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        return None
    head, opened, rest = text.partition(_OPEN)
    body, shut, tail = rest.partition(_SHUT)
    if not (opened and shut) or "<!" in text or "]]>" in text or not _is_whole(head, tail):
        return None
    if _holds_no_text(body.encode()) or _LOOSE.search(body):
        return None
    if not all(_is_of_text(code) for code in set(_NUMBERED.findall(body))):
        return None
    rows = _rows(body)
    return None if rows is None else _cells(rows)


def _holds_no_text(data: bytes) -> bool:
    """Whether a sign stands anywhere that cannot stand in XML: looked for byte by byte, as a
    pattern takes five times as long."""
    if len(data.translate(None, _NO_TEXT_BYTES)) != len(data):
        return True
    return any(sign in data for sign in _NO_TEXT_LONGER)


def _is_whole(head: str, tail: str) -> bool:
    """Whether what stands around the data is XML in UTF-8, and holds no rows or cells."""
    declared = head[: head.find("?>") + 1].lower()
    if "encoding=" in declared and "utf-8" not in declared:
        return False
    try:
        around = etree.fromstring(f"{head}{tail}".encode(), opening.parser())
    except (etree.XMLSyntaxError, ValueError):
        return False
    return next(around.iter("{*}row", "{*}c", "{*}sheetData"), None) is None


def _rows(body: str) -> list[list[tuple[str, ...]]] | None:
    """The cells of each row, as they are written; None unless they are all there is."""
    *rows, rest = body.split("</row>")
    if not _ROWS_BLANK.fullmatch(rest):
        return None
    found, count = [], 0
    for row in rows:
        opened = _ROW_OPENED.match(row)
        if opened is None:
            return None
        cells = _CELL.findall(row, opened.end())
        if opened.end() + sum([len(cell[0]) for cell in cells]) != len(row):
            return None
        found.append(cells)
        count += 1 + len(cells)
        if count > opening.MOST_ELEMENTS:
            return None
    return found


def _cells(rows: list[list[tuple[str, ...]]]) -> Iterator[Plain]:
    for cells in rows:
        for _, letters, digits, style, kind, formula, value, inline in cells:
            text = inline if kind == "inlineStr" else value[len("<v>") :] if value else None
            if formula and "&" in formula:
                formula = _decoded(formula)
            if text and "&" in text:
                text = _decoded(text)
            yield letters, digits, style or "0", kind or "n", formula or None, text


def _decoded(text: str) -> str:
    """Each sign that is coded in its place."""
    if "&#" in text:
        return _SIGN.sub(_sign, text)
    text = text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", '"')
    return text.replace("&apos;", "'").replace("&amp;", "&")  # & comes last


def _sign(found: re.Match[str]) -> str:
    name, decimal, hexadecimal = found.groups()
    return _NAMED[name] if name else chr(int(decimal) if decimal else int(hexadecimal, 16))


def _is_of_text(code: str) -> bool:
    """Whether a sign may stand in XML at all (Extensible Markup Language 1.0, 2.2)."""
    try:
        sign = _SIGN.sub(_sign, code)
    except ValueError:  # beyond Unicode
        return False
    return not (_NO_TEXT.match(sign) or "\ud800" <= sign <= "\udfff") or sign == "\r"
