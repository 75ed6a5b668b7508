"""Rolls wider than what is laid untrimmed: whether they are bought, and to what width they are cut.

DPC and tray rolls are cut lengthways with a knife, or sawn through before they are unrolled (common
practice). One strip is counted from the width of a roll, whatever else its width would give.
"""

from ..language import *

WIDEST = 60000  # mm: wider than any roll
IF_NEED_BE, IF_CHEAPER, NEVER = "trimmed if need be", "trimmed if cheaper", "untrimmed only"

INPUTS = (
    text("roll_widths", "DPC too wide", "A roll too wide to be laid as it comes: trimmed if need "
         "be (blank): where nothing else covers.",
         choices=(IF_NEED_BE, IF_CHEAPER, NEVER), required=False, since=11),
)  # fmt: skip


@rule
def may_trim(roll_widths: Text) -> Flag:
    """1 where a roll that is too wide is trimmed if nothing else covers."""
    return where(same(roll_widths, "untrimmed only"), 0, 1)


@rule
def trims_to_save(roll_widths: Text) -> Flag:
    """1 where a roll that is too wide is trimmed if it costs less."""
    return where(same(roll_widths, "trimmed if cheaper"), 1, 0)


@rule
def laid_most(limit: Millimetres) -> Millimetres:
    """Widest that it is laid: its limit, to which a wider roll is trimmed. WIDEST without one."""
    return where(less(0, limit), limit, WIDEST)


@rule
def corner_width(width: Millimetres, laid_most: Millimetres) -> Millimetres:
    """Width of a lap at a corner: that of the roll, or what it is trimmed to."""
    return width + less(laid_most, width) * (laid_most - width)


@rule
def untrimmed(
    width: Millimetres,
    limit: Millimetres,
    longest: Metres,
    slot: Each,
    material: Text,
    book_width: Column,
    book_sold_by: Column,
    book_material: TextColumn,
    book_length: Column,
) -> Millimetres:
    """Widest roll that is laid untrimmed: its limit. Without one, the narrowest that covers it."""
    return where(
        less(0, limit),
        limit,
        smallest_of(
            book_width,
            same(book_sold_by, slot),
            same(book_material, material),
            at_most(width, book_width),
            at_most(longest, book_length),
        ),
    )


@rule
def trim_to(width: Millimetres, untrimmed: Millimetres, width_bought: Millimetres) -> Millimetres:
    """What the roll is trimmed to in width. 0 where it is laid as it comes."""
    return where(both(less(0, width), less(untrimmed, width_bought)), untrimmed, 0)


@rule
def need_trim_to(demand: Each, demand_trim_to: Column) -> Millimetres:
    """What its roll is trimmed to in width. 0 where it is laid as it comes."""
    return where(less(0, demand), beside(demand_trim_to, demand), 0)


@rule
def line_trim_least(key: Text, need_trim_to: Column, need_line: TextColumn) -> Millimetres:
    """The narrowest that rolls for this line are trimmed to. WIDEST where none is."""
    return least(WIDEST, smallest_of(need_trim_to, same(need_line, key), less(0, need_trim_to)))


@rule
def line_trim_most(key: Text, need_trim_to: Column, need_line: TextColumn) -> Millimetres:
    """The widest that rolls for this line are trimmed to. 0 where none is."""
    return largest_of(need_trim_to, same(need_line, key))


@rule
def product_trim_least(position: Each, demand_trim_to: Column, demand_pick: Column) -> Millimetres:
    """The narrowest that it is trimmed to. WIDEST where it is laid as it comes."""
    return least(
        WIDEST, smallest_of(demand_trim_to, same(demand_pick, position), less(0, demand_trim_to))
    )


@rule
def product_trim_most(position: Each, demand_trim_to: Column, demand_pick: Column) -> Millimetres:
    """The widest that it is trimmed to. 0 where it is laid as it comes."""
    return largest_of(demand_trim_to, same(demand_pick, position))


@rule
def trim_said(trim_least: Millimetres, trim_most: Millimetres) -> Text:
    """To what width rolls are trimmed, in words. Nothing where they are laid as they come."""
    return where(
        less(0, trim_most),
        where(
            less(trim_least, trim_most),
            one_text(
                "trim to width: ", in_figures(trim_least), " to ", in_figures(trim_most), " mm"
            ),
            one_text("trim to ", in_figures(trim_most), " mm"),
        ),
        "",
    )


@rule
def line_note(note_alone: Text, trim_said: Text) -> Text:
    """What is to be known of the line: that its roll is trimmed, and whether it can be bought."""
    return where(
        either(same(note_alone, ""), same(trim_said, "")),
        one_text(trim_said, note_alone),
        one_text(trim_said, "; ", note_alone),
    )


LINE_COLUMNS = (
    worked(line_trim_least, "Trimmed to, least", "trim_least"),
    worked(line_trim_most, "Trimmed to, most", "trim_most"),
    worked(trim_said, "To trim"),
    worked(line_note, "Note"),
)
BOOK_COLUMNS = (
    worked(product_trim_least, "Trimmed to, least", "trim_least"),
    worked(product_trim_most, "Trimmed to, most", "trim_most"),
    worked(trim_said, "To trim"),
)
CELLS = (
    worked(may_trim, "DPC too wide is trimmed if need be"),
    worked(trims_to_save, "DPC too wide is trimmed if cheaper"),
)
