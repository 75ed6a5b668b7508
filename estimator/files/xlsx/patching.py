"""Changing single cells in the file of a workbook, and nothing else.

Only the parts of sheets in which a cell changes are written anew, and of charts that read one; every
other part keeps its bytes.
"""

from collections.abc import Mapping
from copy import copy
from io import BytesIO
from typing import Any, NamedTuple
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from lxml import etree
from openpyxl.utils import column_index_from_string

from .cells import At, Sheets, address_of, place, translated
from .charted import redrawn

_XML_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
_CALC_CHAIN = "calcChain"


class Put(NamedTuple):
    """What a cell gets: a formula with its result as it is stored, or a constant.

    `kind` is the cell's type as it stands in the file (None, "str", "b", "e"); a text that is no
    result is written inline. An empty Put makes the cell blank.
    """

    formula: str | None
    kind: str | None
    text: str | None


def patched(sheets: Sheets, puts: Mapping[str, Mapping[At, Put]]) -> bytes:
    """The file with those cells changed: {sheet: {(row, column): what it gets}}."""
    package = sheets.package
    parts: dict[str, bytes] = {}
    rewired = False
    for sheet, cells in puts.items():
        if cells:
            part = sheets.parts[sheet]
            tree = package.tree(part)
            rewired = _Sheet(tree).put(cells) or rewired
            parts[part] = _bytes(tree)
    texts = {sheet: {at: put.text for at, put in cells.items()} for sheet, cells in puts.items()}
    parts |= {part: _bytes(tree) for part, tree in redrawn(package, texts).items()}
    dropped = _without_calc_chain(sheets, parts) if rewired else None
    written = BytesIO()
    with ZipFile(written, "w", ZIP_DEFLATED) as archive:
        for info in package.infos():
            if info.filename == dropped:
                continue
            data = parts[info.filename] if info.filename in parts else package.part(info.filename)
            archive.writestr(_alike(info), data)
        archive.comment = package.archive.comment
    return written.getvalue()


def _alike(info: ZipInfo) -> ZipInfo:
    """The archive's entry without what belongs to the old bytes."""
    entry = copy(info)
    entry.extra = b""
    entry.flag_bits = 0
    return entry


def _bytes(tree: Any) -> bytes:
    return bytes(
        etree.tostring(tree.getroottree(), xml_declaration=True, encoding="UTF-8", standalone=True)
    )


def _without_calc_chain(sheets: Sheets, parts: dict[str, bytes]) -> str | None:
    """Take out the list of formula cells, which is no longer right and may be left out (18.6).

    Its name is returned, and the two parts that point to it are changed in `parts`.
    """
    package = sheets.package
    found = [r for r in package.relations(sheets.workbook_part) if r.kind == _CALC_CHAIN]
    if not found:
        return None
    target = found[0].target
    folder, _, name = sheets.workbook_part.rpartition("/")
    rels = f"{folder}/_rels/{name}.rels".lstrip("/")
    for part, attribute, wanted in (
        (rels, "Id", found[0].id),
        ("[Content_Types].xml", "PartName", f"/{target}"),
    ):
        tree = package.tree(part)
        for entry in list(tree):
            if entry.get(attribute) == wanted:
                tree.remove(entry)
        parts[part] = _bytes(tree)
    return target


class _Sheet:
    """The XML of one sheet while its cells are changed."""

    def __init__(self, tree: Any) -> None:
        self.tree = tree
        self.data = tree.find("{*}sheetData")
        self.space = self.data.tag.removesuffix("sheetData")
        self.rows: dict[int, Any] = {}
        self.cells: dict[At, Any] = {}
        row_number = 0
        for row in self.data.iterfind("{*}row"):
            row_number = int(row.get("r") or row_number + 1)
            row.set("r", str(row_number))
            self.rows[row_number] = row
            column = 0
            for cell in row.iterfind("{*}c"):
                address = cell.get("r")
                column = place(address)[1] if address else column + 1
                cell.set("r", address_of((row_number, column)))
                self.cells[row_number, column] = cell

    def put(self, puts: Mapping[At, Put]) -> bool:
        """Change the cells. Whether a cell became one with a formula, or ceased to be one."""
        self._unshare({at for at in puts if at in self.cells})
        rewired = False
        for at, put in puts.items():
            cell = self.cells.get(at)
            if cell is None:
                if put.formula is None and put.text is None:
                    continue
                cell = self._new_cell(at)
            had = cell.find("{*}f") is not None
            self._fill(cell, put)
            rewired = rewired or had != (put.formula is not None)
        return rewired

    def _unshare(self, changing: set[At]) -> None:
        """Give every cell of a shared formula its own text before one of them changes."""
        groups = {
            f.get("si")
            for at in changing
            if (f := self.cells[at].find("{*}f")) is not None and f.get("t") == "shared"
        }
        if not groups:
            return
        first: dict[str, tuple[str, str]] = {}
        for cell in self.cells.values():
            formula = cell.find("{*}f")
            if formula is None or formula.get("si") not in groups:
                continue
            number, at = formula.get("si"), cell.get("r")
            if formula.text:
                first[number] = (formula.text, at)
            elif number in first:
                formula.text = translated(*first[number], at)
            for name in ("t", "si", "ref"):
                formula.attrib.pop(name, None)

    def _fill(self, cell: Any, put: Put) -> None:
        for child in list(cell):
            if etree.QName(child).localname in ("f", "v", "is"):
                cell.remove(child)
        for name in ("t", "cm", "vm"):
            cell.attrib.pop(name, None)
        children = []
        if put.formula is not None:
            formula = etree.Element(f"{self.space}f")
            formula.text = put.formula
            children.append(formula)
        if put.formula is None and put.kind == "str":
            cell.set("t", "inlineStr")
            inline = etree.Element(f"{self.space}is")
            text = etree.SubElement(inline, f"{self.space}t")
            text.text = put.text
            text.set(_XML_SPACE, "preserve")
            children.append(inline)
        elif put.text is not None:
            if put.kind is not None:
                cell.set("t", put.kind)
            value = etree.Element(f"{self.space}v")
            value.text = put.text
            children.append(value)
        for n, child in enumerate(children):
            cell.insert(n, child)

    def _new_cell(self, at: At) -> Any:
        """A cell in its place, in the style of the one above it."""
        row = self._row(at[0])
        cell = etree.Element(f"{self.space}c")
        cell.set("r", address_of(at))
        above = self.cells.get((at[0] - 1, at[1]))
        if above is not None and above.get("s") is not None:
            cell.set("s", above.get("s"))
        before = sum(1 for c in row.iterfind("{*}c") if _column(c) < at[1])
        row.insert(before, cell)
        row.attrib.pop("spans", None)
        self.cells[at] = cell
        return cell

    def _row(self, number: int) -> Any:
        if number not in self.rows:
            row = etree.Element(f"{self.space}row")
            row.set("r", str(number))
            self.data.insert(sum(1 for n in self.rows if n < number), row)
            self.rows[number] = row
        return self.rows[number]


def _column(cell: Any) -> int:
    letters = cell.get("r").rstrip("0123456789")
    return column_index_from_string(letters)
