"""Every need of the job, row by row, and the product its supplier would send for it.

Each line of the quantities has one row here for every row of the list it reads, spare rows and
all, so that an opening typed into a spare row is bought without anybody running a program.
"""

from ..language import *
from .packing import rolls_of_pieces


@rule
def present() -> Flag:
    """1 for a row that stands for something measured."""
    return 1


@rule
def wanted(net: Amount, bought: Flag) -> Amount:
    """What is to be bought of it: nothing where the line is excluded or by others."""
    return net * bought


@rule
def longest(piece: Metres, one_piece: Flag, cut_whole: Flag) -> Metres:
    """Length that must come from one roll, or one stock length.

    A tray's where trays are cut in one piece; always that of what is never joined.
    """
    return piece * most(one_piece, cut_whole)


@rule
def in_pieces(wanted: Amount, added: Amount, longest: Metres) -> Metres:
    """Metres cut as whole pieces, with the laps and turn-ups of each; the rest is joined."""
    return where(both(less(0, longest), less(0, wanted)), wanted + added, 0)


@rule
def to_join(wanted: Amount, added: Amount, in_pieces: Metres) -> Amount:
    """The rest of what is wanted, which may be joined from pack to pack; 0 where nothing is."""
    return where(less(0, wanted), wanted + added - in_pieces, 0)


@rule
def pick(
    wanted: Amount,
    slot: Each,
    material: Text,
    width: Millimetres,
    limit: Millimetres,
    book_preference: Column,
    book_slot: Column,
    book_material: TextColumn,
    book_usable: Column,
    book_width: Column,
    longest: Metres,
    book_length: Column,
) -> Each:
    """The product chosen, by its place in the order of choice; 0 when nothing stocked covers it.

    Not narrower than what it covers, and not wider than its limit where it has one.
    """
    return where(
        less(0, wanted),
        largest_of(
            book_preference,
            same(book_slot, slot),
            same(book_material, material),
            book_usable,
            at_most(width, book_width),
            at_most(book_width * less(0, limit), limit),
            at_most(longest, book_length),
        ),
        0,
    )


@rule
def uncovered(wanted: Amount, pick: Each) -> Flag:
    """1 when something is needed and nothing was found for it."""
    return where(both(less(0, wanted), same(pick, 0)), 1, 0)


@rule
def rolls(
    in_pieces: Metres, longest: Metres, pick: Each, book_length: Column, book_preference: Column
) -> Each:
    """Rolls when every piece is cut whole, counted for this one length."""
    return rolls_of_pieces(in_pieces, longest, largest_of(book_length, same(book_preference, pick)))


@rule
def corner_laps(corners: Each, pick: Each, book_width: Column, book_preference: Column) -> Metres:
    """Laps at corners: each as wide as the product chosen."""
    return corners * largest_of(book_width, same(book_preference, pick)) / 1000


SLOTS = ("one", "two", "three", "four", "five")

NEEDS = Table(
    "needs",
    "need",
    "Needs, and the product chosen for each",
    (
        Fixed("line", "Line", TEXT),
        Fixed("line_no", "Line no.", EACH),
        Fixed("at", "Row there", EACH),
        Fixed("cut_whole", "Never joined", FLAG),
        Linked("mark", "Mark", TEXT),
        worked(present),
        read("material", "Material", TEXT, "lines.material", at="line_no"),
        read("slot", "Supplier no.", EACH, "lines.slot", at="line_no"),
        read("stage_no", "Stage no.", EACH, "lines.stage_no", at="line_no"),
        Linked("net", "Net", AMOUNT),
        read("bought", "Bought", FLAG, "lines.bought", at="line_no"),
        read("provisional", "Provisional", FLAG, "lines.provisional", at="line_no"),
        worked(wanted, "To buy"),
        Linked("added", "Laps and turn-ups", AMOUNT),
        Linked("corners", "Corners", EACH),
        Linked("width", "Width, least", MILLIMETRES),
        Linked("limit", "Width, most", MILLIMETRES),
        Linked("piece", "Of one piece", METRES),
        worked(longest, "In one roll"),
        worked(in_pieces, "In whole pieces"),
        worked(to_join, "Joined"),
        worked(pick, "Product chosen"),
        worked(rolls, "Rolls by pieces"),
        worked(uncovered, "Not covered"),
        worked(corner_laps),
        *(worked(pick, f"From supplier {n}", f"pick_{s}", slot=n) for n, s in enumerate(SLOTS, 1)),
        *(
            worked(rolls, f"Rolls, supplier {n}", f"rolls_{s}", pick=OwnCell(f"pick_{s}"))
            for n, s in enumerate(SLOTS, 1)
        ),
    ),
)
