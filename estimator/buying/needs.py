"""Every need of the job, row by row.

Each line of the quantities has one row here for every row of the list it reads, spare rows and
all, so that an opening typed into a spare row is bought without anybody running a program. Needs
that ask the same of a product are one demand (demands.py).
"""

from ..language import *
from .trimming import need_trim_to


@rule
def wanted(net: Amount, line_no: Each, line_bought: Column) -> Amount:
    """What is to be bought of it: nothing where the line is excluded or by others."""
    return where(less(0, net), net * beside(line_bought, line_no), 0)


@rule
def longest(piece: Metres, one_piece: Flag, cut_whole: Flag) -> Metres:
    """Length that must come from one roll, or one stock length.

    A tray's where trays are cut in one piece. Always that of what is never joined.
    """
    return piece * most(one_piece, cut_whole)


@rule
def asked(
    wanted: Amount,
    line_no: Each,
    width: Millimetres,
    limit: Millimetres,
    piece: Metres,
    one_piece: Flag,
    cut_whole: Flag,
    line_asks: TextColumn,
) -> Text:
    """What is asked of a product, and of which supplier, as one text. Nothing where nothing is."""
    return where(
        less(0, wanted),
        label_of(beside(line_asks, line_no), width, limit, longest(piece, one_piece, cut_whole)),
        "",
    )


@rule
def first(wanted: Amount, asked: Text, need_asked: TextColumn) -> Each:
    """The first row here that asks the same. 0 where nothing is asked, or it is not known what."""
    return where(less(0, first_given(wanted, 0)), first_row(need_asked, asked), 0)


@rule
def demand_no(first: Each, position: Each, need_first: Column, need_position: Column) -> Each:
    """Which demand it is the first of, counted from 1. 0 for all others."""
    return where(
        both(less(0, first), same(first, position)),
        count_of(same(need_first, need_position), less(need_position, position + 1)),
        0,
    )


@rule
def demand(wanted: Amount, first: Each, need_demand_no: Column, demand_position: Column) -> Each:
    """The demand it is part of. 0 where there is none, or no room for it."""
    return where(
        less(0, wanted),
        available(
            less(0, first),
            where(
                at_most(beside(need_demand_no, first), largest_of(demand_position)),
                beside(need_demand_no, first),
                0,
            ),
        ),
        0,
    )


@rule
def provisional(demand: Each, line_no: Each, line_provisional: Column) -> Flag:
    """1 where it is bought, and its line is provisional."""
    return where(less(0, demand), beside(line_provisional, line_no), 0)


@rule
def uncovered(demand: Each, demand_pick: Column) -> Flag:
    """1 when something is needed and nothing was found for it."""
    return where(less(0, demand), where(same(beside(demand_pick, demand), 0), 1, 0), 0)


@rule
def corner_laps(corners: Each, demand: Each, demand_width_laid: Column) -> Metres:
    """Laps at corners: each as wide as what is laid."""
    return where(less(0, demand), corners * beside(demand_width_laid, demand) / 1000, 0)


@rule
def width_laid(
    net: Amount, width: Millimetres, demand: Each, demand_width_laid: Column
) -> Millimetres:
    """How wide it is laid: as the demand it is part of, or as it must at least be where none is."""
    return where(
        less(0, net),
        most(width, where(less(0, demand), beside(demand_width_laid, demand), 0)),
        0,
    )


@rule
def needs_beyond(need_wanted: Column, need_demand: Column) -> Each:
    """Needs of other widths or lengths than there is room for."""
    return count_of(less(0, need_wanted), same(need_demand, 0))


SUPPLIERS = ("one", "two", "three", "four", "five")


def of_line(column: str) -> OwnRows:
    """The needs of the line at hand: they are laid out line by line."""
    return OwnRows("needs", column, "line_no")


NEEDS = Table(
    "needs",
    "need",
    "Needs, row by row",
    (
        Fixed("line", "Line", TEXT),
        Fixed("line_no", "Line no.", EACH),
        Fixed("at", "Row there", EACH),
        Fixed("cut_whole", "Never joined", FLAG),
        Linked("mark", "Ref", TEXT),
        Linked("net", "Net", AMOUNT),
        worked(wanted, "To buy"),
        Linked("added", "Laps and turn-ups", AMOUNT),
        Linked("corners", "Corners", EACH),
        Linked("width", "Width, least", MILLIMETRES),
        Linked("limit", "Width, most", MILLIMETRES),
        Linked("piece", "Of one piece", METRES),
        worked(asked, "What is asked"),
        worked(first, "First that asks it"),
        worked(demand_no, "First of demand no."),
        worked(demand, "Demand no."),
        worked(provisional),
        worked(uncovered, "Not covered"),
        worked(corner_laps),
        worked(need_trim_to, "Trimmed to", "trim_to"),
        worked(width_laid, "Width laid"),
    ),
    gone=frozenset(
        (
            *("present", "material", "slot", "stage_no", "bought", "longest", "in_pieces"),
            *("to_join", "pick", "rolls"),
            *(f"{what}_{n}" for what in ("pick", "rolls") for n in SUPPLIERS),
        )
    ),
)
