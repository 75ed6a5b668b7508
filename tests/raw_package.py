"""A saved workbook changed part by part, by lxml and zipfile alone: never by the code under test."""

import re
import zipfile
from io import BytesIO
from pathlib import Path
from typing import Any

from lxml import etree

from estimator.files.xlsx.opening import package_of
from estimator.workbook.build import Built
from estimator.workbook.reading.inputs import Returned, read_package

from .made import made

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_M = f"{{{MAIN}}}"
_RID = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
Parts = dict[str, bytes]


def demo() -> tuple[Built, bytes]:
    """The demo job as a workbook (without what openpyxl holds in memory), and its file."""
    found = made("demo")
    return found.built, found.data


def parts_of(data: bytes) -> Parts:
    with zipfile.ZipFile(BytesIO(data)) as archive:
        return {n: archive.read(n) for n in archive.namelist()}


def packed(parts: Parts) -> bytes:
    written = BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return written.getvalue()


def returned(parts: Parts) -> Returned:
    return read_package(package_of(Path("job.xlsx"), packed(parts)))


def part_of(parts: Parts, sheet: str) -> str:
    rels = etree.fromstring(parts["xl/_rels/workbook.xml.rels"])
    targets = {r.get("Id"): r.get("Target").removeprefix("/xl/") for r in rels}
    for found in etree.fromstring(parts["xl/workbook.xml"]).iter(f"{_M}sheet"):
        if found.get("name") == sheet:
            return "xl/" + targets[found.get(_RID)]
    raise KeyError(sheet)


def with_cell(parts: Parts, sheet: str, address: str, inside: str, kind: str | None) -> Parts:
    """The parts with that cell's content replaced by raw XML, its style kept."""
    name = part_of(parts, sheet)
    tree = etree.fromstring(parts[name])
    row = re.sub("[A-Z]", "", address)
    cells = [c for c in tree.iter(f"{_M}c") if c.get("r") == address]
    if not cells:
        lines = [r for r in tree.iter(f"{_M}row") if r.get("r") == row]
        if not lines:
            [inside_of] = tree.iter(f"{_M}sheetData")
            lines = [etree.SubElement(inside_of, f"{_M}row", r=row)]
            inside_of[:] = sorted(inside_of, key=lambda r: int(r.get("r")))
        [line] = lines
        cell = etree.SubElement(line, f"{_M}c", r=address)
        line[:] = sorted(line, key=lambda c: (len(c.get("r")), c.get("r")))
    else:
        [cell] = cells
    for child in list(cell):
        cell.remove(child)
    cell.attrib.pop("t", None)
    if kind:
        cell.set("t", kind)
    for child in etree.fromstring(f'<x xmlns="{MAIN}">{inside}</x>'):
        cell.append(child)
    return {**parts, name: etree.tostring(tree, xml_declaration=True, encoding="UTF-8")}


def at(table: str, row: int, column: str) -> tuple[str, str]:
    """Sheet and address in the demo, rows of the list from 1."""
    span = demo()[0].layout.stands(table, column)
    return span.sheet, f"{span.letters[column]}{span.first + row - 1}"


def with_text(parts: Parts, part: str, old: str, new: str) -> Parts:
    """A part with one text replaced; it must stand there."""
    assert old.encode() in parts[part], old
    return {**parts, part: parts[part].replace(old.encode(), new.encode())}


def shared_text(value: Any) -> str:
    return f"<is><t>{value}</t></is>"
