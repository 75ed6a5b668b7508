"""What it costs to buy everything from one supplier, or as the job stands, drawn as bars to one scale.

Each bar is goods, and delivery behind them; in pounds without VAT. The figures to the penny are in the
list of suppliers.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ..language import *
from .frame import Words, fixed, words_table
from .strokes import BAR, numbered, stroke_table, strokes

SUPPLIERS_DRAWN = 5
STANDS = SUPPLIERS_DRAWN + 2  # the last bar: one for the cheapest mix, one for the job as it stands
FROM_X, WIDE = 4, 66  # of the frame
TOP, STEP, HIGH = 80, 11.5, 4  # of the frame: the first bar, from one to the next, how high each is
NAME_OFF, VALUE_OFF = 3.8, 1  # of the frame: words above a bar, and behind it


# ---- of each bar: whether it is known, goods, delivery, its name ------------------------------------------


@rule
def all_known(
    bar: Each,
    supplier_name: TextColumn,
    supplier_all_lacking: Column,
    supplier_all_unlaid: Column,
    supplier_all_unpriced: Column,
) -> Flag:
    """1 for a supplier that has everything, with a price."""
    return where(
        same(beside(supplier_name, bar), ""),
        0,
        where(
            less(
                0,
                beside(supplier_all_lacking, bar)
                + beside(supplier_all_unlaid, bar)
                + beside(supplier_all_unpriced, bar),
            ),
            0,
            1,
        ),
    )


@rule
def all_from(bar: Each, supplier_name: TextColumn) -> Text:
    """Whose it is. A blank for a supplier that is not named."""
    return where(
        same(beside(supplier_name, bar), ""), " ", one_text("All from ", beside(supplier_name, bar))
    )


@rule
def beside_it(bar: Each, column: Column) -> Pounds:
    """What is in that supplier's row."""
    return beside(column, bar)


@rule
def cheapest_known(cheapest_lacking: Each, rolls_beyond: Each) -> Flag:
    """1 where some supplier has all of each material."""
    return where(less(0, cheapest_lacking + rolls_beyond), 0, 1)


@rule
def stands_known(needs_uncovered: Each, prices_missing: Each, deliveries_missing: Each) -> Flag:
    """1 where all that is needed is bought, with a price."""
    return where(less(0, needs_uncovered + prices_missing + deliveries_missing), 0, 1)


@rule
def of_all(column: Column) -> Pounds:
    """Of all suppliers together."""
    return to_pence(total(column))


@rule
def called_cost(cost: Pounds) -> Pounds:
    """A cost that a named cell holds."""
    return cost


@rule
def called(words: Text) -> Text:
    """What a bar is called."""
    return words


def _rules(
    of_supplier: Callable[[int], Worked], cheapest: Worked, stands: Worked
) -> tuple[Worked, ...]:
    return (*(of_supplier(bar) for bar in range(1, SUPPLIERS_DRAWN + 1)), cheapest, stands)


def _suppliers(column: str) -> WholeColumn:
    return WholeColumn("suppliers", column)


@rule
def goods_long(known: Flag, goods: Pounds) -> Pounds:
    """Goods, where they are known. Else nothing is drawn."""
    return where(same(known, 1), goods, 0)


@rule
def delivered_long(known: Flag, delivered: Pounds) -> Pounds:
    """The same, delivered."""
    return where(same(known, 1), delivered, 0)


@rule
def costs_scale(cost_bar_long: Column) -> Amount:
    """Hundredths of the frame to a pound."""
    return divided(WIDE, largest_of(cost_bar_long))


@rule
def value_x(long: Pounds, costs_scale: Amount) -> Amount:
    """Behind the bar, from the left."""
    return FROM_X + long * costs_scale + VALUE_OFF


@rule
def value_says(known: Flag, name: Text, goods_drawn: Pounds, long: Pounds) -> Text:
    """Goods and delivery, in whole pounds."""
    return where(
        same(name, " "),
        " ",
        where(
            same(known, 1),
            one_text(
                "£",
                in_figures(whole_down(long + 0.5)),
                ", of it delivery £",
                in_figures(whole_down(long - goods_drawn + 0.5)),
            ),
            "not known: see above",
        ),
    )


COST_BARS = Table(
    "cost_bars",
    "cost_bar",
    "Costs drawn: each bar",
    (
        Fixed("bar", "Bar", TEXT),
        Varied("name", "What it is", TEXT, rules=_rules(
            lambda bar: worked(all_from, bar=bar),
            worked(called, words="Each material where it is cheapest"),
            worked(called, words="As the job is now"))),
        Varied("known", "Known", FLAG, rules=_rules(
            lambda bar: worked(all_known, bar=bar), worked(cheapest_known), worked(stands_known))),
        Varied("goods", "Goods", POUNDS, rules=_rules(
            lambda bar: worked(beside_it, bar=bar, column=_suppliers("all_goods")),
            worked(of_all, column=_suppliers("cheapest_goods")),
            worked(of_all, column=_suppliers("goods")))),
        Varied("delivered", "Delivered", POUNDS, rules=_rules(
            lambda bar: worked(beside_it, bar=bar, column=_suppliers("all_total")),
            worked(called_cost, cost=NamedCell("cheapest_each")),
            worked(called_cost, cost=NamedCell("cost_total")))),
        worked(goods_long, "Goods drawn", "goods_drawn"),
        worked(delivered_long, "Delivered, drawn", "long"),
        Fixed("name_x", "Name, from the left", AMOUNT),
        Fixed("name_y", "Name, from below", AMOUNT),
        worked(value_x, "Value, from the left"),
        Fixed("value_y", "Value, from below", AMOUNT),
        worked(value_says, "Value", "says"),
    ),
    key="bar",
    guarded=False,
    since=8,
)  # fmt: skip


def _middle(bar: int) -> float:
    return TOP - STEP * (bar - 1)


BAR_ROWS = tuple(
    {
        "bar": f"bar {bar}",
        "name_x": FROM_X,
        "name_y": _middle(bar) + NAME_OFF,
        "value_y": _middle(bar),
    }
    for bar in range(1, STANDS + 1)
)


# ---- the bars ---------------------------------------------------------------------------------------------


@rule
def box_x(
    of: Each,
    end: Flag,
    delivery: Flag,
    cost_bar_goods_drawn: Column,
    cost_bar_long: Column,
    costs_scale: Amount,
) -> Amount:
    """A corner of goods, or of the delivery behind them, from the left."""
    return FROM_X + costs_scale * where(
        same(end, 1),
        where(same(delivery, 1), beside(cost_bar_long, of), beside(cost_bar_goods_drawn, of)),
        where(same(delivery, 1), beside(cost_bar_goods_drawn, of), 0),
    )


@rule
def box_y(of: Each, up: Amount, cost_bar_long: Column) -> Amount:
    """The same, from below. Flat where nothing is known, or nothing is bought."""
    return TOP - STEP * (of - 1) + where(less(0, beside(cost_bar_long, of)), up, 0)


COST_BOXES = stroke_table(
    "cost_boxes",
    "cost_box",
    "Costs drawn: goods and delivery",
    "Corner",
    Fixed("of", "Bar no.", EACH),
    Fixed("delivery", "1 of delivery", FLAG),
    Fixed("end", "1 at its end", FLAG),
    Fixed("up", "From its middle", AMOUNT),
    worked(box_x, "From the left", "x"),
    worked(box_y, "From below", "y"),
)
BOX_ROWS = strokes(
    numbered(
        f"{of}, {part}",
        ({"of": of, "delivery": part, "end": end, "up": up * HIGH / 2} for end, up in BAR),
    )
    for part in (0, 1)
    for of in range(1, STANDS + 1)
)


def rows_of(delivery: bool) -> tuple[int, int]:
    """The first and the last row of goods, or of delivery, counted from 1."""
    half = len(BOX_ROWS) // 2
    return (half + 1, 2 * half) if delivery else (1, half)


_WORDS: Words = (
    ("title", fixed(2), fixed(97), worked(called, words="What it would cost, delivered, without VAT")),
    ("what", fixed(2), fixed(93.7), worked(called, words=(
        "In whole pounds. Heavy: goods, fine: delivery, one drop from each. The lists above have the pence."))),
    ("more", fixed(2), fixed(90.9), worked(called, words=(
        "estimator cheapest finds the cheapest mix, and proves it."))),
)  # fmt: skip
COST_WORDS = words_table("cost_words", "cost_word", "Costs drawn: title and words", _WORDS, 8)

CELLS: tuple[Item, ...] = (worked(costs_scale, "Scale of the costs"),)
TABLES = (COST_BARS, COST_BOXES, COST_WORDS)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "cost_bars": BAR_ROWS,
    "cost_boxes": BOX_ROWS,
    "cost_words": tuple({"name": name} for name, *_ in _WORDS),
}
