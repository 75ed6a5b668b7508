"""Typed columns that something else may fill in: what is offered, what is typed, what is in use.

Each such column becomes three, and nothing is ever overwritten: the typed one stays as it is,
the offer stands beside it, and every rule reads the third. What is typed always wins.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from .helpers import given, is_blank, where
from .registry import Rule, rule, rule_of
from .tables import (
    ASSUMED,
    COUNTED,
    IN_USE,
    OFFERED,
    Input,
    Item,
    NamedCell,
    Offer,
    Table,
    TypedCell,
    Worked,
)
from .units import TEXT, Amount, Flag, Text


@rule
def text_in_use(typed: Text, offered: Text) -> Text:
    """As typed. Where nothing is typed, as offered."""
    return where(is_blank(typed), offered, typed)


@rule
def number_in_use(typed: Amount, offered: Amount) -> Amount:
    """As typed. Where nothing is typed, as offered. Else nothing, which is no number."""
    return where(given(typed), typed, where(given(offered), offered, ""))


@rule
def number_or_nought(typed: Amount, offered: Amount) -> Amount:
    """As typed. Where nothing is typed, as offered. Else 0, as a column read whole needs it."""
    return where(given(typed), typed, where(given(offered), offered, 0))


@rule
def rests_on_assumed(typed: Amount, offered: Amount, is_assumed: Flag) -> Flag:
    """1 where the figure in use is the one offered, and that one is assumed: nobody gave it."""
    return where(given(typed), 0, where(given(offered), is_assumed, 0))


@rule
def filled_by(offered_mark: Text) -> Text:
    """Who fills the row: a person, or the form in the cells where nobody typed."""
    return where(is_blank(offered_mark), "typed", "form, unless typed")


def with_offers(
    table: Table,
    offers: Mapping[str, Sequence[Rule | Worked | None]],
    nought: Collection[str] = (),
    assumed: Mapping[str, str] | None = None,
    counted: Mapping[str, str] | None = None,
) -> Table:
    """The list with offers to some of its typed columns, row by row.

    `nought` names optional numbers that other rules read as a whole column: 0 stands for none.
    `assumed` names the cell that says whether what is offered to a column is assumed; such a
    column has a fourth, which checks read, and shows nothing of it. Those of `counted` have one too,
    and show what is offered.
    """
    columns: list[Item] = []
    for item in table.columns:
        columns.append(item)
        if isinstance(item, Input) and item.name in offers:
            columns += _three(item, tuple(offers[item.name]), item.name in nought)
            if assumed and item.name in assumed:
                columns.append(_assumed(item, assumed[item.name], ASSUMED))
            if counted and item.name in counted:
                columns.append(_assumed(item, counted[item.name], COUNTED))
    keys = [c for c in columns if c.name in (table.key, OFFERED + table.key, IN_USE + table.key)]
    said = Worked(
        "filled_by", "Filled by", TEXT, rule_of(filled_by).meaning, rule=rule_of(filled_by),
        bound={"offered_mark": TypedCell(OFFERED + table.key)},
    )  # fmt: skip
    rest = [c for c in columns if c not in keys]
    return replace(table, columns=(*keys, said, *rest))


def _assumed(item: Input, cell: str, ending: str) -> Worked:
    found = rule_of(rests_on_assumed)
    return Worked(
        item.name + ending, f"{item.label}, assumed", found.unit, found.meaning, rule=found,
        bound={
            "typed": TypedCell(item.name),
            "offered": TypedCell(OFFERED + item.name),
            "is_assumed": NamedCell(cell),
        },
    )  # fmt: skip


def _three(item: Input, rules: tuple[Rule | Worked | None, ...], nought: bool) -> tuple[Item, Item]:
    offered = Offer(
        OFFERED + item.name, f"{item.label}, from the form", item.unit,
        "Worked out from the answers on Start. Blank where they say nothing of it.", rules=rules,
    )  # fmt: skip
    work = text_in_use if item.unit.text else number_in_use
    if not item.unit.text and (nought or item.required):
        work = number_or_nought
    used = Worked(
        IN_USE + item.name, f"{item.label}, in use", item.unit, rule_of(work).meaning,
        rule=rule_of(work),
        bound={"typed": TypedCell(item.name), "offered": TypedCell(OFFERED + item.name)},
    )  # fmt: skip
    return offered, used
