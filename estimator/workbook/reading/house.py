"""The firm's own bases that a workbook lists: the folder they come from must be named again.

Its sheets show each figure and clause, but anybody can type over them there. So the figures are
those of the folder, as a shipped basis's are those of the program; what differs is said and mended
like any other cell.
"""

from ...errors import FileError
from ...files.xlsx.cells import Sheets, place
from ...guidance import house
from ...guidance.basis import Basis
from ...model.plan import bases
from ..layout import Layout


def house_listed(sheets: Sheets, layout: Layout, name: str) -> tuple[Basis, ...]:
    """The firm's bases that stand in the workbook's list, in its order, as the folder has them.

    Raises FileError naming the first that is in no folder that was given.
    """
    span = layout.spans.get("bases")
    if span is None:
        return house.given()
    at_hand = {b.name: b for b in house.given()}
    shipped = {b.name for b in bases()}
    found = []
    for row in range(span.first, span.last + 1):
        stored = sheets.cells(span.sheet).get(place(f"{span.letters['name']}{row}"))
        listed = str(stored.value) if stored is not None else ""
        if listed in at_hand:
            found.append(at_hand[listed])
        elif listed and listed not in shipped:
            raise FileError(
                f"{name}: the list of bases",
                listed,
                f"a firm's own basis only where {house.OPTION} names the folder of its "
                f"{listed}.toml",
            )
    return tuple(found)
