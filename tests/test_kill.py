"""Killed at any moment of writing, the old file or the new stands there whole; nothing blocks."""

import subprocess
import sys
import time
from pathlib import Path

from estimator.package.keeping import replace_keeping

OLD, NEW = b"old" * 700_000, b"new!" * 700_000
CHILD = """
import sys
from pathlib import Path
from estimator.package.keeping import replace_keeping
path = Path(sys.argv[1])
old, new = b"old" * 700_000, b"new!" * 700_000
print("go", flush=True)
while True:
    replace_keeping(path, new, path.with_name("kept.xlsx"), old)
    replace_keeping(path, old, path.with_name("kept.xlsx"), new)
"""


def test_killed_at_many_moments(tmp_path: Path) -> None:
    cut = 0
    for trial in range(30):
        folder = tmp_path / str(trial)
        folder.mkdir()
        path = folder / "job.xlsx"
        path.write_bytes(OLD)
        child = subprocess.Popen([sys.executable, "-c", CHILD, str(path)], stdout=subprocess.PIPE)
        assert child.stdout is not None
        child.stdout.readline()
        time.sleep(trial * 0.003)
        child.kill()
        child.wait()
        child.stdout.close()
        assert path.read_bytes() in (OLD, NEW)
        assert all(kept.read_bytes() in (OLD, NEW) for kept in folder.glob("kept*"))
        cut += any(folder.glob(".*.part"))
        replace_keeping(path, NEW, path.with_name("after.xlsx"), path.read_bytes())
        assert path.read_bytes() == NEW
    assert cut, "no child was killed while it wrote: the test showed nothing"
