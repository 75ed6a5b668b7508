"""The sheet for site: hold points in order, what is counted at each, who is told, the
drawings. No prices."""

from ..language.units import AMOUNT
from ..model.plan import HOLD_BLOCKS
from .declaration import Document, Listed, Shown, cell, column, copied, listed, part
from .drawings import FOR_SITE, room_for
from .heads import ABOUT, BUILD, REPLACES, note
from .hold_points import counted
from .issue import Issuing


def _point(name: str, table: str) -> Listed[Issuing]:
    return listed(
        *(table, f"{table}_row", name),
        column("what", f"Counted at: {name}"),
        column("quantity", "Quantity", AMOUNT),
        column("unit", "Unit"),
        column("standing", "Whose, and how sure"),
        rows=lambda of: counted(of.job, name, table),
    )


def _words(name: str, table: str, words: str) -> Shown[Issuing]:
    """What to look for, whom to tell or where that stands, at a hold point that concerns the job."""
    return cell(
        *(words, words), lambda of: of.job.cell(words) if counted(of.job, name, table) else ""
    )


# A hold point without rows concerns nothing on the job, and is left out.
SITE_SHEET: Document[Issuing] = Document(
    lists=(
        REPLACES,
        *(_point(name, table) for name, table, _ in HOLD_BLOCKS),
        part("gas_area", "Radon or gas", lambda of: of.job.cell("gas_note")),
        room_for(*FOR_SITE),
    ),
    cells=(
        *ABOUT,
        note(BUILD),
        copied("site_nation", "Nation"),
        copied("gas_note", "Radon or gas"),
        *(_words(name, table, w) for name, table, words in HOLD_BLOCKS for w in words),
    ),
)
