"""How wide what comes from a lapped roll is laid, and how far it laps: as a bricklayer reads it."""

from ..language import *
from ..language.lookups import find, read
from ..language.units import FLAG
from . import ranking
from .needs import of_line


@rule
def widest(lap: Metres, net: Amount, own_width_laid: Column) -> Millimetres:
    """The widest width laid on this line. 0 for what is not lapped, or not needed."""
    return where(both(less(0, lap), less(0, net)), largest_of(own_width_laid), 0)


@rule
def narrowest(widest: Millimetres, own_width_laid: Column) -> Millimetres:
    """The narrowest width laid on this line. 0 for what is not lapped, or not needed."""
    return where(less(0, widest), smallest_of(own_width_laid, less(0, own_width_laid)), 0)


@rule
def uncut(widest: Millimetres, one_piece: Flag, own_piece: Column) -> Flag:
    """1 where each length of it comes from one roll: a lap is then only at a corner or a unit."""
    return where(less(0, widest * one_piece), where(less(0, largest_of(own_piece)), 1, 0), 0)


@rule
def laid_as(
    lap: Metres, narrowest: Millimetres, widest: Millimetres, uncut: Flag, trim_said: Text
) -> Text:
    """Its width and its laps in words, to be put behind what it is for. Nothing for other goods."""
    return where(
        given(widest),
        where(
            less(0, widest),
            one_text(
                ", ",
                where(less(narrowest, widest), one_text(in_figures(narrowest), " to "), ""),
                in_figures(widest),
                where(same(uncut, 1), " mm wide, in one piece, any lap ", " mm wide, laps "),
                in_figures(lap * 1000),
                where(same(trim_said, ""), " mm", " mm, wider rolls trimmed"),
            ),
            "",
        ),
        "",
    )


LAID_COLUMNS = (
    find("material_row", "Material no.", by="material", where="materials.key"),
    read("laps_as_tray", "A tray", FLAG, "materials.laps_as_tray", at="material_row"),
    worked(ranking.lap),
    worked(widest, "Widest laid", own_width_laid=of_line("width_laid")),
    worked(narrowest, "Narrowest laid", own_width_laid=of_line("width_laid")),
    worked(uncut, "In one piece", own_piece=of_line("piece")),
    worked(laid_as, "Laid as"),
)
