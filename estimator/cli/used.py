"""Commands about what was used on site: used, wastage."""

from datetime import date
from pathlib import Path

import click

from ..errors import FileError
from ..files.keeping import locked, write_whole
from ..language.ledger import Ledger
from ..price_lists.sheets import read_list
from ..used_on_site.record import (
    Entry,
    Wastage,
    entries_of,
    kept_with,
    read_record,
    replaced,
    wastages,
    written,
)
from ..used_on_site.used_list import filled_in, ordered_lines, to_fill_in
from .figures import count, digits, quantity
from .given import given_job, say_differences
from .manners import may_write, print_json

RESTS_ON = (
    "Wastage is what was used over what was to be laid, laps and turn-ups included. The rest of a "
    "pack that went in the skip is part of it. Nothing is changed on Prices."
)


def used(
    job: Path, used_list: Path | None, out: Path | None, keep: Path | None, overwrite: bool
) -> None:
    """Write a list to fill in with what was used on site, or read one that is filled in."""
    if (used_list is None) == (out is None):
        raise click.UsageError("Say --out LIST.csv to write the list, or LIST to read it.")
    if keep is not None and used_list is None:
        raise click.UsageError("--keep goes with a LIST that is filled in.")
    given = given_job(job)
    say_differences(given)
    if out is not None:
        may_write(out, overwrite, ".csv")
        write_whole(out, to_fill_in(given.ledger), new=not overwrite)
        click.echo(f"{out}: {count(len(ordered_lines(given.ledger)), 'line')} to fill in.")
        return
    assert used_list is not None
    _take_down(given.ledger, used_list, keep)


def _take_down(job: Ledger, used_list: Path, keep: Path | None) -> None:
    found = filled_in(job, read_list(used_list))
    if not found:
        raise FileError(
            str(used_list), "no figure", "packs used or packs sent back, in a line at least"
        )
    new = entries_of(found, str(job.cell("job_title")), date.today())
    for entry, came_to in zip(new, wastages(new), strict=True):
        click.echo(
            f"{entry.material}, from {entry.supplier}: {quantity(entry.used, entry.unit)} "
            f"{entry.unit} used, {quantity(entry.laid, entry.unit)} {entry.unit} to be laid: "
            f"{_wastage(came_to.percent)}"
        )
    blank = len(ordered_lines(job)) - len(found)
    if blank:
        click.echo(f"{count(blank, 'line')} left blank: not counted.")
    if keep is None:
        click.echo("\nNothing is kept: --keep RECORD.csv adds it to your record.")
        return
    if keep.suffix.lower() != ".csv":
        raise FileError("--keep", str(keep), "a name ending in .csv")
    with locked(keep):
        record = read_record(keep) if keep.exists() else []
        write_whole(keep, written(kept_with(record, new)))
    again = replaced(record, new)
    instead = f", in place of {count(again, 'line')} of this job" if again else ""
    click.echo(f"\n{keep}: {count(len(new), 'line')} added{instead}.")


def wastage(record: Path, job: Path | None, as_json: bool) -> None:
    """Show what wastage came to over jobs, beside what a job counts on."""
    entries = read_record(record)
    on_prices = {} if job is None else _on_prices(job)
    found = wastages(entries)
    if as_json:
        print_json([_as_data(each, on_prices) for each in found])
        return
    for each in found:
        click.echo(_in_words(each, on_prices, entries))
    click.echo(RESTS_ON if found else f"{record}: no job yet.")


def _in_words(each: Wastage, on_prices: dict[tuple[str, str], float], entries: list[Entry]) -> str:
    whose = f"{each.material}, from {each.supplier}"
    if each.jobs == 1:
        one = next(e for e in entries if (e.supplier, e.material) == (each.supplier, each.material))
        said = f"{_wastage(each.percent)} on one job ({one.job})"
    else:
        said = (
            f"{_wastage(each.percent)} over {each.jobs} jobs, from {_wastage(each.least)} to "
            f"{_wastage(each.most)}"
        )
    counted = on_prices.get((each.supplier, each.material))
    return f"{whose}: {said}" + (
        "" if counted is None else f". The job counts on {_wastage(counted)}"
    )


def _as_data(each: Wastage, on_prices: dict[tuple[str, str], float]) -> dict[str, object]:
    return {**vars(each), "job_percent": on_prices.get((each.supplier, each.material))}


def _on_prices(path: Path) -> dict[tuple[str, str], float]:
    """The wastage in per cent that a job counts on, by supplier and material."""
    given = given_job(path)
    say_differences(given)
    job, found = given.ledger, {}
    labels = job.column("materials", "label")
    for slot, supplier in enumerate(job.column("suppliers", "name"), 1):
        if supplier == "":
            continue
        counted = job.column("materials", f"used_wastage_{slot}")
        for label, percent in zip(labels, counted, strict=True):
            if isinstance(percent, int | float):
                found[str(supplier), str(label)] = float(percent)
    return found


def _wastage(percent: float) -> str:
    return f"{digits(percent, 1)} %"
