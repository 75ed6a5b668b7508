"""What still has to be measured or found out on site, however the lists were filled in."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from ..language import *


@rule
def old_walls_unknown(old_wall_kind: TextColumn) -> Each:
    """Existing walls of which nobody knows yet what they are."""
    return count_of(same(old_wall_kind, "unknown"))


@rule
def old_dpc_unknown(edge_kind: TextColumn) -> Each:
    """Edges at existing walls whose DPC nobody has found."""
    return count_of(same(edge_kind, "existing wall, DPC unknown"))


@rule
def old_walls_uncounted(cut_in_uncounted: Column) -> Each:
    """Trays in existing walls that cannot be counted."""
    return total(cut_in_uncounted)


@rule
def vents_unasked(extension_asked: Flag, extension_old_vents: Each) -> Flag:
    """1 while nobody has looked for air bricks that the floor would block."""
    return where(given(extension_old_vents), 0, extension_asked)


@rule
def cavities_unmeasured(wall_cavity: Column, wall_cavity_below: Column) -> Each:
    """New cavity walls with no clear depth below their DPC."""
    return count_of(less(0, wall_cavity), same(wall_cavity_below, 0))


@rule
def heights_unmeasured(wall_length_in_use: Column, wall_dpc_height: Column) -> Each:
    """New walls whose DPC has no height above the ground."""
    return count_of(less(0, wall_length_in_use), same(wall_dpc_height, 0))


@rule
def formations_taken(formations_assumed: Each) -> Each:
    """Floors whose formation follows from hardcore that is assumed."""
    return formations_assumed * 1


@rule
def radon_unasked(radon_area: Text) -> Flag:
    """1 while nobody has looked up radon and gas."""
    return where(same(radon_area, "unknown"), 1, 0)


@rule
def supplier_unchosen(supplier_choice: Text, supplier_one: Text) -> Flag:
    """1 while no supplier is chosen, and none is named."""
    return where(both(is_blank(supplier_choice), is_blank(supplier_one)), 1, 0)


@rule
def assumptions_left(figures_assumed: Each) -> Each:
    """Figures the form takes for granted."""
    return figures_assumed * 1


@rule
def house_corners(extension_wraps: Flag) -> Flag:
    """1 where the extension goes round a corner of the house, of which the form asks nothing."""
    return extension_wraps * 1


@rule
def answers_left(answers_blank: Each) -> Each:
    """Questions of the form that are not answered."""
    return answers_blank * 1


@rule
def work_left(work_line_figure: Column, work_line_amount: Column) -> Each:
    """Lines of work that come to nothing, because what they follow is nil."""
    return count_of(less(0, work_line_figure), same(work_line_amount, 0))


@rule
def allowances_left(figures_missing: Each, allowances_assumed: Each) -> Each:
    """Allowances that nobody gives a figure for, as far as this job needs them."""
    return figures_missing + allowances_assumed


@rule
def prices_old(book_price_old: Column) -> Each:
    """Products whose price is older than the office takes prices for good."""
    return total(book_price_old)


@dataclass(frozen=True)
class Question:
    """Something to find out: where, and the rule that counts how much of it is open."""

    key: str
    label: str
    find_out: str
    work: Callable[..., Any]


OPEN = (
    Question("answers_left", "Questions of the form left blank", "The blank cells among the answers on Start.",
             answers_left),
    Question("assumptions_left", "Figures that are assumed", "Listed above as assumed. Measure, then type them.",
             assumptions_left),
    Question("old_walls", "Existing walls of unknown kind", "Ask the owner, then open up one brick. Look for fill and services.",
             old_walls_unknown),
    Question("old_dpc", "DPC of the house not found", "Find its level along the wall. If there is none, ask the designer.",
             old_dpc_unknown),
    Question("uncounted", "Trays in walls that cannot be counted", "The designer details them. Put in a provisional sum until then.",
             old_walls_uncounted),
    Question("vents", "Air bricks the floor would block", "Look along the wall of the house, and under old floors.",
             vents_unasked),
    Question("corner", "Corner of the house inside the extension", "Its side is assumed to be like its back wall. Look, and ask the designer for tray and roof round the corner.",
             house_corners),
    Question("cavities", "Clear cavity below new DPCs", "Agree the depth with the foundation's designer.",
             cavities_unmeasured),
    Question("heights", "New DPC above finished ground", "Take levels of the paving as it will be.",
             heights_unmeasured),
    Question("formation", "Formation level", "Take it off the section, or dig a trial hole. Soft ground goes deeper and takes more hardcore.",
             formations_taken),
    Question("radon", "Radon or gas", "Look up the site on the public maps and ask building control.",
             radon_unasked),
    Question("allowances", "Allowances that the guidance does not state", "Assumed from common practice. Look at each and type the job's own on Guidance.",
             allowances_left),
    Question("work", "Lines of work that come to nothing", "See the note beside each on the Labour sheet.",
             work_left),
    Question("prices", "Prices older than they are good for", "Ask your suppliers again. Prices shows the day of each.",
             prices_old),
    Question("supplier", "Supplier", "Name one on Prices.", supplier_unchosen),
)  # fmt: skip

OPEN_QUESTIONS = Table(
    "open_questions",
    "open_question",
    "Still to be measured or found out",
    (
        Fixed("key", "Key", TEXT),
        Fixed("label", "To find out", TEXT),
        Varied("open", "Open", EACH, "How many are open.",
               rules=tuple(rule_of(q.work) for q in OPEN)),
        Fixed("find_out", "How", TEXT),
    ),
    key="key",
    guarded=False,
)  # fmt: skip
OPEN_ROWS = tuple({"key": q.key, "label": q.label, "find_out": q.find_out} for q in OPEN)


@rule
def questions_open(open_question_open: Column) -> Each:
    """Kinds of things that still have to be found out."""
    return count_of(less(0, open_question_open))


CELLS = (worked(questions_open, "Kinds of things still to find out"),)
