"""Sheets read in one stride say what a parser says of them, and all else is left to the parser."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from openpyxl import Workbook

from estimator.files.resources import JOB_TEMPLATE
from estimator.files.xlsx import cells, opening
from estimator.files.xlsx.cells import Sheets, read_sheets
from estimator.files.xlsx.opening import open_package
from estimator.files.xlsx.plain import plain_cells

from . import hosts
from .made import made

HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?><worksheet xmlns="http://a/main"><dimension ref="A1"/>'
)
FOOT = '<pageSetup paperSize="9"/></worksheet>'


def sheet(data: str, head: str = HEAD, foot: str = FOOT) -> bytes:
    return f"{head}<sheetData>{data}</sheetData>{foot}".encode()


def one(cell: str) -> bytes:
    return sheet(f'<row r="1">{cell}</row>')


def by_parser(path: Path, monkeypatch: pytest.MonkeyPatch) -> Sheets:
    with monkeypatch.context() as patch:
        patch.setattr(cells, "plain_cells", lambda _: None)
        found = read_sheets(open_package(path))
        for name in found.parts:
            found.cells(name)
    return found


def alike(path: Path, monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Each cell is the same, read in either way; the sheets that were left to the parser."""
    parsed, read = by_parser(path, monkeypatch), read_sheets(open_package(path))
    left = set()
    for name, part in read.parts.items():
        said = [(at, c, type(c.value)) for at, c in read.cells(name).items()]
        assert said == [(at, c, type(c.value)) for at, c in parsed.cells(name).items()]
        if plain_cells(read.package.xml(part)) is None:
            left.add(name)
    return left


def test_ours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for path in (made("demo").written(tmp_path), JOB_TEMPLATE):
        assert alike(path, monkeypatch) == set()


def test_what_the_programs_save(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """LibreOffice writes so, Gnumeric each element on a line of its own."""
    book = Workbook()
    values = [1, 2.5, 'a <&> "b"', '=A1&" "&A3', "=1/0", "=A1=1", True, date(2026, 11, 27)]
    for n, value in enumerate([*values, "two\nlines", " m\u00b2 ", "=A20", "=A20&A19"], 1):
        book.worksheets[0].cell(n, 1, value)
    small = tmp_path / "small.xlsx"
    book.save(small)
    for by, left in ((hosts.by_libreoffice, 0), (hosts.by_gnumeric, 1)):
        [saved] = by([small], tmp_path).values()
        assert len(alike(saved, monkeypatch)) == left


def test_what_stands_in_a_cell() -> None:
    said = sheet(
        '<row r="1" spans="1:3"><c r="A1" s="3"/><c r="B1"><v>1.5</v></c>'
        '<c r="C1" s="2" t="str"><f aca="false">A1&amp;"&lt;"</f><v></v></c></row>'
        '<row r="9"/><row r="10"><c r="AB10" t="s"><v>7</v></c>'
        '<c r="AC10" t="inlineStr"><is><t xml:space="preserve"> m&#178; &amp;#178;</t></is></c></row>'
    )
    assert list(plain_cells(said) or ()) == [
        ("A", "1", "3", "n", None, None),
        ("B", "1", "0", "n", None, "1.5"),
        ("C", "1", "2", "str", 'A1&"<"', ""),
        ("AB", "10", "0", "s", None, "7"),
        ("AC", "10", "0", "inlineStr", None, " m\u00b2 &#178;"),
    ]


LEFT = {
    "a comment": one('<c r="A1"><v>1</v></c><!-- <c r="B1"><v>2</v></c> -->'),
    "text as it stands": one('<c r="A1" t="str"><v><![CDATA[x]]></v></c>'),
    "its end alone": one('<c r="A1" t="str"><v>]]></v></c>'),
    "another prefix": one('<x:c r="A1"><v>1</v></x:c>'),
    "a shared formula": one('<c r="A1"><f t="shared" si="0">B1</f><v>1</v></c>'),
    "a date by its text": one('<c r="A1" t="d"><v>2026-11-27</v></c>'),
    "attributes in another order": one('<c s="1" r="A1"><v>1</v></c>'),
    "no address": one("<c><v>1</v></c>"),
    "runs": one('<c r="A1" t="inlineStr"><is><r><t>a</t></r></is></c>'),
    "a cell outside its row": sheet('<row r="1"></row><c r="A1"><v>1</v></c>'),
    "a row in a row": sheet('<row r="1"><row r="2"><c r="A2"><v>1</v></c></row></row>'),
    "a row that is not shut": sheet('<row r="1"><c r="A1"><v>1</v></c>'),
    "rows on lines of their own": sheet('\n<row r="1"><c r="A1"><v>1</v></c></row>\n'),
    "a line end of two signs": one('<c r="A1" t="str"><v>a\r\nb</v></c>'),
    "a sign no text holds": one('<c r="A1" t="str"><v>a\x01b</v></c>'),
    "its code": one('<c r="A1" t="str"><v>a&#1;b</v></c>'),
    "a code beyond Unicode": one('<c r="A1" t="str"><v>&#x110000;</v></c>'),
    "half a pair": one('<c r="A1" t="str"><v>&#xD800;</v></c>'),
    "an unknown name": one('<c r="A1" t="str"><v>a&nbsp;b</v></c>'),
    "a loose &": one('<c r="A1" t="str"><v>a & b</v></c>'),
    "cells after the data": sheet("", foot=f'<row><c r="A1"><v>1</v></c></row>{FOOT}'),
    "two pieces of data": sheet("</sheetData><sheetData>"),
    "a foot that is cut short": sheet("", foot="<pageSetup"),
    "a head that is no XML": sheet("", head="<worksheet"),
    "no UTF-8": one('<c r="A1" t="str"><v>a</v></c>').replace(b"a<", b"\xff<"),
    "another encoding said": sheet("", head=HEAD.replace("UTF-8", "us-ascii")),
    "no data": b"<worksheet/>",
    "a row beyond a million": sheet('<row r="1048577"><c r="A1048577"><v>1</v></c></row>'),
}


@pytest.mark.parametrize("name", LEFT)
def test_left_to_the_parser(name: str) -> None:
    assert plain_cells(LEFT[name]) is None


def test_left_when_there_are_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = sheet('<row r="1"><c r="A1"><v>1</v></c><c r="B1"><v>1</v></c></row>')
    monkeypatch.setattr(opening, "MOST_ELEMENTS", 3)
    assert plain_cells(rows) is not None
    monkeypatch.setattr(opening, "MOST_ELEMENTS", 2)
    assert plain_cells(rows) is None


SIGNS = "ab<&>'\"\n\t é²\u2028\ufffe\x00\r"
CODES = "&amp; &lt; &gt; &quot; &apos; &#38; &#60; &#x26; &#xA; &#13; &#0; &#65534; &nbsp; ]]>"
PIECES = st.sampled_from([*SIGNS, *CODES.split(), "amp;", "lt;", "#60;"])


@given(st.lists(PIECES, max_size=8).map("".join))
def test_any_text_as_the_parser_reads_it(text: str) -> None:
    """Never another text than a parser's, and never one where a parser finds none."""
    part = one(f'<c r="A1" t="str"><v>{text}</v></c>')
    read = plain_cells(part)
    if read is None:
        return
    cell = etree.fromstring(part).find(".//{*}v")
    assert [c[-1] for c in read] == [cell.text or ""]
