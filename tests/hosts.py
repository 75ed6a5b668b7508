"""The spreadsheet programs the tests run, and a reader for what they wrote.

Both programs trust results stored in a file, so both are made to recalculate everything:
LibreOffice by its settings, Gnumeric by --recalc. A test breaks a formula to see that it shows.
"""

import contextlib
import json
import os
import re
import select
import shutil
import signal
import subprocess
import tempfile
import zipfile
from collections.abc import Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import ironcalc
import pytest
from lxml import etree
from openpyxl.utils import get_column_letter

SYSTEM_PYTHON = "/usr/bin/python3"
DRIVER = Path(__file__).with_name("calc_driver.py")

Figures = dict[str, dict[str, Any]]  # {sheet: {cell: value}}


def need(program: str) -> str:
    """The path of a program; without it the test is skipped, or fails where CI is true."""
    path = shutil.which(program)
    if path is None:
        reason = (
            f"{program} is not installed: apt-get install libreoffice-calc gnumeric poppler-utils"
        )
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    return path


@cache
def can_be_driven() -> bool:
    """Whether LibreOffice can be driven from Python."""
    try:
        subprocess.run([SYSTEM_PYTHON, "-c", "import uno"], check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError):
        return False
    return True


def need_uno() -> None:
    """Skip, or fail in CI, where LibreOffice cannot be driven from Python."""
    need("soffice")
    if not can_be_driven():
        reason = "python3-uno is not installed: apt-get install python3-uno"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)


class Office:
    """The one LibreOffice of whoever runs these tests, kept open from one test to the next.

    It has a profile of its own. What each request opens is closed after it.
    """

    PATIENCE = 600  # seconds for one file: only what hangs takes longer

    def __init__(self) -> None:
        need_uno()
        self.home = Path(tempfile.mkdtemp(prefix="calc"))
        self.process = subprocess.Popen(
            [SYSTEM_PYTHON, str(DRIVER), str(self.home)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            start_new_session=True,
        )

    def ask(self, file: Path, steps: list[Any], recalculate: bool) -> list[Any] | None:
        """The answers to the steps; None when LibreOffice is gone."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        try:
            words = json.dumps([str(file), recalculate, steps]) + "\n"
            self.process.stdin.write(words.encode())
            self.process.stdin.flush()
        except BrokenPipeError:
            return None
        # One answer for one request: nothing can wait in the buffer.
        if not select.select([self.process.stdout], [], [], self.PATIENCE)[0]:
            return None
        line = self.process.stdout.readline()
        if not line:
            return None
        found: dict[str, Any] = json.loads(line)
        assert "wrong" not in found, found["wrong"]
        answers: list[Any] = found["answers"]
        return answers

    def end(self) -> None:
        """Close it, by force if it does not end by itself."""
        assert self.process.stdin is not None
        with contextlib.suppress(OSError):
            self.process.stdin.close()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self.process.wait(timeout=30)
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        shutil.rmtree(self.home, ignore_errors=True)


_offices: list[Office] = []


def drive(file: Path, steps: list[list[Any]], recalculate: bool | None = None) -> list[Any]:
    """Do things to a file in LibreOffice as a person would; the answers, step by step.

    Unless it is said, the file is recalculated when it is opened only where no step does so: `get`
    works out everything from scratch.

    LibreOffice was once seen to die without a word, which says nothing about the file: then it is
    started again, once.
    """
    if recalculate is None:
        recalculate = all(step[0] != "get" for step in steps)
    for _ in range(2):
        if not _offices:
            _offices.append(Office())
        answers = _offices[-1].ask(file, steps, recalculate)
        if answers is not None:
            return answers
        end_office()
    raise AssertionError(f"LibreOffice ended twice over {file.name}")


def end_office() -> None:
    """Close the LibreOffice that was kept, if there is one."""
    while _offices:
        _offices.pop().end()


FILTERS = {
    "xlsx": "Calc MS Excel 2007 XML",
    "xls": "MS Excel 97",
    "pdf": "calc_pdf_Export",
    "ods": "calc8",
}


def by_libreoffice(
    files: Iterable[Path], folder: Path, kind: str = "xlsx", recalculate: bool = True
) -> dict[str, Path]:
    """Open, recalculate and save many files."""
    out = folder / f"libreoffice_{kind}"
    out.mkdir(parents=True, exist_ok=True)
    found = {}
    for file in files:
        found[file.stem] = out / f"{file.stem}.{kind}"
        drive(file, [["save", str(found[file.stem]), FILTERS[kind]]], recalculate)
    return found


def by_gnumeric(files: Iterable[Path], folder: Path) -> dict[str, Path]:
    """Open, recalculate and save each file."""
    program = need("ssconvert")
    out = folder / "gnumeric"
    out.mkdir(parents=True)

    def one(file: Path) -> tuple[str, Path]:
        saved = out / file.name
        command = [program, "--recalc", str(file), str(saved)]
        subprocess.run(command, check=True, capture_output=True, timeout=300)
        return file.stem, saved

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return dict(pool.map(one, files))


SPOILT = -987654.5  # stands in no file of ours


def by_ironcalc(data: bytes, where: Mapping[str, Iterable[tuple[int, int]]]) -> Figures:
    """What cells show once IronCalc has worked out the file: rows and columns, by sheet.

    Before it is read, the stored result of every formula is put out of the file.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "spoilt.xlsx")
        path.write_bytes(spoilt(data))
        model = ironcalc.load_from_xlsx(str(path), "en", "UTC")
    model.evaluate()
    sheets = [sheet["name"] for sheet in model.get_worksheets_properties()]
    found: Figures = {}
    for name, cells in where.items():
        number = sheets.index(name)
        shown = {at: model.get_cell_value(number, *at) for at in cells}
        found[name] = {
            f"{get_column_letter(column)}{row}": "" if value is None else value
            for (row, column), value in shown.items()
        }
    return found


def spoilt(data: bytes) -> bytes:
    """The file with one figure, which is wrong everywhere, as the result of every formula."""
    written = BytesIO()
    with (
        zipfile.ZipFile(BytesIO(data)) as package,
        zipfile.ZipFile(written, "w") as archive,
    ):
        parts = set(_sheets(package).values())
        for name in package.namelist():
            part = package.read(name)
            if name in parts:
                tree = etree.fromstring(part)
                for formula in tree.iter(f"{_NS}f"):
                    cell = formula.getparent()
                    cell.attrib.pop("t", None)
                    for stored in cell.iterchildren(f"{_NS}v"):
                        stored.text = repr(SPOILT)
                part = etree.tostring(tree)
            archive.writestr(name, part)
    return written.getvalue()


_CODED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_NS = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RID = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


def figures(path: Path, formulas_only: bool = False) -> Figures:
    """What a file's cells show: numbers, texts, errors; blanks are left out."""
    with zipfile.ZipFile(path) as package:
        shared = _shared_strings(package)
        found: Figures = {}
        for name, part in _sheets(package).items():
            cells: dict[str, Any] = {}
            for cell in etree.fromstring(package.read(part)).iter(f"{_NS}c"):
                inside = {child.tag: child.text for child in cell}
                if formulas_only and f"{_NS}f" not in inside:
                    continue
                cells[cell.get("r")] = _value(cell, inside.get(f"{_NS}v"), shared)
            found[name] = cells
    return found


def _value(cell: Any, text: str | None, shared: list[str]) -> Any:
    kind = cell.get("t", "n")
    if kind == "inlineStr":
        return _decoded("".join(cell.itertext()))
    if kind == "s":
        return shared[int(text or "")]
    if kind in ("str", "e"):
        return _decoded(text or "")
    if text is None:
        return ""
    return bool(int(text)) if kind == "b" else float(text)


def _decoded(text: str) -> str:
    return _CODED.sub(lambda m: chr(int(m.group(1), 16)), text) if "_x" in text else text


def _shared_strings(package: zipfile.ZipFile) -> list[str]:
    if "xl/sharedStrings.xml" not in package.namelist():
        return []
    root = etree.fromstring(package.read("xl/sharedStrings.xml"))
    return [_decoded("".join(t.text or "" for t in s.iter(f"{_NS}t"))) for s in root]


def _sheets(package: zipfile.ZipFile) -> Mapping[str, str]:
    targets = {
        r.get("Id"): r.get("Target")
        for r in etree.fromstring(package.read("xl/_rels/workbook.xml.rels"))
    }
    book = etree.fromstring(package.read("xl/workbook.xml"))
    return {
        s.get("name"): "xl/" + targets[s.get(_RID)].removeprefix("/xl/").removeprefix("xl/")
        for s in book.iter(f"{_NS}sheet")
    }
