"""What pytest leaves alone, and no test may fail because the machine is busy."""

from hypothesis import settings

collect_ignore = [
    *("calc_driver.py", "addin_driver.py", "benchmark_writing.py", "benchmark_functions.py"),
    *("windows_stand_in.py", "excel_in_stand_in.py"),
]

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
