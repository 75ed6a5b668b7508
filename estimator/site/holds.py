"""The hold points as lists: who is told, the job's own words, and the sheet for site."""

from collections.abc import Mapping
from typing import Any

from ..buying.lines import HOLD_POINTS
from ..rules import (
    Fixed,
    Table,
    beside,
    choose,
    count_of,
    is_blank,
    less,
    rule,
    same,
    sum_of,
    text,
    where,
    worked,
)
from ..rules.units import TEXT, Amount, Column, Each, Text, TextColumn
from .reading import NATIONS, looked_for, nations

CONFIRM = "Confirm with your building control body."

NATIONS_TABLE = Table(
    "nations",
    "listed_nation",
    "Nations",
    (Fixed("name", "Nation", TEXT),),
    key="name",
    guarded=False,
)
NATION_ROWS = tuple({"name": n} for n in NATIONS)


@rule
def nation_slot(
    site_nation: Text, listed_nation_name: TextColumn, listed_nation_position: Column
) -> Each:
    """The job's nation's place among those shipped; 0 while none is chosen."""
    return sum_of(listed_nation_position, same(listed_nation_name, site_nation))


@rule
def told(nation_slot: Each, *tell: Text) -> Text:
    """Who is to be told and when, in the job's nation."""
    return where(
        less(0, nation_slot), choose(nation_slot, *tell), "Choose the nation on the Job sheet."
    )


@rule
def told_source(nation_slot: Each, *source: Text) -> Text:
    """Where that stands, and how well the project knows it."""
    return where(less(0, nation_slot), choose(nation_slot, *source), "")


@rule
def notice(own_notice: Text, told: Text) -> Text:
    """Who is to be told and when: the job's own words where it has any."""
    return where(is_blank(own_notice), told, own_notice)


@rule
def stands_on(own_notice: Text, told_source: Text) -> Text:
    """Where the notice stands."""
    return where(
        is_blank(own_notice),
        told_source,
        "The job's own words. Confirm with your building control body.",
    )


@rule
def counted_items(position: Each, measure_hold_no: Column, measure_measured: Column) -> Each:
    """Things counted that are inspected here."""
    return count_of(same(measure_hold_no, position), less(0, measure_measured))


@rule
def site_no(position: Each, measure_hold_no: Column, measure_measured: Column) -> Each:
    """The line of the site sheet it stands on: after all hold points before it and their items."""
    return position + count_of(less(measure_hold_no, position), less(0, measure_measured))


_NUMBERED = tuple(enumerate(NATIONS, 1))

HOLDS = Table(
    "hold_points",
    "hold",
    "Hold points",
    (
        Fixed("name", "Hold point", TEXT),
        text("own_notice", "Your own words for the notice",
             "Replaces the shipped words; blank: those of the nation.", required=False),
        Fixed("look_for", "What to look for", TEXT),
        *(Fixed(f"tell_{n}", f"To be told, {name}", TEXT) for n, name in _NUMBERED),
        *(Fixed(f"source_{n}", f"Source, {name}", TEXT) for n, name in _NUMBERED),
        worked(told, "To be told"),
        worked(told_source, "Source"),
        worked(notice, "Notice in use"),
        worked(stands_on, "Stands on"),
        worked(counted_items, "Items"),
        worked(site_no, "Site line"),
    ),
    key="name",
    guarded=False,
)  # fmt: skip


def hold_rows(own_notices: Mapping[str, str]) -> list[dict[str, Any]]:
    """The rows of the hold points, with the words a job has of its own."""
    rows = []
    for name in HOLD_POINTS:
        row: dict[str, Any] = {
            "name": name,
            "own_notice": own_notices.get(name),
            "look_for": looked_for()[name].look_for,
        }
        for n, nation in enumerate(nations(), 1):
            told = nation.notices[name]
            row[f"tell_{n}"] = told.notice
            row[f"source_{n}"] = f"{told.source} ({told.standing}). {CONFIRM}"
        rows.append(row)
    return rows


@rule
def hold_row(position: Each, hold_site_no: Column, hold_position: Column) -> Each:
    """The hold point that starts on this line; 0 where none does."""
    return sum_of(hold_position, same(hold_site_no, position))


@rule
def measure_row(position: Each, measure_site_no: Column, measure_position: Column) -> Each:
    """The thing counted that stands on this line; 0 where none does."""
    return sum_of(measure_position, same(measure_site_no, position))


@rule
def what(
    hold_row: Each, measure_row: Each, hold_look_for: TextColumn, measure_label: TextColumn
) -> Text:
    """What to look for at the hold point; under it, what is counted."""
    return where(
        less(0, hold_row),
        beside(hold_look_for, hold_row),
        where(less(0, measure_row), beside(measure_label, measure_row), ""),
    )


@rule
def hold_point(hold_row: Each, hold_name: TextColumn) -> Text:
    """The hold point, on its first line."""
    return where(less(0, hold_row), beside(hold_name, hold_row), "")


@rule
def to_tell(hold_row: Each, hold_notice: TextColumn) -> Text:
    """Who is to be told and when."""
    return where(less(0, hold_row), beside(hold_notice, hold_row), "")


@rule
def says_so(hold_row: Each, hold_stands_on: TextColumn) -> Text:
    """Where that stands."""
    return where(less(0, hold_row), beside(hold_stands_on, hold_row), "")


@rule
def quantity(measure_row: Each, measure_measured: Column) -> Amount:
    """How much of it there is, net, as measured."""
    return where(less(0, measure_row), beside(measure_measured, measure_row), 0)


@rule
def unit(measure_row: Each, measure_unit: TextColumn) -> Text:
    """What that is counted in."""
    return where(less(0, measure_row), beside(measure_unit, measure_row), "")


SITE_LINES = Table(
    "site_lines",
    "site_line",
    "Hold points in site order",
    (
        worked(hold_row, "Hold point no."),
        worked(measure_row, "Counted no."),
        worked(what, "What to look for, and what is counted"),
        worked(hold_point, "Hold point"),
        worked(to_tell, "Who is to be told, and when"),
        worked(says_so, "Where that stands"),
        worked(quantity, "Quantity"),
        worked(unit),
    ),
    key="what",
)

CHOICE = text("site_nation", "Nation", "Whose building regulations: it decides who is told, and when.",
              choices=NATIONS)  # fmt: skip
CELLS = (worked(nation_slot, "Nation no."),)
