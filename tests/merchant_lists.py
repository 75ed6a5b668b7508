"""Price lists in the manners of twenty invented merchants, with the prices that a person reads there.

Each case says how the list is made, the map by which it is read, and by hand what comes of it:
pounds without VAT for one pack of the book.
"""

import datetime
import io
import re
import zipfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any
from xml.sax.saxutils import escape

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

SUPPLIER = "Tern Yard (invented)"


@dataclass(frozen=True)
class MerchantList:
    """One list: its file, the map without its first lines, and what is to come of it."""

    name: str
    file: str
    made: Callable[[], bytes]
    columns: str
    products: str
    prices: dict[str, float]
    vat: str = "excluded"
    more: str = ""  # other entries of the map
    refused: Sequence[str] = ()  # parts of the sentences about rows, in order
    unconfirmed: Sequence[str] = ()
    left: Sequence[str] = ()
    gone: Sequence[str] = ()
    in_list: int = 0  # rows with a price that are not in the map
    new_rows: Sequence[str] = field(default=())

    @property
    def map_text(self) -> str:
        """The whole map."""
        return (
            f'supplier = "{SUPPLIER}"\nvat = "{self.vat}"\n{self.more}\n'
            f"[columns]\n{self.columns}\n[products]\n{self.products}\n"
        )


def text(*lines: str, encoding: str = "utf-8", end: str = "\n") -> Callable[[], bytes]:
    return lambda: (end.join(lines) + end).encode(encoding)


def xlsx(**sheets: Sequence[Sequence[Any]] | Callable[[Worksheet], None]) -> Callable[[], bytes]:
    """A workbook of those sheets: rows, or what fills one."""

    def made() -> bytes:
        book = Workbook()
        book.remove(book.active)
        for name, rows in sheets.items():
            sheet = book.create_sheet(name.replace("_", " "))
            if callable(rows):
                rows(sheet)
                continue
            for row in rows:
                sheet.append(list(row))
            for cell in (c for r in sheet.iter_rows() for c in r):
                if isinstance(cell.value, str):
                    cell.data_type = "s"  # a text that begins with = stays one
        stream = io.BytesIO()
        book.save(stream)
        return stream.getvalue()

    return made


def repacked(data: bytes, part: str, change: Callable[[str], str]) -> bytes:
    """The package with one part changed."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for info in old.infolist():
            found = old.read(info)
            if info.filename == part:
                found = change(found.decode()).encode()
            new.writestr(info.filename, found, zipfile.ZIP_DEFLATED)
    return out.getvalue()


_ODF = "urn:oasis:names:tc:opendocument:xmlns:"
_KIND = "application/vnd.oasis.opendocument.spreadsheet"


def ods(rows: str) -> bytes:
    """An OpenDocument spreadsheet of one sheet, "Prices" (ODF 1.2, parts 1 and 3)."""
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{_ODF}office:1.0" '
        f'xmlns:table="{_ODF}table:1.0" xmlns:text="{_ODF}text:1.0" office:version="1.2"><office:body>'
        f'<office:spreadsheet><table:table table:name="Prices">{rows}</table:table></office:spreadsheet>'
        "</office:body></office:document-content>"
    )
    manifest = (
        f'<?xml version="1.0"?><manifest:manifest xmlns:manifest="{_ODF}manifest:1.0">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{_KIND}"/>'
        "</manifest:manifest>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as package:
        package.writestr("mimetype", _KIND)
        package.writestr("META-INF/manifest.xml", manifest)
        package.writestr("content.xml", content, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def ods_row(*cells: str | float) -> str:
    def cell(value: str | float) -> str:
        if isinstance(value, str):
            return (
                f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p>'
                "</table:table-cell>"
            )
        return (
            f'<table:table-cell office:value-type="currency" office:value="{value}">'
            f"<text:p>£{value:.2f}</text:p></table:table-cell>"
        )

    return f"<table:table-row>{''.join(map(cell, cells))}</table:table-row>"


CODE_TO_PRICE = 'code = "Code"\ndescription = "Description"\nprice = "Price"\npack = "Unit"'
HEADS = ("Code", "Description", "Unit", "Price")


def _two_tiers(sheet: Worksheet) -> None:
    """Price is merged over Each and Roll, Code and Description are merged down."""
    sheet["A1"] = "Tern Yard, invented"
    sheet["A3"], sheet["B3"], sheet["C3"] = "Code", "Description", "Price (£)"
    sheet["C4"], sheet["D4"] = "Per m", "Roll"
    for area in ("A1:D1", "A3:A4", "B3:B4", "C3:D3"):
        sheet.merge_cells(area)
    for row in (("T1", "DPC 112.5mm x 30m", 0.36, 10.2), ("T2", "DPC 150mm x 30m", 0.45, 12.9)):
        sheet.append(row)


def _by_formula(sheet: Worksheet) -> None:
    for row in (
        HEADS,
        ("T1", "DPC 112.5 mm", "roll 30m", "=8.5*1.25"),
        ("T2", "DPC 150 mm", "roll 30m", "=VLOOKUP(1,2,3)"),
    ):
        sheet.append(row)


def with_results() -> bytes:
    """Of two formulas the first has a stored result, 10.625; the second has none."""
    data = xlsx(Prices=_by_formula)()
    return repacked(
        data, "xl/worksheets/sheet1.xml",
        lambda xml: re.sub(r"(<f>8\.5\*1\.25</f>)<v(?: ?/>|></v>)", r"\1<v>10.625</v>", xml),
    )  # fmt: skip


def _hidden_prices() -> bytes:
    book = Workbook()
    now, old = book.active, book.create_sheet("Last year")
    now.title = "This year"
    for sheet, price in ((now, 10.4), (old, 8.8)):
        sheet.append(HEADS)
        sheet.append(("T1", "DPC 112.5 x 30m", "roll", price))
    old.sheet_state = "hidden"
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _merged_wide(sheet: Worksheet) -> None:
    """The heading Price is merged over two columns, the first of which stays blank."""
    sheet.append(("Code", "Description", "Price"))
    sheet.merge_cells("C1:D1")
    sheet.append(("T1", "DPC 112.5mm x 30m", None, 10.15))


LISTS = (
    MerchantList(
        "plain commas", "tern.csv",
        text("Code,Description,Unit,Price", 'T1,"DPC 112.5mm x 30m, black",roll 30m,10.35',
             "T2,Stop ends,box of 10,15.10", "T3,Gravel,bag,4.00"),
        CODE_TO_PRICE, 'T1 = "D112"\nT2 = "STOP"', {"D112": 10.35, "STOP": 15.1}, in_list=1,
    ),
    MerchantList(
        "semicolons, decimal commas, a byte order mark", "tern.csv",
        text("Artikel;Bezeichnung;Einheit;Preis", "T1;DPC 112,5;Rolle;10,35", "T3;Sheet;Rolle;1.094,95",
             encoding="utf-8-sig", end="\r\n"),
        'code = "Artikel"\ndescription = "Bezeichnung"\nprice = "Preis"\npack = "Einheit"',
        'T1 = "D112"\nT3 = "SHEET"', {"D112": 10.35, "SHEET": 1094.95}, more='decimal = ","',
    ),
    MerchantList(
        "tabs, Windows-1252, pound signs, thousands", "tern.txt",
        text("Stock code\tProduct\tUOM\tTrade price", "T3\tDPM 300µm 4m × 25m\tRoll\t£1,102.50",
             "T1\tDPC 112.5mm × 30m\tRoll\t£ 10.20", encoding="cp1252"),
        'code = "Stock code"\ndescription = "Product"\nprice = "Trade price"\npack = "UOM"',
        'T3 = "SHEET"\nT1 = "D112"', {"SHEET": 1102.5, "D112": 10.2},
    ),
    MerchantList(
        "pence", "tern.csv",
        text("Ref,Item,Pence", "T6,Weeps (pack of 50),2475", "T9,Collar 110mm,1490.5"),
        'code = "Ref"\ndescription = "Item"\nprice = "Pence"', 'T6 = "WEEP"\nT9 = "COLLAR"',
        # 1490.5 p is £14.905, half up £14.91
        {"WEEP": 24.75, "COLLAR": 14.91}, more='prices_in = "pence"',
    ),
    MerchantList(
        "a preamble, VAT in", "tern.csv",
        text("TERN YARD TRADE COUNTER (invented),,,", "All prices include VAT at 20%,,,", "",
             "Page 1,,,", ",,,", "Part No.,Details,Sold per,Inc VAT", "DAMP PROOFING,,,",
             "T1,DPC 112.5mm x 30m,each,12.60", "T5,Stop ends pack of 10,each,17.57",
             "Page 2,,,", "Part No.,Details,Sold per,Inc VAT", "T7,Stone,bulk bag 850kg,55.00"),
        'code = "Part No."\ndescription = "Details"\npack = "Sold per"\nprice = "Inc VAT"',
        'T1 = "D112"\nT5 = "STOP"\nT7 = "STONE"',
        # 12.60 / 1.2 = 10.50; 17.57 / 1.2 = 14.6416...; 55 / 1.2 = 45.8333...
        {"D112": 10.5, "STOP": 14.64, "STONE": 45.83}, vat="included",
    ),
    MerchantList(
        "three sheets, each with its own headings", "tern.xlsx",
        xlsx(
            Rolls=[("Code", "Description", "Unit", "Price"), ("T1", "DPC 112.5 x 30m", "Roll", 10.1)],
            Bags=[("",), ("", "Item code", "Net", "Item"), ("", "T8", 3.05, "Sand 25kg bag")],
            Terms=[("Our terms of trade",), ("Payment in 30 days",)],
        ),
        'code = ["Code", "Item code"]\ndescription = ["Description", "Item"]\nprice = ["Price", "Net"]',
        'T1 = "D112"\nT8 = "SAND"', {"D112": 10.1, "SAND": 3.05},
    ),
    MerchantList(
        "headings in two tiers, merged", "tern.xlsx", xlsx(Prices=_two_tiers),
        'code = "Code"\ndescription = "Description"\nprice = "Price (£) / Roll"',
        'T1 = "D112"\nT2 = "D150"', {"D112": 10.2, "D150": 12.9},
    ),
    MerchantList(
        "prices as text, with blanks that do not break", "tern.xlsx",
        xlsx(Prices=[HEADS, ("T3", "DPM 4m x 25m", "Roll", "£\xa01,099.00"),
                     ("T1", "DPC 112.5", "Roll", " 10.45 "), ("T6", "Weeps", "Box of 50", "95p")]),
        CODE_TO_PRICE, 'T3 = "SHEET"\nT1 = "D112"\nT6 = "WEEP"',
        {"SHEET": 1099, "D112": 10.45, "WEEP": 0.95},
    ),
    MerchantList(
        "a discount off each row, in three ways", "tern.xlsx",
        xlsx(Prices=[("Code", "Description", "List price", "Disc."), ("T1", "DPC 112.5 x 30m", 16.25, 0.35),
                     ("T2", "DPC 150 x 30m", 20, "37.5%"), ("T4", "Tray 450mm x 20m", 60, 15),
                     ("T5", "Stop ends pk10", 15, None)]),
        'code = "Code"\ndescription = "Description"\nprice = "List price"\ndiscount = "Disc."',
        'T1 = "D112"\nT2 = "D150"\nT4 = "TRAY"\nT5 = "STOP"',
        # 16.25 x 0.65 = 10.5625; 20 x 0.625; 60 x 0.85
        {"D112": 10.56, "D150": 12.5, "TRAY": 51, "STOP": 15},
    ),
    MerchantList(
        "groups of discount, and VAT in", "tern.csv",
        text("Code,Description,List price inc VAT,Disc group", "T1,DPC 112.5mm x 30m,20.10,dp",
             "T8,Sand 25kg,3.60,AG", "T9,Collar 110,18.00,XX"),
        'code = "Code"\ndescription = "Description"\nprice = "List price inc VAT"\ndiscount = "Disc group"',
        'T1 = "D112"\nT8 = "SAND"\nT9 = "COLLAR"',
        # 20.10 x 0.6 / 1.2 = 10.05; 3.60 / 1.2 = 3
        {"D112": 10.05, "SAND": 3}, vat="included", more="[discounts]\nDP = 40\nAG = 0",
        refused=["tern.csv, line 4, column D: found 'XX'"],
    ),
    MerchantList(
        "by the metre", "tern.csv",
        text("Code,Description,Unit,Price", "T1,DPC 112.5mm,per m,0.345", "T2,DPC 150mm,per m,0.42",
             "T10,Tape 50mm,Lm,1.01"),
        CODE_TO_PRICE,
        'T1 = { product = "D112", listed_as = "Per m", times = 30 }\nT2 = "D150"\n'
        'T10 = { product = "TAPE", listed_as = "15m roll" }',
        {"D112": 10.35},  # 0.345 x 30
        unconfirmed=["line 3: D150 (DPC 150 mm × 30 m): the list says 'per m' (1 m)",
                     "the map takes it as '15m roll', and the list says 'Lm' now"],
    ),
    MerchantList(
        "no codes: known by the description", "tern.csv",
        text("Product;Price ex VAT", "Damp course  112.5MM × 30M;9.99", "Collar, 110 mm;15.2"),
        'description = "Product"\nprice = "Price ex VAT"',
        '"damp course 112.5mm × 30m" = "D112"\n"COLLAR, 110 MM" = "COLLAR"',
        {"D112": 9.99, "COLLAR": 15.2},
    ),
    MerchantList(
        "formulas: their stored results", "tern.xlsx", with_results, CODE_TO_PRICE,
        'T1 = "D112"\nT2 = "D150"', {"D112": 10.63},  # 10.625, half up
        left=["D150 (DPC 150 mm × 30 m): no price in tern.xlsx: Prices!D3; £12.35 stays."],
    ),
    MerchantList(
        "an OpenDocument spreadsheet", "tern.ods",
        lambda: ods(
            '<table:table-row table:number-rows-repeated="3"><table:table-cell/></table:table-row>'
            + ods_row(*HEADS) + ods_row("T1", "DPC 112.5 x 30m", "Roll", 10.6)
            + ods_row("T2", "DPC 150 x 30m", "Roll", "£12.80")
        ),
        CODE_TO_PRICE, 'T1 = "D112"\nT2 = "D150"', {"D112": 10.6, "D150": 12.8},
    ),
    MerchantList(
        "last year's prices on a hidden sheet", "tern.xlsx", _hidden_prices, CODE_TO_PRICE,
        'T1 = "D112"', {"D112": 10.4},
    ),
    MerchantList(
        "what a price is for, beside it", "tern.csv",
        text("Code,Description,Price", "T1,DPC 112.5mm,10.30 per 30m roll", "T5,Stop ends,£1.52 each",
             "T6,Weeps,24.10/50", "T7,Stone,41.00 per tonne", "T8,Sand,3.1 per 25kg bag"),
        'code = "Code"\ndescription = "Description"\nprice = "Price"',
        'T1 = "D112"\nT5 = { product = "STOP", listed_as = "each", times = 10 }\nT6 = "WEEP"\n'
        'T7 = { product = "STONE", listed_as = "per tonne", times = 0.85 }\nT8 = "SAND"',
        # 1.52 x 10; 41 x 0.85
        {"D112": 10.3, "STOP": 15.2, "WEEP": 24.1, "STONE": 34.85, "SAND": 3.1},
    ),
    MerchantList(
        "codes as figures, no headings", "tern.xlsx",
        xlsx(Prices=[(100234, "DPC 112.5 x 30m", 10.7), ("0012", "DPC 150 x 30m", 12.6)]),
        'code = "column A"\ndescription = "column B"\nprice = "column C"',
        '"100234" = "D112"\n"0012" = "D150"', {"D112": 10.7, "D150": 12.6},
    ),
    MerchantList(
        "one that is new, and one that is gone", "tern.csv",
        text("Code,Description,Unit,Price", "T20,DPC 225mm x 30m,roll,19.20", "T1,DPC,roll 30m,9.85"),
        CODE_TO_PRICE,
        'T1 = "D112"\nT2 = "D150"\n[products.T20]\nproduct = "D225"\nmaterial = "dpc_roll"\n'
        'description = "DPC 225 mm"\nwidth_mm = 225\nlength_m = 30\nmade_of = "polyethylene"',
        {"D112": 9.85, "D225": 19.2}, new_rows=["D225"],
        gone=["D150 (DPC 150 mm × 30 m): T2 is not in it; £12.35 stays."],
    ),
    MerchantList(
        "texts over several lines, blank lines between", "tern.csv",
        text("Code,Description,Unit,Price", "", 'T1,"DPC 112.5mm', '30m long",Roll,10.90', "",
             'T4,"Tray ""heavy"" 450mm x 20m",Roll,62.00', end="\r\n"),
        CODE_TO_PRICE, 'T1 = "D112"\nT4 = "TRAY"', {"D112": 10.9, "TRAY": 62},
    ),
    MerchantList(
        "a heading merged over a blank column", "tern.xlsx", xlsx(Prices=_merged_wide),
        'code = "Code"\ndescription = "Description"\nprice = "Price"', 'T1 = "D112"',
        {"D112": 10.15},
    ),
)  # fmt: skip

HOSTILE = (
    MerchantList(
        "codes that are there twice", "tern.xlsx",
        xlsx(Rolls=[HEADS, ("T1", "DPC 112.5", "Roll", 10.1), ("T2", "DPC 150", "Roll", 12.5)],
             Offers=[HEADS, ("", "", "", ""), ("t1", "DPC 112.5", "Roll", 8.1)]),
        CODE_TO_PRICE, 'T1 = "D112"\nT2 = "D150"', {"D150": 12.5},
        refused=["tern.xlsx: Rolls!row 2: found 'T1'; accepted: each once; it is in Offers!row 3 too."],
    ),
    MerchantList(
        "nonsense for prices", "tern.xlsx",
        xlsx(Prices=[HEADS, ("T1", "DPC", "", -10.1), ("T2", "DPC", "", "POA"),
                     ("T3", "Sheet", "", datetime.date(2026, 3, 12)), ("T4", "Tray", "", True),
                     ("T5", "Ends", "", 0), ("T6", "Weeps", "", 1e9), ("T7", "Stone", "", "(44.00)"),
                     ("T8", "Sand", "", "2,85"), ("T9", "Collar", "", "£14.90"),
                     ("T10", "Tape", "", "1.4.2")]),
        CODE_TO_PRICE,
        'T1 = "D112"\nT2 = "D150"\nT3 = "SHEET"\nT4 = "TRAY"\nT5 = "STOP"\nT6 = "WEEP"\n'
        'T7 = "STONE"\nT8 = "SAND"\nT9 = "COLLAR"\nT10 = "TAPE"',
        {"COLLAR": 14.9},
        refused=["Prices!D2: found -10.1", "Prices!D3: found 'POA'", "Prices!D4: found 2026-03-12",
                 "Prices!D5: found True", "Prices!D6: found 0", "Prices!D7: found 1000000000",
                 "Prices!D8: found '(44.00)'",
                 "Prices!D9: found '2,85'; accepted: a price such as 12.50, £1,250.00 or 95p; or "
                 'decimal = "," in the map.',
                 "Prices!D11: found '1.4.2'"],
    ),
    MerchantList(
        "texts that would be formulas", "tern.xlsx",
        xlsx(Prices=[HEADS, ("=T1", "=HYPERLINK(\"http://example.org\")", "=A1", 10.1),
                     ("@T2", "+DPC", "", "=12.5")]),
        CODE_TO_PRICE, '"=T1" = "D112"\n"@T2" = "D150"', {"D112": 10.1},
        refused=["Prices!D3: found '=12.5'"],
    ),
    MerchantList(
        "other packs than the book's", "tern.csv",
        text("Code,Description,Unit,Price", "T1,DPC 112.5mm x 30m,roll 25m,8.60",
             "T3,DPM 3m x 25m,roll,80.00", "T5,Stop ends,each,1.60", "T7,Stone,per tonne,42.00",
             "T2,DPC 150mm x 20m,RL,9.90", "T9,Collars 110mm,box of 5,60.00", "T8,Sand,m3,60.00",
             "T4,Tray 450mm x 20m,m2,7.00"),
        CODE_TO_PRICE,
        'T1 = "D112"\nT3 = "SHEET"\nT5 = "STOP"\nT7 = "STONE"\nT2 = "D150"\nT9 = "COLLAR"\n'
        'T8 = "SAND"\nT4 = "TRAY"',
        {},
        unconfirmed=["'roll 25m' (25 m)", "'DPM 3m x 25m' (3000 mm)", "'each' (1 piece)",
                     "'per tonne' (1000 kg)", "'DPC 150mm x 20m' (20 m)", "'box of 5' (5 pieces)",
                     "'m3' (by volume)", "'m2' (1 m²)"],
    ),
    MerchantList(
        "discounts that can be read in two ways, or in none", "tern.xlsx",
        xlsx(Prices=[("Code", "Price", "Disc"), ("T1", 10, 1), ("T2", 10, -5), ("T4", 10, "100%"),
                     ("T5", 10, "lots"), ("T6", 10, 120), ("T9", 10, "0")]),
        'code = "Code"\nprice = "Price"\ndiscount = "Disc"',
        'T1 = "D112"\nT2 = "D150"\nT4 = "TRAY"\nT5 = "STOP"\nT6 = "WEEP"\nT9 = "COLLAR"',
        {"COLLAR": 10},
        refused=["Prices!C2: found 1", "Prices!C3: found -5", "Prices!C4: found '100%'",
                 "Prices!C5: found 'lots'", "Prices!C6: found 120"],
    ),
)  # fmt: skip
