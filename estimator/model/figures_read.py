"""Which allowances each quantity is worked out from: read off the plan itself, never typed.

For every quantity the plan is followed back from its columns to the allowances they read. One
pair is one row, with the column that reads the allowance: where that column comes to nothing on
this job, or the quantity does, the job does not use the figure.
"""

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from ..buying.lines import LINES
from ..buying.materials import MATERIAL_ROWS
from ..buying.ranking import lap
from ..language import *
from ..language.many import Many
from ..pricing.measures import COUNTS, MEASURE_ROWS
from ..takeoff.layouts import LAYOUT_LINKS

# How a quantity is bought says nothing of how much is needed; `lap` is asked by material below.
_NOT_FOLLOWED = ("needs", "demands", "cuts", "lines", "checks", "product_checks", "measures")
_BY_MATERIAL = ("book", "lap")


class Pair(NamedTuple):
    """A quantity, an allowance it is worked out from, and the column that reads it, if one does."""

    measure: str
    allowance: str
    list: str = ""
    column: str = ""


Place = tuple[str, str]  # a list ("" for the named cells) and a column or cell of it


@rule
def always() -> Each:
    """The figure is read wherever the quantity is there."""
    return 1


@rule
def rows_reading(read_by: Column) -> Each:
    """Rows in which the column that reads the figure comes to more than nothing."""
    return count_of(less(0, read_by))


@rule
def used(measured: Amount, reading: Each) -> Flag:
    """1 where this job has the quantity, and it reads the figure. Where that is not known, too."""
    return where(
        both(given(measured), given(reading)),
        where(both(less(0, measured), less(0, reading)), 1, 0),
        1,
    )


@rule
def assumed_in(measure_no: Each, used: Flag, assumed: Flag) -> Each:
    """The quantity, where it is worked out from a figure that is assumed. 0 where it is not."""
    return where(both(same(used, 1), same(assumed, 1)), measure_no, 0)


def pairs(plan: Plan) -> tuple[Pair, ...]:
    """Every quantity with every allowance it is worked out from."""
    found: dict[Pair, None] = {}
    known: dict[Place, list[Place]] = {}
    for line in LINES:
        of = plan.tables[line.source]
        starts = [(of.name, of.in_use(c)) for k, c in line.links.items() if c and k != "mark"]
        starts += [("book", "sheet_rolls")] if _is_sheet(line.material) else []
        for allowance, place in _allowances(plan, starts, known):
            found[Pair(line.key, allowance, *place)] = None
        for allowance in _laps(line.material):
            found[Pair(line.key, allowance)] = None
    for count in COUNTS:
        work = Worked(count.key, "", EACH, rule=rule_of(count.work))
        for allowance, place in _allowances(plan, _read_by(plan, "", work), known):
            found[Pair(count.key, allowance, *place)] = None
    return tuple(found)


def _allowances(
    plan: Plan, starts: Iterable[Place], known: dict[Place, list[Place]]
) -> Iterator[tuple[str, Place]]:
    """Each allowance that these places read, however far back, with the place that reads it.

    `known` keeps what each place reads, for the next quantity.
    """
    seen: set[Place] = set()
    to_follow = list(starts)
    while to_follow:
        place = to_follow.pop()
        if place in seen or place[0] in _NOT_FOLLOWED or place == _BY_MATERIAL:
            continue
        seen.add(place)
        if place not in known:
            known[place] = _read_by(plan, *_item(plan, place))
        for read_one in known[place]:
            if read_one[0] == "allowances":
                yield read_one[1], place
            else:
                to_follow.append(read_one)


def _item(plan: Plan, place: Place) -> tuple[str, Item]:
    listed, name = place
    return listed, plan.tables[listed].column(name) if listed else plan.cells[name]


def _read_by(plan: Plan, listed: str, item: Item) -> list[Place]:
    """What an item reads: the columns and cells that its rule names."""
    if listed == "layouts" and item.name in LAYOUT_LINKS:
        return [("zones", plan.tables["zones"].in_use(LAYOUT_LINKS[item.name]))]
    match item:
        case Worked():
            works, table = [item], plan.tables.get(listed)
        case Varied(rules=rules):
            works, table = [item.row(n) for n in range(1, len(rules) + 1)], None
        case Offer(rules=rules):
            offers = (item.row(n) for n in range(1, len(rules) + 1))
            works, table = [w for w in offers if w is not None], plan.tables.get(listed)
        case _:
            return []
    found: list[Place] = []
    for source in (s for w in works for s in plan.sources(w, table)):
        match source:
            case OwnCell(column) | RowAbove(column):
                found.append((listed, column))
            case WholeColumn(other, column):
                found.append((other, column))
            case NamedCell(name) if name in plan.keyed:
                other, _ = plan.keyed[name]
                as_row = other == "allowances"
                found.append((other, name if as_row else plan.tables[other].names or ""))
            case NamedCell(name):
                found.append(("", name))
    return [p for p in found if p[1] != "position"]


def _material(key: str) -> dict[str, Any]:
    return next(m for m in MATERIAL_ROWS if m["key"] == key)


def _is_sheet(material: str) -> bool:
    return bool(_material(material)["by_area"])


def _laps(material: str) -> list[str]:
    """The allowances without which the lap of this material at a change of roll is not known."""
    of = _material(material)
    known = {"dpc_lap": 1.0, "tray_lap": 1.0}
    return [
        key
        for key in known
        if lap(
            1,
            material_laps_as_dpc=Many([of["laps_as_dpc"]]),
            laps_as_tray=of["laps_as_tray"],
            **{**known, key: NOT_AVAILABLE},
        )
        is NOT_AVAILABLE
    ]


def rows(plan: Plan) -> list[dict[str, Any]]:
    """The rows of the list, as they are laid out."""
    measure_no = {m["key"]: n for n, m in enumerate(MEASURE_ROWS, 1)}
    allowance_no = {k: n for k, (t, n) in plan.keyed.items() if t == "allowances"}
    return [
        {
            "what": MEASURE_ROWS[measure_no[p.measure] - 1]["label"],
            "figure": p.allowance,
            "read_by": f"{p.list}.{p.column}".strip("."),
            "measure_no": measure_no[p.measure],
            "allowance_no": allowance_no[p.allowance],
        }
        for p in pairs(plan)
    ]


def table(plan: Plan) -> Table:
    """The list of what each quantity is worked out from."""
    return Table(
        "figures_read",
        "figure_read",
        "Allowances each quantity is worked out from",
        (
            Fixed("what", "Quantity", TEXT),
            Fixed("figure", "Allowance", TEXT),
            Fixed("read_by", "Read by", TEXT),
            Fixed("measure_no", "Quantity no.", EACH),
            Fixed("allowance_no", "Allowance no.", EACH),
            Varied("reading", "Rows that read it", EACH, "In how many rows it counts.",
                   rules=tuple(_reading(plan, p) for p in pairs(plan))),
            read("measured", "Measured", AMOUNT, "measures.measured", at="measure_no"),
            read("assumed", "Assumed", FLAG, "allowances.assumed", at="allowance_no"),
            worked(used, "Used here"),
            worked(assumed_in, "Assumed in"),
        ),
        key="what",
        guarded=False,
        since=4,
    )  # fmt: skip


def _reading(plan: Plan, pair: Pair) -> Worked:
    if not pair.list or isinstance(plan.tables[pair.list].column(pair.column), Offer):
        return worked(always)
    return worked(rows_reading, read_by=WholeColumn(pair.list, pair.column))
