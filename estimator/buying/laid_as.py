"""How wide what comes from a lapped roll is laid, and how far it laps: as a bricklayer reads it."""

from ..language import *
from ..language.lookups import find, read
from ..language.units import FLAG
from . import ranking


@rule
def widest(lap: Metres, key: Text, need_width_laid: Column, need_line: TextColumn) -> Millimetres:
    """The widest width laid on this line. 0 for what is not lapped, or not needed."""
    return where(less(0, lap), largest_of(need_width_laid, same(need_line, key)), 0)


@rule
def narrowest(
    widest: Millimetres, key: Text, need_width_laid: Column, need_line: TextColumn
) -> Millimetres:
    """The narrowest width laid on this line. 0 for what is not lapped, or not needed."""
    return where(
        less(0, widest),
        smallest_of(need_width_laid, same(need_line, key), less(0, need_width_laid)),
        0,
    )


@rule
def uncut(
    widest: Millimetres, one_piece: Flag, key: Text, need_piece: Column, need_line: TextColumn
) -> Flag:
    """1 where each length of it comes from one roll: a lap is then only at a corner or a unit."""
    return where(
        less(0, widest * one_piece),
        where(less(0, largest_of(need_piece, same(need_line, key))), 1, 0),
        0,
    )


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
    worked(widest, "Widest laid"),
    worked(narrowest, "Narrowest laid"),
    worked(uncut, "In one piece"),
    worked(laid_as, "Laid as"),
)
