"""What pytest leaves alone, which files begin first, and no test may fail because the machine is busy."""

from typing import Any

from hypothesis import settings

collect_ignore = [
    *("calc_driver.py", "addin_driver.py", "benchmarks.py", "benchmark_functions.py"),
    *("windows_stand_in.py", "excel_in_stand_in.py"),
]

# These take longest: on two cores the run ends sooner when they do not begin last.
FIRST = ("test_parity", "test_edits", "test_injection", "test_addin_calc", "test_issuing")


def pytest_collection_modifyitems(items: list[Any]) -> None:
    """The slowest files first, all others in their order."""
    rank = {name: n for n, name in enumerate(FIRST)}
    items.sort(key=lambda item: rank.get(item.path.stem, len(FIRST)))


settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
