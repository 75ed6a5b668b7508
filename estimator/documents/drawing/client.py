"""Draws the client's quote: its fixed words are here once, and in the template ever after."""

from copy import copy

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Border, Side
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat

from ...workbook.drawing.quote import CAUTION
from ...workbook.page import BRICK, FAINT, HAIRLINE, HEADED, HEAVY, INK, fill, font
from .stationery import BETWEEN, MIDDLE, MONEY, MONEY_OR_DASH, RIGHT, Paper

GUIDANCE = (
    "Quantities and details follow the guidance named here. It is named so that you know whose "
    "advice was taken; it is no certificate, and does not say that the work meets any regulations."
)
APART = (
    "Firm lines do not change unless the work does. Provisional lines are priced as things are known "
    "now; they may go up or down, and are settled at what the work comes to."
)
HOLDS = (
    "At these points the work is stopped and looked at before it is covered. Please let nobody cover "
    "it sooner. Who is to be told, and when, is a reminder: confirm it with your building control body."
)
# The Consumer Contracts (Information, Cancellation and Additional Charges) Regulations 2013:
# how well each statement is known stands in docs/issuing.md.
RIGHTS = (
    "If you are a consumer, and the contract is made away from our business premises (at your home, "
    "for example) or at a distance (by e-mail, telephone or post), you may have a right to cancel it, "
    "usually within 14 days after it is made, without giving a reason: Consumer Contracts "
    "(Information, Cancellation and Additional Charges) Regulations 2013 (SI 2013/3134). Work starts "
    "within that time only if you ask us to in writing, and you may then have to pay for what has "
    "been done. This is a caution and not legal advice; the notice and the form that the Regulations "
    "ask for are given apart from this document."
)
ROUNDING = "Each line is rounded to the penny, and VAT once on the sum."
MINIMUM = (
    "The lines come to less than our minimum charge for a job, so the price is brought up to it."
)
NET = "Net: as measured on the drawings, without laps, wastage or what is left of a pack."
_COLUMNS = {"A": 4, "B": 23, "C": 36, "D": 8, "E": 9, "F": 11, "G": 10.5, "H": 10.5}
_TOTAL = font(14, True)
_TOP = Alignment(wrap_text=True, vertical="top")  # a label and its words begin on one line
_MIDDLE = Alignment(vertical="center")
_BESIDE = Alignment(horizontal="left", vertical="center", indent=1)  # not against a figure


def client(book: Workbook) -> None:
    """The one sheet of the client's document."""
    page = Paper(book, "Quote", "{document_word}", _COLUMNS, lies=_TOP)
    page.sheet["A1"].font = font(20, True, BRICK)
    page.sheet.row_dimensions[1].height = 30
    page.words("A:H", "{document_promise}", font(10, italic=True))
    page.gap()
    for label, name in (
        *(("For", "client_name"), ("Site", "site_address"), ("Work", "job_title")),
        *(("Prepared by", "prepared_by"), ("Date", "quote_date"), ("Revision", "revision_mark")),
        ("Valid", "quote_valid"),
    ):
        page.across("A:B", label, font(10, colour=FAINT))
        page.words("C:H", f"{{{name}}}", height=14)
    page.gap()
    total = ("{vat_total_label}", "quote_total", _TOTAL)
    net, vat = ("Sum without VAT", "quote_net", font(10)), ("VAT", "quote_vat", font(10))
    page.part("for_householder", lambda: _sums(page, total, net, vat))
    page.part("for_business", lambda: _sums(page, net, vat, total))
    _lines(page)
    _totals(page)
    _notes(page)
    _changes(page)  # after the price that they lead to
    _scope(page)
    page.titled("Guidance", 3)
    page.words("A:H", "{document_title}", font(10, True))
    page.words("A:H", "{document_binds}")
    page.words("A:H", GUIDANCE)
    _hold_points(page)
    page.titled("Cautions", 3)
    page.words("A:H", CAUTION)
    page.part("cancellation_rights", lambda: _rights(page))
    page.finished()


def _sums(page: Paper, *rows: tuple[str, str, object]) -> None:
    for label, name, face in rows:
        for letter in page.columns:
            page.sheet[f"{letter}{page.row}"].fill = fill(HEADED)
        page.put("A", label, copy(face), fill=fill(HEADED), alignment=copy(_MIDDLE))
        page.sheet.merge_cells(f"G{page.row}:H{page.row}")
        page.put("G", f"{{{name}}}", copy(face), fill=fill(HEADED), number_format='"£"#,##0.00',
                 alignment=copy(RIGHT))  # fmt: skip
        page.sheet.row_dimensions[page.row].height = 22 if face is _TOTAL else 16
        page.row += 1


def _changes(page: Paper) -> None:
    def head() -> None:
        page.titled("What has changed", 3)
        page.across("A:B", "Since revision", font(10, colour=FAINT))
        page.words("C:H", "{changed_since}", height=14)

    page.listing("changes", head, lambda: page.across("A:H", "{words}"))


def _lines(page: Paper) -> None:
    for name, item, counted in (
        *(("stage_lines", False, False), ("priced_lines", True, False)),
        ("counted_lines", True, True),
    ):
        labels = {"F": "Status", "G": "Price, £"} | ({"H": "Stage, £"} if item else {})
        labels |= {"B": "Stage", "C": "Item"} if item else {"A": "Stage"}
        labels |= {"D": "Quantity", "E": ""} if counted else {}

        def head(labels: dict[str, str] = labels) -> None:
            page.titled("Price")
            page.labels(labels, right="DGH", beside="EF")

        def line(item: bool = item, counted: bool = counted) -> None:
            _line(page, item, counted)

        page.listing(name, head, line, 16)


def _line(page: Paper, item: bool, counted: bool) -> None:
    places = {"A": "{position}", "B": "{stage}", "C": "{item}"} if item else {"A": "{stage}"}
    places |= {"D": "{quantity}", "E": "{counted_in}"} if counted else {}
    places |= {"F": "{status}", "G": "{amount}"} | ({"H": "{stage_sum}"} if item else {})
    for letter, place in places.items():
        page.put(letter, place, font(10), alignment=Alignment(vertical="center"))
    row = page.row
    for letter in page.columns:
        page.sheet[f"{letter}{row}"].border = BETWEEN
    page.sheet[f"F{row}"].font = font(9)
    page.sheet[f"F{row}"].alignment = copy(_BESIDE)
    page.stand_out(f"F{row}", f'$F{row}<>"firm"')
    page.sheet[f"G{row}"].number_format, page.sheet[f"G{row}"].alignment = MONEY, copy(RIGHT)
    if not item:
        return
    page.sheet[f"A{row}"].font = font(8, colour=FAINT)
    page.sheet[f"A{row}"].alignment = Alignment(horizontal="left", vertical="center")
    page.sheet[f"B{row}"].font = font(10, True, BRICK)
    page.sheet[f"B{row}"].alignment = copy(MIDDLE)
    page.sheet[f"C{row}"].alignment = copy(MIDDLE)
    if counted:
        page.sheet[f"D{row}"].number_format, page.sheet[f"D{row}"].alignment = "0", copy(RIGHT)
        page.sheet[f"E{row}"].alignment = copy(_BESIDE)
    else:
        page.sheet.merge_cells(f"C{row}:E{row}")
    page.sheet[f"H{row}"].number_format, page.sheet[f"H{row}"].alignment = (
        '#,##0.00;;""',
        copy(RIGHT),
    )
    page.sheet[f"H{row}"].font = font(10, True)
    # A stage is named on its first line; on the others its name stands, and is not shown.
    again = FormulaRule([f"$B{row}=$B{row - 1}"])
    again.dxf = DifferentialStyle(numFmt=NumberFormat(numFmtId=197, formatCode='"";"";"";""'))
    page.sheet.conditional_formatting.add(f"B{row}", again)
    first = FormulaRule([f"$B{row}<>$B{row - 1}"], border=Border(top=Side("thin", color=INK)))
    page.sheet.conditional_formatting.add(f"A{row}:H{row}", first)


def _totals(page: Paper) -> None:
    """The sums. Columns A and B stay empty: so a page does not end between them (paging.py)."""
    page.gap(4)

    def apart() -> None:
        _sum(page, "Firm lines, £", "firm_sum")
        _sum(page, "Provisional lines, £", "provisional_sum")
        page.gap(3)
        page.words("C:H", APART)

    page.part("set_apart", apart)
    _sum(page, "All lines, £", "quote_sum")

    def minimum() -> None:
        _sum(page, "Our minimum charge, £", "minimum_charge")
        _sum(page, "To the minimum charge, £", "minimum_added")
        page.gap(3)
        page.words("C:H", MINIMUM)

    page.part("at_minimum", minimum)
    _sum(page, "Sum without VAT, £", "quote_net")
    page.put("F", "{vat_percent}", font(10), number_format='General" %, £";;"–, £"',
             alignment=Alignment(horizontal="right"))  # fmt: skip
    _sum(page, "VAT at", "quote_vat", to="E")
    _sum(page, "{vat_total_label}", "quote_total", total=True)

    def reversed_() -> None:
        _sum(page, "VAT to be accounted for by the customer, £", "vat_accounted")

    page.part("vat_reversed", reversed_)


def _sum(page: Paper, label: str, name: str, total: bool = False, to: str = "F") -> None:
    page.sheet.merge_cells(f"C{page.row}:{to}{page.row}")
    page.put("C", label, font(10, total), alignment=Alignment(horizontal="right"))
    page.put("G", f"{{{name}}}", font(10, total), number_format=MONEY_OR_DASH,
             alignment=Alignment(horizontal="right"))  # fmt: skip
    page.sheet[f"G{page.row}"].border = HEAVY if total else HAIRLINE
    page.row += 1


def _notes(page: Paper) -> None:
    def vat_head() -> None:
        page.titled("VAT")
        labels = {"A": "Status", "C": "What that means", "G": "Charged", "H": "By customer"}
        page.labels(labels, right="GH")
        page.gap(3)

    def vat() -> None:
        page.across("A:B", "{name}", font(10, True))
        page.across("C:F", "{sentence}", font(9))
        for letter, place in (("G", "{charged}"), ("H", "{business}")):
            page.put(letter, place, font(10), number_format='"yes";;"no"',
                     alignment=Alignment(horizontal="right", vertical="top"))  # fmt: skip

    page.listing("vat_statuses", vat_head, vat)
    page.area("vat_statuses_end", page.row, page.row)
    page.gap(3)

    def reason() -> None:
        page.across("A:B", "Reason for the rate", font(10, True))
        page.words("C:H", "{vat_reason}")

    page.part("vat_reasoned", reason)
    page.titled("What the price is for", 3)
    page.words("A:H", "{price_covers}")
    page.words("A:H", ROUNDING)
    page.part("sizes_assumed", lambda: page.words("A:H", "{assumed_note}"))
    page.part("gas_area", lambda: page.words("A:H", "{gas_note}"))


def _scope(page: Paper) -> None:
    for name, title in (
        ("included", "Included in the price"),
        ("provisionals", "In the price, provisional"),
        ("by_others", "Done by others, not in the price"),
        ("excluded", "Excluded: not done under this document"),
    ):
        page.listing(
            name,
            lambda title=title: page.titled(title, 3),  # type: ignore[misc]
            lambda: page.across("A:H", "{words}", font(9)),
        )

    def two(first: str, second: str) -> None:
        page.across("A:B", f"{{{first}}}", font(10, True))
        page.across("C:H", f"{{{second}}}")

    page.listing(
        "out_of_scope",
        lambda: page.titled("Not in this document at all", 3),
        lambda: two("name", "words"),
    )

    def quantities() -> None:
        page.titled("Quantities", 3)
        page.words("A:H", NET)
        labels = {"A": "What is counted", "D": "Net", "E": "Unit", "F": "In the price"}
        page.labels(labels, right="D", beside="EF")

    def quantity() -> None:
        page.across("A:C", "{counted}")
        row = page.row
        page.sheet[f"A{row}"].alignment = copy(MIDDLE)
        page.put("D", "{net}", font(9), number_format=MONEY, alignment=copy(RIGHT))
        page.put("E", "{unit}", font(9), alignment=copy(_BESIDE))
        page.put("F", "{standing}", font(9), alignment=copy(_BESIDE))
        page.whole_where_counted(f"D{row}", f"E{row}")
        page.stand_out(f"F{row}", f'$F{row}<>"in"')

    page.listing("counted_quantities", quantities, quantity)
    page.listing(
        "overrides",
        lambda: page.titled("Goes on although a check asks for more, and why", 3),
        lambda: two("gone_on", "reason"),
    )


def _hold_points(page: Paper) -> None:
    def head() -> None:
        page.titled("Not to be covered before it has been seen", 3)
        page.words("A:H", HOLDS)

    def line() -> None:
        page.across("A:B", "{name}", font(10, True))
        page.across("C:H", "{notice}", font(9))

    page.listing("hold_points", head, line)


def _rights(page: Paper) -> None:
    page.titled("Your right to cancel", 3)
    page.words("A:H", RIGHTS)
