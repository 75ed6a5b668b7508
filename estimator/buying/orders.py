"""The order lists: for each supplier what to ring up for, what it is for, and what will be left."""

from ..language import *


@rule
def book_row(position: Each, book_order_no: Column, book_position: Column) -> Each:
    """The price book's row on this line of the order lists. 0 past the last line."""
    return sum_of(book_position, same(book_order_no, position))


@rule
def supplier(book_row: Each, book_seller: TextColumn) -> Text:
    """Whom to order it from."""
    return where(less(0, book_row), beside(book_seller, book_row), "")


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
def discount(book_row: Each, book_discount: Column) -> Percent:
    """The trade discount on it. Nothing where there is none."""
    return where(less(0, beside(book_discount, book_row)), beside(book_discount, book_row), "")


@rule
def list_price(book_row: Each, discount: Percent, book_price: Column) -> Pounds:
    """The price of a pack before the discount. Nothing where there is none."""
    return where(given(discount), beside(book_price, book_row), "")


@rule
def counted_how(
    book_row: Each,
    book_packs: Column,
    book_packs_worked: Column,
    book_counted_how: TextColumn,
) -> Text:
    """Whether fewer rolls could do. Or how many packs are needed, where the number is one's own."""
    return where(
        same(beside(book_packs, book_row), beside(book_packs_worked, book_row)),
        beside(book_counted_how, book_row),
        one_text("own, ", in_figures(beside(book_packs_worked, book_row)), " needed"),
    )


@rule
def note(trim_said: Text, wastage_said: Text) -> Text:
    """That it is to be trimmed, and that nobody gave a wastage where one counts."""
    return where(
        same(wastage_said, ""),
        trim_said,
        where(
            same(trim_said, ""),
            one_text("wastage ", wastage_said),
            one_text(trim_said, ", wastage 0 %"),
        ),
    )


ORDER_LINES = Table(
    "order_lines",
    "order_line",
    "Order lists",
    (
        worked(book_row, "Book row"),
        worked(supplier),
        worked(starts_list, "List starts"),
        worked(heading, "Order from"),
        read("code", "Code", TEXT, "book.code", at="book_row"),
        read("description", "Product", TEXT, "book.description", at="book_row"),
        read("packs", "Packs", EACH, "book.packs", at="book_row"),
        worked(counted_how, "Counted"),
        read("content", "Pack holds", AMOUNT, "book.content", at="book_row"),
        read("material_row", "Material no.", EACH, "book.material_row", at="book_row"),
        read("unit", "Unit", TEXT, "materials.unit", at="material_row"),
        read("net", "Net", AMOUNT, "book.net", at="book_row"),
        read("laid", "To be laid", AMOUNT, "book.laid", at="book_row"),
        read("ordered", "Ordered", AMOUNT, "book.ordered", at="book_row"),
        read("left", "Left over", AMOUNT, "book.left", at="book_row"),
        read("stage_no", "Stage no.", EACH, "book.stage_no", at="book_row"),
        read("first_use", "First used", TEXT, "stages.name", at="stage_no"),
        worked(discount, "Trade discount"),
        worked(list_price, "List price of a pack"),
        read("price", "Price of a pack", POUNDS, "book.net_price", at="book_row"),
        read("cost", "Cost", POUNDS, "book.cost", at="book_row"),
        read("trim_said", "To trim", TEXT, "book.trim_said", at="book_row"),
        read("wastage_said", "Wastage", TEXT, "book.wastage_said", at="book_row"),
        worked(note),
    ),
    key="supplier",
)
