"""The file itself: results in every formula, safe functions, names, wiring, restyled templates."""

import re
import zipfile
from collections import Counter
from collections.abc import Iterable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import Workbook, load_workbook
from openpyxl.drawing.image import Image
from openpyxl.styles import Font, PatternFill
from openpyxl.workbook.defined_name import DefinedName
from PIL import Image as Picture
from PIL import ImageFont

from estimator.cli.main import main
from estimator.errors import TemplateError
from estimator.files.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job_file import read_job
from estimator.model.places import SCHEMA
from estimator.model.plan import bases, plan
from estimator.questionnaire.assumed import ASSUMED_ROWS
from estimator.workbook.blocks import label_of
from estimator.workbook.build import Built, build
from estimator.workbook.fronts import SEEN
from estimator.workbook.layout import engine_columns
from estimator.workbook.reading.comparison import differences
from estimator.workbook.reading.inputs import Returned, read_back
from estimator.workbook.template import not_carried

from . import layouts_kept
from .canonical import canonical
from .hosts import drive, figures
from .made import made

LAYOUT_4_TEMPLATE = Path(__file__).parent / "layouts" / "template_4.xlsx"
# Evaluated by LibreOffice 7.4 and Gnumeric 1.12 and believed safe in Excel 2010 and later.
SAFE = {
    "SUM",
    "ADDRESS",
    "COLUMN",
    "HYPERLINK",
    "ABS",
    "MIN",
    "SMALL",
    "AND",
    "CHAR",
    "CHOOSE",
    "COUNTA",
    "COUNTIF",  # for a fixed word only: in it a text of a person's would be a pattern
    "LEN",
    "RIGHT",
    "FIND",
    "IF",
    "IFERROR",
    "INDEX",
    "ISNUMBER",
    "LARGE",
    "MATCH",
    "MAX",
    "MID",
    "NA",
    "OR",
    "PI",
    "PRODUCT",
    "TAN",
    "SIN",
    "COS",
    "TRIM",
    "ROUND",
    "ROUNDDOWN",
    "ROUNDUP",
    "ROW",
    "ROWS",
    "SQRT",
    "SUMPRODUCT",
}


@pytest.fixture(scope="module")
def built() -> Built:
    return build(estimate(read_job(DEMO_JOB), USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)


@pytest.fixture(scope="module")
def path(built: Built, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "demo.xlsx"
    built.save(path)
    return path


@pytest.fixture(scope="module")
def book(path: Path) -> Workbook:
    """The file as openpyxl reads it: not to be changed."""
    return load_workbook(path)


@pytest.fixture(scope="module")
def formulas(book: Workbook) -> list[tuple[str, str, str]]:
    """Sheet, cell and text of each formula in the file."""
    return [
        (sheet.title, cell.coordinate, cell.value)
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]


def test_every_formula_carries_a_result(formulas: list[tuple[str, str, str]], path: Path) -> None:
    shown = figures(path)
    assert len(formulas) > 30_000
    for sheet, address, text in formulas:
        if shown[sheet][address] == "":
            # Nothing reads as an empty text does: only formulas that can be empty may be, and a
            # typed cell that shows what the form says there, which is a formula of its own.
            form = re.fullmatch(r"=(e_[a-z_]+)!\$([A-Z]+)\$([0-9]+)", text)
            empty = form is not None and shown[form[1]][form[2] + form[3]] == ""
            assert '""' in text or empty, (sheet, address, text)


def test_a_formula_without_a_result_is_a_defect(built: Built, tmp_path: Path) -> None:
    sheet = built.workbook["Start"]
    sheet["H1"] = "=1+1"
    with pytest.raises(KeyError):
        built.save(tmp_path / "x.xlsx")
    sheet["H1"] = None
    assert not list(tmp_path.iterdir()), "a failed write leaves nothing behind"


def test_only_safe_functions_and_no_arrays(
    formulas: list[tuple[str, str, str]], path: Path
) -> None:
    for sheet, address, text in formulas:
        bare = re.sub(r'"[^"]*"', '""', text)
        used = set(re.findall(r"([A-Z][A-Z0-9.]+)\(", bare))
        assert used <= SAFE, (sheet, address, used - SAFE)
        assert "{" not in bare
    with zipfile.ZipFile(path) as package:
        for part in package.namelist():
            assert b't="array"' not in package.read(part), part
            assert "vba" not in part.lower()


@pytest.mark.parametrize("name", ["demo", "form", "blank", "walked"])
def test_every_formula_is_short_enough_to_read(name: str) -> None:
    """Guards and totals too: at most 300 characters, its equals sign not counted."""
    found = [
        c for s in load_workbook(BytesIO(made(name).data)) for row in s.iter_rows() for c in row
    ]
    long = [
        (c.parent.title, c.coordinate) for c in found if c.data_type == "f" and len(c.value) > 301
    ]
    assert long == []


@pytest.mark.parametrize("name", ["demo", "form", "blank", "walked"])
def test_ten_sheets_are_seen_none_wider_than_a_screen(name: str) -> None:
    """A screen 1,920 pixels wide shows 1,870 of a sheet; a column takes 7 for each character and 5."""
    seen = [s for s in load_workbook(BytesIO(made(name).data)) if s.sheet_state == "visible"]
    assert [s.title for s in seen] == list(SEEN)
    assert len(seen) <= 10
    for sheet in seen:
        widths = [
            7 * d.width + 5
            for d in sheet.column_dimensions.values()
            if not d.hidden
            for _ in range(d.min or 1, (d.max or d.min or 1) + 1)
        ]
        assert sum(widths) <= 1870, sheet.title
        filled = max(c.column for row in sheet.iter_rows() for c in row if c.value is not None)
        last = max(d.max or d.min or 1 for d in sheet.column_dimensions.values())
        assert filled <= last, f"{sheet.title}: a column whose width nobody set"


@pytest.mark.parametrize("name", ["demo", "form", "blank"])
def test_total_and_what_is_to_fix_stay_in_sight(name: str) -> None:
    """On each sheet, in rows that stay where they are: few, as a screen is 790 pixels high."""
    book = load_workbook(BytesIO(made(name).data))
    shown = load_workbook(BytesIO(made(name).data), data_only=True)
    cells = shown["e_cells"]
    at = {n: book.defined_names[n].attr_text for n in ("quote_total", "problem_count")}
    is_now = {n: cells[where.partition("!")[2]].value for n, where in at.items()}
    assert (is_now["problem_count"] > 0) == (is_now["quote_total"] == "#N/A")
    for sheet in (s for s in book if s.sheet_state == "visible"):
        assert re.fullmatch("A[0-9]+", sheet.freeze_panes or ""), sheet.title
        frozen = list(sheet.iter_rows(max_row=int(sheet.freeze_panes[1:]) - 1))
        assert sum(sheet.row_dimensions[r].height or 15 for r in range(1, len(frozen) + 1)) < 150
        for found, value in is_now.items():
            (cell,) = (
                c for row in frozen for c in row if c.value == f'=IFERROR({found},"")'
            )  # fmt: skip
            told = shown[sheet.title][cell.coordinate].value
            assert told == (None if value == "#N/A" else value), (sheet.title, found)


@pytest.mark.host
def test_how_the_job_stands_is_shown_in_words(tmp_path: Path) -> None:
    """As LibreOffice shows it: no problem is "ready", and no total is nothing."""
    looks = [["words", f"{sheet}!{at}"] for sheet, at in (("Floors", "A3"), ("Floors", "D3"),
             ("Site", "G1"), ("Site", "G2"), ("Start", "D4"))]  # fmt: skip
    total, state = "Total £3,709.97", "ready"
    assert drive(made("demo").written(tmp_path), looks) == [total, state, total, state, state]
    found = drive(made("blank").written(tmp_path), looks)
    assert found[::2] == ["", "", found[1]]
    assert found[1] == found[3]
    assert re.fullmatch("[1-9][0-9]* to fix", found[1])


def test_a_person_reads_the_names_of_documents(book: Workbook, built: Built) -> None:
    """Where one is chosen and everywhere else: the key of a basis is seen on no sheet."""
    names = "|".join(b.name for b in bases())
    sheet, at = built.layout.typed_cells["basis_choice"]
    assert book[sheet][at.replace("$", "")].value == "NHBC Standards (2024)"
    found = {
        (s.title, c.coordinate)
        for s in book
        if s.sheet_state == "visible"
        for row in s.iter_rows()
        for c in row
        if isinstance(c.value, str) and re.search(names, c.value)
    }
    assert found == set()


def test_no_number_of_a_basis_is_typed_in_a_formula(formulas: list[tuple[str, str, str]]) -> None:
    """Every allowance is read by its name, so that a choice of basis reaches every formula."""
    names = set(plan().keyed)
    bare = [re.sub(r'"[^"]*"|e_[a-z_]+!', "", text) for _, _, text in formulas]
    used = {n for text in bare for n in re.findall(r"[a-z]+(?:_[a-z]+)+", text)}
    # Stated for the record: no quantity depends on them.
    for key in names - {
        "dpm_thickness",
        "slab_thickness_min",
        "dpc_height_min",
        "cavity_clear_min",
    }:
        assert key in used, f"no formula reads {key}"
    assert used - names <= set(plan().cells)


def test_names_reach_every_cell_that_matters(book: Workbook) -> None:
    assert set(book.defined_names) >= {*plan().cells, *plan().keyed, "estimator_schema"}
    assert book.defined_names["estimator_schema"].attr_text == str(SCHEMA)


def test_a_changed_layout_has_another_version() -> None:
    """Else workbooks that people have would be refused as damaged, not laid out anew."""
    wanted = "raise SCHEMA in places.py unless it rose since the last release; then run python -m tests.layouts_kept"
    assert layouts_kept.kept().get(str(SCHEMA)) == layouts_kept.digest(), wanted


def test_every_list_that_grows_is_read_from_its_units_to_its_end_line(
    built: Built, book: Workbook
) -> None:
    for name, table in plan().tables.items():
        if not table.grows or not table.inputs:
            continue
        span, engine = built.layout.fronts[name], built.layout.spans[name]
        assert span.has_end
        end = built.workbook[span.sheet][span.bottom]
        assert all(cell.value is None for cell in end), "the end line stays empty"
        for item in table.inputs:
            letter = span.letters[item.name]
            area = f"{span.sheet}!${letter}${span.first - 1}:${letter}${span.bottom}"
            reading = "raw_" + item.name if "raw_" + item.name in engine.letters else item.name
            cells = book[engine.sheet]
            for number in range(engine.first, engine.last + 1):
                assert area in cells[f"{engine.letters[reading]}{number}"].value, (name, number)


@pytest.mark.parametrize("name", plan().tables)
def test_no_two_columns_behind_are_called_the_same(name: str) -> None:
    """Else nobody can follow a figure by the heads of its hidden sheet."""
    table = plan().tables[name]
    heads = Counter(label_of(table, column) for column in engine_columns(table))
    assert [head for head, times in heads.items() if times > 1] == []


def test_sheets_print_as_set_up(book: Workbook, built: Built) -> None:
    hidden = {s.title for s in book if s.sheet_state == "hidden"}
    behind = {span.sheet for span in built.layout.spans.values()}
    assert len(behind) <= len(SEEN) + 1, "each sheet more makes the file slower to open"
    assert hidden == behind | {"e_cells"}
    assert all(len(s.title) <= 31 for s in book)
    assert all(book[title].protection.sheet for title in hidden)
    for sheet in (s for s in book if s.title not in hidden):
        assert sheet.print_area, sheet.title
        assert sheet.print_title_rows == built.workbook[sheet.title].print_title_rows
        assert sheet.page_setup.paperSize == 9
        assert "&P" in (sheet.oddFooter.right.text or "")


def test_what_is_printed_is_named_before_what_is_repeated(path: Path) -> None:
    """Else LibreOffice lays out pages of each whole sheet first, and is slow to open the file."""
    with zipfile.ZipFile(path) as package:
        part = package.read("xl/workbook.xml")
    assert part.count(b"Print_Area") == part.count(b"<sheet ") - part.count(b'name="e_')
    assert part.rindex(b"_xlnm.Print_Area") < part.index(b"_xlnm.Print_Titles")


def restyled(tmp_path: Path, change: Any) -> Path:
    book = load_workbook(JOB_TEMPLATE)
    change(book)
    path = tmp_path / "restyled.xlsx"
    book.save(path)
    return path


def test_a_restyled_template_keeps_its_style(tmp_path: Path) -> None:
    logo = tmp_path / "logo.png"
    Picture.new("RGB", (40, 20), "navy").save(logo)

    def change(book: Any) -> None:
        sheet = book["Quote"]
        sheet["A1"] = "Our own heading"
        sheet["A1"].font = Font(name="Georgia", size=20, color="FF224488")
        sheet.column_dimensions["B"].width = 55
        foot = next(r for r in range(1, 60) if sheet[f"B{r}"].value == "VAT, £")
        sheet[f"B{foot}"] = "Value added tax, £"
        sheet[f"B{foot}"].fill = PatternFill("solid", fgColor="FFDDEEFF")
        sheet.add_image(Image(logo), "D1")
        sheet.cell(sheet.max_row + 2, 1, "A note of our own, below everything")

    template = restyled(tmp_path, change)
    found = build(estimate(read_job(DEMO_JOB), USUAL_ROOM), template, USUAL_ROOM)
    path = tmp_path / "out.xlsx"
    found.save(path)
    sheet = load_workbook(path)["Quote"]
    assert sheet["A1"].value == "Our own heading"
    assert sheet["A1"].font.name == "Georgia"
    assert sheet.column_dimensions["B"].width == 55
    notes = [c for c in sheet["B"] if c.value == "Value added tax, £"]
    assert [c.fill.fgColor.rgb for c in notes] == ["FFDDEEFF"]
    assert len(sheet._images) == 1
    note = next(
        r for r in range(1, 400) if sheet.cell(r, 1).value == "A note of our own, below everything"
    )
    assert note < found.layout.fronts["revisions"].first, "the list below it stands clear of it"


def test_what_cannot_be_carried_is_said(tmp_path: Path) -> None:
    """Parts that openpyxl drops are planted in a template; the command names each, and goes on."""
    planted = {
        "xl/drawings/drawing9.xml": b'<xdr:wsDr xmlns:xdr="x"><xdr:sp macro=""/></xdr:wsDr>',
        "xl/threadedComments/threadedComment1.xml": b"<ThreadedComments/>",
    }
    template = tmp_path / "mine.xlsx"
    template.write_bytes(JOB_TEMPLATE.read_bytes())
    assert not_carried(template) == []
    with zipfile.ZipFile(template, "a") as package:
        for name, part in planted.items():
            package.writestr(name, part)
    out = tmp_path / "out.xlsx"
    done = CliRunner().invoke(
        main, ["workbook", str(DEMO_JOB), "--out", str(out), "--template", str(template)]
    )
    assert done.exit_code == 0
    assert "Not carried over from mine.xlsx: text boxes or drawn shapes." in done.output
    assert "Not carried over from mine.xlsx: threaded comments." in done.output
    assert out.is_file()


def _with_block(name: str, area: str) -> Any:
    def change(book: Any) -> None:
        book.defined_names[name] = DefinedName(name, attr_text=area)

    return change


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda b: b["Start"].__setitem__("A1", "{no_such_thing}"), "no_such_thing"),
        (lambda b: b.create_sheet("e_walls"), "the sheet e_walls.*no name that begins with e_"),
        (_with_block("walls_line", "Start!$A$1:$C$2"), "walls_line.*accepted: one row"),
        (_with_block("walls_line", "Start!$A$1:$C$1"), "a block named walls_end"),
    ],
)
def test_a_place_that_cannot_be_is_named(tmp_path: Path, change: Any, said: str) -> None:
    template = restyled(tmp_path, change)
    with pytest.raises(TemplateError, match=said):
        build(estimate(read_job(DEMO_JOB), USUAL_ROOM), template, USUAL_ROOM)


def _built_in(template: Path, tmp_path: Path) -> Returned:
    found = build(estimate(read_job(DEMO_JOB), USUAL_ROOM), template, USUAL_ROOM)
    path = tmp_path / "out.xlsx"
    found.save(path)
    return read_back(path)


def test_a_kind_of_cell_is_restyled_by_its_cell_style(tmp_path: Path) -> None:
    """On a sheet that the template does not hold: every typed cell follows, and no other."""

    def change(book: Any) -> None:
        book._named_styles["Typed"].fill = PatternFill("solid", fgColor="FFDDEEFF")

    found = build(estimate(read_job(DEMO_JOB), USUAL_ROOM), restyled(tmp_path, change), USUAL_ROOM)
    path = tmp_path / "out.xlsx"
    found.save(path)
    sheet, span = load_workbook(path)["Floors"], found.layout.fronts["zones"]
    grounds = {
        name: sheet[f"{letter}{span.first}"].fill.fgColor.rgb
        for name, letter in span.letters.items()
    }
    typed = {i.name for i in plan().tables["zones"].inputs}
    assert {n for n, ground in grounds.items() if ground == "FFDDEEFF"} == typed


def test_what_a_template_has_no_place_for_has_one_all_the_same(tmp_path: Path) -> None:
    """A restyled template does not know what came after it: a cell, a column of a list, a list."""

    template = restyled(
        tmp_path, lambda b: _forget(b, ("profit_percent", "quote_net", "figure_typed"))
    )
    found = _built_in(template, tmp_path)
    assert canonical(found.job) == canonical(read_job(DEMO_JOB))
    assert differences(found, found.laid_ledger()) == []
    sheet, address = found.layout.typed_cells["profit_percent"]
    assert sheet == "Start"
    assert found.named("profit_percent").value == 20
    words = found.sheets.cells(sheet)[int(address.rpartition("$")[2]), 1]
    assert words.value == "Markup or margin"
    assert "figure_typed" in found.layout.fronts["assumed"].letters


def _forget(book: Any, names: Iterable[str]) -> None:
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value in {f"{{{name}}}" for name in names}:
                    cell.value = None


def test_a_template_of_the_layout_before_still_works(tmp_path: Path) -> None:
    """As it was drawn for layout 4, every list in a row of its own, its heading restyled since."""
    template = tmp_path / "mine.xlsx"
    book = load_workbook(LAYOUT_4_TEMPLATE)
    book["Quote"]["A1"].font = Font(name="Georgia", size=20, color="FF224488")
    book["Walls"]["A1"] = "Our walls"
    book.save(template)
    found = _built_in(template, tmp_path)
    assert canonical(found.job) == canonical(read_job(DEMO_JOB))
    assert differences(found, found.laid_ledger()) == []
    out = load_workbook(tmp_path / "out.xlsx")
    assert out["Quote"]["A1"].font.name == "Georgia"
    assert out["Walls"]["A1"].value == "Our walls"
    assert found.layout.fronts["walls"].sheet == "Walls"


def test_a_file_that_is_no_template_is_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "template.xlsx"
    path.write_text("not a workbook")
    with pytest.raises(TemplateError, match=r"template\.xlsx: .*accepted: a workbook"):
        build(estimate(read_job(DEMO_JOB), USUAL_ROOM), path, USUAL_ROOM)


def test_numbers_in_formulas_have_no_exponent(path: Path) -> None:
    """The grammar of formulas (ECMA-376, part 1, 18.17) knows a capital E only; none is needed."""
    exponent = re.compile(r"[0-9]e[-+]?[0-9]", re.IGNORECASE)
    with zipfile.ZipFile(path) as package:
        for part in (p for p in package.namelist() if p.startswith("xl/worksheets/sheet")):
            text = package.read(part).decode()
            for found in re.findall(r"<(?:f|formula[12]?)>([^<]*)</", text):
                bare = re.sub(r'"[^"]*"|\$?[A-Z]{1,3}\$?[0-9]+', "", found)
                assert not exponent.search(bare), (part, found)


def test_a_blank_cell_has_no_type(path: Path) -> None:
    """A blank that says it is a number is read as 0 by some programs."""
    blank, styled = re.compile(r"<c ([^>]*)/>|<c ([^>]*)></c>"), 0
    with zipfile.ZipFile(path) as package:
        for part in (p for p in package.namelist() if p.startswith("xl/worksheets/sheet")):
            for one, other in blank.findall(package.read(part).decode()):
                styled += 1
                assert ' t="' not in f" {one}{other}", (part, one or other)
    assert styled > 1000


@pytest.mark.parametrize("name", ["demo", "form"])
def test_who_says_so_of_an_assumed_figure_is_read_whole(name: str) -> None:
    """On Start, the last column that is printed: longer, a text would be cut off on paper. The font
    that measures is a twentieth wider than the sheet's, or more; an indent takes nine pixels."""
    sheet = load_workbook(BytesIO(made(name).data), data_only=True)["Start"]
    (head,) = (c for row in sheet.iter_rows() for c in row if c.value == "Who says so")
    room = 7 * sheet.column_dimensions[head.column_letter].width + 5 - 9
    for row in range(head.row + 2, head.row + 2 + len(ASSUMED_ROWS)):
        cell = sheet.cell(row, head.column)
        face = ImageFont.load_default(size=cell.font.size * 4 / 3)  # points to pixels
        assert 0 < 0.95 * face.getlength(cell.value) <= room, cell.value


@pytest.mark.parametrize("name", ["demo", "blank"])
def test_long_texts_on_guidance_have_rows_high_enough(name: str) -> None:
    """Of nine points, broken between words where a column of so many pixels ends: a font without
    serifs measures them, and a line is as high as its letters."""
    face = ImageFont.load_default(size=12)  # pixels: nine points
    sheet = load_workbook(BytesIO(made(name).data), data_only=True)["Guidance"]
    long = 0
    for row in sheet.iter_rows():
        for cell in row:
            if not (isinstance(cell.value, str) and cell.alignment.wrap_text and cell.row > 8):
                continue
            room, lines = 7 * sheet.column_dimensions[cell.column_letter].width, [""]
            for word in cell.value.split():
                longer = f"{lines[-1]} {word}".strip()
                if face.getlength(longer) <= room:
                    lines[-1] = longer
                else:
                    lines.append(word)
            height = sheet.row_dimensions[cell.row].height
            if height and len(lines) > 2 and not sheet.column_dimensions[cell.column_letter].hidden:
                long += 1
                assert len(lines) * 9 <= height, (cell.coordinate, cell.value)
    assert long > 3
