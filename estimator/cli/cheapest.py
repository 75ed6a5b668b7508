"""The command that chooses the suppliers: the cheapest mix, taken over and undone."""

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from ..buying.lines import LINES
from ..errors import FileError
from ..files.keeping import write_whole
from ..files.opening import MOST_TEXT, file_bytes, file_text
from ..model import reports
from ..model.job import Job
from ..model.job_lines import with_line_suppliers
from .figures import money, pounds
from .given import Given, given_job, say_differences
from .manners import FINDINGS, print_json, state_said
from .updating import put

_LABELS = {line.key: line.label for line in LINES}
RESTS_ON = "One drop from each supplier. Prices and deliveries are without VAT, as typed in the price book."
NO_MIX = (
    "No mix can be ordered: nobody stocks something that is needed, or no mix{most} meets every minimum "
    "order."
)


def cheapest(
    job: Path, most_suppliers: int | None, taking: bool, undoing: bool, as_json: bool
) -> None:
    """Print the cheapest mix of suppliers, proven, and what it saves."""
    if taking and undoing:
        raise FileError("--undo", "--take too", "one of the two")
    was = file_bytes(job, "a job file or a workbook", MOST_TEXT * 16)
    given = given_job(job)
    say_differences(given)
    if undoing:
        _undo(job, given, was)
        return
    from ..sourcing.mix import cheapest_mix  # the solver is loaded here, and only here

    mix = cheapest_mix(given.job, most_suppliers)
    if mix is None:
        most = f" of at most {most_suppliers}" if most_suppliers else ""
        if as_json:
            print_json({"mix": None, "why": NO_MIX.format(most=most)})
        else:
            click.echo(NO_MIX.format(most=most))
        sys.exit(FINDINGS)
    before = {r["check"]: r["state"] for r in reports.checks(mix.before)}
    asking = [
        r
        for r in reports.findings(reports.checks(mix.after))
        if before.get(r["check"]) != r["state"]
    ]
    orders = [
        r
        for r in reports.rows_of(
            mix.after,
            "suppliers",
            {"supplier": "name", "goods": "goods", "delivery": "delivery_due"},
        )
        if r["supplier"] and r["goods"]
    ]
    if as_json:
        found: dict[str, Any] = {
            "mix": mix.total, "proven": mix.proven, "stands": mix.stands,
            "saved": _saved(mix.stands, mix.total),
            "alone": [{"supplier": s, "delivered": c, "saved": _saved(c, mix.total)}
                      for s, c in mix.alone.items()],
            "orders": orders,
            "moves": [{"line": x, "from": a, "to": b} for x, (a, b) in mix.moves.items()],
            "checks": [{"check": r["check"], "state": r["state"]} for r in asking],
        }  # fmt: skip
        print_json(found)
    else:
        proven = "proven: no mix costs less" if mix.proven else "not proven to be the least"
        click.echo("Cost of what is ordered, delivered, without VAT:")
        click.echo(f"  {'as it is now':<36}{pounds(mix.stands, 'not known')}")
        click.echo(f"  {'the cheapest mix':<36}{pounds(mix.total)}, {proven}")
        for text in (_saving(mix.stands, mix.total), mix.before.cell("orders_below") and (
            "as it is now, an order is below its supplier's minimum. The mix has no such order")):  # fmt: skip
            if text:
                click.echo(f"  {text}")
        click.echo("All from one supplier instead:")
        for s, cost in mix.alone.items():
            saving = _saving(cost, mix.total)
            click.echo(f"  {s:<36}{pounds(cost, 'not known')}" + (saving and f", {saving}"))
        if orders:
            click.echo("Orders of the mix:")
        for r in orders:
            due = f" and {money(r['delivery'])} delivery" if r["delivery"] else ", delivered free"
            click.echo(f"  {r['supplier']:<36}{pounds(r['goods'])}{due}")
        if mix.moves:
            click.echo("What moves:")
        for line, (old, new) in mix.moves.items():
            click.echo(f"  {_LABELS[line]:<40}from {old or 'nobody'} to {new}")
        if asking:
            click.echo("Checks that need an answer with this mix, and not as it is now:")
        for r in asking:
            click.echo(f"  {state_said(r):<17} {r['what']}")
        click.echo(RESTS_ON)
    if taking:
        _take(job, given, was, {x: new for x, (_, new) in mix.moves.items()}, as_json)


def _saved(cost: float | None, total: float) -> float | None:
    return None if cost is None else round(cost - total, 2)


def _saving(cost: float | None, total: float) -> str:
    if cost is None or abs(cost - total) < 0.005:
        return ""
    return f"the mix {'saves' if cost > total else 'costs'} {money(abs(cost - total))}" + (
        "" if cost > total else " more"
    )


def note_of(job: Path) -> Path:
    """The small file beside a job that says from whom its lines were bought before."""
    return job.with_name(f"{job.name} bought before.json")


def _take(job: Path, given: Given, was: bytes, moves: Mapping[str, str], quiet: bool) -> None:
    """Write the mix into the lines, and beside the job what stood there."""
    if not moves:
        click.echo("Nothing moves, and nothing was written.", err=quiet)
        return
    now: dict[str, str | None] = {x: given.job.line_suppliers.get(x) for x in moves}
    path = note_of(job)
    note = _note(path) if path.exists() else {"before": {}, "taken": {}}
    kept = {x for x, s in note["taken"].items() if given.job.line_suppliers.get(x) == s}
    before = {x: s for x, s in note["before"].items() if x in kept}
    taken = {x: s for x, s in note["taken"].items() if x in kept}
    written = {"before": {**now, **before}, "taken": {**taken, **moves}}
    _put(job, given, was, dict(moves), quiet)
    data = json.dumps(written, indent=2, ensure_ascii=False) + "\n"
    write_whole(path, data.encode())
    click.echo(
        f"The suppliers from before are kept in {path.name}: --undo puts it back.", err=quiet
    )


def _undo(job: Path, given: Given, was: bytes) -> None:
    """Put back what stood in the lines, but for those that somebody has changed since."""
    path = note_of(job)
    note = _note(path)
    now: Job = given.job
    back = {x: note["before"][x] for x, s in note["taken"].items()
            if now.line_suppliers.get(x) == s}  # fmt: skip
    for line in note["taken"]:
        if line not in back:
            click.echo(f"{_LABELS[line]}: changed since, and left as it is.")
    if back:
        _put(job, given, was, back, False)
    path.unlink()


def _note(path: Path) -> dict[str, dict[str, Any]]:
    """What the small file says. Raises FileError for one that is not there, or not ours."""
    accepted = "the file that --take wrote"
    text = file_text(path, f"{accepted}: without it there is nothing to undo")
    try:
        found = json.loads(text)
        good = set(found) == {"before", "taken"} and set(found["before"]) == set(found["taken"])
        if good and set(found["taken"]) <= set(_LABELS):
            return found
    except (ValueError, TypeError, RecursionError):
        pass
    raise FileError(str(path), "another file", accepted)


def _put(
    job: Path, given: Given, was: bytes, suppliers: Mapping[str, str | None], quiet: bool
) -> None:
    if given.returned is None:
        text = was.decode("utf-8-sig")
        data = with_line_suppliers(text, job.name, suppliers).encode()
        put(job, None, was[:3] + data if was.startswith(b"\xef\xbb\xbf") else data, was, quiet)
        return
    from ..workbook.filling import bought_from

    package = given.returned.sheets.package.data
    put(job, None, bought_from(given.returned, suppliers), package, quiet)
