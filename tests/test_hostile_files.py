"""Files that are not ours, are damaged or attack: one sentence each, and bounded work.

Bounds are counts in the code (MOST_...), so nothing here measures time. Packages: ISO/IEC 29500-2.
"""

import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.errors import EstimateError
from estimator.files.xlsx.opening import package_of
from estimator.model.places import SCHEMA
from estimator.workbook.reading.inputs import read_package

from .raw_package import Parts, demo, packed, part_of, parts_of, with_cell, with_text

BOOK, RELS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
THIS_LAYOUT = f'name="estimator_schema">{SCHEMA}<'


def own() -> Parts:
    return parts_of(demo()[1])


def put(part: str, data: bytes) -> bytes:
    return packed({**own(), part: data})


def edited(part: str, old: str, new: str) -> bytes:
    return packed(with_text(own(), part, old, new))


def in_walls(rows: str) -> bytes:
    parts = own()
    name = part_of(parts, "Walls")
    return edited(name, "</sheetData>", rows + "</sheetData>")


def zipped(*entries: tuple[str, bytes], how: int = zipfile.ZIP_DEFLATED) -> bytes:
    written = BytesIO()
    with zipfile.ZipFile(written, "w", how) as archive:
        for name, data in entries:
            archive.writestr(name, data)
    return written.getvalue()


LAUGHS = b'<!DOCTYPE a [<!ENTITY b "ha"><!ENTITY c "&b;&b;&b;">]><a>&c;</a>'
STRANGE = {
    "empty": lambda: b"",
    "no zip": lambda: b"a letter, not a workbook",
    "encrypted": lambda: bytes.fromhex("d0cf11e0a1b11ae1") + bytes(600),
    "another zip": lambda: zipped(("mimetype", b"x")),
    "bomb: one part": lambda: zipped(("xl/big.xml", bytes(60 * 2**20))),
    "bomb: many parts": lambda: zipped(*((f"p{n}", b"") for n in range(5001))),
    "bomb: another packing": lambda: zipped(("a", bytes(9 * 2**20)), how=zipfile.ZIP_BZIP2),
    "two parts of one name": lambda: zipped(*own().items(), ("XL/WORKBOOK.XML", b"")),
    "entities": lambda: put(BOOK, LAUGHS),
    "entities in UTF-16": lambda: put(BOOK, LAUGHS.decode().encode("utf-16")),
    "entities in UTF-7": lambda: put(
        BOOK, b'<?xml version="1.0" encoding="UTF-7"?>+ADwAIQ-DOCTYPE a><a/>'
    ),
    "entities in UTF-32": lambda: put(BOOK, LAUGHS.decode().encode("utf-32")),
    "an entity from a file": lambda: put(
        BOOK, b'<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><a>&b;</a>'
    ),
    "deep nesting": lambda: put(BOOK, b"<a>" * 9999 + b"</a>" * 9999),
    "damaged XML": lambda: put(BOOK, own()[BOOK][:-40]),
    "no sheet part": lambda: packed({k: v for k, v in own().items() if "sheet1.xml" not in k}),
    "a target outside the package": lambda: edited(
        RELS, "/xl/worksheets/sheet1.xml", "../../../etc/passwd"
    ),
    "a target on the net": lambda: edited(
        RELS, 'Target="/xl/worksheets/sheet1.xml"', 'TargetMode="External" Target="http://x/"'
    ),
    "a newer layout": lambda: edited(BOOK, THIS_LAYOUT, 'name="estimator_schema">999<'),
    "an older layout": lambda: edited(BOOK, THIS_LAYOUT, 'name="estimator_schema">1<'),
    "a layout without number": lambda: edited(
        BOOK, THIS_LAYOUT, 'name="estimator_schema">"two"<'
    ),
    "a column too far": lambda: in_walls('<row r="900"><c r="XFE900"><v>1</v></c></row>'),
    "a row too far": lambda: in_walls('<row r="1048577"><c r="A1048577"><v>1</v></c></row>'),
    "a row below nought": lambda: in_walls('<row r="-3"><c><v>1</v></c></row>'),
    "a row of letters": lambda: in_walls('<row r="ten"><c><v>1</v></c></row>'),
    "another way to count": lambda: in_walls('<row><c r="R1C1"><v>1</v></c></row>'),
    "a shared text before the first": lambda: in_walls(
        '<row r="900"><c r="A900" t="s"><v>-1</v></c></row>'
    ),
    "a shared text after the last": lambda: in_walls(
        '<row r="900"><c r="A900" t="s"><v>99999999</v></c></row>'
    ),
    "a number that is none": lambda: in_walls('<row r="900"><c r="A900"><v>nan</v></c></row>'),
    "one cell twice": lambda: in_walls(
        '<row r="900"><c r="A900"><v>1</v></c><c r="A900"><v>2</v></c></row>'
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", STRANGE)
def test_one_sentence(name: str, tmp_path: Path) -> None:
    file = tmp_path / "job.xlsx"
    file.write_bytes(STRANGE[name]())
    answer = CliRunner().invoke(main, ["quantities", str(file)])
    assert answer.exit_code == 2, answer.output
    assert isinstance(answer.exception, SystemExit)
    said = answer.output.strip()
    assert len(said.splitlines()) == 1
    assert "accepted:" in said


def test_cut_short_anywhere() -> None:
    data = demo()[1]
    for length in range(1, len(data), len(data) // 60):
        with pytest.raises(EstimateError):
            read_package(package_of(Path("job.xlsx"), data[:length]))


def test_a_million_rows_on_a_sheet_of_the_users_own_are_not_looked_at() -> None:
    """Not even parsed: the sheet's rows may be anything at all."""
    parts = own()
    ours = part_of(parts, "Walls").removeprefix("xl/")
    parts["xl/worksheets/mine.xml"] = b"<worksheet><sheetData>" + b"<row/>" * 1_000_000
    parts = with_text(parts, RELS, "</Relationships>",
        '<Relationship Id="mine" Target="worksheets/mine.xml" Type="http://schemas.openxmlformats'
        '.org/officeDocument/2006/relationships/worksheet"/></Relationships>')  # fmt: skip
    parts = with_text(parts, BOOK, "</sheets>",
        '<sheet xmlns:q="http://schemas.openxmlformats.org/officeDocument/2006/relationships" '
        'name="Mine" sheetId="9999" q:id="mine"/></sheets>')  # fmt: skip
    found = read_package(package_of(Path("job.xlsx"), packed(parts)))
    assert "Mine" in found.sheets.parts
    assert ours != "worksheets/mine.xml"


def test_too_many_rows_on_a_sheet_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same count as in the code, made small so that the file can be."""
    monkeypatch.setattr("estimator.files.xlsx.opening.MOST_ELEMENTS", 1000)
    with pytest.raises(EstimateError, match="more than 1,000 rows and cells"):
        read_package(package_of(Path("job.xlsx"), demo()[1]))


@pytest.mark.parametrize("command", ["quantities", "check", "compare", "workbook"])
def test_a_blank_row_in_the_list_of_places_is_named(command: str, tmp_path: Path) -> None:
    parts = own()
    span = demo()[0].layout.spans["places"]
    row = span.first + 37
    for column in "ABCD":
        parts = with_cell(parts, span.sheet, f"{column}{row}", "", None)
    path = tmp_path / "job.xlsx"
    path.write_bytes(packed(parts))
    result = CliRunner().invoke(main, [command, str(path)])
    assert result.exit_code == 2, result.output
    assert result.output == (
        f"job.xlsx: e_workbook!A{row}: found 'a blank row'; "
        "accepted: the list of places without it: delete that row.\n"
    )
