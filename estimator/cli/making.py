"""Commands that write the estimator's workbook: demo, new, workbook."""

from dataclasses import replace
from pathlib import Path

import click

from ..documents.pdf import pasted
from ..errors import FileError
from ..files.keeping import write_whole
from ..files.resources import DEMOS, JOB_TEMPLATE
from ..guidance import house
from ..guidance.basis import KEYS
from ..language.ledger import Ledger, is_available
from ..model import reports
from ..model.beginning import FIRST_SUPPLIER, begun_from, with_starter
from ..model.estimate import BLANK_ROOM, USUAL_ROOM, Room, estimate
from ..model.job import Job, blank_job
from ..model.job_file import basis_begun, begun_file, read_beginning, read_job
from ..questionnaire.answers import left_blank
from ..workbook.build import build
from ..workbook.template import not_carried
from .figures import as_given, figure, quantity
from .given import earlier_job, is_workbook, say_left_out
from .manners import may_write
from .questions import ask_all, ask_basis
from .summary import print_summary
from .updating import bring_up_to_date


def demo(out: Path, which: str) -> None:
    """Write the workbook of an invented demo job. If demo.xlsx exists, it writes demo-2.xlsx."""
    if not out.is_dir():
        raise FileError(str(out), None, "a folder that exists")
    path = _free_name(out, "demo")
    _write(DEMOS[which], path, JOB_TEMPLATE, overwrite=False)
    click.echo("Everything in this job is invented: house, people, suppliers and prices.")


def workbook(
    job: Path,
    out: Path | None,
    overwrite: bool,
    template: Path,
    restore: bool,
    afresh: bool,
    leave: bool,
) -> None:
    """Write the workbook of a job file (TOML), or bring a workbook (.xlsx) up to date in its place.

    The old file is kept beside the new one.
    """
    if is_workbook(job):
        bring_up_to_date(job, out, overwrite, template if afresh else None, restore, leave)
        return
    if restore or afresh or leave:
        raise FileError(str(job), "a job file", "a workbook, with --restore, --afresh or --leave")
    path = out or job.with_suffix(".xlsx")
    may_write(path, overwrite)
    _write(job, path, template, overwrite)


def new(
    file: Path | None,
    basis: str | None,
    earlier: Path | None,
    out: Path | None,
    overwrite: bool,
    extension: bool,
    answers: Path | None,
) -> None:
    """Write a workbook to fill in: blank, or begun with the one-page form for an extension."""
    if file is not None and out is not None and file != out:
        raise FileError("--out", str(out), f"one name for the workbook: {file}, or --out alone")
    path = file or out or Path("new.xlsx")
    may_write(path, overwrite, option="FILE" if file else "--out")
    kept = path.with_suffix(".toml") if extension and answers is None else None
    if kept is not None and kept.exists() and not overwrite:
        raise FileError(str(kept), "a file of that name", "a new name, or --replace")
    if answers is not None and not extension:
        raise FileError("--answers", str(answers), "a file only together with --extension")
    mine = None if earlier is None else earlier_job(earlier)
    if mine is not None:
        basis = basis or mine.particulars.get("basis_choice")
    if answers is not None:
        basis = basis or basis_begun(answers)
    basis = basis or ask_basis(_prompt, click.echo)
    with house.given_too(mine.house if mine is not None else ()):
        job = blank_job(basis)
        if answers is not None:
            job = read_beginning(answers, basis)
            say_left_out(job)
        elif extension:
            asked = ask_all(_prompt, click.echo)
            job = replace(job, particulars={**job.particulars, **asked})
    job = with_starter(job if mine is None else begun_from(job, mine))
    ledger = estimate(job, BLANK_ROOM)
    _save(ledger, path, JOB_TEMPLATE, BLANK_ROOM, overwrite)
    if kept is not None:
        write_whole(kept, begun_file(job).encode(), new=not overwrite)
        click.echo(f"\nThe answers are kept in {kept}, a job file that is begun.")
    if extension:
        _print_beginning(ledger)
        _print_left_blank(job, answers)
        _print_assumed(ledger, job.guidance)
    if is_available(ledger.cell("quote_total")):
        print_summary(ledger)
    _say_what_is_in_it(job, path, earlier)


def _prompt(text: str) -> str:
    try:
        return str(click.prompt(text, default="", show_default=False))
    except click.Abort:  # nobody is there to answer
        return ""


def _say_what_is_in_it(job: Job, path: Path, earlier: Path | None) -> None:
    """What was written, and what to do next."""
    priced = sum(row["price"] is not None for row in job.rows["book"])
    products = len(job.rows["book"])
    click.echo(f"\n{path} written: a workbook to fill in. Guidance: {job.guidance}.")
    if earlier is not None:
        click.echo(
            f"From {earlier.name}: {len(job.rows['suppliers'])} suppliers, {products} products "
            f"({priced} with a price), {len(job.rows['work_lines'])} lines of work, allowances and "
            "the firm's details. Nothing else of that job is in it."
        )
    elif not priced:
        click.echo(
            f"It has {products} products in common sizes, without prices. On Prices rename "
            f"{FIRST_SUPPLIER}, and type prices and delivery where it says that they are "
            f"missing."
        )
    click.echo("Fill in the shaded cells, Start first.")
    pasted_line = pasted(["estimator", "starters", str(path)])
    click.echo(f"For files beside it to double-click instead of typing commands: {pasted_line}")


def _save(ledger: Ledger, path: Path, template: Path, room: Room, overwrite: bool) -> None:
    build(ledger, template, room).save(path, new=not overwrite)


def _write(job_path: Path, path: Path, template: Path, overwrite: bool) -> None:
    if not template.is_file():
        raise FileError(str(template), None, "a template that exists")
    job = read_job(job_path)
    say_left_out(job)
    ledger = estimate(job, USUAL_ROOM)
    _save(ledger, path, template, USUAL_ROOM, overwrite)
    for what in not_carried(template):
        click.echo(f"Not carried over from {template.name}: {what}.", err=True)
    click.echo(f"{path} written.")
    print_summary(ledger)


def _print_assumed(ledger: Ledger, basis: str) -> None:
    """The figures nobody gave: said, each with its figure."""
    rows = reports.assumed(ledger)
    if not rows:
        return
    click.echo(
        f"\n{len(rows)} figures that {basis} does not state are assumed from common practice. "
        f"What rests on them is provisional. Type the job's own on Guidance:"
    )
    for row in rows:
        click.echo(f"  {row['label']:<44}{as_given(row['in_use']):>8} {row['unit']}")


def _print_beginning(ledger: Ledger) -> None:
    """What each roll and pack is for, and what has still to be found out."""
    for material, uses in reports.uses(ledger).items():
        click.echo(f"\n{material}")
        for use in uses:
            more = (
                f" + {quantity(use['laps'], use['unit'])} laps and turn-ups" if use["laps"] else ""
            )
            standing = "" if use["standing"] == "firm" else f" ({use['standing']})"
            click.echo(
                f"  {use['label']:<40}{figure(use['net'], use['unit'])} {use['unit']}"
                f"{more}{standing}"
            )
    for note in reports.notes(ledger):
        click.echo(f"\n{note}")
    click.echo("\nStill to be measured or found out:")
    for row in reports.open_questions(ledger):
        click.echo(f"  {as_given(row['open']):>3}  {row['what']}. {row['how']}")
    labels = {k.name: k.label for k in KEYS}
    for key in reports.unstated(ledger):
        click.echo(f"       {labels[key]}: no guidance states a figure: type your own")
    typed, assumed, blank = (
        as_given(ledger.cell(c)) for c in ("answers_typed", "figures_assumed", "answers_blank")
    )
    click.echo(
        f"\nOf the form {typed} answers are typed and {blank} blank. {assumed} figures are assumed."
    )


def _print_left_blank(job: Job, answers: Path | None) -> None:
    """The questions without an answer, all at once; by the names of a file where one was read."""
    blank = left_blank(job.particulars)
    if blank:
        listed = "; ".join(i.label if answers is None else f"{i.key}, {i.label}" for i in blank)
        where = "on Start" if answers is None else f"on Start, or under [form] in {answers.name}"
        click.echo(f"Answer these {where}: {listed}.")


def _free_name(folder: Path, stem: str) -> Path:
    path, n = folder / f"{stem}.xlsx", 1
    while path.exists():
        n += 1
        path = folder / f"{stem}-{n}.xlsx"
    return path
