"""An issue is written down before its documents are placed, so that a killed one can be undone.

The journal stands beside the workbook for as long as documents are placed and not yet recorded.
Whatever stops the program between the two, the next run finds it, and either the workbook holds
the record (then all is there) or it does not (then what was placed is taken away again).
"""

import hashlib
import json
import shutil
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from ..errors import so_many
from ..files.keeping import PRIVATE, real, write_whole

STAGING = ".issue-"  # how a folder of documents that are not placed yet begins


def digest_of(data: bytes) -> str:
    """SHA-256 (FIPS 180-4) of a file's content."""
    return hashlib.sha256(data).hexdigest()


def journal_of(job: Path) -> Path:
    """Where the journal of that workbook stands."""
    job = real(job)
    return job.with_name(f".{job.name}.issue")


def staging_of(job: Path) -> str:
    """How the staging folders of that workbook begin: two jobs may be issued to one folder."""
    return f"{STAGING}{digest_of(str(real(job).resolve()).encode())[:12]}-"


def write_down(
    job: Path,
    revision: str,
    recorded: bytes,
    files: Mapping[Path, Path],
    kept: Mapping[Path, bytes],
    staging: Path,
) -> None:
    """Note what is to be placed, before anything is: each file by the digest of its content.

    `files` are the places, each with where the file is now; `recorded` is the workbook with the
    issue in it, and `kept` the copy of it as it was.
    """
    placed = {str(to.resolve()): digest_of(at.read_bytes()) for to, at in files.items()}
    placed |= {str(to.resolve()): digest_of(data) for to, data in kept.items()}
    noted = {
        "revision": revision,
        "workbook": digest_of(recorded),
        "staging": str(staging.resolve()),
        "files": placed,
    }
    data = json.dumps(noted, indent=1).encode()
    write_whole(journal_of(job), data, PRIVATE, beside=job)


def settle(job: Path, say: Callable[[str], None]) -> None:
    """Complete or undo an issue that was cut short, and say which. The workbook must be locked."""
    journal = journal_of(job)
    noted = _read(journal)
    if noted is None:
        return
    revision, files = noted["revision"], noted["files"]
    if digest_of(job.read_bytes()) == noted["workbook"]:
        say(f"The issue of revision {revision} was cut short after it was recorded: it is whole.")
    else:
        gone = list(_taken_away(files))
        say(f"The issue of revision {revision} was cut short before it was recorded: "
            f"{so_many(len(gone), 'document')} that it had placed taken away.")  # fmt: skip
    shutil.rmtree(noted["staging"], ignore_errors=True)
    journal.unlink(missing_ok=True)


def sweep(job: Path, folder: Path) -> None:
    """Take away what a killed issue of this workbook left unplaced there. It must be locked."""
    if folder.is_dir():
        for left in folder.glob(f"{staging_of(job)}*"):
            shutil.rmtree(left, ignore_errors=True)


def _read(journal: Path) -> dict[str, Any] | None:
    """What was noted; a journal is written whole or not at all, so any other text is not ours."""
    try:
        noted = json.loads(journal.read_text("utf-8"))
    except (OSError, ValueError):
        return None
    return noted if isinstance(noted, dict) and "workbook" in noted else None


def _taken_away(files: Mapping[str, str]) -> Iterable[Path]:
    """Each file that stands there as it was placed; one that is another by now is left."""
    for name, digest in files.items():
        path = Path(name)
        if path.is_file() and digest_of(path.read_bytes()) == digest:
            path.unlink()
            yield path
