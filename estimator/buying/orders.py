"""The order lists: for each supplier what to ring up for, what it is for, and what will be left."""

from ..rules import Table, beside, count_of, less, rule, same, sum_of, where, worked
from ..rules.units import Amount, Column, Each, Flag, Pounds, Text, TextColumn


@rule
def book_row(position: Each, book_order_no: Column, book_position: Column) -> Each:
    """The price book's row on this line of the order lists; 0 past the last line."""
    return sum_of(book_position, same(book_order_no, position))


@rule
def supplier(book_row: Each, book_supplier: TextColumn) -> Text:
    """Whom to order it from."""
    return where(less(0, book_row), beside(book_supplier, book_row), "")


@rule
def starts_list(position: Each, book_row: Each, book_slot: Column, book_order_no: Column) -> Flag:
    """1 on the first line of each supplier's list."""
    return where(
        same(
            count_of(
                same(book_slot, beside(book_slot, book_row)),
                less(0, book_order_no),
                less(book_order_no, position),
            ),
            0,
        ),
        1,
        0,
    )


@rule
def heading(starts_list: Flag, supplier: Text) -> Text:
    """The supplier's name, on the first line of its list."""
    return where(same(starts_list, 1), supplier, "")


@rule
def code(book_row: Each, book_code: TextColumn) -> Text:
    """The product's code."""
    return beside(book_code, book_row)


@rule
def description(book_row: Each, book_description: TextColumn) -> Text:
    """The product."""
    return beside(book_description, book_row)


@rule
def packs(book_row: Each, book_packs: Column) -> Each:
    """Packs to order."""
    return beside(book_packs, book_row)


@rule
def content(book_row: Each, book_content: Column) -> Amount:
    """What one pack holds."""
    return beside(book_content, book_row)


@rule
def unit(book_row: Each, book_material_row: Column, material_unit: TextColumn) -> Text:
    """The unit the product is counted in."""
    return beside(material_unit, beside(book_material_row, book_row))


@rule
def net(book_row: Each, book_net: Column) -> Amount:
    """Measured as fixed."""
    return beside(book_net, book_row)


@rule
def ordered(book_row: Each, book_ordered: Column) -> Amount:
    """What the packs hold."""
    return beside(book_ordered, book_row)


@rule
def laid(book_row: Each, book_laid: Column) -> Amount:
    """What of it will be laid."""
    return beside(book_laid, book_row)


@rule
def left(book_row: Each, book_left: Column) -> Amount:
    """What will be left."""
    return beside(book_left, book_row)


@rule
def price(book_row: Each, book_price: Column) -> Pounds:
    """Price of one pack, without VAT."""
    return beside(book_price, book_row)


@rule
def cost(book_row: Each, book_cost: Column) -> Pounds:
    """Price of the line, without VAT."""
    return beside(book_cost, book_row)


@rule
def first_use(book_row: Each, book_stage_no: Column, stage_name: TextColumn) -> Text:
    """The stage that uses it first."""
    return beside(stage_name, beside(book_stage_no, book_row))


ORDER_LINES = Table(
    "order_lines",
    "order_line",
    "Order lists",
    (
        worked(book_row, "Book row"),
        worked(supplier),
        worked(starts_list, "List starts"),
        worked(heading, "Order from"),
        worked(code),
        worked(description, "Product"),
        worked(packs),
        worked(content, "Pack holds"),
        worked(unit),
        worked(net),
        worked(laid, "To be laid"),
        worked(ordered),
        worked(left, "Left over"),
        worked(first_use, "First used"),
        worked(price, "Price of a pack"),
        worked(cost),
    ),
    key="supplier",
)
