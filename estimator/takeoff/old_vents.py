"""Existing air bricks that a new floor would block: each is carried through to the outside."""

from ..language import *
from .openings import (
    PERPEND,
    inserts,
    stop_ends,
    tray_girth,
    tray_length,
    trays,
    vents,
    weeps,
    weeps_asked,
    weeps_each,
)


@rule
def duct_each(projection: Metres, new_wall: Millimetres, old_leaf: Millimetres) -> Metres:
    """Length of one duct: across the new floor, the new wall and the old outer leaf."""
    return projection + (new_wall + old_leaf) / 1000


@rule
def ducts(number: Each, duct_each: Metres) -> Metres:
    """Duct, net."""
    return number * duct_each


@rule
def duct_part(duct_each: Metres, stock: Metres) -> Metres:
    """What each duct needs beyond its whole lengths, so that it is joined nowhere else."""
    return to_six_places(duct_each - whole_down(duct_each / stock) * stock)


@rule
def duct_ends(number: Each, duct_part: Metres, stock: Metres) -> Metres:
    """Ends left over: of ducts alike, one length is cut into the parts of as many as it gives."""
    return (
        whole_up(divided(number, whole_down(divided(stock, duct_part)))) * stock
        - number * duct_part
    )


@rule
def duct_stock(old_vent_stock: Column) -> Metres:
    """The length in which ducts are bought, by which their couplers are counted."""
    return largest_of(old_vent_stock)


@rule
def stocks_disagree(
    old_vent_stock: Column,
    book_material: TextColumn,
    book_packs: Column,
    book_length: Column,
    duct_stock: Metres,
) -> Each:
    """Ducts bought in another length than the one typed, by which their couplers are counted."""
    return count_of(
        same(book_material, "duct"),
        less(0, book_packs),
        either(less(book_length, duct_stock), less(duct_stock, book_length)),
    ) + count_of(less(0, old_vent_stock), less(old_vent_stock, duct_stock))


@rule
def couplers(number: Each, duct_each: Metres, stock: Metres) -> Each:
    """Couplers: one where each length of duct ends and the next begins."""
    return number * (whole_up(duct_each / stock) - 1)


@rule
def with_tray(number: Each, cavity: Millimetres) -> Each:
    """Small trays over the new air bricks, where the new wall has a cavity."""
    return where(less(0, cavity), number, 0)


@rule
def width(air_brick: Millimetres) -> Metres:
    """Width of the new air brick."""
    return first_given(air_brick, PERPEND - 10) / 1000


OLD_VENTS = Table(
    "old_vents",
    "old_vent",
    "Existing air bricks carried through",
    (
        text("mark", "Ref", "The air brick's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("wall", "Out through wall", "The new wall it is carried to.", choice_of="walls.mark"),
        number("number", "Number", EACH, 1, 40, "How many alike: a duct each."),
        number("projection", "Clear projection", METRES, 0.1, 15,
               "From the face of the old wall to the inside of the new one, along the duct."),
        number("old_leaf", "Old outer leaf", MILLIMETRES, 50, 600,
               "What the duct crosses of the old wall."),
        number("size", "Duct size", MILLIMETRES, 50, 400, "Its width or diameter."),
        number("stock", "Duct's length", METRES, 0.3, 6, "Of the duct that is stocked."),
        number("air_brick", "Air brick", MILLIMETRES, 100, 450, "Its width. Blank: 215.",
               required=False),
        find("wall_row", "Wall no.", by="wall", where="walls.mark"),
        read("new_wall", "New wall", MILLIMETRES, "walls.thickness", at="wall_row"),
        read("outer_leaf", "Outer leaf", MILLIMETRES, "walls.outer_leaf", at="wall_row"),
        read("cavity", "Cavity", MILLIMETRES, "walls.cavity", at="wall_row"),
        read("weep_step", "Weeps apart", MILLIMETRES, "walls.weep_step", at="wall_row"),
        read("weep_first", "First weep", MILLIMETRES, "walls.weep_first", at="wall_row"),
        read("unit", "Whole brick", MILLIMETRES, "walls.unit_used", at="wall_row"),
        worked(duct_each, "Each duct"),
        worked(ducts, "Ducts, net"),
        worked(duct_part, "Part of a length"),
        worked(duct_ends, "Ends left over"),
        worked(couplers),
        worked(width, "Air brick's width"),
        worked(with_tray, "Small trays"),
        worked(tray_length, "Tray length", lintel="", closer="", tray_past_lintel=0),
        worked(tray_girth, "Tray girth"),
        worked(weeps_asked, "Weeps asked"),
        worked(weeps_each, "Weeps each"),
        worked(trays, lintel_tray=""),
        worked(stop_ends),
        worked(weeps),
        worked(inserts, "Inserts bought"),
        worked(vents, "Vents bought"),
    ),
    grows=True,
    shown=("ducts", "tray_length"),
    spare=(2, 4),
)  # fmt: skip
