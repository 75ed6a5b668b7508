"""What is asked of products: each demand once, and the product that each supplier would send for it.

Needs of one material, width and longest piece, from one supplier, are one demand. They are few, so
that a product is looked for in a short list, and a demand among all products only once for each
supplier.
"""

from ..language import *
from .needs import SUPPLIERS, longest
from .packing import rolls_of_pieces


@rule
def leader(position: Each, need_demand_no: Column) -> Each:
    """The first need of this demand; 0 where there are fewer."""
    return first_row(need_demand_no, position)


@rule
def mark(leader: Each, need_asked: TextColumn) -> Text:
    """What is asked, as one text; nothing in a spare row."""
    return where(less(0, leader), beside(need_asked, leader), "")


@rule
def pooled(position: Each, figure: Column, need_demand: Column) -> Amount:
    """Of all its needs together."""
    return sum_of(figure, same(need_demand, position))


@rule
def needs(position: Each, need_demand: Column) -> Each:
    """How many needs it is made of."""
    return count_of(same(need_demand, position))


@rule
def in_pieces(wanted: Amount, added: Amount, longest: Metres) -> Metres:
    """Metres cut as whole pieces, with the laps and turn-ups of each; the rest is joined."""
    return where(less(0, longest), wanted + added, 0)


@rule
def to_join(wanted: Amount, added: Amount, in_pieces: Metres) -> Amount:
    """The rest of what is wanted, which may be joined from pack to pack."""
    return wanted + added - in_pieces


@rule
def under_coping(position: Each, need_demand: Column, need_line: TextColumn) -> Each:
    """How many of its needs lie under copings."""
    return count_of(same(need_demand, position), same(need_line, "copings"))


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
    """The product that a supplier would send, by its place in the order of choice; 0 for none.

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
def chosen(
    slot: Each,
    pick_one: Each,
    pick_two: Each,
    pick_three: Each,
    pick_four: Each,
    pick_five: Each,
) -> Each:
    """The product chosen: that of the supplier it is bought from; 0 when nothing stocked covers it."""
    return where(
        less(0, slot),
        choose(most(1, slot), pick_one, pick_two, pick_three, pick_four, pick_five),
        0,
    )


@rule
def rolls(
    in_pieces: Metres, longest: Metres, pick: Each, book_length: Column, book_preference: Column
) -> Each:
    """Rolls when every piece is cut whole, counted for this one length."""
    return rolls_of_pieces(in_pieces, longest, largest_of(book_length, same(book_preference, pick)))


@rule
def width_bought(pick: Each, book_width: Column, book_preference: Column) -> Millimetres:
    """Width of the product chosen."""
    return largest_of(book_width, same(book_preference, pick))


def _pooled(name: str, label: str, figure: str) -> Worked:
    return worked(pooled, label, name, figure=WholeColumn("needs", figure))


DEMANDS = Table(
    "demands",
    "demand",
    "Demands, and the product chosen for each",
    (
        worked(leader, "First need"),
        worked(mark, "What is asked"),
        read("line_no", "First line no.", EACH, "needs.line_no", at="leader"),
        read("material", "Material", TEXT, "lines.material", at="line_no"),
        read("slot", "Supplier no.", EACH, "lines.slot", at="line_no"),
        read("stage_no", "Stage no.", EACH, "lines.stage_no", at="line_no",
             help="The first stage that has it: lines stand stage by stage."),
        read("width", "Width, least", MILLIMETRES, "needs.width", at="leader"),
        read("limit", "Width, most", MILLIMETRES, "needs.limit", at="leader"),
        read("piece", "Of one piece", METRES, "needs.piece", at="leader"),
        read("cut_whole", "Never joined", FLAG, "needs.cut_whole", at="leader"),
        worked(longest, "In one roll"),
        worked(needs),
        _pooled("wanted", "To buy", "wanted"),
        _pooled("added", "Laps and turn-ups", "added"),
        _pooled("corners", "Corners", "corners"),
        worked(in_pieces, "In whole pieces"),
        worked(to_join, "Joined"),
        _pooled("provisional", "Provisional needs", "provisional"),
        worked(under_coping, "Under copings"),
        *(worked(pick, f"From supplier {n}", f"pick_{s}", slot=n) for n, s in enumerate(SUPPLIERS, 1)),
        *(
            worked(rolls, f"Rolls, supplier {n}", f"rolls_{s}", pick=OwnCell(f"pick_{s}"))
            for n, s in enumerate(SUPPLIERS, 1)
        ),
        worked(chosen, "Product chosen", "pick"),
        worked(rolls, "Rolls by pieces"),
        worked(width_bought, "Width bought"),
    ),
    spare=(40, 80),
    since=6,
)  # fmt: skip
