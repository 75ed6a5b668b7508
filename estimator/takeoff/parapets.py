"""Parapets: DPC under the coping, held over the cavity, and a tray above the roof."""

from ..language import *
from .base_trays import weeps_on_ring
from .openings import inserts, tray_girth, vents, weeps_over


@rule
def with_tray(cavity: Millimetres) -> Flag:
    """1 where there is a cavity for a tray to cross."""
    return where(less(0, cavity), 1, 0)


@rule
def copings(length: Metres) -> Metres:
    """DPC under the coping, net: the full width of the wall all along it."""
    return length * 1


@rule
def supports(with_tray: Flag, length: Metres) -> Metres:
    """What holds that DPC over the cavity. Laid by others."""
    return with_tray * length


@rule
def trays(with_tray: Flag, length: Metres) -> Metres:
    """Tray above the roof, net: no laps."""
    return with_tray * length


@rule
def tray_corners(with_tray: Flag, corners: Each) -> Each:
    """Corners of that tray, each a lap of its full width."""
    return with_tray * corners


@rule
def stop_ends(with_tray: Flag, ends: Each) -> Each:
    """Stop ends: one at each open end of the tray."""
    return with_tray * ends


@rule
def weeps(
    with_tray: Flag,
    ends: Each,
    length: Metres,
    weep_first: Millimetres,
    weep_step: Millimetres,
    weeps_min: Each,
) -> Each:
    """Weeps: as along any level tray. Where no end is open, as round a ring."""
    return with_tray * where(
        same(ends, 0),
        weeps_on_ring(length, weep_step, weeps_min),
        weeps_over(length, weep_first, weep_step, weeps_min),
    )


@rule
def no_tray_height(with_tray: Flag, tray_height: Millimetres) -> Flag:
    """1 for a parapet whose tray has no height above the roof."""
    return where(both(less(0, with_tray), same(first_given(tray_height, 0), 0)), 1, 0)


@rule
def note(cavity: Millimetres) -> Text:
    """What is left to the designer."""
    return where(less(0, cavity), "", "solid wall: designer's detail")


PARAPETS = Table(
    "parapets",
    "parapet",
    "Parapets",
    (
        text("mark", "Ref", "The parapet's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("wall", "On wall", "The run it is built on, which gives its leaves and its cavity.",
             choice_of="walls.mark"),
        number("length", "Length", METRES, 0.2, 200, "On the outer leaf."),
        number("corners", "Corners", EACH, 0, 40, "Each a lap of the full width."),
        number("ends", "Open ends", EACH, 0, 20, "Each takes a stop end. 0 for a parapet that "
                                                 "goes all round."),
        number("tray_height", "Tray above roof", MILLIMETRES, 1, 1000,
               "Above the finished roof, at its lowest.", required=False),
        find("wall_row", "Wall no.", by="wall", where="walls.mark"),
        read("outer_leaf", "Outer leaf", MILLIMETRES, "walls.outer_leaf", at="wall_row"),
        read("cavity", "Cavity", MILLIMETRES, "walls.cavity", at="wall_row"),
        read("thickness", "Wall's width", MILLIMETRES, "walls.thickness", at="wall_row"),
        read("weep_step", "Weeps apart", MILLIMETRES, "walls.weep_step", at="wall_row"),
        read("weep_first", "First weep", MILLIMETRES, "walls.weep_first", at="wall_row"),
        worked(with_tray, "With tray"),
        worked(note),
        worked(copings, "Coping DPC, net"),
        worked(supports, "Held over cavity"),
        worked(trays, "Trays"),
        worked(tray_corners, "Tray corners"),
        worked(tray_girth, "Tray girth"),
        worked(stop_ends),
        worked(weeps),
        worked(inserts, "Inserts bought"),
        worked(vents, "Vents bought"),
        worked(no_tray_height, "Height not given"),
    ),
    grows=True,
    shown=("trays", "weeps",), said="note",
    spare=(2, 4),
)  # fmt: skip
