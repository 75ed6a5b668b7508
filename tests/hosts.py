"""The spreadsheet programs the tests run, and a reader for what they wrote.

Both programs trust results stored in a file, so both are made to recalculate everything:
LibreOffice by its profile, Gnumeric by --recalc. A test breaks a formula to see that it shows.
"""

import json
import os
import re
import shutil
import subprocess
import zipfile
from collections.abc import Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

ALWAYS_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
<prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>"""
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


def need_uno() -> None:
    """Skip, or fail in CI, where LibreOffice cannot be driven from Python."""
    need("soffice")
    try:
        subprocess.run([SYSTEM_PYTHON, "-c", "import uno"], check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError):
        reason = "python3-uno is not installed: apt-get install python3-uno"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)


def profile(folder: Path) -> Path:
    """A fresh LibreOffice profile that recalculates every file it opens."""
    user = folder / "user"
    user.mkdir(parents=True)
    (user / "registrymodifications.xcu").write_text(ALWAYS_RECALCULATE)
    return folder


def by_libreoffice(files: Iterable[Path], folder: Path, kind: str = "xlsx") -> dict[str, Path]:
    """Open, recalculate and save many files: one call for each core, each with its own profile."""
    program = need("soffice")
    out = folder / f"libreoffice_{kind}"
    names = [str(f) for f in files]
    calls = min(os.cpu_count() or 1, len(names))

    def one(n: int) -> None:
        home = f"-env:UserInstallation=file://{profile(folder / f'profile_{kind}_{n}')}"
        command = [program, "--headless", home, "--convert-to", kind, "--outdir", str(out)]
        subprocess.run([*command, *names[n::calls]], check=True, capture_output=True, timeout=2400)

    with ThreadPoolExecutor(calls) as pool:
        list(pool.map(one, range(calls)))
    return {Path(n).stem: out / f"{Path(n).stem}.{kind}" for n in names}


def by_gnumeric(files: Iterable[Path], folder: Path) -> dict[str, Path]:
    """Open, recalculate and save each file."""
    program = need("ssconvert")
    out = folder / "gnumeric"
    out.mkdir()

    def one(file: Path) -> tuple[str, Path]:
        saved = out / file.name
        command = [program, "--recalc", str(file), str(saved)]
        subprocess.run(command, check=True, capture_output=True, timeout=300)
        return file.stem, saved

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return dict(pool.map(one, files))


def drive(file: Path, steps: list[dict[str, Any]], folder: Path) -> list[Any]:
    """Do things to a file in LibreOffice as a person would; the answers, step by step."""
    need_uno()
    for attempt in ("driven", "driven_again"):
        answer = subprocess.run(
            [SYSTEM_PYTHON, str(DRIVER), str(profile(folder / attempt)), str(file)],
            input=json.dumps(steps),
            text=True,
            capture_output=True,
            timeout=300,
            check=False,
        )
        # LibreOffice was once seen to die without a word; that says nothing about the file.
        if answer.returncode == 0 or answer.stderr:
            break
    assert answer.returncode == 0, answer.stderr
    answers: list[Any] = json.loads(answer.stdout)
    return answers


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
                if formulas_only and cell.find(f"{_NS}f") is None:
                    continue
                cells[cell.get("r")] = _value(cell, shared)
            found[name] = cells
    return found


def _value(cell: Any, shared: list[str]) -> Any:
    kind = cell.get("t", "n")
    if kind == "inlineStr":
        return _decoded("".join(cell.itertext()))
    text = cell.findtext(f"{_NS}v")
    if kind == "s":
        return shared[int(text)]
    if kind in ("str", "e"):
        return _decoded(text or "")
    if text is None:
        return ""
    return bool(int(text)) if kind == "b" else float(text)


def _decoded(text: str) -> str:
    return re.sub(r"_x([0-9A-Fa-f]{4})_", lambda m: chr(int(m.group(1), 16)), text)


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
