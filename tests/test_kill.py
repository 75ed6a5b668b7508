"""Killed at any moment of writing, the old file or the new stands there whole; nothing blocks.

The child ends itself, as power lost would, at each call to the system that the writer makes: no
test waits for a moment that a busy machine may miss.
"""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from estimator.files.keeping import replace_keeping

OLD, NEW = b"old" * 70_000, b"new!" * 70_000
CHILD = """
import os, signal, sys
from pathlib import Path
from estimator.files import keeping
path, call, wanted = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
real, count = getattr(os, call), [0]
def dies(*words, **more):
    count[0] += 1
    if count[0] == wanted:
        os.kill(os.getpid(), signal.SIGKILL)
    return real(*words, **more)
setattr(os, call, dies)
keeping.replace_keeping(path, b"new!" * 70_000, path.with_name("kept.xlsx"), b"old" * 70_000)
print(count[0])
"""
# Each call, as often as one replacement makes it: twice a file is written, once it is linked.
MOMENTS = [
    *(("fdopen", n) for n in (1, 2)),
    *(("fsync", n) for n in (1, 2)),
    *(("chmod", n) for n in (1, 2)),
    ("link", 1),
    ("replace", 1),
]


def _run(path: Path, call: str, wanted: int) -> "subprocess.CompletedProcess[bytes]":
    command = [sys.executable, "-c", CHILD, str(path), call, str(wanted)]
    return subprocess.run(command, capture_output=True, check=False)


@pytest.mark.parametrize(("call", "wanted"), MOMENTS)
def test_killed_at_each_moment(call: str, wanted: int, tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(OLD)
    done = _run(path, call, wanted)
    assert done.returncode == -signal.SIGKILL, done.stderr.decode()
    assert path.read_bytes() == OLD
    assert all(kept.read_bytes() == OLD for kept in tmp_path.glob("kept*"))
    replace_keeping(path, NEW, path.with_name("after.xlsx"), path.read_bytes())
    assert path.read_bytes() == NEW
    assert not [p.name for p in tmp_path.iterdir() if p.name.startswith(".")], "nothing is left"


def test_every_moment_is_tried(tmp_path: Path) -> None:
    for call in {c for c, _ in MOMENTS}:
        path = tmp_path / call / "job.xlsx"
        path.parent.mkdir()
        path.write_bytes(OLD)
        done = _run(path, call, 99)
        assert done.stdout.decode().strip() == str(max(n for c, n in MOMENTS if c == call)), call
        assert path.read_bytes() == NEW
