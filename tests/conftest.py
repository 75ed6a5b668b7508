"""What pytest leaves alone, which files begin first, what only the long run does; and no test may
fail because the machine is busy.
"""

import os
import shutil
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, TypeVar

import pytest
from hypothesis import settings

from estimator import __version__
from estimator.documents import pdf

from . import hosts

# `sh tests/check --long` sets this. What only the long run does is what reads LONG or `in_turn`, and
# the rest of the files in TURNS: in the short run some cases, and some tests, wait for their version.
LONG = os.environ.get("LONG_RUN") == "yes"
Thing = TypeVar("Thing")


def in_turn(things: Sequence[Thing], of: int) -> Sequence[Thing]:
    """One in so many of these in the short run, others for each version; all in the long run."""
    return things if LONG else things[sum(int(n) for n in __version__.split(".")) % of :: of]


collect_ignore = [
    *("calc_driver.py", "addin_driver.py", "benchmarks.py", "benchmark_functions.py"),
    *("windows_stand_in.py", "excel_in_stand_in.py"),
]

# These take longest: on two cores the run ends sooner when they do not begin last.
FIRST = (
    *("test_parity", "test_issue_command", "test_edits", "test_issue_cut_short", "test_injection"),
    *("test_issuing", "test_calc_menu", "test_addin_calc", "test_afresh", "test_functions"),
    "test_blanks",
    *("test_price_requests", "test_changes", "test_revisions", "test_leaks", "test_percent"),
)

# Of these files a run of all files takes one test in so many. Each test here starts a program, or
# writes workbooks, and has others much like it in its file.
_ONE_IN = {
    8: "edits issue_command issuing workbook",
    6: "afresh blanks changes_random cheapest excel_like house issue_cut_short layouts plan_into "
    "price_requests refresh returned revisions same_rules starters walks",
    4: "cutting_plan dry_run leaks mutation percent plan price_ages starter terms",
    3: "bad_input beginning changes check_rows checks cutting drawn form_before functions holes "
    "injection mail opening_places places_random price_lists worked_once",
    2: "addin_calc documents_drawn job_layouts",
}
TURNS = {f"test_{name}": of for of, names in _ONE_IN.items() for name in names.split()}


@pytest.hookimpl(tryfirst=True)  # pytest-xdist 3.8 reads the groups in the same hook
def pytest_collection_modifyitems(config: pytest.Config, items: list[Any]) -> None:
    """The slowest files first, all others in their order; a file, or a part of it, is one worker's.
    In a short run of all files, by turns."""
    files = {item.path.stem for item in items}
    if not LONG and set(TURNS) <= files and not config.option.keyword:
        of_file = {f: [i for i in items if i.path.stem == f] for f in TURNS}
        waiting = {i for f, of in TURNS.items() for i in of_file[f]}
        waiting -= {i for f, of in TURNS.items() for i in in_turn(of_file[f], of)}
        items[:] = [item for item in items if item not in waiting]
    rank = {name: n for n, name in enumerate(FIRST)}
    items.sort(key=lambda item: rank.get(item.path.stem, len(FIRST)))
    for item in items:
        part = getattr(getattr(item, "callspec", None), "params", {}).get("cases", "")
        item.add_marker(pytest.mark.xdist_group(f"{item.path.stem}{part}"))


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """With --durations, a table of the seconds of work in each file, for DEVELOPERS.md."""
    if not terminalreporter.config.option.durations:
        return
    seconds: Counter[str] = Counter()
    for reports in terminalreporter.stats.values():
        for report in reports:
            if hasattr(report, "duration"):
                seconds[report.nodeid.partition("::")[0]] += report.duration
    long = [(name, found) for name, found in seconds.most_common() if found >= 10]
    rest = seconds.total() - sum(found for _, found in long)
    terminalreporter.section("seconds of work in each file")
    rows = [("test file", "seconds"), ("---", "--:"), *((n, f"{f:.0f}") for n, f in long)]
    rows += [("all others", f"{rest:.0f}"), ("in all", f"{seconds.total():.0f}")]
    for name, found in rows:
        terminalreporter.write_line(f"| {name} | {found} |")


@pytest.fixture(scope="session", autouse=True)
def _no_office_stays_behind() -> Iterator[None]:
    yield
    hosts.end_office()


@pytest.fixture(autouse=True)
def _pdfs_by_the_office_that_is_open(
    request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is issued is printed by the LibreOffice the tests keep, not by one started for it.

    Only where it would be started rightly, and not in tests of just that: marked `own_office`.
    """
    if request.node.get_closest_marker("own_office"):
        return
    real = pdf._run

    def run(command: list[str], seconds: float) -> str | None:
        start = command.index("--outdir")
        out, *workbooks = command[start + 1 :]
        if command[0] != shutil.which("soffice") or not hosts.can_be_driven():
            return real(command, seconds)
        for workbook in map(Path, workbooks):
            printed = str(Path(out, workbook.stem + ".pdf"))
            hosts.drive(workbook, [["save", printed, hosts.FILTERS["pdf"]]], recalculate=False)
        return None

    monkeypatch.setattr(pdf, "_run", run)


settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
