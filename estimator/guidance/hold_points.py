"""The hold points as lists: who is told, the job's own words, and the sheet for site."""

from collections.abc import Iterable, Mapping
from typing import Any

from ..buying.lines import HOLD_POINTS
from ..language import *
from ..language.units import FIRST_DAY, LAST_DAY
from .notices import NATIONS, looked_for, nations

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
    """The job's nation's place among those shipped. 0 while none is chosen."""
    return sum_of(listed_nation_position, same(listed_nation_name, site_nation))


@rule
def told(nation_slot: Each, *tell: Text) -> Text:
    """Who is to be told and when, in the job's nation."""
    return where(less(0, nation_slot), choose(nation_slot, *tell), "Choose the nation on Start.")


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


_NUMBERED = tuple(enumerate(NATIONS, 1))


SLUGS = tuple(name.lower().replace(" ", "_") for name in HOLD_POINTS)


@rule
def items_listed(measure_row: Column) -> Each:
    """Things counted at the hold point that have a line on the sheet for site."""
    return count_of(less(0, measure_row))


HOLDS = Table(
    "hold_points",
    "hold",
    "Hold points",
    (
        Fixed("name", "Hold point", TEXT),
        text("own_notice", "Your own words for the notice",
             "Replaces the words that come with the program. Blank: those of the nation. Two "
             "lines are printed.",
             required=False),
        Fixed("look_for", "What to look for", TEXT),
        *(Fixed(f"tell_{n}", f"To be told, {name}", TEXT) for n, name in _NUMBERED),
        *(Fixed(f"source_{n}", f"Source, {name}", TEXT) for n, name in _NUMBERED),
        worked(told, "To be told"),
        worked(told_source, "Source"),
        worked(notice, "Notice in use"),
        worked(stands_on, "Stands on"),
        Varied("items", "Lines on the sheet for site", EACH, items_listed.__doc__ or "", rules=tuple(
            worked(items_listed, measure_row=WholeColumn(f"{slug}_items", "measure_row"))
            for slug in SLUGS
        )),
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
            row[f"source_{n}"] = f"{told.source}. {CONFIRM}"
        rows.append(row)
    return rows


@rule
def measure_row(
    position: Each,
    hold: Each,
    measure_hold_no: Column,
    measure_hold_place: Column,
    measure_position: Column,
) -> Each:
    """The thing counted that stands on this line of its hold point. 0 where none does."""
    return sum_of(measure_position, same(measure_hold_no, hold), same(measure_hold_place, position))


@rule
def what(measure_row: Each, measure_label: TextColumn, measure_laid_as: TextColumn) -> Text:
    """What is counted, and how wide and with which laps it is laid."""
    return where(
        less(0, measure_row),
        one_text(beside(measure_label, measure_row), beside(measure_laid_as, measure_row)),
        "",
    )


@rule
def quantity(measure_row: Each, measure_measured: Column) -> Amount:
    """How much of it there is, net, as measured."""
    return where(less(0, measure_row), beside(measure_measured, measure_row), 0)


@rule
def unit(measure_row: Each, measure_unit: TextColumn) -> Text:
    """What that is counted in."""
    return where(less(0, measure_row), beside(measure_unit, measure_row), "")


# Each hold point has its list, so that its words may stand above it as tall as they need to be.


def _items(slug: str, name: str, number: int) -> Table:
    columns = (
        worked(measure_row, "Counted no.", hold=number),
        worked(what, "Counted here"),
        worked(quantity),
        worked(unit),
    )
    return Table(f"{slug}_items", f"{slug}_item", f"Counted at: {name}", columns, key="what")


ITEMS = tuple(
    _items(slug, name, n) for n, (slug, name) in enumerate(zip(SLUGS, HOLD_POINTS, strict=True), 1)
)


def inspected(number: int, measures: Iterable[Mapping[str, Any]]) -> int:
    """How many things are inspected at a hold point, counted from 1, where the job has them all."""
    return sum(m["hold_no"] == number for m in measures)


@rule
def in_row(place: Each, column: TextColumn) -> Text:
    """The text of the hold point in that place."""
    return beside(column, place)


def _text(name: str, label: str, place: int, column: str) -> Item:
    return worked(in_row, label, name, place=place, column=WholeColumn("hold_points", column))


_WORDS = (
    ("look_at", "Look for", "look_for"),
    ("tell_at", "To be told", "notice"),
    ("source_at", "Source", "stands_on"),
)
# Each hold point, the name of its list, and of the cells that hold its words.
BLOCKS = tuple(
    (name, table.name, tuple(f"{cell}_{slug}" for cell, _, _ in _WORDS))
    for name, slug, table in zip(HOLD_POINTS, SLUGS, ITEMS, strict=True)
)


@rule
def items_unshown(measure_measured: Column, hold_items: Column) -> Each:
    """Things counted for which there is no room on the sheet for site."""
    return count_of(less(0, measure_measured)) - total(hold_items)


CHOICE = text("site_nation", "Nation", "Whose building regulations: it decides who is told, and when.",
              choices=NATIONS)  # fmt: skip
# When each is planned; a calendar is made of them, no figure reads them.
PLANNED: dict[str, Input] = {
    name: number(f"day_{slug}", f"Planned day, {name}", DAY, FIRST_DAY, LAST_DAY,
                 "As 2026-03-02. Blank: not planned yet.", required=False, since=8)
    for name, slug in zip(HOLD_POINTS, SLUGS, strict=True)
}  # fmt: skip
CELLS = (
    worked(nation_slot, "Nation no."),
    *(
        _text(f"{cell}_{slug}", f"{label}, {name}", n, column)
        for n, (slug, name) in enumerate(zip(SLUGS, HOLD_POINTS, strict=True), 1)
        for cell, label, column in _WORDS
    ),
)
COUNTS = (worked(items_unshown, "Things counted beyond the room on the sheet for site"),)
