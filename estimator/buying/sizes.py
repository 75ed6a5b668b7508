"""Which widths of a material that may be trimmed are bought, so that they cost least together.

A narrow roll need not be the cheapest: a wider one may cost less, or have room left for more. The
rolls of one supplier and material are looked at from the narrowest width up. At each width all
that is needed so far may be bought in several ways: this width serves its own needs only, or those
of the next one, two or all narrower widths as well, and the rest as was best for what is narrower.
The way that costs least is kept, the first of those that cost alike, so that narrower goes before
wider. The first way throughout is the narrowest that covers, so no job costs more than with that.
A roll in none of the ways kept is left out: it is not chosen (ranking.py).
"""

from collections.abc import Iterator
from typing import Any

from ..language import *
from ..language.tables import OwnCell, RowAbove
from . import if_chosen, taking
from .trimming import corner_width

BARRED = 100000000  # £: dearer than any job


@rule
def product(position: Each, book_size_no: Column) -> Each:
    """Its row of the price book."""
    return first_row(book_size_no, position)


@rule
def mark(product: Each, book_code: TextColumn) -> Text:
    """Its code. Nothing in a spare row."""
    return where(less(0, product), beside(book_code, product), "")


@rule
def bought_here(
    slot: Each, material: Text, demand_slot: Column, demand_material: TextColumn
) -> Flag:
    """1 where any of it is bought from this supplier. Else all of it is taken as if it were."""
    return where(less(0, count_of(same(demand_slot, slot), same(demand_material, material))), 1, 0)


@rule
def as_wide(group: Each, width: Millimetres, above_group: Each, above_width: Millimetres) -> Flag:
    """1 where the row before is of the same supplier, material and width."""
    return where(both(same(above_group, group), same(above_width, width)), 1, 0)


@rule
def bit(group: Each, as_wide: Flag, above_group: Each, above_bit: Each) -> Each:
    """What stands for its width in a chain of widths: 1, 2, 4 ... from the narrowest."""
    return where(same(above_group, group), above_bit * (2 - as_wide), 1)


@rule
def next_before(
    group: Each, above_group: Each, as_wide: Flag, before_above: Amount, best_above: Amount
) -> Amount:
    """A figure of the best for all narrower widths."""
    return where(same(above_group, group), where(same(as_wide, 1), before_above, best_above), 0)


@rule
def far_before(
    group: Each,
    above_group: Each,
    as_wide: Flag,
    above_needed: Flag,
    before_above: Amount,
    nearer_above: Amount,
) -> Amount:
    """The same without the widest one, or two, of which anything is needed."""
    return where(
        same(above_group, group),
        where(less(as_wide, above_needed), nearer_above, before_above),
        0,
    )


@rule
def barred(
    width: Millimetres,
    material: Text,
    slot: Each,
    bought_here: Flag,
    trims_to_save: Flag,
    demand_width: Column,
    demand_limit: Column,
    demand_material: TextColumn,
    demand_slot: Column,
) -> Millimetres:
    """Widest need that it may not serve in place of a narrower roll, as it would be trimmed."""
    return (1 - trims_to_save) * largest_of(
        demand_width,
        same(demand_material, material),
        same(demand_slot * bought_here, slot * bought_here),
        less(demand_width, width),
        less(demand_limit, width),
    )


@rule
def served(
    low: Millimetres,
    width: Millimetres,
    material: Text,
    slot: Each,
    bought_here: Flag,
    demand_to_join: Column,
    demand_corners: Column,
    demand_laid_most: Column,
    demand_material: TextColumn,
    demand_slot: Column,
    demand_width: Column,
) -> Amount:
    """Net, laps and turn-ups of the needs wider than `low` that it covers."""
    return sum_of(
        demand_to_join + demand_corners * corner_width(width, demand_laid_most) / 1000,
        less(0, demand_to_join),
        same(demand_material, material),
        same(demand_slot * bought_here, slot * bought_here),
        less(low, demand_width),
        at_most(demand_width, width),
    )


@rule
def needed(served_own: Amount) -> Flag:
    """1 where anything needs this width and no narrower one."""
    return where(less(0, served_own), 1, 0)


@rule
def total_own(total_next: Pounds, cost_own: Pounds) -> Pounds:
    """Cost up to here where it serves its own needs only."""
    return total_next + cost_own


@rule
def total_with(barred: Millimetres, low: Millimetres, total: Pounds, cost: Pounds) -> Pounds:
    """Cost up to here where it serves narrower needs as well. BARRED where it may not."""
    return where(at_most(barred, low), total + cost, BARRED)


@rule
def least_total(own: Pounds, *others: Pounds) -> Pounds:
    """The least of the ways."""
    return least(own, *others)


@rule
def own_chain(
    bit: Each,
    own_total: Pounds,
    total_own: Pounds,
    total_two: Pounds,
    total_three: Pounds,
    chain_next: Each,
    chain_second: Each,
    chain_third: Each,
) -> Each:
    """The widths bought by the way that costs least, as one number: the first of those alike."""
    return bit + where(
        at_most(total_own, own_total),
        chain_next,
        where(
            at_most(total_two, own_total),
            chain_second,
            where(at_most(total_three, own_total), chain_third, 0),
        ),
    )


@rule
def goes_after(as_wide: Flag, above_best_total: Pounds, own_total: Pounds) -> Flag:
    """1 where a row before, as wide, costs no more."""
    return where(both(same(as_wide, 1), at_most(above_best_total, own_total)), 1, 0)


@rule
def best(goes_after: Flag, own: Amount, best_above: Amount) -> Amount:
    """A figure of the best so far of this width."""
    return where(same(goes_after, 1), best_above, own)


@rule
def last_row(
    position: Each,
    group: Each,
    width: Millimetres,
    size_group: Column,
    size_width: Column,
    size_position: Column,
) -> Flag:
    """1 for the last row of its width, which knows the best of all as wide."""
    return where(
        less(0, group),
        where(
            less(
                0,
                count_of(
                    same(size_group, group),
                    same(size_width, width),
                    less(position, size_position),
                ),
            ),
            0,
            1,
        ),
        0,
    )


@rule
def chain(
    group: Each,
    size_position: Column,
    size_group: Column,
    size_best_chain: Column,
) -> Each:
    """The widths bought of this supplier and material: those kept in the last row."""
    return where(
        less(0, group),
        beside(size_best_chain, largest_of(size_position, same(size_group, group))),
        0,
    )


@rule
def bought(last_row: Flag, bit: Each, chain: Each) -> Flag:
    """1 where this width is among those bought."""
    return last_row * (whole_down(chain / most(1, bit)) - 2 * whole_down(chain / most(1, 2 * bit)))


NARROWER = ("next", "second", "third")  # widths looked back on, of which anything is needed


def _before(what: str, label: str, best: str) -> Iterator[Worked]:
    """That figure of the best for all narrower widths, with the next one, two or three left out."""
    nearer = None
    for far in NARROWER:
        own = RowAbove(f"{what}_{far}")
        yield (
            worked(far_before, f"{label}, {far}", f"{what}_{far}", before_above=own,
                   nearer_above=RowAbove(nearer))
            if nearer
            else worked(next_before, f"{label}, {far}", f"{what}_{far}", before_above=own,
                        best_above=RowAbove(best))
        )  # fmt: skip
        nearer = f"{what}_{far}"


def _way(way: str, label: str, low: Any) -> tuple[Worked, ...]:
    """What it would serve from that width up, in packs and pounds."""
    return (
        worked(served, f"{label}: to cover", f"served_{way}", low=low),
        worked(if_chosen.if_packs, f"{label}: packs", f"packs_{way}", by_area=0, if_cut=0,
               if_joined=OwnCell(f"served_{way}")),
        worked(taking.cost, f"{label}: cost", f"cost_{way}", packs=OwnCell(f"packs_{way}"),
               net_price=OwnCell("ranked_price")),
    )  # fmt: skip


def _with(way: str, label: str, low: Any, total: Any) -> tuple[Worked, ...]:
    """The same, and what all costs up to here."""
    return (
        *_way(way, label, low),
        worked(total_with, f"{label}: in all", f"total_{way}", low=low, total=total,
               cost=OwnCell(f"cost_{way}")),
    )  # fmt: skip


SIZES = Table(
    "sizes",
    "size",
    "Rolls whose widths are compared, the narrowest first",
    (
        worked(product, "Row of the price book"),
        worked(mark, "Code"),
        read("group", "Supplier and material", EACH, "book.width_group", at="product"),
        read("slot", "Supplier no.", EACH, "book.slot", at="product"),
        read("material", "Material", TEXT, "book.material", at="product"),
        read("width", "Width", MILLIMETRES, "book.width", at="product"),
        read("content", "Pack holds", AMOUNT, "book.content", at="product"),
        read("lap", "Lap", METRES, "book.lap", at="product"),
        read("wastage", "Wastage", PERCENT, "book.wastage", at="product"),
        read("minimum_packs", "Fewest packs", EACH, "book.minimum_packs", at="product"),
        read("ranked_price", "Price as ranked", POUNDS, "book.ranked_price", at="product"),
        worked(bought_here),
        worked(as_wide, "As wide as the row before"),
        worked(bit, "Stands for its width"),
        *_before("low", "Narrower width", "width"),
        *_before("total", "Cost to there", "best_total"),
        *_before("chain", "Bought to there", "best_chain"),
        worked(barred, "Widest need it may not take over"),
        *_way("own", "Own needs", OwnCell("low_next")),
        worked(needed, "Has needs of its own"),
        worked(total_own, "Own needs: in all"),
        *_with("two", "With one narrower", OwnCell("low_second"), OwnCell("total_second")),
        *_with("three", "With two narrower", OwnCell("low_third"), OwnCell("total_third")),
        *_with("all", "With all narrower", 0, 0),
        worked(least_total, "Least", "own_total", own=OwnCell("total_own"),
               others=tuple(OwnCell(f"total_{w}") for w in ("two", "three", "all"))),
        worked(own_chain, "Bought, so"),
        worked(goes_after, "Costs no less"),
        *(
            worked(best, f"Best so far: {what}", f"best_{what}", own=OwnCell(own),
                   best_above=RowAbove(f"best_{what}"))
            for what, own in (("total", "own_total"), ("chain", "own_chain"),
                              ("product", "product"))
        ),
        worked(last_row, "Last of its width"),
        worked(chain, "Widths bought"),
        worked(bought, "Is bought"),
    ),
    spare=(8, 24),
    since=11,
)  # fmt: skip
