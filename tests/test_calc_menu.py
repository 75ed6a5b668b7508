"""The menu in LibreOffice Calc, driven as a user who is not root: from an unsaved edit to files.

One LibreOffice serves all. Its dialogs are answered beforehand, as whoever dispatches an entry may.
"""

import json
import shlex
import sys
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import Workbook, load_workbook
from openpyxl.utils import coordinate_to_tuple

from estimator.cli.addin import calc_menu
from estimator.cli.main import main
from estimator.cli.starter_files import ACTIONS
from estimator.files.resources import DEMO_JOB
from estimator.hosts.calc.extension import HOST, extension
from estimator.hosts.calc.menu import (
    ACTION,
    HANDLER,
    PROTOCOL,
    SETTINGS,
    SPREADSHEET,
    STEP,
    TITLE,
    WORKBOOK,
)
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.workbook.reading.inputs import read_back

from .addin_host import Calc, calc, give
from .made import laid_out
from .test_house import OURS
from .test_issue_command import ROOM
from .test_price_requests import Sheet

ROOT = Path(__file__).parent.parent
PROGRAM = "damp-proofing-program"  # in the user's bin: this checkout's, until a test replaces it
CLIENT = "R. Unsaved (invented)"
INSTALLED = f"""#!/bin/sh
exec env PYTHONPATH={shlex.quote(str(ROOT))} {shlex.quote(sys.executable)} -m estimator.cli "$@"
"""
OPENS = '#!/bin/sh\nprintf "%s\\n" "$@" >> "$HOME/opened"\n'
PRINTS_NOTHING = "#!/bin/sh\nexit 1\n"  # a PDF is the subject of other tests


# ---- the extension's own files ----


def test_the_extension_carries_the_program_and_the_menu(tmp_path: Path) -> None:
    bases = tmp_path / "bases"
    bases.mkdir()
    (bases / "our_details.toml").write_text(OURS, "utf-8")
    out = tmp_path / "f.oxt"
    done = CliRunner().invoke(main, ["addin", "--out", str(out), "--bases", str(bases)])
    assert done.exit_code == 0, done.output
    with zipfile.ZipFile(out) as package:
        told = json.loads(package.read(SETTINGS))
        manifest = package.read("META-INF/manifest.xml").decode()
    # pytest runs the tests, so the program is a module of its Python.
    assert told["command"] == [
        *(sys.executable, "-m", "estimator.cli", "starters", "{workbook}"),
        *("--run", "{action}", "--step", "{step}", "--bases", str(bases)),
    ]
    assert f"Its menu runs {sys.executable} -m estimator.cli." in done.output
    for name in ("Addons.xcu", "ProtocolHandler.xcu", "damp_menu.py"):
        assert f'"{name}"' in manifest


def test_the_code_answers_to_the_name_it_is_registered_by() -> None:
    code = (HOST / "damp_menu.py").read_text("utf-8")
    assert f'HANDLER, PROTOCOL = "{HANDLER}", "{PROTOCOL}"' in code
    assert f'SETTINGS = "{SETTINGS}"' in code
    for place in (WORKBOOK, ACTION, STEP):
        assert f'"{place}": ' in code


# ---- in LibreOffice ----


@dataclass
class Desk:
    """The running LibreOffice, with a workbook of the demo job open in it."""

    calc: Calc
    job: Path
    layout: Any

    def type(self, name: str, value: str) -> None:
        """Into a named cell, and no more: nothing is saved."""
        sheet, at = self.layout.cell(name)
        row, column = coordinate_to_tuple(at.replace("$", ""))
        self.calc.do(["put", sheet, row - 1, column - 1, [[value]]])

    def shows(self, sheet: str, at: str) -> Any:
        at = at.replace("$", "")
        return self.calc.do(["read", sheet, f"{at}:{at}"])[0][0][0]

    def choose(self, entry: str, answer: bool = False) -> str:
        """The words of an entry that is carried out; the workbook is open after it."""
        ((done, words),) = self.calc.do(["choose", entry, answer])
        assert done, words
        return str(words)

    def refused(self, entry: str = "compare") -> str:
        ((done, words),) = self.calc.do(["choose", entry, True])
        assert not done, words
        return str(words)

    def bin(self, name: str, content: str) -> None:
        path = self.calc.home / "bin" / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(content)
        path.chmod(0o755)
        give(path.parent)

    def names(self) -> set[str]:
        return {p.name for p in self.job.parent.iterdir() if not p.name.startswith(".")}


@pytest.fixture(scope="module")
def desk() -> Iterator[Desk]:
    built, data = laid_out(estimate(read_job(DEMO_JOB), ROOM), ROOM)
    content = extension(calc_menu([PROGRAM]))
    with calc(recalculate=False, content=content, reading_all=True) as running:
        job = running.home / "jobs" / "my job.xlsx"
        job.parent.mkdir()
        job.write_bytes(data)
        give(job.parent)
        found = Desk(running, job, built.layout)
        running.do(["open", str(job)])  # it runs: the program that prints PDFs can be hidden now
        for name, content in ((PROGRAM, INSTALLED), ("xdg-open", OPENS), ("soffice", PRINTS_NOTHING)):  # fmt: skip
            found.bin(name, content)
        yield found


@pytest.mark.host
def test_from_an_unsaved_edit_to_files(desk: Desk) -> None:
    """Each entry in turn, on one workbook, as a person goes through a job."""
    ((title, context, entries),) = desk.calc.do(["menu"])
    assert (title, context) == (TITLE, SPREADSHEET)
    assert entries == [[words.capitalize(), True] for words in ACTIONS.values()]

    # Shown and not issued: the edit is saved, and nothing else is there.
    desk.type("client_name", CLIENT)
    before = desk.job.read_bytes()
    words = desk.choose("issue", answer=False)
    assert "A dry run: nothing was written or recorded. Revision B would be in" in words
    assert desk.names() == {"my job.xlsx"}
    assert desk.job.read_bytes() != before
    assert read_back(desk.job).job.particulars["client_name"] == CLIENT
    assert desk.shows(*desk.layout.cell("client_name")) == CLIENT

    # Issued: files in a folder, the edit in them, the record in the workbook and in the window.
    desk.type("client_name", CLIENT.replace("R.", "S."))
    words = desk.choose("issue", answer=True)
    assert "Recorded in my job.xlsx." in words
    folder = desk.job.parent / "my job issued"
    assert words.endswith(f"The files are in {folder}.")
    (quote,) = folder.glob("Quotation*.xlsx")
    texts = {c.value for s in load_workbook(quote) for row in s.iter_rows() for c in row}
    assert CLIENT.replace("R.", "S.") in texts
    assert list(folder.glob("Order list*.xlsx"))
    # By tests/test_issue_command.py the demo's total; the name moves no figure.
    record = read_back(desk.job).job.rows["revisions"][-1]
    assert (record["revision"], record["total"]) == ("B", 3709.97)
    span = desk.layout.typed("revisions")
    marks = [desk.shows(span.sheet, f"{span.letters['revision']}{span.first + n}") for n in (0, 1)]
    assert marks == ["A", "B"]
    assert desk.names() == {"my job.xlsx", "my job issued", "my job issued B.xlsx"}

    # Prices asked for, filled in, shown, taken.
    words = desk.choose("request")
    assert "Nothing was sent: look at the files, then send them yourself." in words
    requests = desk.job.parent / "my job price requests"
    assert len(list(requests.glob("*.xlsx"))) == 2
    returned = desk.job.parent / "my job prices returned"
    assert f"Put the workbooks that came back into the folder {returned}" in desk.choose("prices")
    (asked,) = requests.glob("*fernbank*.xlsx")
    Sheet(asked).put("F-01", price=30).saved(returned / asked.name)
    words = desk.choose("prices", answer=True)
    assert words.index("What changes:") < words.index("The file as it was is kept as my job before")
    book = read_back(desk.job).job.rows["book"]
    was = {r["code"]: r["price"] for r in read_job(DEMO_JOB).rows["book"]}
    assert {r["code"]: r["price"] for r in book} == {**was, "F-01": 30}
    span = desk.layout.typed("book")
    row = span.first + [r["code"] for r in book].index("F-01")
    assert desk.shows(span.sheet, f"{span.letters['price']}{row}") == 30

    # What only reads says it, of what is on the screen.
    desk.type("client_name", CLIENT.replace("R.", "T."))
    assert "The whole list from one supplier instead" in desk.choose("compare")
    assert read_back(desk.job).job.particulars["client_name"] == CLIENT.replace("R.", "T.")
    words = desk.choose("changes")
    assert words.startswith("Since my job issued B.xlsx, the workbook as it was when")
    assert "30" in words
    told = desk.calc.home / "opened"
    opened = told.read_text().splitlines()
    told.unlink()
    assert [url.rpartition("/")[2] for url in opened] == [
        *("my%20job%20issued", "my%20job%20price%20requests", "my%20job%20prices%20returned"),
        "jobs",
    ]


@pytest.mark.host
def test_what_was_being_typed_is_saved_too(desk: Desk) -> None:
    """No key was pressed after it: Calc alone would lose it when the workbook is closed. The entry
    is dispatched as the menu does it; the folder is opened last of all."""
    sheet, at = desk.layout.cell("client_name")
    words = "U. Unsaved"
    ((shown,),) = (desk.calc.do(["half_type", sheet, at.replace("$", ""), words]),)
    assert shown == CLIENT.replace("R.", "T."), "the cell is still being edited"
    opened = desk.calc.home / "opened"
    assert desk.calc.do(["pick", "issue", True], ["wait", str(opened)]) == [None, True]
    assert (desk.job.parent / "my job issued C.xlsx").exists()
    assert read_back(desk.job).job.particulars["client_name"] == words
    assert desk.shows(sheet, at) == words


@pytest.mark.host
def test_what_the_program_refuses_is_said_and_the_workbook_is_open_again(desk: Desk) -> None:
    """Nothing has changed since it was issued: the second time there is nothing to issue."""
    words = desk.refused("issue")
    assert "found 'nothing that has changed since revision C, " in words
    assert desk.shows(*desk.layout.cell("client_name")) == "U. Unsaved"


@pytest.mark.host
def test_a_program_that_is_gone_or_fails_is_said(desk: Desk) -> None:
    desk.bin(PROGRAM, "#!/bin/sh\necho 'Something else.'\nexit 3\n")
    assert desk.refused("issue") == "Something else."
    desk.bin(PROGRAM, "#!/bin/sh\nexit 4\n")
    assert desk.refused() == "The program ended with code 4."
    (desk.calc.home / "bin" / PROGRAM).unlink()
    assert desk.refused("issue").startswith(
        f"{PROGRAM}: found No such file or directory; accepted:"
    )
    assert desk.shows(*desk.layout.cell("client_name")) == "U. Unsaved"
    desk.bin(PROGRAM, INSTALLED)


@pytest.mark.host
def test_what_is_no_saved_workbook_of_ours_is_refused_and_left_alone(desk: Desk) -> None:
    desk.calc.do(["close"], ["open", ""])
    assert "found no file: it was never saved; accepted: a workbook that" in desk.refused()
    ods, other, locked = (desk.calc.home / n for n in ("a.ods", "other.xlsx", "locked.xlsx"))
    desk.calc.do(["save", str(ods)], ["close"])
    bare = BytesIO()
    Workbook().save(bare)
    other.write_bytes(bare.getvalue())
    locked.write_bytes(desk.job.read_bytes())
    give(desk.calc.home)
    locked.chmod(0o444)
    for path, found in (
        (ods, "another kind of file"),
        (other, "no name estimator_schema"),
        (locked, "a workbook opened to be read only"),
    ):
        data = path.read_bytes()
        desk.calc.do(["open", str(path)])
        assert f"{path.name}: found {found}; accepted: " in desk.refused("issue")
        desk.calc.do(["close"])
        assert path.read_bytes() == data
