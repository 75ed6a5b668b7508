"""Nothing leaves the desk but what was chosen: every byte of every part of every file is read."""

import html
import re
import shutil
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from openpyxl import Workbook, load_workbook
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image
from openpyxl.packaging.custom import StringProperty
from openpyxl.workbook.defined_name import DefinedName
from PIL import Image as Picture
from PIL.PngImagePlugin import PngInfo

from estimator.documents.issue import Issue, Issued, Templates
from estimator.documents.writing import issue_documents
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pricing.terms import FIRM, REFERENCES
from estimator.revisions.changes import LEVELS, LINES, QUANTITIES, STAGES

from .hosts import by_libreoffice, figures, need
from .leaks import Marked, marked_job, marks_in, parts_as_text, readings, text_of

# Marks that are in the surroundings, not in the job.
AROUND = ("Zquser0x", "Zqfolderx", "Zqtmpx", "Zqhostx", "Zqhomex")
IN_TEMPLATES = (
    "Zqauthorx",
    "Zqnamex",
    "Zqpropertyx",
    "Zqcommentx",
    "Zqkeywordx",
    "Zqpathx",
    "Zqlogox",
)

CLAUSES = {5.1, 6.1}  # chapters in the title of the guidance that the demo job follows


@dataclass
class Out:
    """One issue of the marked job."""

    marked: Marked
    ledger: Ledger
    issued: Issued

    @property
    def every_mark(self) -> set[str]:
        return {*self.marked.texts, *self.marked.numbers, *AROUND, *IN_TEMPLATES}


def _marked_template(path: Path, folder: Path) -> Path:
    """A template restyled in an office: its author, names, notes and properties must not travel."""
    book = load_workbook(path)
    for name in ("creator", "lastModifiedBy", "description", "category"):
        setattr(book.properties, name, "Zqauthorx")
    book.properties.keywords = "Zqkeywordx"
    book.custom_doc_props.append(StringProperty(name="Zqpropertyx", value="Zqpropertyx"))
    book.defined_names["Zqnamex"] = DefinedName(
        "Zqnamex", attr_text="'file:///Zqpathx/[a.xlsx]S'!$A$1"
    )
    sheet = book.worksheets[0]
    sheet.defined_names["Zqnamex"] = DefinedName("Zqnamex", attr_text='"Zqnamex"')
    sheet["A1"].comment = Comment("Zqcommentx", "Zqauthorx")
    sheet["A1"].hyperlink = "file:///Zqpathx/secret.xlsx"
    for ending, cell in ((".png", "F1"), (".jpg", "G1")):
        logo = _logo(folder / f"logo{ending}")
        assert marks_in(logo, ["Zqlogox"]), "planted"
        sheet.add_image(Image(str(logo)), cell)
    out = folder / path.name
    book.save(out)
    return out


def _logo(path: Path) -> Path:
    """A picture in which a program has written who drew it."""
    notes = Picture.Exif()
    notes[0x013B] = "Zqlogox"  # Artist, Exif 2.3, table 4
    written = PngInfo()
    written.add_text("Author", "Zqlogox")
    kind = {"pnginfo": written} if path.suffix == ".png" else {"comment": b"Zqlogox"}
    Picture.new("RGB", (9, 9), (200, 30, 30)).save(path, exif=notes, **kind)
    return path


@pytest.fixture(scope="module", params=LEVELS)
def out(request: Any, tmp_path_factory: pytest.TempPathFactory) -> Out:
    folder = tmp_path_factory.mktemp("Zqfolderx")
    (folder / "Zqtmpx").mkdir()
    (folder / "Zqhomex").mkdir()
    shipped = Templates()
    templates = Templates(
        *(_marked_template(p, folder) for p in (shipped.client, shipped.order, shipped.site))
    )
    with pytest.MonkeyPatch.context() as patch:
        for name in ("USER", "LOGNAME", "USERNAME", "NAME", "EMAIL"):
            patch.setenv(name, "Zquser0x")
        for name in ("HOSTNAME", "COMPUTERNAME"):
            patch.setenv(name, "Zqhostx")
        patch.setenv("HOME", str(folder / "Zqhomex"))
        patch.setenv("TMPDIR", str(folder / "Zqtmpx"))
        patch.setattr("tempfile.tempdir", None)
        marked = marked_job()
        ledger = estimate(marked.job)
        issue = Issue("A", "25 November 2026", request.param)
        issued = issue_documents(ledger, issue, folder, lambda _: None, templates)
    return Out(marked, ledger, issued)


def level_of(out: Out) -> str:
    columns = load_workbook(out.issued.quote).worksheets[0]
    heads = {str(c.value) for row in columns.iter_rows() for c in row}
    return QUANTITIES if "Quantity" in heads else LINES if "Item" in heads else STAGES


def marks_of(marked: Marked, table: str, *rows: int) -> set[str]:
    """The marks of these rows of a list, or of all."""
    places = {f"{table}.{n}.mark" for n in rows}
    return {
        mark
        for mark, where in marked.texts.items()
        if where in places or (not rows and re.fullmatch(rf"{table}\.\d+\.mark", where))
    }


def lengths_drawn(out: Out) -> set[float]:
    """The figures of the plans: each side, each floor over all, and an arm of the scale."""
    rows = out.marked.job.rows
    sides = {round(edge["length"], 3) for edge in rows["edges"]}
    over_all = {round(zone[side], 3) for zone in rows["zones"] for side in ("side_a", "side_b")}
    return sides | over_all | {1.0, 0.5}


def chosen(out: Out) -> set[str]:
    """The marks that the level shows to the client."""
    marked, ledger = out.marked, out.ledger
    shown = {m for m, where in marked.texts.items() if where in (
        "job.job_title", "job.client_name", "job.site_address", "job.prepared_by", "job.quote_valid",
        "reasons.radon", *(f"job.{i.name}" for i in (*REFERENCES, *FIRM)))}  # fmt: skip
    shown |= marks_of(marked, "zones")  # on the plan
    # Hold points without anything counted are left out, but for the notices of every job.
    for name in ("before start", "foundations", "hardcore and blinding", "completion",
                 "DPM before insulation or concrete", "DPC before building on",
                 "openings before the lintel course", "roof abutments before covering"):  # fmt: skip
        shown |= marked.of(f"notices.{name}")
    # By stages, of the lines only those that bring work or a fee are named.
    columns = (ledger.column("quote_lines", c) for c in ("item", "work_row"))
    quoted = {
        item
        for item, work in zip(*columns, strict=True)
        if item and (work or level_of(out) != STAGES)
    }
    return shown | {m for m in marked.texts if m in quoted}


def test_the_client_reads_what_the_level_chooses_and_nothing_else(out: Out) -> None:
    allowed = chosen(out)
    assert len(allowed) >= 14
    for path in out.issued.for_client:
        assert marks_in(path, out.every_mark) == allowed, path.name


def test_there_is_a_pdf_to_search(out: Out) -> None:
    need("soffice")
    assert out.issued.pdf is not None
    assert "25 November 2026" in "".join(readings(out.issued.pdf))


def test_every_number_of_the_client_is_one_that_the_level_shows(out: Out) -> None:
    """By what is allowed, not by what is known to be secret."""
    ledger, level = out.ledger, level_of(out)
    lines = [n for n, t in enumerate(ledger.column("quote_lines", "item")) if t]
    amounts = [ledger.column("quote_lines", "amount")[n] for n in lines]
    stages = [ledger.column("quote_lines", "stage_no")[n] for n in lines]
    sums = {round(sum(a for a, s in zip(amounts, stages, strict=True) if s == stage), 2)
            for stage in set(stages)}  # fmt: skip
    cells = ("quote_sum", "quote_net", "quote_vat", "quote_total", "vat_percent")
    allowed = {round(ledger.cell(c), 2) for c in cells} | sums | {0, 1}
    if level != STAGES:
        allowed |= {*amounts, *range(1, len(lines) + 1)}
    if level == QUANTITIES:
        allowed |= set(ledger.column("quote_lines", "quantity"))
        allowed |= {round(v + 1e-9, 2) for v in ledger.column("lines", "net")}
    shown = figures(out.issued.quote)
    numbers = {v for cells in shown.values() for v in cells.values() if isinstance(v, float)}
    assert {n for n in numbers if round(n, 2) not in allowed} == set()
    assert all(round(n, 2) == n for n in numbers), "pence, and two decimals of a length"
    if out.issued.pdf is not None:
        printed = {
            float(m.replace(",", "")) for m in re.findall(r"\d[\d,]*\.\d+", text_of(out.issued.pdf))
        }
        assert printed - allowed - CLAUSES - lengths_drawn(out) == set()
        assert lengths_drawn(out) - printed == set(), "the plans are printed"
        assert round(ledger.cell("quote_total"), 2) in printed


def test_formulas_of_the_client_hold_no_figures(out: Out) -> None:
    book = load_workbook(out.issued.quote)
    found = [c.value for s in book for row in s.iter_rows() for c in row if c.data_type == "f"]
    assert found
    for formula in found:
        bare = re.sub(r"\$?[A-Z]{1,2}\$?\d+", "", formula)
        numbers = set(re.findall(r"\d+(?:\.\d+)?", bare))
        assert numbers <= {"0", "1", "2", "6", "100", "0.000001"}, formula


def test_a_supplier_reads_its_own_discount_at_most_and_of_no_other(out: Out) -> None:
    """Where it gives one: list price, discount and price of what is ordered of it. Else no price."""
    everyone = out.marked.of("suppliers")
    discounted = 0
    for order in out.issued.orders:
        lines = [n for n, s in enumerate(out.ledger.column("order_lines", "supplier"))
                 if s == order.supplier]  # fmt: skip
        allowed = {
            out.ledger.column("order_lines", c)[n] for n in lines for c in ("code", "description")
        }
        about = {m for m, where in out.marked.texts.items()
                 if where in ("job.job_title", "job.site_address", "job.prepared_by")}  # fmt: skip
        rows = [[out.ledger.column("order_lines", c)[n] for c in ("discount", "list_price")]
                for n in lines]  # fmt: skip
        agreed = {f"{figure:.5f}" for row in rows if row[0] != "" for figure in row}
        found = marks_in(order.workbook, out.every_mark)
        # A file holds sixteen digits of a figure, which need not end where its mark does.
        assert found - agreed == allowed | about | {order.supplier}
        assert bool(found & agreed) == bool(agreed)
        assert marks_in(order.csv, out.every_mark) == allowed
        assert everyone - {order.supplier}
        # As written, not as packed: among packed bytes a pound sign stands by chance.
        text = html.unescape(parts_as_text(order.workbook)) + order.csv.read_text("utf-8-sig")
        assert ("£" in text.replace('"£"', "")) == bool(agreed)
        discounted += bool(agreed)
    assert 0 < discounted < len(out.issued.orders)


def test_the_sheet_for_site_knows_no_price_supplier_or_client(out: Out) -> None:
    about = {m for m, where in out.marked.texts.items()
             if where in ("job.job_title", "job.site_address", "job.prepared_by")
             or where.startswith("notices.")}  # fmt: skip
    # Each floor, its sides, the runs that have openings, those openings, drawn or not; roofs against
    # walls, what is cut into which old wall; and which roll is cut: its code and what it is, nothing
    # of who sells it.
    drawn: set[str] = set()
    for table, count in {"zones": 2, "edges": 10, "walls": 5, "openings": 7, "abutments": 2,
                         "cut_ins": 1, "old_walls": 1}.items():  # fmt: skip
        marks = marks_of(out.marked, table)
        assert len(marks) == count
        drawn |= marks
    rolls = {
        m
        for m, where in out.marked.texts.items()
        if where in {f"book.{n}.{c}" for n in (3, 65) for c in ("code", "description")}
    }
    assert len(rolls) == 4
    drawn |= rolls
    assert marks_in(out.issued.site, out.every_mark) == about | drawn
    texts = [v for cells in figures(out.issued.site).values() for v in cells.values()]
    assert not any("£" in t or "price" in t.lower() for t in texts if isinstance(t, str))


# What is written on a plan but names and figures.
WORDS = {
    *("new wall", "existing wall", "threshold", "joint with another floor"),
    *("partition or free edge", "sheet turned up", "opening"),
    *("joint", "openings", "dimensions", "scale", "hole"),
    "Inside faces. Lengths in metres.",
    "Set no opening or threshold out by this plan: not every place is known.",
}


def test_the_plans_of_the_client_hold_points_lengths_and_names_of_floors(out: Out) -> None:
    """Each text in them is one of those allowed, of which none is a ref of a side, a run or an
    opening, or speaks of them; each point is in the frame, to two decimals."""
    floors = marks_of(out.marked, "zones")
    allowed = WORDS | {f"key: {words}" for words in WORDS} | {f"Plan of floor {m}" for m in floors}
    allowed |= {f"{v:.3f}{m}" for v in lengths_drawn(out) for m in ("", " m", " m each way")}
    said, points = set(), set()
    with zipfile.ZipFile(out.issued.quote) as package:
        parts = [name for name in package.namelist() if name.startswith("xl/charts/")]
        for tree in map(etree.fromstring, map(package.read, parts)):
            assert not list(tree.iter("{*}f")), "no cell is read"
            said |= {v.text for tx in tree.iter("{*}tx") for v in tx.iter("{*}v")}
            points |= {v.text for pt in tree.iter("{*}pt") for v in pt.iter("{*}v")}
            rest = {v.text for v in tree.iter("{*}v")} | {t.text for t in tree.iter("{*}t")}
            assert rest <= said | points
    assert len(parts) == 2
    assert said <= allowed
    assert {f"Plan of floor {m}" for m in floors} < said
    assert all(re.fullmatch(r"\d{1,2}\.\d{1,2}", point) for point in points)


@pytest.mark.parametrize("kind", ["quote", "orders", "site"])
def test_packages_hold_the_parts_of_a_plain_workbook_only(out: Out, kind: str) -> None:
    paths = (
        [o.workbook for o in out.issued.orders] if kind == "orders" else [getattr(out.issued, kind)]
    )
    # The plan of two floors; plan, section and sheet of both, five walls, two roofs, a tray cut in, two
    # products.
    charts = {"quote": 2, "orders": 0, "site": 16}[kind]
    drawn = {f"xl/charts/chart{n + 1}.xml" for n in range(charts)}
    if drawn:
        drawn |= {"xl/worksheets/sheet2.xml", "xl/worksheets/_rels/sheet2.xml.rels"}
        drawn |= {"xl/drawings/drawing2.xml", "xl/drawings/_rels/drawing2.xml.rels"}
    # The sheet of prices agreed with a supplier that gives a discount.
    agreed = {"xl/worksheets/sheet2.xml"} if kind == "orders" else set()
    for path in paths:
        with zipfile.ZipFile(path) as package:
            assert set(package.namelist()) - drawn - agreed == {
                *("[Content_Types].xml", "_rels/.rels", "docProps/app.xml", "docProps/core.xml"),
                *("xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml"),
                *("xl/theme/theme1.xml", "xl/worksheets/sheet1.xml"),
                *("xl/drawings/drawing1.xml", "xl/drawings/_rels/drawing1.xml.rels"),
                *(
                    "xl/worksheets/_rels/sheet1.xml.rels",
                    "xl/media/image1.png",
                    "xl/media/image2.png",
                ),
            }
            assert drawn <= set(package.namelist())
            core = package.read("docProps/core.xml").decode()
            assert "creator" not in core
            assert "lastModifiedBy" not in core
        book = load_workbook(path)
        assert {s.sheet_state for s in book} == {"visible"}


# ---- the search itself can fail ----


def _plant(path: Path, how: str) -> None:
    if how in ("entry", "zip comment", "entity", "two runs", "utf-16"):
        parts = {}
        with zipfile.ZipFile(path) as package:
            parts = {n: package.read(n) for n in package.namelist()}
        sheet = parts["xl/worksheets/sheet1.xml"].decode()
        if how == "entity":
            sheet = sheet.replace("<t>", "<t>&#90;q0001x&#x77;", 1)
        if how == "two runs":
            sheet = sheet.replace(
                "<is><t>", "<is><r><t>Zq00</t></r><r><t>01xw</t></r></is><is><t>", 1
            )
            sheet = re.sub(r"</is><is>", "", sheet, count=1)
        parts["xl/worksheets/sheet1.xml"] = sheet.encode()
        if how == "entry":
            parts["xl/media/Zq0001xw.png"] = b"x"
        if how == "utf-16":
            parts["xl/printerSettings/printerSettings1.bin"] = b"\x01" + "Zq0001xw".encode(
                "utf-16-le"
            )
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
            for name, part in parts.items():
                package.writestr(name, part)
            package.comment = b"Zq0001xw" if how == "zip comment" else b""
        return
    book = load_workbook(path)
    sheet = book.worksheets[0]
    planting: dict[str, Callable[[], Any]] = {
        "author": lambda: setattr(book.properties, "creator", "Zq0001xw"),
        "comment": lambda: setattr(sheet["A1"], "comment", Comment("Zq0001xw", "x")),
        "hidden sheet": lambda: setattr(book.create_sheet("x")["A1"], "value", "zQ0001XW"),
        "name": lambda: book.defined_names.add(DefinedName("a_b", attr_text='"Zq0001xw"')),
        "style": lambda: setattr(sheet["A1"], "number_format", '"Zq0001xw"0'),
        "footer": lambda: setattr(sheet.oddFooter.left, "text", "Zq0001xw"),
        "link": lambda: setattr(sheet["A1"], "hyperlink", "file:///Zq0001xw"),
    }
    planting[how]()
    book.save(path)


@pytest.mark.parametrize("how", ["entry", "zip comment", "entity", "two runs", "utf-16", "author",
                                 "comment", "hidden sheet", "name", "style", "footer", "link"])  # fmt: skip
def test_a_planted_leak_is_found(tmp_path: Path, how: str) -> None:
    path = tmp_path / "plain.xlsx"
    book = Workbook()
    book.active["A1"] = "plain"
    book.save(path)
    shared = tmp_path / "inline.xlsx"
    with zipfile.ZipFile(path) as package, zipfile.ZipFile(shared, "w") as copy:
        for name in package.namelist():
            part = package.read(name)
            if name == "xl/worksheets/sheet1.xml":
                inline = b'<c r="A1" t="inlineStr"><is><t>plain</t></is></c>'
                part = re.sub(rb"<c .*</c>", inline, part)
            copy.writestr(name, part)
    assert marks_in(shared, ["Zq0001xw"]) == set()
    _plant(shared, how)
    assert marks_in(shared, ["Zq0001xw"]) == {"Zq0001xw"}


@pytest.mark.host
def test_a_leak_planted_in_a_pdf_is_found(tmp_path: Path) -> None:
    book = Workbook()
    book.active["A1"], book.properties.creator = "Zq0001xw 31.80146", "Zq0002xw"
    path = tmp_path / "leaky.xlsx"
    book.save(path)
    (pdf,) = by_libreoffice([path], tmp_path, "pdf").values()
    marks = ["Zq0001xw", "Zq0002xw", "31.80146", "Zq0003xw"]
    assert marks_in(pdf, marks) == set(marks[:3])
    shutil.rmtree(tmp_path / "libreoffice_pdf")
