"""What the drawn templates share: parts that may be left out, lists, paragraphs."""

from collections.abc import Callable, Mapping
from copy import copy

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, Protection, Side
from openpyxl.workbook.defined_name import DefinedName

from ...workbook.page import BRICK, FAINT, LINE, TYPED, Page, fill, font

MIDDLE = Alignment(wrap_text=True, vertical="center")
RIGHT = Alignment(horizontal="right", vertical="center")
BETWEEN = Border(bottom=Side("hair", color=LINE))
MONEY = "#,##0.00"
MONEY_OR_DASH = "#,##0.00;-#,##0.00;–"


class Paper(Page):
    """A page of a document that leaves the desk: drawn from the top, its parts named."""

    keeps_kinds = False

    def __init__(
        self,
        book: Workbook,
        title: str,
        heading: str,
        columns: Mapping[str, float],
        wide: bool = False,
        lies: Alignment = MIDDLE,
    ) -> None:
        super().__init__(book, title, heading, "", landscape=wide)
        self.lies = lies  # how a text across columns does in its row
        for letter, width in columns.items():
            self.sheet.column_dimensions[letter].width = width
        self.columns = tuple(columns)
        self.first, self.last = self.columns[0], self.columns[-1]
        self.print_to = self.last
        self.row = 2

    def area(self, name: str, top: int, bottom: int) -> None:
        """Name some rows."""
        text = f"{self.sheet.title}!${self.first}${top}:${self.last}${bottom}"
        self.book.defined_names[name] = DefinedName(name, attr_text=text)

    def gap(self, height: float = 8) -> None:
        """A low empty row."""
        self.sheet.row_dimensions[self.row].height = height
        self.row += 1

    def words(self, columns: str, text: str, face: Font | None = None, height: float = 13) -> None:
        """A paragraph across columns; its row is made as tall as it needs when it is stamped."""
        self.across(columns, text, face)
        self.sheet.row_dimensions[self.row].height = height
        self.row += 1

    def across(self, columns: str, text: str, face: Font | None = None) -> None:
        """A text across columns of the present row."""
        first, last = columns.split(":")
        self.sheet.merge_cells(f"{first}{self.row}:{last}{self.row}")
        self.put(first, text, face or font(10), alignment=copy(self.lies))

    def part(self, name: str, draw: Callable[[], None]) -> None:
        """Rows that are left out where the list of that name has no row; a low row ends them."""
        top = self.row
        draw()
        self.area(f"{name}_head", top, self.row - 1)
        self.area(f"{name}_line", self.row, self.row)
        self.gap(3)

    def replacing(self) -> None:
        """What it replaces, from the second issue on, under the heading of the sheet."""
        words = f"{self.first}:{self.last}", "{replaces_note}", font(10, True, BRICK)
        self.part("replaces", lambda: self.words(*words))

    def listing(
        self, name: str, head: Callable[[], None], line: Callable[[], None], height: float = 13
    ) -> None:
        """A head and one line of places; both are left out where the list has no row."""
        top = self.row
        head()
        self.area(f"{name}_head", top, self.row - 1)
        line()
        self.sheet.row_dimensions[self.row].height = height
        self.area(f"{name}_line", self.row, self.row)
        self.row += 1

    def titled(self, text: str, room: float = 0) -> None:
        """A heading after a gap, ruled over the whole width, and room under its rule."""
        self.gap()
        self.heading(text, self.columns)
        if room:
            self.gap(room)

    def labels(self, texts: Mapping[str, str], right: str = "", beside: str = "") -> None:
        """Small labels above the columns of a list: those in `right` stand at the right, and those
        in `beside` keep off a figure that does."""
        for letter, text in texts.items():
            across = "right" if letter in right else "left"
            cell = self.put(letter, text, font(8, colour=FAINT))
            cell.alignment = Alignment(horizontal=across, vertical="bottom")
        for letter in beside:
            cell = self.sheet[f"{letter}{self.row}"]
            cell.alignment = Alignment(horizontal="left", vertical="bottom", indent=1)
        for letter in self.columns:
            self.sheet[f"{letter}{self.row}"].border = BETWEEN
        self.row += 1

    def to_fill_in(self, cell: str) -> None:
        """A cell that stays open in the locked sheet, to be written in."""
        self.sheet[cell].protection = Protection(locked=False)
        self.sheet[cell].fill = fill(TYPED)
        self.sheet[cell].border = Border(bottom=Side("thin", color=BRICK))

    def finished(self) -> None:
        """One page wide, as many high as it takes."""
        self.finish(last_row=self.row - 1)
