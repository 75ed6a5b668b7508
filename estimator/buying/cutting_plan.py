"""A cutting plan that was taken over: rolls of several sizes, and what is cut from each.

A plan is for one kind of product: one material and width of one supplier. It holds while no roll of it
gives more than it is long, and while for each length that the job cuts the plan has as many pieces of
that length or longer. That is enough: the longest pieces of the job are then given by the longest of
the plan, one by one. So whether it holds is worked out from its rows, whoever typed them, and a length
that moves puts it out of date. A plan that holds is bought. One that does not is something to fix.
"""

from ..language import *
from ..language.units import DAY, FIRST_DAY, LAST_DAY

# ---- kinds: what may be cut in place of each other ------------------------------------------------


@rule
def kind(slot: Each, material_row: Each, width: Millimetres) -> Text:
    """Its supplier, material and width, as one text. Nothing where it has no width."""
    return where(given(width), label_of(slot, material_row, first_given(width, 0)), "")


@rule
def kind_row(position: Each, kind: Text, book_kind: TextColumn) -> Each:
    """The first product of its material, width and supplier. Itself where it has no width."""
    return where(same(kind, ""), position, first_row(book_kind, kind))


# ---- the plan, row by row ---------------------------------------------------------------------------


@rule
def cut_from_roll(
    roll_no: Each,
    planned_cut_length: Column,
    planned_cut_pieces: Column,
    planned_cut_roll_no: Column,
) -> Metres:
    """What is cut from this roll in all."""
    return sum_of(planned_cut_length * planned_cut_pieces, same(planned_cut_roll_no, roll_no))


@rule
def roll_first(
    position: Each, roll_no: Each, planned_cut_roll_no: Column, planned_cut_position: Column
) -> Flag:
    """1 in the first row of a roll: there its rolls are counted."""
    return where(
        less(
            0,
            count_of(same(planned_cut_roll_no, roll_no), less(planned_cut_position, position)),
        ),
        0,
        1,
    )


@rule
def roll_mixed(
    roll_no: Each,
    book_row: Each,
    rolls: Each,
    planned_cut_roll_no: Column,
    planned_cut_book_row: Column,
    planned_cut_rolls: Column,
) -> Flag:
    """1 where the rows of one roll name two products, or two numbers of rolls."""
    return where(
        less(
            count_of(
                same(planned_cut_roll_no, roll_no),
                same(planned_cut_book_row, book_row),
                same(planned_cut_rolls, rolls),
            ),
            count_of(same(planned_cut_roll_no, roll_no)),
        ),
        1,
        0,
    )


@rule
def roll_wrong(roll_mixed: Flag, cut_from_roll: Metres, roll_length: Metres) -> Flag:
    """1 where the roll cannot give what is to be cut from it."""
    return where(
        less(0, roll_mixed + where(less(first_given(roll_length, 0), cut_from_roll), 1, 0)), 1, 0
    )


@rule
def rolls_bought(rolls: Each, roll_first: Flag) -> Each:
    """Rolls to buy: once for each roll, in its first row."""
    return rolls * roll_first


@rule
def pieces_all(rolls: Each, pieces: Each) -> Each:
    """Pieces from all of these rolls."""
    return rolls * pieces


@rule
def plan_note(
    roll_mixed: Flag, roll_wrong: Flag, cuts_of_kind: Each, plan_holds: Flag, plan_spare: Flag
) -> Text:
    """Whether the plan is bought, and what is wrong with it."""
    return where(
        same(roll_mixed, 1),
        "one roll names two products or numbers of rolls",
        where(
            same(roll_wrong, 1),
            "more than the roll is long",
            where(
                same(cuts_of_kind, 0),
                "not used: the job cuts nothing of this kind",
                where(
                    same(plan_holds, 1),
                    where(same(plan_spare, 1), "in use: more than is needed now", "in use"),
                    "out of date: it gives too few pieces",
                ),
            ),
        ),
    )


PLANNED_CUTS = Table(
    "planned_cuts",
    "planned_cut",
    "Cutting plan: whole pieces from rolls of several sizes",
    (
        text("mark", "Row", "Its number or name, used once. The command estimator cut --take "
                            "fills in these rows."),
        number("roll_no", "Roll no.", EACH, 1, 10000,
               "Rows cut from the same roll have the same number. Each length cut from it has a "
               "row."),
        text("code", "Cut from", "The product's code.", choice_of="book.code"),
        number("rolls", "Rolls", EACH, 1, 10000, "How many rolls are cut so."),
        number("length", "Length of piece", METRES, 0.001, 500),
        number("pieces", "Pieces", EACH, 1, 10000, "Of this length, from each of these rolls."),
        number("dated", "Taken over on", DAY, FIRST_DAY, LAST_DAY, "As 2026-03-01.",
               required=False),
        find("book_row", "Product no.", by="code", where="book.code"),
        read("roll_length", "Of a roll", METRES, "book.length", at="book_row"),
        read("kind_row", "Kind", EACH, "book.kind_row", at="book_row"),
        worked(cut_from_roll, "Cut from the roll"),
        worked(roll_first, "First of its roll"),
        worked(roll_mixed, "Rows of the roll disagree"),
        worked(roll_wrong, "Roll cannot give it"),
        worked(rolls_bought),
        worked(pieces_all, "Pieces in all"),
        read("cuts_of_kind", "Lengths the job cuts", EACH, "book.cuts_of_kind", at="book_row"),
        read("plan_holds", "Plan holds", FLAG, "book.plan_holds", at="book_row"),
        read("plan_spare", "Plan has more", FLAG, "book.plan_spare", at="book_row"),
        worked(plan_note, "Plan"),
    ),
    grows=True,
    # So many that what is to be fixed stands in a column of Prices that is wide enough.
    shown=("cut_from_roll", "roll_length", "rolls_bought", "pieces_all", "cuts_of_kind"),
    said="plan_note",
    spare=(24, 40),
    since=8,
)  # fmt: skip


# ---- what the job cuts, held against it -----------------------------------------------------------


@rule
def cut_kind(product: Each, book_kind_row: Column) -> Each:
    """The kind it is cut from. 0 in a spare row."""
    return where(less(0, product), beside(book_kind_row, product), 0)


@rule
def cut_long(product: Each, length: Metres) -> Metres:
    """Length of each piece. 0 in a spare row."""
    return where(less(0, product), length, 0)


@rule
def cut_count(product: Each, pieces: Each) -> Each:
    """How many pieces. 0 in a spare row."""
    return where(less(0, product), pieces, 0)


@rule
def as_long(
    kind: Each, long: Metres, cut_kind: Column, cut_count: Column, cut_long: Column
) -> Each:
    """Pieces of this kind that the job cuts as long as this one, or longer."""
    return sum_of(cut_count, same(cut_kind, kind), at_most(long, cut_long))


@rule
def planned(
    kind: Each,
    long: Metres,
    planned_cut_pieces_all: Column,
    planned_cut_kind_row: Column,
    planned_cut_length: Column,
) -> Each:
    """Pieces of this kind that the plan has as long as this one, or longer."""
    return sum_of(
        planned_cut_pieces_all, same(planned_cut_kind_row, kind), at_most(long, planned_cut_length)
    )


@rule
def plan_short(kind: Each, planned: Each, as_long: Each) -> Flag:
    """1 where the plan has too few pieces of this length."""
    return where(less(0, kind), where(less(planned, as_long), 1, 0), 0)


@rule
def by_plan(kind: Each, product: Each, book_plan_holds: Column) -> Flag:
    """1 where these pieces are cut by a plan that holds, otherwise than is counted here."""
    return where(less(0, kind), beside(book_plan_holds, product), 0)


@rule
def as_listed(kind: Each, by_plan: Flag) -> Flag:
    """1 where these pieces are cut as is counted here."""
    return where(less(0, kind), 1 - by_plan, 0)


@rule
def cuts_by_plan(cut_by_plan: Column) -> Flag:
    """1 where some lengths are cut by a plan."""
    return largest_of(cut_by_plan)


@rule
def cut_by(by_plan: Flag) -> Text:
    """Where it stands how they are cut."""
    return where(same(by_plan, 1), "cut by the plan on Prices", "")


CUT_COLUMNS = (
    worked(cut_kind, "Kind", "kind"),
    worked(cut_long, "Long", "long"),
    worked(cut_count, "Pieces counted", "count"),
    worked(as_long, "Cut as long"),
    worked(planned, "Planned as long"),
    worked(plan_short, "Plan too short"),
    worked(by_plan, "By the plan"),
    worked(as_listed, "As listed"),
    worked(cut_by, "Cut"),
)


# ---- whether it holds, product by product --------------------------------------------------------


@rule
def plan_rows(kind_row: Each, planned_cut_kind_row: Column) -> Each:
    """Rows of the plan for products of its kind."""
    return count_of(same(planned_cut_kind_row, kind_row))


@rule
def cuts_of_kind(plan_rows: Each, kind_row: Each, cut_kind: Column) -> Each:
    """Lengths that the job cuts of its kind, where there is a plan for it."""
    return where(less(0, plan_rows), count_of(same(cut_kind, kind_row)), 0)


@rule
def plan_faults(
    plan_rows: Each,
    kind_row: Each,
    cuts_beyond: Each,
    cut_kind: Column,
    cut_plan_short: Column,
    planned_cut_kind_row: Column,
    planned_cut_roll_wrong: Column,
) -> Each:
    """What stands against the plan: lengths too few, rolls too short, cuts without room in the list."""
    return where(
        less(0, plan_rows),
        cuts_beyond
        + count_of(same(cut_kind, kind_row), same(cut_plan_short, 1))
        + count_of(same(planned_cut_kind_row, kind_row), same(planned_cut_roll_wrong, 1)),
        0,
    )


@rule
def plan_holds(plan_rows: Each, cuts_of_kind: Each, plan_faults: Each) -> Flag:
    """1 where the plan gives every piece of its kind, so that its rolls are bought."""
    return where(
        less(0, plan_rows), where(both(less(0, cuts_of_kind), same(plan_faults, 0)), 1, 0), 0
    )


@rule
def plan_spare(
    plan_holds: Flag,
    kind_row: Each,
    cut_kind: Column,
    cut_long: Column,
    cut_count: Column,
    planned_cut_kind_row: Column,
    planned_cut_length: Column,
    planned_cut_pieces_all: Column,
) -> Flag:
    """1 where the plan holds and cuts more metres than the job needs now."""
    return where(
        same(plan_holds, 1),
        where(
            less(
                sum_of(cut_long * cut_count, same(cut_kind, kind_row)) + SPARE,
                sum_of(
                    planned_cut_length * planned_cut_pieces_all,
                    same(planned_cut_kind_row, kind_row),
                ),
            ),
            1,
            0,
        ),
        0,
    )


SPARE = 0.001  # m: less than this is rounding


@rule
def plan_stale(position: Each, kind_row: Each, cuts_of_kind: Each, plan_holds: Flag) -> Flag:
    """1, once for each kind, where the job cuts it and its plan no longer holds."""
    return where(
        both(same(position, kind_row), less(0, cuts_of_kind)), where(same(plan_holds, 1), 0, 1), 0
    )


@rule
def plans_stale(book_plan_stale: Column) -> Each:
    """Cutting plans that do not give every piece any longer."""
    return total(book_plan_stale)


HOLDS_COLUMNS = (
    worked(plan_rows, "Rows of its cutting plan"),
    worked(cuts_of_kind, "Lengths cut of its kind"),
    worked(plan_faults, "Against the plan"),
    worked(plan_holds, "Cutting plan holds"),
    worked(plan_spare, "Plan has more"),
    worked(plan_stale, "Plan out of date"),
)
