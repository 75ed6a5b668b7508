"""One of our workbooks laid out as a desktop spreadsheet program is known to write its files.

Made by hand from ISO/IEC 29500-1 (clauses beside each step). It was NOT written by Excel and not
opened in it; it imitates what such files contain, so that our reader meets it.
"""

import posixpath
import re
from datetime import date
from typing import Any

from lxml import etree
from openpyxl.utils.datetime import to_excel

from estimator.files.xlsx.cells import translated

from .raw_package import Parts, part_of

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_N = f"{{{MAIN}}}"
_RELS = "http://schemas.openxmlformats.org/package/2006/relationships"
_KIND = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_AC = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/ac"
_MC = "http://schemas.openxmlformats.org/markup-compatibility/2006"
SHARED = (
    "e_walls",
    "e_floors",
    "Walls",
)  # sheets whose filled-down formulas are shared


def excel_like(parts: Parts, dated: tuple[str, str, date]) -> Parts:
    """The same workbook in that layout; the cell `dated` (sheet, address, day) holds a date."""
    found = dict(parts)
    texts: list[str] = []
    chain: list[tuple[str, int]] = []
    style = _date_style(found)
    names = re.findall(r'<sheet [^>]*name="([^"]+)"', found["xl/workbook.xml"].decode())
    renamed: dict[str, str] = {}
    laid: Parts = {}
    for number, name in enumerate(names, 1):
        part = part_of(parts, name)
        tree = etree.fromstring(parts[part])
        found.pop(part)
        if name == dated[0]:
            _put_date(tree, dated[1], dated[2], style)
        _share_texts(tree, texts)
        if name in SHARED:
            assert _share_formulas(tree), "a sheet without a formula that is filled down"
        chain += [(c.get("r"), number) for c in tree.iter(f"{_N}c") if c.find(f"{_N}f") is not None]
        # Parts are named in another order than the sheets stand.
        renamed[part] = f"xl/worksheets/sheet{len(names) + 1 - number}.xml"
        laid[renamed[part]] = _with_extensions(tree)
    found |= laid
    _name_parts(found, renamed)
    found["xl/sharedStrings.xml"] = _string_table(texts)
    found["xl/calcChain.xml"] = _calc_chain(chain)
    _add_part(found, "sharedStrings", "/xl/sharedStrings.xml", f"{_TYPES}.sharedStrings+xml")
    _add_part(found, "calcChain", "/xl/calcChain.xml", f"{_TYPES}.calcChain+xml")
    return found


def _date_style(parts: Parts) -> str:
    """One more cell format, a date by the built-in number format 14 (18.8.30)."""
    tree = etree.fromstring(parts["xl/styles.xml"])
    formats = tree.find(f"{_N}cellXfs")
    new = etree.SubElement(formats, f"{_N}xf")
    for name, value in {"numFmtId": "14", "fontId": "0", "fillId": "0", "borderId": "0",
                        "xfId": "0", "applyNumberFormat": "1"}.items():  # fmt: skip
        new.set(name, value)
    formats.set("count", str(len(formats)))
    parts["xl/styles.xml"] = etree.tostring(tree, xml_declaration=True, encoding="UTF-8")
    return str(len(formats) - 1)


def _put_date(tree: Any, address: str, day: date, style: str) -> None:
    (cell,) = tree.xpath(f"//m:c[@r='{address}']", namespaces={"m": MAIN})
    for child in list(cell):
        cell.remove(child)
    cell.attrib.pop("t", None)
    cell.set("s", style)
    etree.SubElement(cell, f"{_N}v").text = f"{to_excel(day):g}"


def _share_texts(tree: Any, texts: list[str]) -> None:
    """Every text into the table of shared strings (18.4.9)."""
    for cell in tree.iter(f"{_N}c"):
        if cell.get("t") == "inlineStr":
            text = "".join(cell.itertext())
            for child in list(cell):
                cell.remove(child)
            cell.set("t", "s")
            etree.SubElement(cell, f"{_N}v").text = str(len(texts))
            texts.append(text)


def _share_formulas(tree: Any) -> int:
    """Formulas that are filled down are stored once (18.3.1.40); how many cells follow a first."""
    columns: dict[str, list[Any]] = {}
    for cell in tree.iter(f"{_N}c"):
        if cell.find(f"{_N}f") is not None:
            columns.setdefault(cell.get("r").rstrip("0123456789"), []).append(cell)
    followers = group = 0
    for cells in columns.values():
        while len(cells) > 1:
            first, *rest = cells
            text = first.find(f"{_N}f").text
            run = []
            for cell in rest:
                if translated(text, first.get("r"), cell.get("r")) != cell.find(f"{_N}f").text:
                    break
                run.append(cell)
            if run:
                head = first.find(f"{_N}f")
                head.set("t", "shared")
                head.set("ref", f"{first.get('r')}:{run[-1].get('r')}")
                head.set("si", str(group))
                for cell in run:
                    formula = cell.find(f"{_N}f")
                    formula.text = None
                    formula.set("t", "shared")
                    formula.set("si", str(group))
                group, followers = group + 1, followers + len(run)
            cells = cells[1 + len(run) :]
    return followers


def _with_extensions(tree: Any) -> bytes:
    """Rows with spans (18.3.1.73) and an ignorable attribute of a later version (ISO/IEC 29500-3)."""
    for row in tree.iter(f"{_N}row"):
        row.set("spans", "1:40")
        row.set(f"{{{_AC}}}dyDescent", "0.25")
    text = etree.tostring(tree, encoding="unicode")
    text = re.sub(r' xmlns:ns\d+="' + re.escape(_AC) + '"', "", text)
    text = re.sub(r"ns\d+:dyDescent", "x14ac:dyDescent", text)
    head = f'<worksheet xmlns="{MAIN}"'
    assert text.startswith(head)
    more = f' xmlns:mc="{_MC}" mc:Ignorable="x14ac" xmlns:x14ac="{_AC}"'
    declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\r\n'
    return (declaration + head + more + text.removeprefix(head)).encode()


def _name_parts(parts: Parts, renamed: dict[str, str]) -> None:
    """Absolute targets, in the new names; the relationships of each sheet move with it."""
    rels = parts["xl/_rels/workbook.xml.rels"].decode()
    types = parts["[Content_Types].xml"].decode()
    for old, new in renamed.items():
        for target in (f"/{old}", old.removeprefix("xl/"), old):
            rels = rels.replace(f'Target="{target}"', f'Target="/{new}#"')
        types = types.replace(f'PartName="/{old}"', f'PartName="/{new}#"')
    parts["xl/_rels/workbook.xml.rels"] = rels.replace('#"', '"').encode()
    parts["[Content_Types].xml"] = types.replace('#"', '"').encode()
    own = {old: parts.pop(_rels_of(old)) for old in renamed if _rels_of(old) in parts}
    for old, data in own.items():
        parts[_rels_of(renamed[old])] = data


def _rels_of(part: str) -> str:
    folder, name = posixpath.split(part)
    return f"{folder}/_rels/{name}.rels"


def _string_table(texts: list[str]) -> bytes:
    """Every third text in two runs (18.4.4), every fourth with a phonetic run (18.4.6)."""
    table = etree.Element(f"{_N}sst", nsmap={None: MAIN})
    table.set("count", str(len(texts)))
    for n, text in enumerate(texts):
        item = etree.SubElement(table, f"{_N}si")
        pieces = [text[: len(text) // 2], text[len(text) // 2 :]] if n % 3 == 2 else [text]
        for piece in pieces:
            holder = item if len(pieces) == 1 else etree.SubElement(item, f"{_N}r")
            if holder is not item and piece is pieces[-1]:
                etree.SubElement(etree.SubElement(holder, f"{_N}rPr"), f"{_N}b")
            found = etree.SubElement(holder, f"{_N}t")
            found.text = piece
            found.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
        if n % 4 == 3:
            hint = etree.SubElement(item, f"{_N}rPh")
            hint.set("sb", "0")
            hint.set("eb", "1")
            etree.SubElement(hint, f"{_N}t").text = "said"
    return bytes(etree.tostring(table, xml_declaration=True, encoding="UTF-8", standalone=True))


def _calc_chain(chain: list[tuple[str, int]]) -> bytes:
    """The order of calculation (18.6)."""
    cells = "".join(f'<c r="{r}" i="{i}"/>' for r, i in chain)
    return f'<calcChain xmlns="{MAIN}">{cells}</calcChain>'.encode()


def _add_part(parts: Parts, kind: str, target: str, content_type: str) -> None:
    if kind not in parts["xl/_rels/workbook.xml.rels"].decode():
        new = f'<Relationship Id="rId{kind}" Type="{_KIND}/{kind}" Target="{target}"/>'
        parts["xl/_rels/workbook.xml.rels"] = _inserted(
            parts["xl/_rels/workbook.xml.rels"], new, "Relationships"
        )
    if target not in parts["[Content_Types].xml"].decode():
        new = f'<Override PartName="{target}" ContentType="{content_type}"/>'
        parts["[Content_Types].xml"] = _inserted(parts["[Content_Types].xml"], new, "Types")


def _inserted(data: bytes, new: str, root: str) -> bytes:
    text = data.decode()
    assert f"</{root}>" in text
    return text.replace(f"</{root}>", f"{new}</{root}>").encode()
