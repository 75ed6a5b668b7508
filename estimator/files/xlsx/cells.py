"""The sheets of a package, their names, and what each cell holds: values, formulas, results."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Any, NamedTuple

from openpyxl.formula.translate import Translator
from openpyxl.styles.numbers import BUILTIN_FORMATS, is_date_format
from openpyxl.utils import column_index_from_string, get_column_letter
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900, from_excel

from ...errors import FileError
from .opening import A_WORKBOOK, Package
from .plain import Plain, plain_cells

MOST_CELLS = 1_500_000  # in one sheet that is read; a job of 2,000 openings has half of it
MOST_ROWS, MOST_COLUMNS = 1_048_576, 16_384  # of a sheet (ISO/IEC 29500-1, 18.3.1.73)

_RID = "id"
_CODED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_UNSAID = re.compile(r'"[^"]*"|\\.')  # of a number format: texts in it
_AT = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,6})")
_NUMBER = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")


class InPercent(float):
    """A number that is shown a hundredfold, with a %: 0.2 is seen as 20%."""

    __slots__ = ()


class Failed(str):
    """An error value, as #N/A: no text, and no blank either."""

    __slots__ = ()


class Stored(NamedTuple):
    """What a cell holds. A blank has value None; a formula's value is its stored result.

    `value` is a float, a str, a bool, a date, datetime, time or timedelta, Failed, or None;
    `number` is what is stored, whatever the cell's format makes of it.
    """

    value: Any
    formula: str | None = None
    number: float | None = None


NOTHING = Stored(None)
At = tuple[int, int]  # row and column, counted from 1


@dataclass
class Sheets:
    """The sheets of a workbook by name, in order, and its names for cells and constants."""

    package: Package
    parts: dict[str, str]  # sheet: part
    names: dict[str, str]  # defined name, of the whole workbook: what it stands for
    local: frozenset[tuple[str, str]]  # sheet and name, in small letters, of names of one sheet
    workbook_part: str
    texts_part: str | None
    is_date: frozenset[int]  # the cell formats that show dates
    is_percent: frozenset[int]  # those that show a hundred times the number, and a %
    from_1904: bool
    _texts: list[str] | None = field(default=None, repr=False)
    _numbers: dict[str, float] = field(default_factory=dict, repr=False)  # by their spelling
    _plain: set[str] = field(default_factory=set, repr=False)  # formats seen to show the number
    _read: dict[str, dict[At, Stored]] = field(default_factory=dict, repr=False)

    def texts(self) -> list[str]:
        """The shared strings, each with its runs joined; phonetic hints are left out."""
        if self._texts is None:
            self._texts = []
            if self.texts_part is not None:
                for item in self.package.rows_of(self.texts_part, "{*}si"):
                    self._texts.append(text_in(item))
        return self._texts

    def cells(self, sheet: str) -> Mapping[At, Stored]:
        """Every cell of a sheet that holds anything. Raises FileError for what cannot be read."""
        if sheet not in self._read:
            self._read[sheet] = self._cells(sheet)
        return self._read[sheet]

    def _cells(self, sheet: str) -> dict[At, Stored]:
        plain = plain_cells(self.package.xml(self.parts[sheet]))
        known = None if plain is None else self._plain_spelled(sheet, plain)
        if known is not None:
            return known
        found: dict[At, Stored] = {}
        for at, stored in self._parsed(sheet):
            if stored is NOTHING:
                continue
            if at in found:
                where = f"{self.package.path.name}: {sheet}!{address_of(at)}"
                raise FileError(where, "two cells", f"{A_WORKBOOK} that is whole")
            found[at] = stored
            if len(found) > MOST_CELLS:
                raise FileError(
                    f"{self.package.path.name}: sheet {sheet}",
                    f"more than {MOST_CELLS:,} cells",
                    "a workbook of the estimator's size",
                )
        return found

    def _plain_spelled(self, sheet: str, cells: Iterator[Plain]) -> dict[At, Stored] | None:
        """The cells; None where two are one, or where they are too many: the parser says which."""
        columns: dict[str, int] = {}
        numbers, as_numbers = self._numbers, self._plain
        place_of = f"{self.package.path.name}: sheet {sheet}"
        found: dict[At, Stored] = {}
        count = 0
        for letters, digits, style, kind, formula, text in cells:
            if letters not in columns:
                _, columns[letters] = place(f"{letters}1", place_of)
            at = int(digits), columns[letters]
            if kind == "n" and text in numbers and style in as_numbers:
                number = numbers[text]
                stored = Stored(number, formula, number)
            elif kind == "inlineStr" or (kind == "str" and text is not None):
                stored = Stored(decoded(text or ""), formula)
            else:
                stored = self._stored(kind, style, formula, text, at, sheet)
                if stored is NOTHING:
                    continue
            found[at] = stored
            count += 1
        return found if len(found) == count <= MOST_CELLS else None

    def _parsed(self, sheet: str) -> Iterator[tuple[At, Stored]]:
        shared: dict[str, tuple[str, str]] = {}
        row = column = 0
        part, place_of = self.parts[sheet], f"{self.package.path.name}: sheet {sheet}"
        for element in self.package.rows_of(part, "{*}row", "{*}c"):
            if element.tag.endswith("}row"):
                row, column = self._row(sheet, element.get("r"), row + 1), 0
                continue
            address = element.get("r")
            if address is None:  # the reference may be left out: then it follows the one before
                at = (self._row(sheet, element.getparent().get("r"), row + 1), column + 1)
            else:
                at = place(address, place_of)
            row, column = at[0] - 1, at[1]
            kind, formula, text = self._said(element, at, shared)
            yield at, self._stored(kind, element.get("s", "0"), formula, text, at, sheet)

    def _row(self, sheet: str, said: str | None, usual: int) -> int:
        """The number of a row: as it is said, or the one after the row before."""
        if not said:
            return usual
        return place(f"A{said}", f"{self.package.path.name}: sheet {sheet}")[0]

    def _said(
        self, element: Any, at: At, shared: dict[str, tuple[str, str]]
    ) -> tuple[str, str | None, str | None]:
        """The kind of a cell, its formula, and what stands in it; a text in the cell is decoded."""
        kind = element.get("t", "n")
        formula = text = inline = None
        for child in element.iterchildren("*"):
            tag = child.tag.rpartition("}")[2]
            if tag == "v" and text is None:
                text = child.text or ""
            elif tag == "f" and formula is None:
                formula = self._formula(child, at, shared)
            elif tag == "is" and inline is None:
                inline = child
        if kind == "inlineStr":
            text = "" if inline is None else text_in(inline)
        return kind, formula, text

    def _stored(
        self, kind: str, style: str, formula: str | None, text: str | None, at: At, sheet: str
    ) -> Stored:
        if kind == "inlineStr":
            return Stored(text, formula)
        if text is None or (text == "" and kind != "str"):  # some writers leave the result empty
            return NOTHING if formula is None else Stored(None, formula)
        try:
            if kind != "n":
                return Stored(self._no_number(kind, text), formula)
            number = self._numbers.get(text)
            if number is None:
                if not _NUMBER.fullmatch(text.strip()):
                    raise ValueError(text)
                number = self._numbers[text] = float(text)
            return Stored(
                number if style in self._plain else self._shown(number, style), formula, number
            )
        except FileError:
            raise
        except (ValueError, IndexError, OverflowError):
            where = f"{self.package.path.name}: {sheet}!{address_of(at)}"
            raise FileError(where, text, f"{A_WORKBOOK} that is whole") from None

    def _no_number(self, kind: str, text: str) -> Any:
        match kind:
            case "s":
                return self.texts()[counted(text)]
            case "str":
                return decoded(text)
            case "e":
                return Failed(text)
            case "b":
                return text.strip() in ("1", "true")
            case "d":
                return datetime.fromisoformat(text)
        raise ValueError(kind)

    def _shown(self, number: float, style: str) -> Any:
        """The number, or the date or time of day as which its format shows it."""
        if counted(style) in self.is_percent:
            return InPercent(number)
        if counted(style) not in self.is_date:
            self._plain.add(style)
            return number
        epoch = CALENDAR_MAC_1904 if self.from_1904 else CALENDAR_WINDOWS_1900
        try:
            return from_excel(number, epoch)
        except (ValueError, OverflowError):  # before the calendar begins, or after it ends
            return number

    @staticmethod
    def _formula(found: Any, at: At, shared: dict[str, tuple[str, str]]) -> str:
        """The cell's own formula; one that is shared is moved here from its first cell."""
        text = found.text or ""
        if found.get("t") != "shared":
            return text
        number = found.get("si", "")
        if text:
            shared[number] = (text, address_of(at))
            return text
        if number not in shared:
            return ""
        first, origin = shared[number]
        return translated(first, origin, address_of(at))


def translated(formula: str, origin: str, target: str) -> str:
    """The formula of one cell as it reads in another, as when it is filled down."""
    moved: str = Translator("=" + formula, origin).translate_formula(target)
    return moved[1:]


def place(address: str, where: str = "a sheet") -> At:
    """Row and column of an address such as C7. Raises FileError for what is none."""
    found = _AT.fullmatch(address)
    if found is not None:
        row, column = int(found.group(2)), column_index_from_string(found.group(1))
        if row <= MOST_ROWS and column <= MOST_COLUMNS:
            return row, column
    raise FileError(where, address, "the address of a cell")


def counted(text: str) -> int:
    """A number of things, from 0. Raises ValueError for what is none."""
    if not (text.isascii() and text.isdigit()):
        raise ValueError(text)
    return int(text)


def address_of(at: At) -> str:
    """The address of a row and column."""
    return f"{get_column_letter(at[1])}{at[0]}"


def decoded(text: str) -> str:
    """A text as it was meant: _x0041_ is a letter written in its code (ISO/IEC 29500-1, 22.4.2.4)."""
    return _CODED.sub(lambda m: chr(int(m.group(1), 16)), text) if "_x" in text else text


def text_in(element: Any) -> str:
    """The text of a string item, its runs joined (18.4.8); phonetic runs (18.4.6) are no part of it."""
    parts = []
    for child in element:
        if child.tag.endswith("}t"):
            parts.append(child.text or "")
        elif child.tag.endswith("}r"):
            parts.append(child.findtext("{*}t") or "")
    return decoded("".join(parts))


def read_sheets(package: Package) -> Sheets:
    """The sheets and names of a workbook. Raises FileError when they cannot be read."""
    book_part = package.workbook_part()
    book = package.tree(book_part)
    relations = {r.id: r for r in package.relations(book_part)}
    by_kind = {r.kind: r.target for r in relations.values()}
    parts: dict[str, str] = {}
    listed = [s.get("name", "") for s in book.iter("{*}sheet")]
    for sheet in book.iter("{*}sheet"):
        id_ = next((v for k, v in sheet.attrib.items() if k.endswith("}" + _RID)), "")
        relation = relations.get(id_)
        if relation is not None and relation.kind == "worksheet":
            if not relation.target:
                where = f"{package.path.name}: sheet {sheet.get('name', '')}"
                raise FileError(where, "a part outside the file", A_WORKBOOK)
            if sheet.get("name", "") in parts:
                raise FileError(str(package.path), "two sheets of one name", A_WORKBOOK)
            parts[sheet.get("name", "")] = relation.target
    if not parts:
        raise FileError(str(package.path), "no sheets", A_WORKBOOK)
    names = {
        n.get("name", ""): (n.text or "").strip()
        for n in book.iter("{*}definedName")
        if n.get("localSheetId") is None
    }
    local = frozenset(
        (listed[int(n.get("localSheetId"))], n.get("name", "").lower())
        for n in book.iter("{*}definedName")
        if n.get("localSheetId", "").isdecimal() and int(n.get("localSheetId")) < len(listed)
    )
    properties = book.find("{*}workbookPr")
    from_1904 = properties is not None and properties.get("date1904") in ("1", "true")
    codes = _formats(package, by_kind.get("styles"))
    dates = frozenset(n for n, code in enumerate(codes) if is_date_format(code))
    percents = frozenset(n for n, code in enumerate(codes) if "%" in _UNSAID.sub("", code))
    texts = by_kind.get("sharedStrings")
    return Sheets(package, parts, names, local, book_part, texts, dates, percents, from_1904)


def _formats(package: Package, part: str | None) -> list[str]:
    """The number format of each cell format, as it is written."""
    if part is None:
        return []
    styles = package.tree(part)
    codes = dict(BUILTIN_FORMATS)
    try:
        for found in styles.iter("{*}numFmt"):
            codes[counted(found.get("numFmtId", ""))] = found.get("formatCode", "")
        listed = styles.find("{*}cellXfs")
        return [
            codes.get(counted(xf.get("numFmtId", "0")), "")
            for xf in (() if listed is None else listed.iterfind("{*}xf"))
        ]
    except ValueError as error:
        where = f"{package.path.name}: {part}"
        raise FileError(where, str(error), f"{A_WORKBOOK} that is whole") from None


def as_words(value: date | time | timedelta) -> str:
    """A date as it is printed: 25 November 2026; a time of day as 14:30."""
    if isinstance(value, timedelta):
        return str(value)
    if isinstance(value, time):
        return f"{value:%H:%M}"
    return f"{value.day} {value:%B %Y}"
