"""What a drawing says, as rows of a job: added to what stands there, or in the place of it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from ..errors import JobError
from ..language import Table
from ..language.tables import Input
from ..model.hole_checks import is_hole
from ..model.job import Job
from ..model.plan import plan
from ..model.spelling import folded
from ..questionnaire.offers import marks
from ..takeoff.build_ups import FLOOR_KIND_ROWS, to_dpc
from ..takeoff.openings import OPENING_KIND_ROWS
from ..takeoff.walks import QUARTER
from .holes import Hole
from .runs import KINDS, Run
from .understood import Understood
from .walks import Floor

Row = dict[str, Any]
LISTS = ("zones", "edges", "walls", "openings", "floor_features")
# What no plan shows of an edge, and stays as the job has it.
OF_EDGE = ("dpc_level", "dress", "typed_turn_up", "wall")
# Where an opening stands: written where the list has columns for it.
PLACE = ("first_jamb", "side")


@dataclass(frozen=True)
class Wanting:
    """A field that is not on the drawing, nor in the job; `needed`: no total comes without it."""

    table: str
    mark: str
    item: Input
    needed: bool = True


@dataclass
class Taken:
    """The rows that a drawing brings to a job: by list, the marks of each as they are now."""

    rows: dict[str, list[Row]] = field(default_factory=lambda: {name: [] for name in LISTS})
    there: dict[str, list[str]] = field(default_factory=dict)  # marks in the job that it replaces
    gone: dict[str, list[str]] = field(default_factory=dict)  # rows of the job that go
    wanting: list[Wanting] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def job_of(self, job: Job) -> Job:
        """The job with those rows in it: in the place of what they replace, or at the end."""
        rows = {name: [dict(r) for r in found] for name, found in job.rows.items()}
        for name in LISTS:
            new = {r["mark"]: r for r in self.rows[name]}
            kept = [new.pop(r.get("mark"), r) for r in rows[name]
                    if r.get("mark") not in self.gone.get(name, ())]  # fmt: skip
            rows[name] = [*kept, *new.values()]
        return replace(job, rows=rows)

    def wanted(self, table: str, mark: str) -> list[str]:
        """The columns of that row that are to be filled in."""
        return [w.item.name for w in self.wanting if (w.table, w.mark) == (table, mark)]


def taken(found: Understood, job: Job | None = None, like: str | None = None) -> Taken:
    """The rows of a drawing, for a new job or for one that is there.

    What the job knows of a floor, edge or opening of the same mark is kept; a floor that is new to
    it has the build-up, levels and leaves of the floor `like`. Raises JobError for a mark of the
    form, or where the job has no floor `like`.
    """
    result = Taken()
    old = {name: list(job.rows[name]) if job else [] for name in LISTS}
    zones = {r.get("mark"): r for r in old["zones"]}
    if like is not None and like not in zones:
        listed = ", ".join(str(m) for m in zones if m)
        accepted = f"one of {listed}" if listed else "a floor that the job has: it has none"
        raise JobError("--like", like, accepted)
    for floor in found.floors:
        _refuse_form(job, "zones", floor.mark)
        _add_floor(floor, zones, like, old, result)
    named = _add_runs(found, job, zones, like, old, result)
    _add_openings(found, job, named, old, result)
    _add_features(found, old, result)
    if job is not None and job.uses_form:
        result.said.append("The form is in use: the floors it fills stay beside those of the plan.")
    result.wanting = list(_wanting(result))
    return result


def _refuse_form(job: Job | None, table: str, mark: str) -> None:
    if job is not None and job.uses_form and mark in marks(table):
        accepted = "another name: the form fills a row of that ref"
        raise JobError(f"{table} {mark} of the drawing", mark, accepted)


def _put(
    result: Taken, name: str, row: Mapping[str, Any], old: Sequence[Mapping[str, Any]]
) -> None:
    """One row more, every column in it; noted where the job has that mark."""
    full = {i.name: row.get(i.name) for i in _table(name).inputs}
    if any(r.get("mark") == full["mark"] for r in old):
        result.there.setdefault(name, []).append(str(full["mark"]))
    result.rows[name].append(full)


def _table(name: str) -> Table:
    return plan().tables[name]


def _add_floor(
    floor: Floor,
    zones: Mapping[Any, Mapping[str, Any]],
    like: str | None,
    old: Mapping[str, Sequence[Mapping[str, Any]]],
    result: Taken,
) -> None:
    own = zones.get(floor.mark)
    base = own or {**zones.get(like, {}), "description": None} if own or like else {}
    row = {**base, "mark": floor.mark, "side_a": None, "side_b": None}
    _put(result, "zones", row, old["zones"])
    source = floor.mark if own else like
    listed = [e for e in old["edges"] if source is not None and e.get("zone") == source]
    before = [e for e in listed if not is_hole(e)]
    used = set()
    for n, piece in enumerate(floor.pieces, 1):
        mark = f"{floor.mark}-{n}"
        used.add(mark)
        known = _known(before, floor, n, own is not None)
        turn = None if piece.turn == QUARTER else piece.turn
        row = {**known, "mark": mark, "zone": floor.mark, "number": n, "length": piece.length,
               "turn": turn, "kind": piece.kind, "joins": piece.joins}  # fmt: skip
        _put(result, "edges", row, old["edges"])
    for n, hole in enumerate(floor.holes, 1):
        mark = f"{floor.mark}-H{n}"
        used.add(mark)
        row = {**_known_hole(listed, mark, hole, own is not None), "mark": mark, "kind": hole.kind,
               "zone": floor.mark, "hole_along_a": hole.along_a, "hole_along_b": hole.along_b,
               "hole_from_a": hole.from_a, "hole_from_b": hole.from_b}  # fmt: skip
        _put(result, "edges", row, old["edges"])
    if own:
        gone = [str(e["mark"]) for e in listed if e["mark"] not in used]
        if gone:
            result.gone.setdefault("edges", []).extend(gone)


def _known(before: Sequence[Mapping[str, Any]], floor: Floor, n: int, own: bool) -> Row:
    """What the job knows of an edge and no plan shows.

    Of the same edge, where the floor has as many as before, of the same kinds; else what all its
    edges of that kind have alike.
    """
    kinds = [p.kind for p in floor.pieces]
    by_mark = {e["mark"]: e for e in before}
    marks_now = [f"{floor.mark}-{m}" for m in range(1, len(kinds) + 1)]
    if own and len(before) == len(kinds) and all(
        m in by_mark and by_mark[m]["kind"] == k for m, k in zip(marks_now, kinds, strict=True)
    ):  # fmt: skip
        return {c: by_mark[marks_now[n - 1]][c] for c in OF_EDGE}
    alike = [e for e in before if e["kind"] == kinds[n - 1]]
    columns = OF_EDGE if own else OF_EDGE[:-1]
    return {c: alike[0][c] for c in columns if alike and len({e[c] for e in alike}) == 1}


def _known_hole(listed: Sequence[Mapping[str, Any]], mark: str, hole: Hole, own: bool) -> Row:
    """What the job knows of the edge round a hole: of the same mark and kind, else what all edges of
    that kind have alike."""
    columns = OF_EDGE if own else OF_EDGE[:-1]
    alike = [e for e in listed if e["kind"] == hole.kind]
    same = [e for e in alike if own and e["mark"] == mark] or alike
    return {c: same[0][c] for c in columns if same and len({e[c] for e in same}) == 1}


def _add_runs(
    found: Understood,
    job: Job | None,
    zones: Mapping[Any, Mapping[str, Any]],
    like: str | None,
    old: Mapping[str, Sequence[Mapping[str, Any]]],
    result: Taken,
) -> dict[str, str | None]:
    """The runs; and for each of the drawing's marks that of the run in the job, if there is one."""
    named: dict[str, str | None] = {}
    walls = old["walls"]
    donor: Mapping[str, Any] = next(
        (w for w in walls if like is not None and w.get("floor") == like), {}
    )
    leaves = {
        c: donor[c] if donor else walls[0][c]
        for c in ("outer_leaf", "cavity", "inner_leaf")
        if donor or (like is not None and len({w[c] for w in walls}) == 1)
    }
    for run in found.runs:
        follows = next((w for w in walls if run.floor and w.get("floor") == run.floor), None)
        own = next((w for w in walls if w.get("mark") == run.mark), None)
        if follows is not None:
            named[run.mark] = follows["mark"]
            continue
        if run.along is not None and run.along in zones and own is None:
            named[run.mark] = None
            result.said.append(
                f"No run of the job follows floor {run.along}: the new wall round it, "
                f"{run.length:.3f} m, is left to the runs that are typed."
            )
            continue
        _refuse_form(job, "walls", run.mark)
        named[run.mark] = run.mark
        _put(result, "walls", {**(own or leaves), **_of_run(run)}, walls)
    return named


def _of_run(run: Run) -> Row:
    row: Row = dict.fromkeys(("run", "length", "measured_on", "external_corners",
                              "internal_corners", "ends_at_existing"))  # fmt: skip
    if run.floor is None:
        row = {
            "run": run.run,
            "length": run.length,
            "measured_on": run.measured_on,
            "external_corners": run.external,
            "internal_corners": run.internal,
            "ends_at_existing": run.old_ends,
        }
    return {**row, "mark": run.mark, "floor": run.floor}


def _add_openings(
    found: Understood,
    job: Job | None,
    named: Mapping[str, str | None],
    old: Mapping[str, Sequence[Mapping[str, Any]]],
    result: Taken,
) -> None:
    for one in found.openings:
        _refuse_form(job, "openings", one.mark)
        own: Mapping[str, Any] = next((o for o in old["openings"] if o.get("mark") == one.mark), {})
        row = {**own, **one.figures, "mark": one.mark, "kind": one.kind, "number": 1,
               "width": one.width, "wall": named.get(one.run) or own.get("wall")}  # fmt: skip
        if all(_table("openings").has(c) for c in PLACE):
            row["first_jamb"] = one.along
            row["side"] = f"{one.floor}-{one.side}" if one.floor else None
        _put(result, "openings", row, old["openings"])
    drawn = {folded(o.mark) for o in found.openings}
    walls = {w for w in named.values() if w}
    left = [str(o["mark"]) for o in old["openings"]
            if o.get("mark") and o.get("wall") in walls and folded(o["mark"]) not in drawn]  # fmt: skip
    if left:
        result.said.append(
            f"Openings of the job that are not on the drawing stay: {', '.join(left)}."
        )


def _add_features(
    found: Understood, old: Mapping[str, Sequence[Mapping[str, Any]]], result: Taken
) -> None:
    for one in found.features:
        row = {"mark": f"{one.zone}-{one.kind}s", "zone": one.zone, "kind": one.kind,
               "number": one.number}  # fmt: skip
        _put(result, "floor_features", row, old["floor_features"])


def _wanting(result: Taken) -> Iterator[Wanting]:
    """The fields that are needed and blank, list by list."""
    floors: dict[Any, Mapping[str, Any]] = {r["name"]: r for r in FLOOR_KIND_ROWS}
    built = {z["mark"]: floors.get(z["build_up"]) for z in result.rows["zones"]}
    trays = {r["name"]: r["has_tray"] for r in OPENING_KIND_ROWS}
    for name in LISTS:
        table = _table(name)
        for row in result.rows[name]:
            for item in table.inputs:
                if item.required and row[item.name] is None:
                    yield Wanting(name, row["mark"], item)
            if name == "edges":
                floor = built.get(row["zone"])
                if floor is None or to_dpc(floor["sheet"], floor["suspended"]):
                    yield from _edge_wanting(table, row)
            if name == "openings" and trays[row["kind"]] and row["lintel"] is None:
                lintel = table.column("lintel")
                assert isinstance(lintel, Input)
                yield Wanting(name, row["mark"], lintel, needed=False)


def _edge_wanting(table: Table, row: Row) -> Iterator[Wanting]:
    """What the turn-up of an edge follows from: as model/floor_checks.py asks for it."""
    kind = KINDS[row["kind"]]
    if row["typed_turn_up"] is not None:
        return
    asked = (("by_levels", "dpc_level"), ("by_chase", "dress"), ("by_hand", "typed_turn_up"))
    for means, column in asked:
        item = table.column(column)
        assert isinstance(item, Input)
        if kind[means] and row[column] is None:
            yield Wanting("edges", row["mark"], item)
