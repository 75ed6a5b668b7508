"""What pytest leaves alone, which files begin first, what only the long run does; and no test may
fail because the machine is busy.
"""

import os
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import settings

from .hosts import end_office

# `sh tests/check --long` sets this: then what is marked `long` runs too, and what a test tries a
# slice of (a test that reads LONG) is tried in full.
LONG = os.environ.get("LONG_RUN") == "yes"

collect_ignore = [
    *("calc_driver.py", "addin_driver.py", "benchmark_writing.py", "benchmark_functions.py"),
    *("windows_stand_in.py", "excel_in_stand_in.py"),
]

# These take longest: on two cores the run ends sooner when they do not begin last.
FIRST = ("test_parity", "test_edits", "test_injection", "test_addin_calc", "test_issuing")


def pytest_collection_modifyitems(items: list[Any]) -> None:
    """The slowest files first, all others in their order; `long` ones in the long run alone."""
    rank = {name: n for n, name in enumerate(FIRST)}
    items.sort(key=lambda item: rank.get(item.path.stem, len(FIRST)))
    if not LONG:
        items[:] = [item for item in items if item.get_closest_marker("long") is None]


@pytest.fixture(scope="session", autouse=True)
def _no_office_stays_behind() -> Iterator[None]:
    yield
    end_office()


settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
