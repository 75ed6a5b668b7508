"""Merchants' own price lists: read right, or refused in one sentence with sheet, row and column."""

import csv
import datetime
import io
import json
import re
import shutil
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from openpyxl import Workbook

from estimator.cli.main import main
from estimator.documents.price_requests.first_prices import far_off, first_prices
from estimator.documents.price_requests.merging import Change, Merge, merged
from estimator.errors import EstimateError, FileError, PriceError
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.price_lists.amounts import price_in
from estimator.price_lists.mapping import read_map
from estimator.price_lists.pack_sizes import misfit
from estimator.price_lists.proposal import proposed, supplier_in
from estimator.price_lists.sheets import read_list
from estimator.price_lists.understood import Understood, understood
from estimator.workbook.reading.inputs import read_back

from .hosts import by_libreoffice
from .made import made
from .merchant_lists import (
    CODE_TO_PRICE,
    HEADS,
    HOSTILE,
    LISTS,
    SUPPLIER,
    MerchantList,
    ods,
    ods_row,
    repacked,
    text,
    xlsx,
)
from .small_jobs import row

OTHER = "Gull Wharf (invented)"


def product(code: str, material: str, description: str, price: float, **given: Any) -> dict[str, Any]:  # fmt: skip
    given.setdefault("supplier", SUPPLIER)
    return row("book", code=code, material=material, description=description, price=price, **given)


BOOK = [
    product("D112", "dpc_roll", "DPC 112.5 mm × 30 m", 9.85, width=112.5, length=30),
    product("D150", "dpc_roll", "DPC 150 mm × 30 m", 12.35, width=150, length=30),
    product("SHEET", "dpm_sheet", "DPM 300 µm, 4 m × 25 m", 94.95, width=4000, length=25),
    product("TRAY", "tray_roll", "Cavity tray 450 mm × 20 m", 61.15, width=450, length=20),
    product("STOP", "stop_end", "Stop ends, pack of 10", 14.65, pieces=10),
    product("WEEP", "weep", "Weeps, pack of 50", 24.5, pieces=50),
    product("STONE", "hardcore", "Hardcore, bulk bag 850 kg", 44, weight=850),
    product("TAPE", "tape_double", "Butyl tape 50 mm × 15 m", 14.2, width=50, length=15),
    product("SAND", "blinding_sand", "Sand, bag of 25 kg", 2.85, weight=25),
    product("COLLAR", "collar", "Collar 110 mm", 14.9, width=110, pieces=1),
    product("G1", "dpc_roll", "DPC 112.5 mm × 30 m", 9.5, width=112.5, length=30, supplier=OTHER),
]


@pytest.fixture(scope="module")
def job() -> Job:
    return Job({}, {"book": BOOK, "suppliers": [row("suppliers", name=n) for n in (SUPPLIER, OTHER)]})  # fmt: skip


def read(job: Job, case: MerchantList, folder: Path) -> Understood:
    path, how = folder / case.file, folder / "tern.toml"
    path.write_bytes(case.made())
    how.write_text(case.map_text, "utf-8")
    return understood(job, 20, read_list(path), read_map(how, [SUPPLIER, OTHER]))


def expect(found: Understood, case: MerchantList) -> None:
    taken = {r.product: r.price for r in found.rows if r.taken}
    assert taken == case.prices
    prices = {r["code"]: r["price"] for r in BOOK}
    changed = {c.key: (c.old, c.new) for c in found.merge.changes}
    new = {r["code"]: r["price"] for r in found.merge.new_rows}
    assert sorted(new) == sorted(case.new_rows)
    wanted = {c: (prices[c], p) for c, p in case.prices.items() if c in prices and prices[c] != p}
    assert changed == wanted
    assert found.merge.confirmed == len(case.prices) - len(wanted) - len(new)
    for said, parts in (
        (found.merge.refused, case.refused),
        (found.unconfirmed, case.unconfirmed),
        (found.merge.left, case.left),
        (found.gone, case.gone),
    ):
        assert len(said) == len(parts), said
        for sentence, part in zip(said, parts, strict=True):
            assert part in sentence
    assert len(found.not_in_map) == case.in_list


@pytest.mark.parametrize("case", [*LISTS, *HOSTILE], ids=lambda c: c.name)
def test_a_list_is_read_as_a_person_reads_it(job: Job, case: MerchantList, tmp_path: Path) -> None:
    expect(read(job, case, tmp_path), case)


def test_there_are_twenty_manners_and_five_hostile_ones() -> None:
    assert (len({c.name for c in LISTS}), len({c.name for c in HOSTILE})) == (20, 5)


def test_what_is_not_read_is_said(job: Job, tmp_path: Path) -> None:
    hidden = next(c for c in LISTS if "hidden" in c.name)
    assert read(job, hidden, tmp_path).not_read == [
        "Last year: hidden, and not named under sheets in the map."
    ]
    three = next(c for c in LISTS if c.name.startswith("three sheets"))
    [said] = read(job, three, tmp_path).not_read
    assert said.startswith("Terms: no row has the headings Code or Item code, ")
    assert len(read(job, three, tmp_path).unmapped) == 8  # of ten of the supplier's, two are mapped


@pytest.mark.parametrize(
    ("said", "price"),
    [
        ("24.10/50", (24.1, "50")), ("£24/50", (24, "50")), ("95p/m", (0.95, "m")),
        ("1,250", (1250, "")), ("GBP 12.5", (12.5, "")), (".5", (0.5, "")), ("  ", None),
        ("12/03", "refused"), ("12/03/2026", "refused"), ("£12/03/2026", "refused"),
        ("12 50", "refused"), ("1,25", "refused"), ("12,50", "refused"), ("1.234,50", "refused"),
        ("-3", "refused"), ("nan", "refused"), ("1e3", "refused"), ("0x10", "refused"), ("٣", "refused"),
    ],
)  # fmt: skip
def test_a_price_can_be_read_in_one_way_or_is_refused(said: str, price: Any) -> None:
    if price == "refused":
        with pytest.raises(ValueError, match="a price such as"):
            price_in(said, False, False)
    else:
        assert price_in(said, False, False) == price


def test_rows_are_numbered_as_in_the_sheet(tmp_path: Path) -> None:
    """Two blank rows and a blank column come first; a cell is named as a person finds it."""
    book = Workbook()
    for n, cells in enumerate((("Code", "Price"), ("T1", -1)), 3):
        book.active.cell(n, 2, cells[0])
        book.active.cell(n, 3, cells[1])
    book.active.title = "Prices"
    book.save(tmp_path / "a.xlsx")
    rows = ods_row("", "Code", "Price") + ods_row("", "T1", -1)
    blank = '<table:table-row table:number-rows-repeated="2"><table:table-cell/></table:table-row>'
    (tmp_path / "a.ods").write_bytes(ods(blank + rows))
    for name in ("a.xlsx", "a.ods"):
        [sheet] = read_list(tmp_path / name)
        assert [(n, [str(c) for c in cells[1:]]) for n, cells in sheet.rows] == [
            (3, ["Code", "Price"]), (4, ["T1", "-1.0"])]  # fmt: skip
        assert sheet.place(4, 2) == f"{name}: Prices!C4"


def test_how_a_price_follows_is_said(job: Job, tmp_path: Path) -> None:
    groups = next(c for c in LISTS if c.name.startswith("groups"))
    first = read(job, groups, tmp_path).rows[0]
    assert (first.listed, first.steps, first.price) == (20.1, "less 40 % ÷ 1.2", 10.05)
    assert first.place == "tern.csv, line 2"


@pytest.mark.parametrize(
    ("listed_as", "is_taken"),
    [("roll", False), ("DPC 112.5mm x 20m", True), ("dpc 112.5MM  x 20m", True), ("DPC x 25m", False)],
)  # fmt: skip
def test_what_says_the_size_is_confirmed_and_nothing_else(
    job: Job, listed_as: str, is_taken: bool, tmp_path: Path
) -> None:
    """The pack only says roll, the description 20 m: roll would confirm any length from then on."""
    case = MerchantList(
        "", "a.csv", text("Code,Description,Unit,Price", "T1,DPC 112.5mm x 20m,roll,7.20"),
        CODE_TO_PRICE, f'T1 = {{ product = "D112", listed_as = "{listed_as}" }}',
        {"D112": 7.2} if is_taken else {}, unconfirmed=[] if is_taken else ["D112"],
    )  # fmt: skip
    expect(read(job, case, tmp_path), case)


def test_a_price_that_looks_odd_is_pointed_out(job: Job, tmp_path: Path) -> None:
    """9.85 and a fifth is 11.82; 44 is more than double 20."""
    case = MerchantList(
        "", "a.csv", text("Code,Price", "T1,11.82", "T7,20"), 'code = "Code"\nprice = "Price"',
        'T1 = "D112"\nT7 = "STONE"', {},
    )  # fmt: skip
    one, other = read(job, case, tmp_path).merge.notices
    assert one == (
        "a.csv, line 2, column B: D112 rose by just a fifth, from £9.85 to £11.82: is VAT in it?"
    )
    assert "a.csv, line 3, column B: STONE went from £44.00 to £20.00" in other


@pytest.mark.parametrize(
    ("pack", "description", "code", "said"),
    [
        ("Roll 30m", "", "D112", None),
        ("30 mtr roll", "DPC 112.5mm", "D112", None),
        ("each", "DPC 112.5mm x 30m", "D112", None),
        ("RL", "DPC", "D112", None),
        ("", "DPC 112.5 mm x 20 m", "D112", "20 m"),
        ("roll", "DPC 100mm x 30m", "D112", "100 mm"),
        ("2 rolls pack of 2", "DPC 112.5 x 30m", "D112", "2 pieces"),
        ("roll", "300mu sheet 4 x 25m", "SHEET", None),
        ("100m2", "DPM", "SHEET", None),
        ("roll", "4m x 12.5m", "SHEET", "12.5 m"),
        ("EA", "Stop ends, pack of 10", "STOP", None),
        ("EA", "Stop ends", "STOP", "1 piece"),
        ("per 100", "Weeps", "WEEP", "100 pieces"),
        ("Box (50)", "Weeps", "WEEP", None),
        ("50's", "Weeps", "WEEP", None),
        ("pair", "Collar 110mm", "COLLAR", "2 pieces"),
        ("bulk bag approx 850 kg", "Stone", "STONE", None),
        ("0.85 tonne", "Stone", "STONE", None),
        ("1,000 kg", "Stone", "STONE", "1000 kg"),
        ("25kg", "Sand", "SAND", None),
    ],
)
def test_the_pack_is_that_of_the_book_or_it_is_said(
    pack: str, description: str, code: str, said: str | None
) -> None:
    assert misfit(pack, description, next(r for r in BOOK if r["code"] == code)) == said


@pytest.mark.parametrize(
    ("pack", "description", "said"),
    [
        ("roll", "DPM 300mu 4m x 25m", None),
        ("roll", "DPM 300 micron 4m x 25m", None),
        ("roll", "DPM 300 µm 4m x 25m", None),  # the micro sign
        ("roll", "DPM 300 μm 4m x 25m", None),  # the Greek letter
        ("roll", "DPM 300um 4m x 25m", None),
        ("roll", "DPM 0.3mm 4m x 25m", None),
        ("roll", "DPM 1200 gauge 4m x 25m", None),
        ("roll", "DPM 1,200 Gauge 4m x 25m", None),
        ("roll", "DPM 1200g 4m x 25m", None),
        ("roll", "DPM 1200g/300mu 4m x 25m", None),
        ("1200 gauge", "DPM 4m x 25m", None),
        ("roll", "DPM 4m x 25m", None),
        ("roll", "DPM 370 g/m2 4m x 25m", None),  # a weight
        ("roll", "DPM 1000g per m2 4m x 25m", None),
        ("roll", "DPM 1000g 4m x 25m", "250 µm"),
        ("roll", "DPM 1000 gauge 4m x 25m", "250 µm"),
        ("roll", "DPM 250mu 4m x 25m", "250 µm"),
        ("roll", "DPM 0.5 mm 4m x 25m", "500 µm"),
        ("500 micron", "DPM 300mu 4m x 25m", "500 µm"),
    ],
)
def test_the_thickness_of_sheet_is_that_of_the_book_or_it_is_said(
    pack: str, description: str, said: str | None
) -> None:
    """A quarter of the gauge is the thickness in µm: 1200 / 4 = 300, 1000 / 4 = 250."""
    sheet = next(r for r in BOOK if r["code"] == "SHEET")
    assert misfit(pack, description, {**sheet, "thickness": 300}) == said
    assert misfit(pack, description, sheet) is None, "it states no thickness to be held against"


# ---- files that are refused whole --------------------------------------------------------------


def far_cell() -> bytes:
    book = Workbook()
    book.active.title = "Prices"
    book.active.append(HEADS)
    book.active["XFD1048576"] = 1
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def bomb() -> bytes:
    """A sheet of 200 MB of blanks in a file of 200 kB."""
    data = xlsx(Prices=[HEADS])()
    return repacked(data, "xl/worksheets/sheet1.xml", lambda xml: xml + " " * 200 * 2**20)


def repeated() -> bytes:
    """One row that OpenDocument says is there a million times, each cell 16,384 times."""
    return ods(
        ods_row("T1")
        .replace("<table:table-row>", '<table:table-row table:number-rows-repeated="1048576">')
        .replace("<table:table-cell ", '<table:table-cell table:number-columns-repeated="16384" ')
    )


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("a.xlsx", far_cell, "a.xlsx: Prices: found 'cells too many, or too far apart"),
        ("a.xlsx", bomb, "xl/worksheets/sheet1.xml: found 'a part that unpacks to 200 MB'"),
        ("a.ods", repeated, "found 'no spreadsheet that can be read'"),
        ("a.xlsx", lambda: b"PK\x03\x04 and no more", "found 'a file cut short'"),
        ("a.xls", lambda: bytes.fromhex("d0cf11e0a1b11ae1") + b"\0" * 3000, "found "),
        ("a.pdf", lambda: b"%PDF-1.7", "found 'another kind of file'"),
        ("a.csv", lambda: b"", "found nothing; accepted: "),
        ("a.csv", lambda: b"Code,Price\nA\x00,1\n", "found 'another encoding'"),
        ("a.csv", lambda: b"Code,Price\nT1,\x81\n", "found 'another encoding'"),
        ("a.csv", lambda: b'Code,Price\n"T1,10\nT2,11\n', "in the row that begins in line 2"),
        ("a.csv", text("a" + "," * 300), "a.csv, line 1: found '301 cells'"),
        ("a.csv", text("Ref,Price", "T1,10"), "accepted: the headings of the map in one of the rows"),
        ("a.csv", text("Code,Price,Price", "T1,10,11"),
         "a.csv, line 1, column C: found 'Price'; accepted: that heading once: it is that of "
         'column B too; in tern.toml say which, as "column C".'),
    ],
)  # fmt: skip
def test_a_list_that_cannot_be_read_is_one_sentence(
    job: Job, name: str, data: Any, said: str, tmp_path: Path
) -> None:
    case = MerchantList("", name, data, 'code = "Code"\nprice = "Price"', 'T1 = "D112"', {})
    with pytest.raises(EstimateError) as refused:
        read(job, case, tmp_path)
    assert said in str(refused.value)
    assert str(refused.value).count("accepted") == 1


def test_too_many_rows_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("Code,Price\n" + "T1,10\n" * 100_000, "utf-8")
    with pytest.raises(FileError, match="more than 100,000 lines"):
        read_list(path)


def test_fifty_thousand_rows(job: Job, tmp_path: Path) -> None:
    rows = [f"X{n},Thing {n},each,{n / 100 + 1:.2f}" for n in range(49_999)]
    rows.insert(31_000, "T1,DPC 112.5 x 30m,roll,10.05")
    made_of = text("Code,Description,Unit,Price", *rows)
    case = MerchantList("", "a.csv", made_of, CODE_TO_PRICE, 'T1 = "D112"', {"D112": 10.05}, in_list=49_999)  # fmt: skip
    expect(read(job, case, tmp_path), case)


# ---- the map -----------------------------------------------------------------------------------

GOOD = f'supplier = "{SUPPLIER}"\nvat = "excluded"\n[columns]\ncode = "Code"\nprice = "Price"\n'


@pytest.mark.parametrize(
    ("text_of_map", "said"),
    [
        (GOOD.replace('vat = "excluded"', ""), "tern.toml: vat: found nothing; accepted: one of included, excluded"),
        (GOOD.replace(SUPPLIER, "Nobody"), "tern.toml: supplier: found 'Nobody'; accepted: one of Tern Yard"),
        (GOOD.replace('price = "Price"', ""), "tern.toml: columns.price: found nothing"),
        (GOOD.replace('code = "Code"', ""), "tern.toml: columns.code: found nothing"),
        (GOOD + 'cost = "Cost"\n', "tern.toml: columns: found 'cost'; accepted: one of code, description"),
        (GOOD + '[products]\nT1 = "D112"\nT2 = "D112"\n', 'products."T2": found \'D112\'; accepted: each product once; it is also that of "T1"'),
        (GOOD + '[products]\nT1 = "D112"\nt1 = "D150"\n', "each code or description once"),
        (GOOD + '[products]\nT1 = { product = "D112", times = 30 }\n', 'products."T1".listed_as: found nothing'),
        (GOOD + '[products]\nT1 = { product = "D112", listed_as = "m", times = 0 }\n', 'products."T1".times: found 0'),
        (GOOD + '[products]\nT1 = { product = "WEEP", listed_as = "box of 100", times = 0.5 }\n', "products.\"T1\".times: found 0.5; accepted: a whole number, as 'box of 100' is sold whole"),
        (GOOD + '[products]\nT1 = { product = "DPC", listed_as = "roll 20 m", times = 1.5 }\n', "products.\"T1\".times: found 1.5; accepted: a whole number, as 'roll 20 m' is sold whole: give that pack a row of its own"),
        (GOOD + '[products]\nT1 = "D999"\n', "products.\"T1\": found 'D999'; accepted: the code of a product that Tern Yard"),
        (GOOD + '[products]\nT1 = "G1"\n', "a product of Tern Yard (invented); this one is sold by Gull Wharf"),
        (GOOD + '[products]\nT1 = { product = "N1", material = "dpc_roll", description = "x", width_mm = 100 }\n', 'products."T1".length_m: found nothing'),
        (GOOD + '[products]\nT1 = { product = "N1", material = "tar", description = "x" }\n', 'products."T1".material: found \'tar\''),
        (GOOD + '[products]\nT1 = { product = "N1", material = "weep", description = "=1+1", pieces = 5 }\n', "does not begin with = + - or @"),
        (GOOD + '[discounts]\nA = 100\n', 'discounts."A": found 100'),
        ('prices_are = "gross"\n' + GOOD, "tern.toml: prices_are: found 'gross'; accepted: one of list, net"),
        ('dated = "March"\n' + GOOD, "dated: found 'March'; accepted: a day without quote marks"),
        ('sheets = ["Nowhere"]\n' + GOOD, "sheets: found 'Nowhere'; accepted: one of Prices"),
        ("= 1", "tern.toml: found "),
    ],
)  # fmt: skip
def test_a_map_that_cannot_be_used_is_one_sentence(
    job: Job, text_of_map: str, said: str, tmp_path: Path
) -> None:
    (tmp_path / "tern.toml").write_text(text_of_map, "utf-8")
    (tmp_path / "a.xlsx").write_bytes(xlsx(Prices=[("Code", "Price"), ("T1", 10)])())
    sheets = read_list(tmp_path / "a.xlsx")
    with pytest.raises((FileError, PriceError)) as refused:
        understood(job, 20, sheets, read_map(tmp_path / "tern.toml", [SUPPLIER, OTHER]))
    assert said in str(refused.value)


def test_a_bag_may_be_part_of_a_tonne(job: Job, tmp_path: Path) -> None:
    """850 kg at £40.00 a tonne is £34.00: a price by measure, of which any part is sold."""
    case = MerchantList(
        "", "a.csv", text("Code,Unit,Price", "T7,per tonne,40"),
        'code = "Code"\nprice = "Price"\npack = "Unit"',
        'T7 = { product = "STONE", listed_as = "per tonne", times = 0.85 }', {"STONE": 34},
    )  # fmt: skip
    expect(read(job, case, tmp_path), case)


def test_the_map_on_the_page_is_one(tmp_path: Path) -> None:
    page = (Path(__file__).parent.parent / "docs" / "prices.md").read_text("utf-8")
    [shown] = re.findall(r"```toml\n(.*?)```", page, re.S)
    (tmp_path / "a.toml").write_text(shown, "utf-8")
    how = read_map(tmp_path / "a.toml", [FERNBANK])
    assert how.columns["price"] == ["Trade £", "Net price"]
    assert how.products["900114"].times == 30
    assert how.products["900120"].new is not None
    assert how.dated == datetime.date(2026, 3, 1)


PROPOSED = (
    (text("Tern Yard", "Prices excluding VAT", "Item Code,Product Description,Unit,Net Price",
          "D112,DPC,roll,10.1", "T2,DPC 150mm x 30m,roll,12.5", "T3,DPC 225mm x 30m,roll,19.5"),
     {"code": "Item Code", "description": "Product Description", "price": "Net Price", "pack": "Unit"},
     'vat = "excluded"', ['"D112" = "D112"  # DPC, roll, 10.1', '#   "T2" = "D150"  # DPC 150mm x 30m, roll, 12.5']),
    (text("SKU;Name;Price (inc. VAT);Discount", "T8;Sand, bag of 25 kg;3,45;A"),
     {"code": "SKU", "description": "Name", "price": "Price (inc. VAT)", "discount": "Discount"},
     'vat = "included"', ['decimal = ","', '# "A" =   # to be filled in: per cent', '"T8" = "SAND"']),
    (text("Ref,Item,Price (pence),List price", "T9,Collar for 110 mm,1500,1600"),
     {"code": "Ref", "description": "Item", "price": "Price (pence)"},
     "# vat =   # to be filled in", ['prices_in = "pence"', '"T9" = "COLLAR"']),
    (text("Item no,What it is,Price each ex VAT,Price per,Sold as", "T8,Sand,3.45,bag,25 kg"),
     {"code": "Item no", "description": "What it is", "price": "Price each ex VAT", "pack": "Price per"},
     'vat = "excluded"', ['"T8" = "SAND"']),
    (text("Item,Description,Size,Price", "901,Damp proof DPC,150mm x 30m,12.5", "902,Collars,110mm,15"),
     {"code": "Item", "description": "Description", "price": "Price", "pack": "Size"},
     "# vat =   # to be filled in", ['#   "901" = "D150"  # Damp proof DPC, 150mm x 30m, 12.5',
                                     '#   "902" = "COLLAR"  # Collars, 110mm, 15']),
    (text("Item,Size,Price", "Sand,25 kg,3.45"),
     {"description": "Item", "price": "Price", "pack": "Size"},
     "# vat =   # to be filled in", ['"Sand" = "SAND"']),
)  # fmt: skip


@pytest.mark.parametrize(("data", "columns", "vat", "lines"), PROPOSED)
def test_a_map_is_proposed_by_the_headings(
    job: Job, data: Any, columns: dict[str, str], vat: str, lines: list[str], tmp_path: Path
) -> None:
    (tmp_path / "a.csv").write_bytes(data())
    sheets = read_list(tmp_path / "a.csv")
    found = proposed(job, SUPPLIER, sheets)
    for part in (vat, *lines):
        assert part in found.text
    how = tmp_path / "tern.toml"
    how.write_text(found.text.replace("# vat = ", 'vat = "excluded"'), "utf-8")
    assert read_map(how, [SUPPLIER]).columns == {c: [h] for c, h in columns.items()}
    assert found.matched + found.likely + found.unlike == 10


def test_hostile_texts_in_a_proposal_stay_remarks_and_texts(job: Job, tmp_path: Path) -> None:
    """Neither a line break nor a quote mark in a list ends the line it is put into."""
    nasty = 'T"1\\'
    cells = (nasty, 'DPC 150 mm\nvat = "included"\x0b30 m DPC 150 mm × 30 m', "roll", 1)
    book = Workbook()
    book.active.append(HEADS)
    book.active.append([str(c).replace("\x0b", " ") for c in cells])
    book.save(tmp_path / "a.xlsx")
    found = proposed(job, SUPPLIER, read_list(tmp_path / "a.xlsx"))
    (tmp_path / "m.toml").write_text(found.text.replace("# vat = ", 'vat = "excluded"'), "utf-8")
    assert read_map(tmp_path / "m.toml", [SUPPLIER]).products == {}
    assert '"T\\"1\\\\" = "D150"' in found.text


def test_whose_list_it_is(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text("TERN  yard price list\nCode,Price\n", "utf-8")
    sheets = read_list(tmp_path / "a.csv")
    assert supplier_in(sheets, "a", [OTHER, SUPPLIER]) == SUPPLIER
    assert supplier_in([], "gull wharf 2026", [OTHER, SUPPLIER]) == OTHER
    assert supplier_in([], "prices", [OTHER, SUPPLIER]) is None
    assert supplier_in([], "prices", [OTHER]) == OTHER


# ---- the command -------------------------------------------------------------------------------

FERNBANK = "Fernbank Supplies (invented)"
FERNBANK_LIST = (
    "Item Code,Description,Unit,Price inc VAT\n"
    "900,DPC 112.5mm x 30m,roll,12.30\n"  # 12.30 / 1.2 = 10.25
    "901,Stop ends,each,1.80\n"  # 1.80 x 10 / 1.2 = 15
    "902,DPC 300mm x 30m,roll,30.00\n"
)
FERNBANK_MAP = f"""
supplier = "{FERNBANK}"
vat = "included"
[columns]
code = "Item Code"
description = "Description"
pack = "Unit"
price = "Price inc VAT"
[products]
900 = "F-05"
901 = {{ product = "F-11", listed_as = "each", times = 10 }}
902 = {{ product = "F-90", material = "dpc_roll", description = "DPC 300 mm", width_mm = 300, length_m = 30 }}
"""


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(w) for w in words])


def desk(folder: Path) -> tuple[Path, Path]:
    (folder / "fernbank 2026.csv").write_text(FERNBANK_LIST, "utf-8")
    (folder / "fernbank.toml").write_text(FERNBANK_MAP, "utf-8")
    return folder / "fernbank 2026.csv", folder / "fernbank.toml"


def test_taken_into_the_price_file_of_a_job_file(tmp_path: Path) -> None:
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    job_file, prices = tmp_path / DEMO_JOB.name, tmp_path / "garden_room_prices.csv"
    listed, how = desk(tmp_path)
    was = {p: p.read_bytes() for p in tmp_path.iterdir()}
    shown = run("pricelist", job_file, listed, "--map", how)
    assert shown.exit_code == 0, shown.output
    assert {p: p.read_bytes() for p in tmp_path.iterdir()} == was
    for sentence in (
        "prices with VAT. Each is divided by 1.2 (the suppliers' VAT rate of this job, 20 %) and "
        "rounded to the penny, half up.",
        "line 2: 900, DPC 112.5mm x 30m, roll: £12.30 ÷ 1.2 = £10.25 for F-05",
        "F-05 (DPC 112.5 mm × 30 m): £9.85 before, £10.25 now, a pack, +4.1 %.",
        "F-11 (Stop ends, pack of 10): £14.65 before, £15.00 now, a pack, +2.4 %.",
        "F-90 is new in the book: DPC 300 mm, roll: 300 mm × 30 m, £25.00 a pack.",
        "F-03 (DPM sheet 300 µm, 4 m × 25 m): £94.95 stays.",
        "Nothing is taken: --take puts it into the price book.",
    ):
        assert sentence in shown.output
    taken = run("pricelist", job_file, listed, "--map", how, "--take", "--json")
    assert taken.exit_code == 0, taken.output
    data = json.loads(taken.stdout)
    assert [(c["key"], c["new"], c["per_cent"]) for c in data["changes"]] == [
        ("F-05", 10.25, 4.1), ("F-11", 15, 2.4)]  # fmt: skip
    [kept] = tmp_path.glob("garden_room_prices before *.csv")
    assert kept.read_bytes() == was[prices]
    assert job_file.read_bytes() == was[job_file]
    old, new = was[prices].decode().splitlines(), prices.read_text("utf-8").splitlines()
    assert [n for n, line in enumerate(old) if new[n] != line] == [5, 11]
    assert new[5] == old[5].replace(",9.85,", ",10.25,")
    assert new[len(old) :] == [f"F-90,{FERNBANK},dpc_roll,DPC 300 mm,300,30,,,,,25,"]
    book = {r["code"]: r["price"] for r in read_job(job_file).rows["book"]}
    assert (book["F-05"], book["F-11"], book["F-90"]) == (10.25, 15, 25)
    again = run("pricelist", job_file, listed, "--map", how, "--take")
    assert "No price changes, and nothing was written." in again.output
    assert len([*tmp_path.glob("garden_room_prices before *")]) == 1


def test_taken_into_a_workbook(tmp_path: Path) -> None:
    path = made("demo").written(tmp_path)
    was = path.read_bytes()
    listed, how = desk(tmp_path)
    done = run("pricelist", path, listed, "--map", how, "--take", "--json")
    assert done.exit_code == 0, done.output
    [kept] = tmp_path.glob("demo before *.xlsx")
    assert kept.read_bytes() == was
    returned = read_back(path)
    book = {r["code"]: r["price"] for r in returned.job.rows["book"]}
    assert (book["F-05"], book["F-11"], book["F-90"]) == (10.25, 15, 25)
    total = json.loads(done.stdout)["totals"]["quote_total"]["after"]
    assert returned.named("quote_total").value == total


def test_a_map_that_is_not_there_is_proposed_and_nothing_taken(tmp_path: Path) -> None:
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    job_file, how = tmp_path / DEMO_JOB.name, tmp_path / "new.toml"
    listed, _ = desk(tmp_path)
    was = (tmp_path / "garden_room_prices.csv").read_bytes()
    done = run("pricelist", job_file, listed, "--map", how, "--take")
    assert done.exit_code == 0, done.output
    assert "Nothing is taken yet" in done.output
    assert 'vat = "included"' in how.read_text("utf-8")
    assert '#   "900" = "F-05"' in how.read_text("utf-8")
    assert (tmp_path / "garden_room_prices.csv").read_bytes() == was
    read_again = run("pricelist", job_file, listed, "--map", how)
    assert read_again.exit_code == 0, read_again.output
    assert "In the list and not in new.toml:" in read_again.output


def test_a_row_that_cannot_be_used_is_left_out_and_the_exit_code_says_so(tmp_path: Path) -> None:
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    job_file = tmp_path / DEMO_JOB.name
    listed, how = desk(tmp_path)
    listed.write_text(FERNBANK_LIST.replace("12.30", "POA").replace("each", "box of 5"), "utf-8")
    done = run("pricelist", job_file, listed, "--map", how, "--take")
    assert done.exit_code == 1
    assert "line 2, column D: found 'POA'" in done.output
    assert "the list says 'box of 5' now" in done.output
    book = {r["code"]: r["price"] for r in read_job(job_file).rows["book"]}
    assert (book["F-05"], book["F-11"], book["F-90"]) == (9.85, 14.65, 25)


def test_whose_list_it_is_must_be_known(tmp_path: Path) -> None:
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    (tmp_path / "a.csv").write_text("Code,Price\nT1,10\n", "utf-8")
    words = (
        "pricelist",
        tmp_path / DEMO_JOB.name,
        tmp_path / "a.csv",
        "--map",
        tmp_path / "a.toml",
    )
    done = run(*words)
    assert done.exit_code == 2
    assert f"--supplier: found nothing; accepted: one of {FERNBANK}, " in done.output
    assert not (tmp_path / "a.toml").exists()
    assert run(*words, "--supplier", FERNBANK).exit_code == 0
    assert (tmp_path / "a.toml").exists()


def test_the_reader_is_its_own_process_and_loaded_by_this_command_alone() -> None:
    """What it would take down with it is not the program; and no other command needs it."""
    import subprocess
    import sys

    code = "import estimator.cli.main, estimator.cli.reading, sys; print('python_calamine' in sys.modules)"  # fmt: skip
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


@pytest.mark.host
def test_an_older_workbook(job: Job, tmp_path: Path) -> None:
    """An .xls that LibreOffice wrote; no library here writes one."""
    case = next(c for c in LISTS if c.name.startswith("headings in two tiers"))
    (tmp_path / "tern.xlsx").write_bytes(case.made())
    old = by_libreoffice([tmp_path / "tern.xlsx"], tmp_path, "xls")["tern"]
    expect(read(job, replace(case, file="old.xls", made=old.read_bytes), tmp_path), case)


def test_a_zip_that_is_no_spreadsheet(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "a.xlsx", "w") as package:
        package.writestr("readme.txt", "hello")
    with pytest.raises(FileError, match=r"a\.xlsx: found "):
        read_list(tmp_path / "a.xlsx")


def test_a_trade_discount_that_comes_off_too_is_said(tmp_path: Path) -> None:
    """It is typed for the supplier in the job: the list's price is then a list price."""
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    job_file = tmp_path / DEMO_JOB.name
    listed, how = desk(tmp_path)
    twice = "The trade discount on Prices is taken off these prices too."
    assert twice not in run("pricelist", job_file, listed, "--map", how).output
    text = job_file.read_text("utf-8")
    named = f'name = "{FERNBANK}"\n'
    assert text.count(named) == 1
    job_file.write_text(text.replace(named, named + "discount_percent = 5\n"), "utf-8")
    assert twice in run("pricelist", job_file, listed, "--map", how).output


@pytest.mark.parametrize(
    ("price", "more", "said"),
    [
        ("12.30", 0.8, "delivery is free now: the goods come to £{:,.2f} and reach £{:,.2f}. It cost £45.00."),
        ("11.34", -0.8, "delivery is no longer free: the goods come to £{:,.2f}, below £{:,.2f}. It costs £45.00."),
    ],
)  # fmt: skip
def test_a_delivery_that_new_prices_make_free_or_not_is_said(
    price: str, more: float, said: str, tmp_path: Path
) -> None:
    """Two rolls of F-05 are bought at £9.85. At 12.30 / 1.2 = 10.25 the goods cost 80p more, at
    11.34 / 1.2 = 9.45 80p less. Delivery, £45, is free from half of that on."""
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    job_file = tmp_path / DEMO_JOB.name
    listed, how = desk(tmp_path)
    how.write_text(FERNBANK_MAP.partition("901 =")[0], "utf-8")
    listed.write_text(FERNBANK_LIST.replace("12.30", price), "utf-8")
    goods = estimate(read_job(job_file)).column("suppliers", "goods")[0]
    free_over = goods + more / 2
    text = job_file.read_text("utf-8")
    job_file.write_text(text.replace("free_over = 1500", f"free_over = {free_over:.2f}"), "utf-8")
    done = run("pricelist", job_file, listed, "--map", how)
    assert done.exit_code == 0, done.output
    assert f"{FERNBANK}: {said.format(goods + more, free_over)}" in done.output


def test_net_prices_are_not_discounted_again(tmp_path: Path) -> None:
    """With 5 % of the supplier's, what the list says is what is paid; a list price again, 5 % come off."""
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    job_file = tmp_path / DEMO_JOB.name
    listed, how = desk(tmp_path)
    named = f'name = "{FERNBANK}"\n'
    text = job_file.read_text("utf-8").replace(named, named + "discount_percent = 5\n")
    job_file.write_text(text, "utf-8")
    as_list = how.read_text("utf-8")
    how.write_text('prices_are = "net"\n' + as_list, "utf-8")
    done = run("pricelist", job_file, listed, "--map", how, "--take")
    assert "prices are net now: no trade discount is taken off." in done.output
    assert "The trade discount on Prices is taken off these prices too." not in done.output
    taken = json.loads(run("pricelist", job_file, listed, "--map", how, "--json").stdout)
    assert taken["prices_are"] == "net"
    assert not [c for c in taken["changes"] if c["field"] == "price_is"]
    read = {r["product"]: r["price"] for r in taken["rows"] if r["taken"]}
    ledger = estimate(read_job(job_file))
    codes = ledger.column("book", "code")
    paid = dict(zip(codes, ledger.column("book", "net_price"), strict=True))
    assert read
    assert {code: paid[code] for code in read} == read
    how.write_text(as_list, "utf-8")
    done = run("pricelist", job_file, listed, "--map", how, "--take")
    assert "the trade discount is taken off." in done.output
    ledger = estimate(read_job(job_file))
    paid = dict(zip(codes, ledger.column("book", "net_price"), strict=True))
    assert all(
        paid[code] == pytest.approx(0.95 * price, abs=0.00501) for code, price in read.items()
    )


# ---- first prices ------------------------------------------------------------------------------

FIRST_LIST = (
    "Code,Description,Unit,Price\n"
    "900,DPC 112.5mm x 30m,roll,0.33\n"  # taken from a list per metre
    "901,DPC 150mm x 30m,roll,12.60\n"
    "904,Coupler bag of 2,bag,52.00\n"  # the point slipped: 5.20
    "905,Wall sleeve 110,each,6.90\n"
)
FIRST_MAP = f"""
supplier = "{FERNBANK}"
vat = "excluded"
[columns]
code = "Code"
description = "Description"
pack = "Unit"
price = "Price"
[products]
900 = "F-05"
901 = "F-07"
904 = "F-23"
905 = "F-24"
"""

SLEEVES = ("H-22", "Q-19")  # of other suppliers


def without_prices(folder: Path, *codes: str) -> Path:
    """The demo's job file, where those products have no price yet, and a list with prices of them."""
    shutil.copytree(DEMO_JOB.parent, folder, dirs_exist_ok=True)
    prices = folder / "garden_room_prices.csv"
    rows = list(csv.reader(prices.read_text("utf-8").splitlines()))
    at = rows[0].index("price")
    for cells in rows:
        if cells[0] in codes:
            cells[at] = ""
    with prices.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    (folder / "first.csv").write_text(FIRST_LIST, "utf-8")
    (folder / "first.toml").write_text(FIRST_MAP, "utf-8")
    return folder / DEMO_JOB.name


def test_a_first_price_is_held_against_other_suppliers(tmp_path: Path) -> None:
    """By hand, per m²: £0.33 / (0.1125 × 30) = £0.0978 against 9.60 / (0.165 × 20) = £2.91, the
    nearest of others; £12.60 / (0.15 × 30) = £2.80. A coupler £52.00 / 2 against £5.56 / 2. Of the
    other two sleeves the prices are taken out, too.
    """
    job_file = without_prices(tmp_path, "F-05", "F-07", "F-23", "F-24", *SLEEVES)
    words = ("pricelist", job_file, tmp_path / "first.csv", "--map", tmp_path / "first.toml")
    shown = run(*words)
    assert shown.exit_code == 0, shown.output
    whole = "is it for the whole pack, and is the decimal point right?"
    slipped = f"first price, £0.0978 per m², H-06 of Harrow Lane Depot (invented) £2.91: {whole}"
    coupler = f"first price, £26.00 each, Q-18 of Quayside Stores (invented) £2.78: {whole}"
    for sentence in (
        f"line 2: 900, DPC 112.5mm x 30m, roll: £0.33 = £0.33 for F-05; {slipped}\n",
        "for F-07; first price, £2.80 per m², H-06 of Harrow Lane Depot (invented) £2.91\n",
        f"for F-23; {coupler}\n",
        "for F-24; first price, compare it with the list\n",
    ):
        assert sentence in shown.output
    look_at = shown.output.partition("To look at:\n")[2].partition("\n\n")[0]
    assert look_at == f"  F-05: {slipped}\n  F-23: {coupler}"
    assert "Nothing is taken: look at what is said under To look at. Then --take" in shown.output
    taken = run(*words, "--take", "--json")
    assert taken.exit_code == 0, taken.output
    data = json.loads(taken.stdout)["first_prices"]
    assert [(f["own"]["code"], f["is_far"]) for f in data] == [
        ("F-05", True), ("F-07", False), ("F-23", True), ("F-24", False)]  # fmt: skip
    assert {r["code"]: r["price"] for r in read_job(job_file).rows["book"]}["F-05"] == 0.33
    assert "first price" not in run(*words).output


def test_one_suppliers_own_prices_do_not_vouch_for_each_other(tmp_path: Path) -> None:
    """All taken per metre: each agrees with the others, and is to be compared with the list."""
    of_others = tuple(f"{letter}-{n:02d}" for letter in "HQ" for n in range(1, 30))
    job_file = without_prices(tmp_path, "F-05", "F-06", "F-07", "F-08", *of_others)
    (tmp_path / "first.csv").write_text(FIRST_LIST.replace("12.60", "0.42"), "utf-8")
    output = run(
        "pricelist", job_file, tmp_path / "first.csv", "--map", tmp_path / "first.toml"
    ).output
    assert (
        "for F-05; first price, compare it with the list (£0.0978 per m², F-07 of "
        f"{FERNBANK} £0.0933)\n" in output
    )


def test_a_first_price_that_comes_back_from_a_request(tmp_path: Path) -> None:
    """The same rule where a supplier filled in a request."""
    job_file = without_prices(tmp_path, "F-05")
    before = read_job(job_file)
    [at] = [n for n, r in enumerate(before.rows["book"]) if r["code"] == "F-05"]
    for price, said in ((0.33, True), (9.85, False)):
        found = Merge("", FERNBANK, changes=[Change("book", "F-05", "price", None, price)])
        first = first_prices(found, estimate(merged(before, found)))
        assert list(first) == ["F-05"]
        assert bool(far_off(first)) is said
    assert before.rows["book"][at]["price"] is None


# ---- lines that the map leaves out -------------------------------------------------------------


def test_a_line_that_the_map_leaves_out_is_suggested(tmp_path: Path) -> None:
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    listed, how = desk(tmp_path)
    rows = '903,"DPC 150mm x 30m",roll,15.00\n904,Bricks,each,0.90\n'
    listed.write_text(FERNBANK_LIST + rows, "utf-8")
    words = ("pricelist", tmp_path / DEMO_JOB.name, listed, "--map", how)
    said = run(*words).output
    assert (
        "  F-07 (DPC 150 mm × 30 m): £12.35 stays. Perhaps, under [products]:\n"
        '    "903" = "F-07"  # DPC 150mm x 30m, roll, 15.00\n' in said
    )
    assert "F-06 (DPC 100 mm × 30 m): £8.45 stays.\n" in said  # the line fits another
    assert "F-09 (Cavity tray roll 450 mm × 20 m): £61.15 stays.\n" in said
    assert '"901"' not in said  # is in the map already
    assert json.loads(run(*words, "--json").stdout)["suggested"]["F-07"] == [
        '"903" = "F-07"  # DPC 150mm x 30m, roll, 15.00'
    ]
    how.write_text(
        how.read_text("utf-8") + '"903" = "F-07"  # DPC 150mm x 30m, roll, 15\n', "utf-8"
    )
    assert "£12.50 now, a pack, +1.2 %" in run(*words).output  # 15 / 1.2, 12.35 before


def test_no_row_of_another_width_is_proposed(job: Job, tmp_path: Path) -> None:
    """D150 is DPC 150 mm × 30 m: 100 mm is another thing, however alike the words are."""
    listed = text("Code,Description,Price", "A1,DPC 100mm x 30m,9.00", "A2,DPC 30m roll,9.50")
    (tmp_path / "a.csv").write_bytes(listed())
    found = proposed(job, SUPPLIER, read_list(tmp_path / "a.csv")).text
    assert '"A1" = "D150"' not in found
    assert '"A2" = "D150"' in found, "one that states no width may be"


def test_damp_proof_membrane_and_course_are_known_by_their_letters(
    job: Job, tmp_path: Path
) -> None:
    sheet = {**next(r for r in job.rows["book"] if r["code"] == "D150"), "code": "DPM",
             "material": "dpm_sheet", "description": "DPM sheet 300 µm, 4 m × 25 m", "width": 4000,
             "length": 25}  # fmt: skip
    job = replace(job, rows={**job.rows, "book": [*job.rows["book"], sheet]})
    listed = text("Code,Description,Price", "A1,Damp proof membrane 300mu 4m x 25m,70.00",
                  "A2,Damp-proof course 150mm x 30m,9.00")  # fmt: skip
    (tmp_path / "a.csv").write_bytes(listed())
    found = proposed(job, SUPPLIER, read_list(tmp_path / "a.csv")).text
    assert '"A1" = "DPM"' in found
    assert '"A2" = "D150"' in found
    assert '"A1" = "D150"' not in found


def test_sheet_of_its_own_thickness_is_proposed_before_any_other(job: Job, tmp_path: Path) -> None:
    rows = [{**r, "thickness": 300} if r["code"] == "SHEET" else r for r in job.rows["book"]]
    job = replace(job, rows={**job.rows, "book": rows})
    listed = text("Code,Description,Price", "A1,DPM polythene 250 micron 4m x 25m,50.00",
                  "A2,Damp proof membrane 1200 gauge,71.00", "A3,DPM 1000g 4m x 25m,61.00")  # fmt: skip
    (tmp_path / "a.csv").write_bytes(listed())
    found = proposed(job, SUPPLIER, read_list(tmp_path / "a.csv")).text
    assert [c for c in ("A1", "A2", "A3") if f'"{c}" = "SHEET"' in found] == ["A2"]
