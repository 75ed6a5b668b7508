"""What pytest leaves alone: scripts that other programs run."""

collect_ignore = ["calc_driver.py", "benchmark_writing.py"]
