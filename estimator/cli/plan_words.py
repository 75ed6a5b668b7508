"""What was understood of a drawing, in words and as data."""

from collections import Counter
from collections.abc import Iterator

from ..drawing.openings import Opening
from ..drawing.rows import LISTS, Taken
from ..drawing.runs import Run
from ..drawing.understood import Understood
from ..drawing.walks import Floor
from ..language.units import METRES, SQUARE_METRES
from ..model.plan import plan
from ..model.reports import Record
from .figures import as_given, digits

_MOST_MARKS = 12  # in a sentence


def metres(value: float) -> str:
    """A length as a sheet shows it."""
    return digits(value, METRES.decimals)


def in_words(found: Understood, rows: Taken, into: str | None) -> Iterator[str]:
    """Floor by floor, run by run: what was understood, what was not taken, what is to be typed."""
    yield f"{found.name}, drawn in {found.unit}"
    for floor in found.floors:
        yield from _floor(floor)
    for head, lines in (
        ("Wall runs:", [_run(r) for r in found.runs]),
        ("Openings:", [_opening(o) for o in found.openings]),
        ("In floors:", [f"{f.zone}: {f.number} × {f.kind}" for f in found.features]),
        ("Not taken, or taken otherwise than drawn:", list(found.left)),
        ("On layers that are not read:",
         [f"{layer}: {n} {kind}" for layer, kind, n in found.ignored]),
        (f"In {into}:" if into else "", [*_changes(rows, into), *rows.said]),
        ("Not on the drawing, to be filled in:", list(_wanting(rows))),
    ):  # fmt: skip
        if lines:
            yield ""
            yield head
            yield from (f"  {line}" for line in lines)


def _floor(floor: Floor) -> Iterator[str]:
    yield ""
    area = digits(floor.area, SQUARE_METRES.decimals)
    yield f"Floor {floor.mark}: {len(floor.pieces)} sides, {area} m²"
    yield f"  {'side':>4}{'length':>9}{'turn':>9}  meets"
    for n, piece in enumerate(floor.pieces, 1):
        meets = f"{piece.kind} with {piece.joins}" if piece.joins else piece.kind
        turn = digits(piece.turn, 4).rstrip("0").rstrip(".")
        yield f"  {n:>4}{metres(piece.length):>9}{turn:>9}  {meets}"
    for n, hole in enumerate(floor.holes, 1):
        yield (
            f"  hole H{n}: {metres(hole.along_a)} × {metres(hole.along_b)} m, "
            f"{metres(hole.from_a)} m along A and {metres(hole.from_b)} m along B from the first "
            f"corner, meets {hole.kind}"
        )


def _run(run: Run) -> str:
    corners = f"corners: {run.external} external, {run.internal} internal"
    ends = f"; ends at existing walls: {run.old_ends}" if run.old_ends else ""
    how = f"follows floor {run.floor}" if run.floor else f"on the {run.measured_on}"
    return f"{run.mark}: {run.run}, {metres(run.length)} m, {how}; {corners}{ends}"


def _opening(one: Opening) -> str:
    known = "".join(f", {name} {metres(x)} m" for name, x in one.figures.items() if name != "width")
    side = f"side {one.side} of floor {one.floor}" if one.floor else f"part {one.side}"
    return (
        f"{one.mark}: {one.kind}, {metres(one.width)} m wide{known}, in {one.run}: "
        f"{metres(one.along)} m along {side}"
    )


def _changes(rows: Taken, into: str | None) -> Iterator[str]:
    """What it does to the lists of a job that is there."""
    if into is None:
        return
    for name in LISTS:
        title = plan().tables[name].title
        there = rows.there.get(name, [])
        new = [r["mark"] for r in rows.rows[name] if r["mark"] not in there]
        for what, marks in (("new", new), ("replaced", there), ("gone", rows.gone.get(name, []))):
            if marks:
                yield f"{title}, {what}: {_marks(marks)}"


def _marks(marks: list[str]) -> str:
    more = f" and {len(marks) - _MOST_MARKS} more" if len(marks) > _MOST_MARKS else ""
    return ", ".join(marks[:_MOST_MARKS]) + more


def _wanting(rows: Taken) -> Iterator[str]:
    """By list and field, the rows that have none."""
    fields: dict[tuple[str, str, str, bool], list[str]] = {}
    for w in rows.wanting:
        fields.setdefault((w.table, w.item.key, w.item.label, w.needed), []).append(w.mark)
    for (table, key, label, needed), marks in fields.items():
        note = "" if needed else "; blank is none"
        yield f"{table}, {key} ({label}{note}): {_marks(marks)}"


def wanting_in_words(rows: Taken) -> str:
    """How much is still to be filled in, as one sentence."""
    needed = Counter(w.needed for w in rows.wanting)[True]
    if not needed:
        return "Nothing is left to fill in."
    return f"{as_given(needed)} fields are not on the drawing: fill them in."


def as_data(found: Understood, rows: Taken) -> Record:
    """The same for a program to read."""
    return {
        "drawing": found.name,
        "unit": found.unit,
        "floors": [
            {
                "mark": f.mark,
                "area_m2": round(f.area, 6),
                "sides": [
                    {"number": n, "length_m": p.length, "turn_degrees": p.turn, "kind": p.kind,
                     "joins": p.joins}
                    for n, p in enumerate(f.pieces, 1)
                ],
                "holes": [
                    {"along_a_m": h.along_a, "along_b_m": h.along_b, "from_a_m": h.from_a,
                     "from_b_m": h.from_b, "kind": h.kind}
                    for h in f.holes
                ],
            }
            for f in found.floors
        ],
        "runs": [
            {"mark": r.mark, "floor": r.floor, "run": r.run, "length_m": r.length,
             "measured_on": r.measured_on, "external_corners": r.external,
             "internal_corners": r.internal, "ends_at_existing": r.old_ends}
            for r in found.runs
        ],
        "openings": [
            {"mark": o.mark, "kind": o.kind, "width_m": o.width, "wall": o.run, "floor": o.floor,
             "side": o.side, "along_m": o.along}
            for o in found.openings
        ],
        "features": [{"zone": f.zone, "kind": f.kind, "number": f.number} for f in found.features],
        "left": list(found.left),
        "refused": [str(e) for e in found.refused],
        "ignored": [{"layer": a, "kind": k, "number": n} for a, k, n in found.ignored],
        "replaced": rows.there,
        "gone": rows.gone,
        "said": rows.said,
        "wanting": [
            {"list": w.table, "mark": w.mark, "field": w.item.key, "needed": w.needed}
            for w in rows.wanting
        ],
    }  # fmt: skip
