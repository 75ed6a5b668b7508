"""What is asked of products: each demand once, and the product that each supplier would send for it.

Needs of one material, width and longest piece, from one supplier, are one demand. They are few, so
that a product is looked for in a short list, and a demand among all products only once for each
supplier.
"""

from ..language import *
from .cutting import cut_no
from .needs import SUPPLIERS, longest
from .packing import rolls_of_pieces
from .ranking import MANY_MATERIALS
from .trimming import trim_to


@rule
def leader(position: Each, need_demand_no: Column) -> Each:
    """The first need of this demand. 0 where there are fewer."""
    return first_row(need_demand_no, position)


@rule
def mark(leader: Each, need_mark: TextColumn) -> Text:
    """The ref of its first need. Nothing in a spare row."""
    return where(less(0, leader), beside(need_mark, leader), "")


@rule
def needs(position: Each, need_demand: Column) -> Each:
    """How many needs it is made of."""
    return count_of(same(need_demand, position))


@rule
def pooled(
    needs: Each, leader: Each, position: Each, figure: Column, need_demand: Column
) -> Amount:
    """Of all its needs together. Many are made of one alone."""
    return where(
        same(needs, 1), beside(figure, leader), sum_of(figure, same(need_demand, position))
    )


@rule
def in_pieces(wanted: Amount, added: Amount, longest: Metres) -> Metres:
    """Metres cut as whole pieces, with the laps and turn-ups of each. The rest is joined."""
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
def best(
    seller: Text,
    slot: Each,
    material_no: Each,
    width: Millimetres,
    limit: Millimetres,
    longest: Metres,
    book_first_rank: Column,
    book_sold_as: Column,
    book_width: Column,
    book_length: Column,
) -> Amount:
    """What counts first, of the best product that covers it. NOTHING or more where none does.

    Not narrower than what it covers, not wider than its limit where it has one, and no shorter
    than its longest piece.
    """
    return where(
        is_blank(seller),
        NOTHING,
        smallest_of(
            book_first_rank,
            same(book_sold_as, slot * MANY_MATERIALS + material_no),
            at_most(width, book_width),
            at_most(book_width * less(0, limit), limit),
            at_most(longest, book_length),
        ),
    )


@rule
def next_best(
    slot: Each,
    material_no: Each,
    longest: Metres,
    best: Amount,
    book_second_rank: Column,
    book_sold_as: Column,
    book_first_rank: Column,
    book_length: Column,
) -> Amount:
    """What counts next, of the best among those. NOTHING or more where none covers it."""
    return where(
        less(best, NOTHING),
        smallest_of(
            book_second_rank,
            same(book_sold_as, slot * MANY_MATERIALS + material_no),
            same(book_first_rank, best),
            at_most(longest, book_length),
        ),
        NOTHING,
    )


@rule
def untrimmed(
    slot: Each,
    material_no: Each,
    longest: Metres,
    best: Amount,
    next_best: Amount,
    book_position: Column,
    book_sold_as: Column,
    book_first_rank: Column,
    book_second_rank: Column,
    book_length: Column,
) -> Each:
    """The product that a supplier has for it as it comes: its row of the price book. 0 for none.

    Among equals the first in the list.
    """
    return where(
        less(best, NOTHING),
        smallest_of(
            book_position,
            same(book_sold_as, slot * MANY_MATERIALS + material_no),
            same(book_first_rank, best),
            same(book_second_rank, next_best),
            at_most(longest, book_length),
        ),
        0,
    )


@rule
def pick(untrimmed: Each, book_instead: Column) -> Each:
    """The product that a supplier would send: that one, or a wider roll to be trimmed. 0 for none."""
    return where(
        less(0, untrimmed),
        where(less(0, beside(book_instead, untrimmed)), beside(book_instead, untrimmed), untrimmed),
        0,
    )


@rule
def laps(added: Amount, corners: Each, untrimmed: Each, book_width: Column) -> Amount:
    """Laps and turn-ups, and laps at corners as wide as what is laid. 0 where nothing covers it."""
    return where(less(0, untrimmed), added + corners * (beside(book_width, untrimmed) / 1000), 0)


@rule
def chosen(
    slot: Each,
    pick_one: Each,
    pick_two: Each,
    pick_three: Each,
    pick_four: Each,
    pick_five: Each,
) -> Each:
    """The product chosen: that of the supplier it is bought from. 0 when nothing stocked covers it."""
    return where(
        less(0, slot),
        choose(most(1, slot), pick_one, pick_two, pick_three, pick_four, pick_five),
        0,
    )


@rule
def rolls(in_pieces: Metres, longest: Metres, pick: Each, book_length: Column) -> Each:
    """Rolls when every piece is cut whole, counted for this one length. 0 where nothing covers it."""
    return where(
        less(0, in_pieces * pick), rolls_of_pieces(in_pieces, longest, beside(book_length, pick)), 0
    )


@rule
def width_laid(untrimmed: Each, book_width: Column) -> Millimetres:
    """Width that is laid: a wider roll is trimmed to it."""
    return where(less(0, untrimmed), beside(book_width, untrimmed), 0)


@rule
def counted_with(pick: Each, book_counted_with: Column) -> Each:
    """The row of the price book that serves it: by a cutting plan, that of its kind."""
    return where(less(0, pick), beside(book_counted_with, pick), 0)


def _pooled(name: str, label: str, figure: str) -> Worked:
    return worked(pooled, label, name, figure=WholeColumn("needs", figure))


DEMANDS = Table(
    "demands",
    "demand",
    "Demands, and the product chosen for each",
    (
        worked(leader, "First need"),
        worked(mark, "Ref"),
        read("line_no", "First line no.", EACH, "needs.line_no", at="leader"),
        read("material", "Material", TEXT, "lines.material", at="line_no"),
        read("material_no", "Material no.", EACH, "lines.material_row", at="line_no"),
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
        *(
            column
            for n, s in enumerate(SUPPLIERS, 1)
            for column in (
                worked(best, f"Best of supplier {n}", f"best_{s}", slot=n,
                       seller=NamedCell(f"supplier_{s}")),
                worked(next_best, f"Next best of supplier {n}", f"next_best_{s}", slot=n,
                       best=OwnCell(f"best_{s}")),
                worked(untrimmed, f"Untrimmed from supplier {n}", f"untrimmed_{s}", slot=n,
                       best=OwnCell(f"best_{s}"), next_best=OwnCell(f"next_best_{s}")),
                worked(laps, f"All laps, supplier {n}", f"laps_{s}",
                       untrimmed=OwnCell(f"untrimmed_{s}")),
                worked(pick, f"From supplier {n}", f"pick_{s}",
                       untrimmed=OwnCell(f"untrimmed_{s}")),
            )
        ),
        *(
            worked(rolls, f"Rolls, supplier {n}", f"rolls_{s}", pick=OwnCell(f"pick_{s}"))
            for n, s in enumerate(SUPPLIERS, 1)
        ),
        worked(chosen, "Product chosen", "pick"),
        worked(chosen, "Laid as wide as", "untrimmed",
               **{f"pick_{s}": OwnCell(f"untrimmed_{s}") for s in SUPPLIERS}),
        worked(cut_no, "Cut no."),
        worked(rolls, "Rolls by pieces"),
        worked(width_laid),
        worked(trim_to, "Trimmed to"),
        worked(laps, "All laps"),
        worked(counted_with, "Product served by"),
    ),
    spare=(40, 80),
    since=6,
)  # fmt: skip
