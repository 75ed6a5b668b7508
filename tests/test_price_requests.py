"""A request goes out with nothing in it that is not the supplier's; what comes back is checked."""

import email
import json
import math
import re
import zipfile
from collections.abc import Callable
from dataclasses import replace
from email.policy import SMTP
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook
from openpyxl.comments import Comment
from openpyxl.packaging.custom import StringProperty
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName

from estimator.cli.main import main
from estimator.documents.price_requests.asked import Request, district, pack_in_words, requests
from estimator.documents.price_requests.effect import effect
from estimator.documents.price_requests.fields import (
    CELLS,
    COLUMNS,
    FILLED_IN,
    NUMBER,
    SUPPLIER,
    TERMS,
)
from estimator.documents.price_requests.merging import Change, Merge, merge, merged
from estimator.documents.price_requests.returned import Returned, Row, read_returned
from estimator.documents.price_requests.stamping import workbook_of
from estimator.errors import EstimateError, FileError, PriceError, TemplateError
from estimator.files.resources import DEMO_JOB, REQUEST_TEMPLATE
from estimator.files.xlsx.cells import Failed, Stored, read_sheets
from estimator.files.xlsx.opening import open_package
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.job_file import read_job
from estimator.model.locations import InJobFile
from estimator.workbook.reading.comparison import differences, laid_ledger
from estimator.workbook.reading.inputs import read_back

from .hosts import by_gnumeric, by_libreoffice, drive
from .mail_servers import PASSWORD, SENDER, USER, Inbox, certificates, private, real_server
from .small_jobs import row as blank_row

FERNBANK = "Fernbank Supplies (invented)"
HARROW = "Harrow Lane Depot (invented)"


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(DEMO_JOB)


@pytest.fixture(scope="module")
def asked(job: Job) -> list[Request]:
    ledger = estimate(job)
    return [*requests(job, ledger), *requests(job, ledger, whole_list=True)]


def written(request: Request, path: Path) -> Path:
    path.write_bytes(workbook_of(request, "The estimator", "AB1", REQUEST_TEMPLATE))
    return path


class Sheet:
    """A request as a supplier has it open: cells by what they mean."""

    def __init__(self, path: Path) -> None:
        self.book = load_workbook(path)
        names = {n: d.attr_text.split("!")[-1] for n, d in self.book.defined_names.items()}
        self.sheet = self.book.active
        self.columns = {c: names["asked_" + c].split("$")[1] for c in COLUMNS}
        self.cells = {c: names[c].replace("$", "") for c in CELLS}
        self.top = int(names["asked_code"].split("$")[2].rstrip(":"))

    def rows(self) -> dict[str, int]:
        code = self.columns["code"]
        listed = range(self.top + 1, self.sheet.max_row + 1)
        return {self.sheet[f"{code}{n}"].value: n for n in listed}

    def at(self, code: str, column: str) -> str:
        return f"{self.columns[column]}{self.rows()[code]}"

    def put(self, code: str, /, **values: Any) -> "Sheet":
        for column, value in values.items():
            self.sheet[self.at(code, column)] = value
        return self

    def term(self, name: str, value: Any) -> "Sheet":
        self.sheet[self.cells[name]] = value
        return self

    def saved(self, path: Path) -> Path:
        self.book.save(path)
        return path


Answer = Callable[[Callable[[Sheet], Any]], Merge]


@pytest.fixture
def answer(job: Job, asked: list[Request], tmp_path: Path) -> Answer:
    """What the demo job makes of Fernbank's answer, once somebody has filled it in."""

    def answered(fill_in: Callable[[Sheet], Any], **more: Any) -> Merge:
        sheet = Sheet(written(asked[0], tmp_path / "out.xlsx"))
        fill_in(sheet)
        return merge(job, asked, read_returned(sheet.saved(tmp_path / "back.xlsx")), **more)

    return answered


# ---- what goes out ---------------------------------------------------------------------------


def test_each_supplier_is_asked_for_what_is_ordered_from_it(job: Job) -> None:
    ledger = estimate(job)
    ordered: dict[str, dict[str, int]] = {}
    for n in range(1, len(ledger.rows["order_lines"]) + 1):
        supplier, code, packs = (
            ledger.figure("order_lines", n, c) for c in ("supplier", "code", "packs")
        )
        if supplier:
            ordered.setdefault(supplier, {})[code] = packs
    found = requests(job, ledger)
    assert {r.supplier: {x.code: x.packs for x in r.lines} for r in found} == ordered
    assert len(ordered) == 2


def test_the_whole_list_may_be_asked_of_all(job: Job) -> None:
    found = requests(job, estimate(job), whole_list=True)
    assert [r.supplier for r in found] == [r["name"] for r in job.rows["suppliers"]]
    # The demo's three suppliers stock different rolls: each is asked for its own.
    assert all(
        line.code.startswith("H-") for r in found if r.supplier == HARROW for line in r.lines
    )


@pytest.mark.parametrize(
    ("material", "given", "said"),
    [
        ("dpm_sheet", {"width": 4000, "length": 12.5, "thickness": 300}, "roll: 4000 mm × 12.5 m, 300 µm"),
        ("dpc_roll", {"width": 112.5, "length": 30, "made_of": "polyethylene"}, "roll: 112.5 mm × 30 m, polyethylene"),
        ("hardcore", {"weight": 850}, "load: 850 kg"),
        ("stop_end", {"pieces": 10}, "pack: 10 pieces"),
        ("cut_in_unit", {"pieces": 1, "length": 0.9}, "unit: 0.9 m, 1 piece"),
    ],
)  # fmt: skip
def test_a_pack_in_words(material: str, given: dict[str, Any], said: str) -> None:
    assert pack_in_words(blank_row("book", material=material, **given)) == said


@pytest.mark.parametrize(
    ("address", "said"),
    [
        ("1 Example Lane, Exampleton AB1 2CD", "AB1"),
        ("2 Example Lane, ec1a 1bb", "EC1A"),
        ("W1A0AX", "W1A"),
        ("1 Example Lane, Exampleton", ""),
        (None, ""),
    ],
)
def test_only_the_postcode_district_is_said(address: str | None, said: str) -> None:
    assert district(address) == said


def test_the_number_is_of_what_is_asked(asked: list[Request]) -> None:
    one = asked[0]
    other = replace(one, lines=(replace(one.lines[0], packs=99), *one.lines[1:]))
    numbers = {r.number for r in (one, other, replace(one, supplier="Else"))}
    assert len(numbers) == 3
    assert all(re.fullmatch(r"[0-9A-F]{5}-[0-9A-F]{5}", n) for n in numbers)


def test_only_the_cells_to_be_filled_in_are_unlocked_and_each_says_what_it_takes(
    asked: list[Request], tmp_path: Path
) -> None:
    sheet = Sheet(written(asked[0], tmp_path / "out.xlsx"))
    rows = sheet.rows().values()
    assert len(rows) == len(asked[0].lines)
    to_fill = {f"{sheet.columns[i.name]}{n}" for i in FILLED_IN for n in rows}
    to_fill |= {sheet.cells[i.name] for i in TERMS}
    unlocked = {
        c.coordinate for row in sheet.sheet.iter_rows() for c in row if not c.protection.locked
    }
    assert unlocked == to_fill
    assert sheet.sheet.protection.sheet
    assert sheet.sheet.protection.password is None
    areas = [a for v in sheet.sheet.data_validations.dataValidation for a in v.sqref.ranges]
    helped = {f"{get_column_letter(c)}{r}" for a in areas for row in a.rows for r, c in row}
    assert helped == to_fill
    for cell in to_fill:
        assert sheet.sheet[cell].value is None
        assert sheet.sheet[cell].fill.fgColor.rgb[-6:] == "F1F0E2"


def parts(content: Path) -> list[tuple[str, bytes]]:
    with zipfile.ZipFile(content) as package:
        return [("the names", "\n".join(package.namelist()).encode())] + [
            (n, package.read(n)) for n in package.namelist()
        ]


def test_nothing_leaks(job: Job, tmp_path: Path) -> None:
    """A marker in every field that is not the supplier's; every byte of the package is searched."""
    particulars = dict(job.particulars)
    for n, name in enumerate(("job_title", "client_name", "site_address", "job_notes", "quote_date", "quote_valid")):  # fmt: skip
        particulars[name] = f"MARKER{n}X"
    particulars |= {"minimum_charge": 7131.17, "profit_percent": 23.4567}
    rows = {t: [dict(r) for r in rs] for t, rs in job.rows.items()}
    for n, row in enumerate(rows["book"]):
        row["price"] = 7000.01 + n  # a figure like no other
        if row["supplier"] != FERNBANK:
            row["description"] = f"MARKERBOOK{n}X"
    for row in rows["suppliers"]:
        row |= {"delivery": 7345.67, "free_over": 7456.78, "minimum_order": 7567.89}
    for name in ("zones", "work_lines"):
        for n, row in enumerate(rows[name]):
            row["description"] = f"MARKER{name.upper()}{n}X"
    planted = replace(job, particulars=particulars, rows=rows)
    check_job(planted, InJobFile("planted"))
    (one, *_) = [r for r in requests(planted, estimate(planted)) if r.supplier == FERNBANK]
    others = [r["name"] for r in rows["suppliers"] if r["name"] != FERNBANK]
    book = written(one, tmp_path / "out.xlsx")
    secret = [b"MARKER", b"7131", b"23.4567", b"7345", b"7456", b"7567", str(tmp_path).encode()]
    secret += [name.encode() for name in others]
    secret += [f"{r['price']:.2f}".rstrip("0").encode() for r in rows["book"]]
    secret += [r["code"].encode() for r in rows["book"] if r["supplier"] != FERNBANK]
    found = parts(book)
    for name, content in found:
        for word in secret:
            assert word not in content, f"{word!r} in {name}"
    assert any(FERNBANK.encode() in content for _, content in found)  # the search would find it
    assert not {n for n, _ in found} & {"docProps/custom.xml", "xl/comments1.xml"}
    core = dict(found)["docProps/core.xml"]
    assert not re.findall(rb"creator|lastModifiedBy|title", core)


def test_nothing_of_a_restyled_template_travels_but_words_and_looks(
    asked: list[Request], tmp_path: Path
) -> None:
    book = load_workbook(REQUEST_TEMPLATE)
    sheet = book.active
    book.properties.creator = book.properties.keywords = "MARKER"
    book.custom_doc_props.append(StringProperty(name="MARKER", value="MARKER"))
    book.defined_names["of_ours"] = DefinedName("of_ours", attr_text='"MARKER"')
    sheet["A1"].comment = Comment("MARKER", "MARKER")
    sheet["A1"].hyperlink = "file:///MARKER/secret.xlsx"
    sheet["A1"] = "Our own heading"
    book.save(tmp_path / "mine.xlsx")
    assert any(b"MARKER" in content for _, content in parts(tmp_path / "mine.xlsx"))
    out = tmp_path / "out.xlsx"
    out.write_bytes(workbook_of(asked[0], "me", "AB1", tmp_path / "mine.xlsx"))
    assert [name for name, content in parts(out) if b"MARKER" in content] == []
    assert load_workbook(out).active["A1"].value == "Our own heading"


# ---- what comes back -------------------------------------------------------------------------


def everything(sheet: Sheet) -> None:
    """Prices for all, one as a formula, delivery, a date, a note, and one thing instead."""
    for n, code in enumerate(sheet.rows(), 1):
        sheet.put(code, price=10 + n / 100)
    sheet.put("F-03", price="=200/8")
    sheet.put("F-09", price=None, other_description="=1+1 tray", other_width=450, other_length=10,
              other_made_of="polymer", other_price=35.5)  # fmt: skip
    # openpyxl would make a formula of it; a person's program keeps it as text.
    sheet.sheet[sheet.at("F-09", "other_description")].data_type = "s"
    sheet.term("delivery_charge", 25).term("delivery_free_over", 900)
    sheet.term("prices_valid_until", "31 March 2026").term("supplier_note", "Ring first")


def check_everything(found: Merge, asked: Request) -> None:
    assert found.refused == []
    expected = [
        Change("book", line.code, "price", None, 25.0 if line.code == "F-03" else 10 + n / 100)
        for n, line in enumerate(asked.lines, 1)
        if line.code != "F-09"
    ]
    found_prices = [c._replace(old=None) for c in found.changes if c.table == "book"]
    assert found_prices == expected
    assert [c for c in found.changes if c.table == "suppliers"] == [
        Change("suppliers", FERNBANK, "delivery", 45, 25),
        Change("suppliers", FERNBANK, "free_over", 1500, 900),
    ]
    (new,) = found.new_rows
    assert new == blank_row(
        "book", code="F-09-S1", supplier=FERNBANK, material="tray_roll",
        description="=1+1 tray", width=450, length=10, made_of="polymer", price=35.5,
    )  # fmt: skip
    assert any("a formula. Its result as stored, 25, is used" in n for n in found.notices)
    assert "Prices hold until: 31 March 2026" in found.notices
    assert "Note: Ring first" in found.notices
    assert found.left == ["F-09: no price came back, something else is offered. £61.15 in the book stays."]  # fmt: skip


@pytest.fixture(scope="module")
def through_hosts(
    job: Job, asked: list[Request], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Path]:
    """Filled in, and saved by LibreOffice, by Gnumeric, and by one after the other."""
    folder = tmp_path_factory.mktemp("hosts")
    sheet = Sheet(written(asked[0], folder / "out.xlsx"))
    everything(sheet)
    filled = sheet.saved(folder / "filled.xlsx")
    by_l = by_libreoffice([filled], folder / "l")["filled"]
    (folder / "g").mkdir()
    by_g = by_gnumeric([filled], folder / "g")["filled"]
    (folder / "gl").mkdir()
    both = by_gnumeric([by_l], folder / "gl")["filled"]
    return {"libreoffice": by_l, "gnumeric": by_g, "both": both}


@pytest.mark.host
@pytest.mark.parametrize("host", ["libreoffice", "gnumeric", "both"])
def test_an_answer_saved_by_a_spreadsheet_program(
    job: Job, asked: list[Request], through_hosts: dict[str, Path], host: str
) -> None:
    check_everything(merge(job, asked, read_returned(through_hosts[host])), asked[0])


@pytest.mark.host
def test_a_request_is_read_by_both_programs(asked: list[Request], tmp_path: Path) -> None:
    """What the supplier sees is what was asked, in every cell."""
    out = written(asked[0], tmp_path / "out.xlsx")
    (tmp_path / "g").mkdir()
    saved = (
        by_libreoffice([out], tmp_path / "l")["out"],
        by_gnumeric([out], tmp_path / "g")["out"],
    )
    for path in saved:
        assert read_sheets(open_package(path)).cells("Prices") == read_sheets(
            open_package(out)
        ).cells("Prices")


@pytest.mark.host
def test_an_answer_typed_in_libreoffice(job: Job, asked: list[Request], tmp_path: Path) -> None:
    """A row put in above the first, one deleted, the rest sorted by what they are; then typed."""
    sheet = Sheet(written(asked[0], tmp_path / "out.xlsx"))
    sheet.sheet.protection.sheet = False  # as whoever wants to may
    first, last = sheet.top + 1, sheet.sheet.max_row
    out = sheet.saved(tmp_path / "open.xlsx")
    rows = {code: n + 1 for code, n in sheet.rows().items()}  # after one was put in
    steps: list[list[Any]] = [["insert_row", "Prices", first]]
    for typed, code in (("12.5", "F-01"), ("=25*2", "F-02"), ("POA", "F-05"), ("1,234.50", "F-09")):
        steps.append(["type", f"Prices!F{rows[code]}", typed])
    steps.append(["type", f"Prices!F{rows['F-06']}", "7"])
    steps.append(["delete_row", "Prices", rows["F-06"]])
    steps.append(["sort", f"Prices!A{first + 1}:N{last}", 2, False])
    steps.append(["type", "Prices!G3", "30"])
    steps.append(["save", str(tmp_path / "back.xlsx")])
    drive(out, steps)
    found = merge(job, asked, read_returned(tmp_path / "back.xlsx"))
    assert {c.key: c.new for c in found.changes} == {
        "F-01": 12.5, "F-02": 50, "F-09": 1234.5, FERNBANK: 30
    }  # fmt: skip
    (refused,) = found.refused
    assert "found 'POA'" in refused
    assert "F-06: its row is gone. The price in the book stays." in found.left
    assert any("Its result as stored, 50, is used" in n for n in found.notices)


def test_a_formula_without_a_result_is_refused(answer: Answer) -> None:
    """openpyxl stores no results: nobody's figure is made up for it."""
    found = answer(lambda s: s.put("F-03", price="=200/8"))
    assert [r for r in found.refused if "this formula has no result" in r]
    assert not found.changes


def test_a_blank_answer_changes_nothing(answer: Answer, asked: list[Request]) -> None:
    found = answer(lambda s: None)
    assert (found.changes, found.new_rows, found.refused) == ([], [], [])
    assert len(found.left) == len(asked[0].lines) + 3  # delivery, free over, how long


REFUSED = {
    "a pound sign": ("F-02", "price", "£12.50", r"!F14: found '£12\.50'; accepted: a figure such as 12\.50"),
    "a comma": ("F-02", "price", "12,50", r"found '12,50'"),
    "in words": ("F-02", "price", "POA", r"found 'POA'"),
    "digits as text": ("F-02", "price", "12.50", r"found '12\.50'; accepted: a figure"),
    "nought": ("F-02", "price", 0, r"found 0\.0; accepted: a number from 0\.01"),
    "below nought": ("F-02", "price", -3, r"found -3\.0"),
    "far too much": ("F-02", "price", 1e9, r"accepted: a number from 0\.01 to 100000"),
    "yes": ("F-02", "price", True, r"found True"),
    "an error": ("F-02", "price", "#N/A", r"found '#N/A'"),
    "another description": ("F-02", "description", "Sharp sand", r"!C14: found 'Sharp sand'; accepted: Soft sand, bag of about 800 kg, as asked"),
    "another pack": ("F-02", "pack", "load: 400 kg", r"!D14: found 'load: 400 kg'; accepted: load: 800 kg, as asked"),
    "another material": ("F-02", "material", "Hardcore", r"!B14: found 'Hardcore'; accepted: Blinding sand"),
    "other packs": ("F-02", "packs", 60, r"!E14: found '60'; accepted: 6, as asked"),
    "an emptied cell": ("F-02", "pack", None, r"!D14: found nothing"),
    "an unknown code": ("F-02", "code", "X-99", r"!A14: found 'X-99'; accepted: a code that Fernbank"),
    "another supplier's code": ("F-02", "code", "H-02", r"!A14: found 'H-02'"),
    "no code": ("F-02", "code", None, r"!A14: found nothing"),
    "a code twice": ("F-02", "code", "F-01", r"!A13: found 'F-01'; accepted: each code once \(2 rows"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_a_row_that_cannot_be_used_is_left_out(answer: Answer, case: str) -> None:
    code, column, value, said = REFUSED[case]
    found = answer(
        lambda s: s.put("F-02", price=55).put("F-05", price=9).put(code, **{column: value})
    )
    assert len(found.refused) >= 1
    assert re.search(said, found.refused[0]), found.refused
    assert all("\n" not in r and r.startswith("back.xlsx: Prices!") for r in found.refused)
    # The rest of the answer is taken all the same.
    assert [(c.key, c.new) for c in found.changes] == [("F-05", 9)]


def test_a_date_for_a_price_is_refused(answer: Answer) -> None:
    def typed(sheet: Sheet) -> None:
        sheet.put("F-02", price=46000)
        sheet.sheet[sheet.at("F-02", "price")].number_format = "d mmm yyyy"

    (refused,) = answer(typed).refused
    assert "found '9 December 2025'" in refused


TERMS_REFUSED = {
    "delivery_charge": ("free", "'free'"),
    "delivery_free_over": (-1, "-1"),
    "prices_valid_until": ("two\nlines", "one line"),
    "supplier_note": ("x" * 2001, "2000 characters"),
}


@pytest.mark.parametrize("name", TERMS_REFUSED)
def test_terms_that_cannot_be_used(answer: Answer, name: str) -> None:
    value, said = TERMS_REFUSED[name]
    found = answer(lambda s: s.term(name, value))
    assert [r for r in found.refused if said in r]
    assert found.changes == []


def test_rows_sorted_deleted_and_put_in(job: Job, asked: list[Request], tmp_path: Path) -> None:
    sheet = Sheet(written(asked[0], tmp_path / "out.xlsx"))
    for n, code in enumerate(sheet.rows(), 1):
        sheet.put(code, price=20 + n)
    ws, letters = sheet.sheet, list(sheet.columns.values())
    listed = [[ws[f"{c}{n}"].value for c in letters] for n in sheet.rows().values()]
    expected = {v[0]: v[5] for v in listed if v[0] != "F-06"}
    gone = next(v for v in listed if v[0] == "F-06")
    listed.remove(gone)
    listed.sort(key=lambda v: str(v[2]))
    listed.insert(2, [None] * len(letters))
    listed.append([None] * len(letters))
    for n, values in enumerate(listed, sheet.top + 1):
        for c, value in zip(letters, values, strict=True):
            ws[f"{c}{n}"] = value
    found = merge(job, asked, read_returned(sheet.saved(tmp_path / "back.xlsx")))
    assert found.refused == []
    assert {c.key: c.new for c in found.changes} == expected
    assert "F-06: its row is gone. The price in the book stays." in found.left


def test_a_row_added_below_is_not_overlooked(answer: Answer) -> None:
    def typed(sheet: Sheet) -> None:
        n = sheet.sheet.max_row + 103
        sheet.sheet[f"A{n}"], sheet.sheet[f"F{n}"] = "NEW-1", 5

    (refused,) = answer(typed).refused
    assert "found 'NEW-1'; accepted: a code that Fernbank" in refused


def test_a_price_that_rose_by_just_vat_is_looked_at(answer: Answer) -> None:
    found = answer(lambda s: s.put("F-01", price=37.8).put("F-03", price=9.5))
    assert any("F-01 rose by just a fifth" in n for n in found.notices)
    assert any("F-03 went from £94.95 to £9.50" in n for n in found.notices)
    assert len(found.changes) == 2


def test_a_request_that_an_earlier_version_wrote_is_read() -> None:
    """Its names and its layout are a contract; tests/layouts/README.md says what wrote it."""
    found = read_returned(Path(__file__).parent / "layouts" / "price_request_1.xlsx")
    terms = {name: stored.value for name, stored in found.terms.values.items()}
    assert terms == {
        "request_number": "D7EE7-89676",
        "request_supplier": FERNBANK,
        "request_from": "The estimator (invented)",
        "request_deliver_to": "to be agreed",
        "delivery_charge": 25,
        "delivery_free_over": None,
        "prices_valid_until": "31 March 2026",
        "supplier_note": None,
    }
    assert len(found.rows) == 22
    first = {name: stored.value for name, stored in found.rows[0].values.items()}
    assert first == {
        "code": "F-01",
        "material": "Hardcore",
        "description": "Crushed hardcore, loose, by the tonne",
        "pack": "load: 1000 kg",
        "packs": 14,
        "price": 30,
        **dict.fromkeys(c for c in COLUMNS if c.startswith("other_")),
    }
    (other,) = (row for row in found.rows if row.offers_other)
    assert (other.code, other.values["other_price"].value) == ("F-05", 6.5)


# ---- what is offered instead -----------------------------------------------------------------

OFFERED = {
    "a shorter roll": ("F-05", {"description": "DPC, 20 m", "width": 112.5, "length": 20, "made_of": "polyethylene", "price": 6.5}),
    "a wider one": ("F-05", {"description": "DPC 125", "width": 125, "length": 30, "made_of": "polyethylene", "price": 9}),
    "other sheet": ("F-03", {"description": "DPM 3 m", "width": 3000, "length": 33, "thickness": 500, "price": 90}),
    "another pack": ("F-11", {"description": "Stop ends, 25", "pieces": 25, "price": 30}),
    "another bag": ("F-02", {"description": "Sand in small bags", "weight": 25, "price": 3}),
    "another tape": ("F-13", {"description": "Tape 30 m", "width": 50, "length": 30, "price": 25}),
}  # fmt: skip


@pytest.mark.parametrize("case", OFFERED)
def test_other_lengths_and_packs_become_rows_of_their_own(
    job: Job, asked: list[Request], answer: Answer, tmp_path: Path, case: str
) -> None:
    code, given = OFFERED[case]
    found = answer(lambda s: s.put(code, **{f"other_{k}": v for k, v in given.items()}))
    assert found.refused == []
    old = next(r for r in job.rows["book"] if r["code"] == code)
    (new,) = found.new_rows
    assert new == blank_row("book", code=f"{code}-S1", supplier=FERNBANK, material=old["material"], **given)  # fmt: skip
    now = merged(job, found)
    check_job(now, InJobFile("merged"))
    assert len(now.rows["book"]) == len(job.rows["book"]) + 1
    # Read again, the same answer is known, and no second row is made.
    again = merge_again(now, asked, tmp_path / "again.xlsx", code, given)
    assert (again.new_rows, again.changes, again.refused) == ([], [], [])
    assert again.confirmed == 1


def merge_again(
    now: Job, asked: list[Request], path: Path, code: str, given: dict[str, Any]
) -> Merge:
    """The answer to what was asked before the job had taken it."""
    sheet = Sheet(written(asked[0], path))
    sheet.put(code, **{f"other_{k}": v for k, v in given.items()})
    ledger = estimate(now)
    return merge(now, requests(now, ledger), read_returned(sheet.saved(path)), changed_since=True)


CANNOT_SERVE = {
    "a narrower DPC": ("F-05", {"width": 100}, "other_width", "found 100; accepted: 112.5 mm or more, as asked"),
    "no width": ("F-05", {"width": None}, "other_width", "found nothing; accepted: "),
    "metres for millimetres": ("F-03", {"width": 4}, "other_width", r"found 4\.0; accepted: a number from 10 to 12000 mm"),
    "millimetres for metres": ("F-05", {"length": 30000}, "other_length", "found 30000.*millimetres"),
    "no length": ("F-05", {"length": None}, "other_length", "found nothing; accepted: the length of a pack"),
    "another stuff": ("F-05", {"made_of": "bitumen"}, "other_made_of", "found 'bitumen'; accepted: polyethylene, as asked"),
    "an unknown stuff": ("F-05", {"made_of": "cheese"}, "other_made_of", "found 'cheese'; accepted: one of polyethylene"),
    "no word of what it is made of": ("F-05", {"made_of": None}, "other_made_of", "found nothing; accepted: polyethylene"),
    "a thinner sheet": ("F-03", {"thickness": 250}, "other_thickness", "found 250; accepted: 300 µm or more, as asked"),
    "no thickness": ("F-03", {"thickness": None}, "other_thickness", "found nothing; accepted: 300 µm"),
    "no price": ("F-05", {"price": None}, "other_price", "found nothing; accepted: a number from 0.01"),
    "no description": ("F-05", {"description": None}, "other_description", "found nothing; accepted: a text"),
    "a description of two lines": ("F-05", {"description": "a\nb"}, "other_description", "one line"),
    "a price in words": ("F-05", {"price": "ask"}, "other_price", "found 'ask'"),
    "half a piece": ("F-11", {"pieces": 2.5}, "other_pieces", r"found 2\.5; .*whole"),
    "a roll wider than long": ("F-03", {"width": 4000, "length": 2}, "other_width", "longer than it is wide"),
    "weight of a roll": ("F-05", {"weight": 5}, "other_weight", "found 5; accepted: blank: DPC roll is not bought by it"),
    "another unit": ("F-21", {"length": 0.6, "pieces": 1}, "other_length", "accepted: 0.9 m, as asked"),
}  # fmt: skip


@pytest.mark.parametrize("case", CANNOT_SERVE)
def test_what_cannot_serve_is_refused_in_one_sentence(
    asked: list[Request], answer: Answer, tmp_path: Path, case: str
) -> None:
    code, change, column, said = CANNOT_SERVE[case]
    good = {
        "F-05": OFFERED["a shorter roll"][1],
        "F-03": OFFERED["other sheet"][1],
        "F-11": OFFERED["another pack"][1],
        "F-21": {"description": "Unit", "length": 0.9, "pieces": 1, "price": 20},
    }[code]
    cell = Sheet(written(asked[0], tmp_path / "s.xlsx")).at(code, column)
    given = {f"other_{k}": v for k, v in {**good, **change}.items()}
    found = answer(lambda s: s.put(code, price=11, **given))
    assert found.new_rows == []
    (refused,) = found.refused
    assert refused.startswith(f"back.xlsx: Prices!{cell}: found")
    assert re.search(said, refused), refused
    assert [(c.key, c.new) for c in found.changes] == [(code, 11)]


def test_codes_of_new_rows_are_their_own(job: Job, asked: list[Request], tmp_path: Path) -> None:
    """A code that differs in its letters' size only is taken, as everywhere."""
    other = {**job.rows["book"][4], "code": "f-05-s1", "price": 99}
    grown = replace(job, rows={**job.rows, "book": [*job.rows["book"], other]})
    _, given = OFFERED["a shorter roll"]
    sheet = Sheet(written(asked[0], tmp_path / "out.xlsx"))
    sheet.put("F-05", **{f"other_{k}": v for k, v in given.items()})
    back = read_returned(sheet.saved(tmp_path / "back.xlsx"))
    found = merge(grown, requests(grown, estimate(grown)), back)
    assert [r["code"] for r in found.new_rows] == ["F-05-S2"]


# ---- files that are not the answer -----------------------------------------------------------


def test_the_answer_to_another_job_or_of_another_supplier(
    job: Job, asked: list[Request], tmp_path: Path
) -> None:
    other = replace(asked[0], lines=(replace(asked[0].lines[0], packs=3), *asked[0].lines[1:]))
    path = written(other, tmp_path / "other.xlsx")
    with pytest.raises(PriceError, match=rf"found '{other.number}'; accepted: .*{asked[0].number}.*--changed-since"):  # fmt: skip
        merge(job, asked, read_returned(path))
    sheet = Sheet(written(asked[0], tmp_path / "out.xlsx"))
    back = sheet.term("request_supplier", "Nobody").saved(tmp_path / "nobody.xlsx")
    with pytest.raises(
        PriceError, match=r"nobody\.xlsx: Prices!B4: found 'Nobody'; accepted: one of"
    ):
        merge(job, asked, read_returned(back))
    back = sheet.term("request_supplier", HARROW).saved(tmp_path / "harrow.xlsx")
    with pytest.raises(PriceError, match=r"harrow\.xlsx: Prices!B3: found"):
        merge(job, asked, read_returned(back))


def test_a_job_that_was_changed_since(job: Job, asked: list[Request], tmp_path: Path) -> None:
    other = replace(asked[0], lines=(replace(asked[0].lines[0], packs=3), *asked[0].lines[1:]))
    sheet = Sheet(written(other, tmp_path / "out.xlsx")).put("F-01", price=30)
    sheet.put("F-02", pack="load: 400 kg", price=1)
    back = read_returned(sheet.saved(tmp_path / "back.xlsx"))
    found = merge(job, asked, back, changed_since=True)
    assert found.changes == [Change("book", "F-01", "price", 31.5, 30)]
    assert len(found.refused) == 1


def _emptied(path: Path) -> None:
    Workbook().save(path)


def _without_a_column(path: Path) -> None:
    sheet = Sheet(path)
    sheet.book.defined_names["asked_price"].attr_text = "Prices!#REF!"
    sheet.book.save(path)


def _moved(path: Path) -> None:
    sheet = Sheet(path)
    sheet.book.create_sheet("Else")
    sheet.book.defined_names["asked_price"].attr_text = "Else!$A$1:$A$3"
    sheet.book.save(path)


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (_emptied, "no price request"),
        (_without_a_column, "price: found nothing; accepted: the cells of the request"),
        (_moved, "cells that were moved"),
        (lambda p: p.write_bytes(b"PK no"), "a file cut short"),
        (lambda p: p.write_text("12.50"), "another kind of file"),
        (lambda p: p.unlink(), "a file that exists"),
    ],
)  # fmt: skip
def test_a_file_that_is_no_answer_is_one_sentence(
    asked: list[Request], tmp_path: Path, spoil: Callable[[Path], Any], said: str
) -> None:
    path = written(asked[0], tmp_path / "back.xlsx")
    spoil(path)
    with pytest.raises((PriceError, FileError), match=said) as found:
        read_returned(path)
    assert "\n" not in str(found.value)


# ---- hostile texts ---------------------------------------------------------------------------

HOSTILE = ('=HYPERLINK("http://x.invalid","y")', "+cmd|' /C calc'!A0", "@SUM(A1)", "_x0041_",
           "<b>&amp;</b>", "{packs}", "'quoted", "é Ω 漢 😀", "#N/A", "007")  # fmt: skip


@pytest.mark.host
def test_hostile_texts_stay_texts_both_ways(job: Job, tmp_path: Path) -> None:
    """In what goes out, in LibreOffice, and in what is made of it when it comes back."""
    rows = {t: [dict(r) for r in rs] for t, rs in job.rows.items()}
    mine = [r for r in rows["book"] if r["supplier"] == FERNBANK][: len(HOSTILE)]
    for row, text in zip(mine, HOSTILE, strict=True):
        row["description"] = text
    hostile = replace(job, rows=rows)
    asked = requests(hostile, estimate(hostile), whole_list=True)
    out = written(next(r for r in asked if r.supplier == FERNBANK), tmp_path / "out.xlsx")
    assert not [
        c for row in load_workbook(out).active.iter_rows() for c in row if c.data_type == "f"
    ]
    assert b"<hyperlink" not in b"".join(content for _, content in parts(out))
    sheet = Sheet(out)
    for code in sheet.rows():
        sheet.put(code, price=12)
    back = by_libreoffice([sheet.saved(tmp_path / "back.xlsx")], tmp_path / "l")["back"]
    found = merge(hostile, asked, read_returned(back))
    assert found.refused == []
    assert len(found.changes) == len(sheet.rows())


# ---- what it does to the job -----------------------------------------------------------------


def test_the_effect_is_that_of_the_changed_price_book(job: Job, answer: Answer) -> None:
    _, given = OFFERED["a shorter roll"]
    found = answer(
        lambda s: s.put("F-01", price=30).term("delivery_charge", 10)
        .put("F-05", **{f"other_{k}": v for k, v in given.items()})
    )  # fmt: skip
    by_hand = {t: [dict(r) for r in rs] for t, rs in job.rows.items()}
    by_hand["book"][0]["price"] = 30
    by_hand["suppliers"][0]["delivery"] = 10
    by_hand["book"].append(blank_row("book", code="F-05-S1", supplier=FERNBANK, material="dpc_roll", **given))  # fmt: skip
    ledger = estimate(replace(job, rows=by_hand))
    shown = effect(job, found, estimate(job), estimate(merged(job, found)))
    assert shown["totals"]["quote_total"] == {
        "before": estimate(job).cell("quote_total"),
        "after": ledger.cell("quote_total"),
    }
    text = "\n".join(shown["lines"])
    assert (
        "F-01 (Crushed hardcore, loose, by the tonne): £31.50 before, £30.00 now, a pack." in text
    )
    assert f"{FERNBANK}, delivery: £45.00 before, £10.00 now." in text
    assert "F-05: 2 packs ordered before, none now." in text
    assert f"Quoted in all: £3,709.97 before, £{ledger.cell('quote_total'):,.2f} now." in text
    # 14 t at 1.50 less, and 35 less for delivery: worked by hand, the DPC apart.
    without = replace(found, new_rows=[])
    with_it = estimate(merged(job, without))
    cost = effect(job, without, estimate(job), with_it)["totals"]["cost_total"]
    assert round(cost["before"] - cost["after"], 2) == 14 * 1.5 + 35


def test_what_is_left_of_a_list_price_after_the_discount_is_said(job: Job, answer: Answer) -> None:
    """A price that comes back is a list price: of 30.00, less 12.5 %, 26.25 is used."""
    _, given = OFFERED["a shorter roll"]
    found = answer(
        lambda s: s.put("F-01", price=30).put("F-05", **{f"other_{k}": v for k, v in given.items()})
    )
    job = replace(job, discounts={FERNBANK: {"hardcore": 12.5}})
    lines = effect(job, found, estimate(job), estimate(merged(job, found)))["lines"]
    assert (
        "F-01 (Crushed hardcore, loose, by the tonne): £31.50 before, £30.00 now, a pack. "
        "Less the discount of 12.5 %, £26.25 is used." in lines
    )
    assert [line for line in lines if "discount" in line] == lines[:1]


# ---- the commands ----------------------------------------------------------------------------


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(words), env={"ESTIMATOR_SMTP_FROM": ""})
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output


def test_out_and_back_by_the_commands(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    words = ("request", str(DEMO_JOB), "--out", str(folder), "--from", "Me <me@x.example>",
             "--to", f"{FERNBANK}=Sales <sales@x.example>", "--deliver-to", "Exampleton")  # fmt: skip
    code, text = run(*words)
    assert code == 0, text
    found = sorted(p.name for p in folder.iterdir())
    assert [p.rpartition(".")[2] for p in found] == ["eml", "xlsx", "eml", "xlsx"]
    assert found[0].startswith("price-request-fernbank-supplies-invented-")
    book = (folder / found[1]).read_bytes()
    message = email.message_from_bytes((folder / found[0]).read_bytes(), policy=SMTP)
    assert message["To"] == "Sales <sales@x.example>"
    assert message["X-Unsent"] == "1"
    (attached,) = message.iter_attachments()
    assert attached.get_payload(decode=True) == book
    assert attached.get_filename() == found[1]
    said = message.get_body(("plain",)).get_content() + message.get_body(("html",)).get_content()
    assert "Exampleton" in said
    for secret in (HARROW, "Garden room", "A. Example", "Example Lane", "£"):
        assert secret not in said + str(message["Subject"])
    # A second time nothing is overwritten, and nothing else is written.
    before = {p: p.read_bytes() for p in folder.iterdir()}
    code, text = run(*words)
    assert code == 2
    assert "a file of that name" in text
    assert {p: p.read_bytes() for p in folder.iterdir()} == before
    sheet = Sheet(folder / found[1]).put("F-01", price=30).put("F-02", price="POA")
    back = sheet.saved(tmp_path / "back.xlsx")
    code, text = run("prices", str(DEMO_JOB), str(back))
    assert code == 1
    assert "F14: found 'POA'" in text
    assert "£31.50 before, £30.00 now" in text
    code, text = run("prices", str(DEMO_JOB), str(back), "--json", "--show")
    (data,) = json.loads(text)
    assert data["changes"] == [
        {"table": "book", "key": "F-01", "field": "price", "old": 31.5, "new": 30.0}
    ]
    assert data["totals"]["quote_total"]["before"] == 3709.97


@pytest.mark.parametrize(
    ("more", "said"),
    [((), "to be agreed"), (("--deliver-to", "AB1"), "AB1")],
)
def test_where_to_deliver_reads_as_a_sentence(
    tmp_path: Path, more: tuple[str, ...], said: str
) -> None:
    """The demo's address has no postcode; the words around a place must fit both."""
    folder = tmp_path / "out"
    code, text = run("request", str(DEMO_JOB), "--out", str(folder), "--from", "a@x.example", *more)
    assert code == 0, text
    draft = next(p for p in folder.iterdir() if p.suffix == ".eml")
    message = email.message_from_bytes(draft.read_bytes(), policy=SMTP)
    for kind in ("plain", "html"):
        words = " ".join(message.get_body((kind,)).get_content().split())
        assert f". Place of delivery: {said}" in words


def test_prices_are_put_into_the_workbook(tmp_path: Path) -> None:
    """Asked, answered and put in place: the book says 30.00, every cell agrees, the old is kept."""
    job, folder = tmp_path / "job.xlsx", tmp_path / "out"
    assert run("workbook", str(DEMO_JOB), "--out", str(job))[0] == 0
    assert run("request", str(job), "--out", str(folder))[0] == 0
    asked = next(p for p in folder.glob("*.xlsx") if "fernbank" in p.name)
    back = Sheet(asked).put("F-01", price=30).saved(tmp_path / "back.xlsx")
    before = job.read_bytes()
    assert run("prices", str(job), str(back), "--show")[0] == 0
    assert job.read_bytes() == before
    code, text = run("prices", str(job), str(back))
    assert code == 0, text
    returned = read_back(job)
    prices = {r["code"]: r["price"] for r in returned.job.rows["book"]}
    assert prices == {
        **{r["code"]: r["price"] for r in read_job(DEMO_JOB).rows["book"]},
        "F-01": 30,
    }
    assert differences(returned, laid_ledger(returned)) == []
    (kept,) = tmp_path.glob("job before *.xlsx")
    assert kept.read_bytes() == before


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--to", "Nobody=a@x.example"], "--to: found 'Nobody=a@x.example'; accepted: SUPPLIER=ADDRESS"),
        (["--to", f"{FERNBANK}=nobody", "--from", "me@x.example"], "to: found 'nobody'"),
        (["--from", "me\n@x.example"], "from: found"),
        (["--template", str(DEMO_JOB)], "accepted: a workbook"),
        (["--deliver-to", "two\nlines"], "--deliver-to: found 'two\\nlines'; accepted: a text of one line"),
        (["--settings", "none.toml", "--send"], "none.toml: found nothing"),
        (["--send"], "mail settings: found nothing; accepted: --settings FILE"),
    ],
)  # fmt: skip
def test_a_request_that_cannot_be_made_leaves_nothing(
    tmp_path: Path, more: list[str], said: str
) -> None:
    code, text = run("request", str(DEMO_JOB), "--out", str(tmp_path / "out"), *more)
    assert code == 2
    assert said in text
    assert not (tmp_path / "out").exists()


def test_requests_are_sent(tmp_path: Path) -> None:
    known = certificates(tmp_path)
    inbox = Inbox()
    folder = tmp_path / "out"
    words = ["request", str(DEMO_JOB), "--out", str(folder), "--deliver-to", "AB1", "--settings",
             str(tmp_path / "mail.toml"), "--to", f"{FERNBANK}=sales@x.example"]  # fmt: skip
    with real_server(inbox, known.good) as port:
        private(
            tmp_path / "mail.toml",
            f'host = "127.0.0.1"\nport = {port}\nuser = "{USER}"\npassword = "{PASSWORD}"\n'
            f'from = "{SENDER}"\nca_file = "ca.pem"\ntimeout_seconds = 60\n',
        )
        code, text = run(*words, "--send")
        assert code == 2
        assert "--to: found nothing; accepted: an e-mail address for Quayside Stores" in text
        assert not folder.exists()
        words += ["--to", "Quayside Stores (invented)=shop@x.example"]
        code, text = run(*words, "--send", "--dry-run")
        assert code == 0, text
        assert "nothing was sent" in text
        assert not folder.exists()
        assert inbox.commands == []
        code, text = run(*words, "--send")
        assert code == 0, text
    assert PASSWORD not in text
    assert [people for _, people, _ in inbox.arrived] == [["sales@x.example"], ["shop@x.example"]]
    for _, _, content in inbox.arrived:
        (attached,) = email.message_from_bytes(content, policy=SMTP).iter_attachments()
        file = folder / str(attached.get_filename())
        assert attached.get_payload(decode=True) == file.read_bytes()
        assert b"X-Unsent" not in content
        assert b"X-Unsent: 1" in file.with_suffix(".eml").read_bytes()


def test_a_message_that_fails_after_others_is_told_apart(tmp_path: Path) -> None:
    known = certificates(tmp_path)
    inbox = Inbox(refuse=("shop@x.example",))
    with real_server(inbox, known.good) as port:
        private(
            tmp_path / "mail.toml",
            f'host = "127.0.0.1"\nport = {port}\nuser = "{USER}"\npassword = "{PASSWORD}"\n'
            f'from = "{SENDER}"\nca_file = "ca.pem"\ntimeout_seconds = 60\n',
        )
        code, text = run(
            "request", str(DEMO_JOB), "--out", str(tmp_path / "out"), "--settings",
            str(tmp_path / "mail.toml"), "--to", f"{FERNBANK}=sales@x.example",
            "--to", "Quayside Stores (invented)=shop@x.example", "--send",
        )  # fmt: skip
    assert code == 2
    assert len(inbox.arrived) == 1
    assert "1 of 2 messages were sent before this one. Not tried after it: none." in text
    assert "refused: shop@x.example" in text


# ---- anything at all -------------------------------------------------------------------------

ANYTHING = st.one_of(
    st.none(), st.text(max_size=20), st.floats(), st.booleans(), st.dates(), st.datetimes(),
    st.sampled_from(["F-01", "F-02", "load: 800 kg", "polymer", Failed("#N/A")]),
)  # fmt: skip
CELL = st.builds(Stored, ANYTHING, st.none() | st.just("1+1"))


@settings(max_examples=300)
@given(data=st.data())
def test_whatever_is_typed_there_is_an_answer_or_a_sentence(
    job: Job, asked: list[Request], data: st.DataObject
) -> None:
    """No answer makes a traceback, a wrong kind of price, or a row that the book would refuse."""
    line = asked[0].lines[0]
    said = {n: Stored(float(v) if isinstance(v, int) else v) for n, v in vars(line).items()}
    rows = []
    for _ in range(data.draw(st.integers(0, 3))):
        as_asked = data.draw(st.booleans())
        values = {n: said[n] if as_asked and n in said else data.draw(CELL) for n in COLUMNS}
        rows.append(Row(values, {n: f"f: {n}" for n in COLUMNS}))
    terms = {n: data.draw(CELL) for n in CELLS}
    terms |= {NUMBER: Stored(asked[0].number), SUPPLIER: Stored(FERNBANK)}
    found = merge(job, asked, Returned("f", Row(terms, {n: f"f: {n}" for n in CELLS}), tuple(rows)))
    for sentence in (*found.left, *found.refused, *found.notices):
        assert "\n" not in sentence
    for change in found.changes:
        assert isinstance(change.new, float)
        assert math.isfinite(change.new)
    now = merged(job, found)
    check_job(now, InJobFile("merged"))


# ---- the template ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda s: s.__setitem__("A13", None), r"a place \{code\}"),
        (lambda s: s.__setitem__("A1", "{nothing}"), r"Prices!A1: found 'nothing'"),
        (lambda s: s.__setitem__("A1", "{code}"), "each place once"),
        (lambda s: s.__setitem__("A20", "below"), "the list last on its sheet"),
    ],
)
def test_a_template_that_lacks_something(
    asked: list[Request], tmp_path: Path, change: Callable[[Any], None], said: str
) -> None:
    book = load_workbook(REQUEST_TEMPLATE)
    change(book.active)
    book.save(tmp_path / "mine.xlsx")
    with pytest.raises(TemplateError, match=said):
        workbook_of(asked[0], "", "", tmp_path / "mine.xlsx")


def test_a_restyled_template_is_kept(job: Job, asked: list[Request], tmp_path: Path) -> None:
    """Two columns pushed right, rows pushed down, another sheet name: what comes back is read."""
    book = load_workbook(REQUEST_TEMPLATE)
    sheet = book.active
    sheet.title = "Bitte füllen"
    sheet["A1"] = "Our own heading"
    (merged_cells,) = sheet.merged_cells.ranges
    sheet.insert_cols(1, 2)
    sheet.insert_rows(1, 3)
    merged_cells.shift(2, 3)
    book.save(tmp_path / "mine.xlsx")
    out = tmp_path / "out.xlsx"
    out.write_bytes(workbook_of(asked[0], "me", "AB1", tmp_path / "mine.xlsx"))
    assert load_workbook(out).active["C4"].value == "Our own heading"
    back = Sheet(out).put("F-01", price=30).saved(tmp_path / "back.xlsx")
    found = merge(job, asked, read_returned(back))
    assert found.changes == [Change("book", "F-01", "price", 31.5, 30)]
    assert isinstance(found, Merge)
    assert not issubclass(Merge, EstimateError)
