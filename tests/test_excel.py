"""The functions for Excel, without Excel: xlwings' own code under stand-ins, and the workbook.

What is shown: names, help, the Visual Basic that xlwings writes, what arrives and what is given
back. What is not: that Visual Basic compiles, that COM carries it, that Excel shows it.
"""

import io
import json
import re
import subprocess
import sys
import zipfile
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from estimator import __version__
from estimator.cli import main
from estimator.excel.publishing import argument_name, described
from estimator.excel.workbook import EXCEL, LICENCES, MODULE, SETTINGS, XLWINGS, excel_workbook
from estimator.functions import FUNCTIONS, Function

ROOT = Path(__file__).parent.parent
ALL = list(FUNCTIONS.values())
NAMES = [f.name for f in ALL]
# Words of Visual Basic that cannot be an argument's name, and names that xlwings' own code uses.
VBA_WORDS = set(
    re.findall(
        r"\w+",
        """
        and as boolean byref byte byval call case caller const currency date declare dim do
        double each else elseif empty end endif enum eqv erase error event exit false for
        friend function get global gosub goto if imp implements in input integer is k lbound
        len let like long loop lock lset me mid mod name new next not nothing null object on
        open option optional or paramarray preserve print private property public put
        raiseevent redim rem resume return rset seek select set single static step stop
        string sub then time to true type typeof ubound until variant wend while width with
        write xor argsarray
        """,
    )
)
NOT_OURS = ("xlwings.pro", "xlwings.reports", "xlwings.server", "render_template", "create_report",
            'mode="r"', "LICENSE_KEY", "XLWINGS_ON_SERVER", "RELEASE_")  # fmt: skip


@pytest.fixture(scope="module")
def said() -> dict[str, Any]:
    """What xlwings' own code made of the functions, in a process of its own."""
    script = ROOT / "tests" / "excel_in_stand_in.py"
    done = subprocess.run(
        [sys.executable, str(script)], capture_output=True, text=True, check=False, cwd=ROOT
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found


def is_alike(found: Any, wanted: Any) -> bool:
    if isinstance(wanted, str):
        return bool(found == wanted)
    return isinstance(found, float) and abs(found - wanted) <= 1e-9 * max(1.0, abs(wanted))


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_gives_what_was_worked_by_hand(function: Function, said: dict[str, Any]) -> None:
    """Typed in the formula, from cells, and as columns with a spare row at the end."""
    found, gives = said["answers"][function.name], function.example.gives
    assert is_alike(found["typed"], gives)
    assert is_alike(found["cells"], gives)
    assert len(found["columns"]) == 3
    assert is_alike(found["columns"][0][0], gives)
    assert is_alike(found["columns"][1][0], gives)
    assert found["columns"][2] == [""]
    assert is_alike(found["one wrong"][0][0], gives)
    assert found["one wrong"][1][0].startswith("Check: ")


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_every_kind_of_cell_is_refused_in_a_sentence(
    function: Function, said: dict[str, Any]
) -> None:
    """Errors, codes of errors and sentences from other cells too: never read as blank or as 0."""
    for kind, found in said["answers"][function.name]["wrong"].items():
        for argument, sentence in zip(function.arguments, found, strict=True):
            assert isinstance(sentence, str), (kind, argument.name)
            assert sentence.startswith(f"Check: {argument.name.replace('_', ' ')}"), sentence
            assert len(sentence) <= 255
            if kind in ("#N/A", "#SPILL!", "message"):
                assert "found an error of another cell" in sentence
            if kind in ("blank", "empty text"):
                assert re.search("found (nothing|a blank cell)", sentence)


def test_other_cells(said: dict[str, Any]) -> None:
    assert said["answers"]["money"] == 128.45  # a cell shown as money arrives as a Decimal
    assert said["answers"]["row"].startswith("Check: trays: found 3 columns")
    assert said["answers"]["installed"].startswith("Damp-proofing functions ")


def test_the_visual_basic_that_xlwings_writes(said: dict[str, Any]) -> None:
    vba = said["vba"]
    found = dict(re.findall(r"^Function (\w+)\((.*)\)$", vba, re.M))
    assert set(found) == {*NAMES, "DAMP_INSTALLED"}
    for function in ALL:
        names = [argument_name(a) for a in function.arguments]
        assert found[function.name] == ", ".join(names)
        assert f'"{MODULE}", "{function.name}", Array({", ".join(names)})' in vba
        for name in names:
            assert re.fullmatch(r"[a-z][a-z0-9_]*", name)
            assert name not in VBA_WORDS
        assert len({n.lower() for n in [*names, function.name]}) == len(names) + 1
    assert max(len(line) for line in vba.splitlines()) < 1024
    assert "Optional" not in vba, "nothing may be left out"


def test_help_is_within_limits(said: dict[str, Any]) -> None:
    """Excel takes 255 characters for a function and for each of its arguments."""
    for function in ALL:
        description, arguments, category = said["help"][f"'job.xlsm'!{function.name}"]
        assert description == described(function)
        assert len(arguments) == len(function.arguments)
        for text, argument in zip(arguments, function.arguments, strict=True):
            assert text.startswith(argument.help)
            assert len(text) <= 255
        assert len(description) <= 255
        assert category == "Damp-proofing"


def test_nothing_of_the_other_licence_is_used(said: dict[str, Any]) -> None:
    """xlwings itself loads `pro.utils` when it looks for a key; nothing of ours may load more."""
    assert [m for m in said["loaded"] if m.startswith("xlwings.pro")] == ["xlwings.pro.utils"]
    for path in (ROOT / "estimator").rglob("*.py"):
        text = path.read_text("utf-8")
        assert not [word for word in NOT_OURS if word in text], path
        for used in re.findall(r"xlwings\.(\w+)", text):
            assert used in ("func", "arg", "conf"), f"{path}: xlwings.{used}"


# ---- the workbook ----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def made() -> bytes:
    return excel_workbook()


def test_its_macros_are_the_templates_own(made: bytes) -> None:
    template = resources.files("xlwings").joinpath("quickstart_standalone.xlsm").read_bytes()
    with zipfile.ZipFile(io.BytesIO(made)) as ours, zipfile.ZipFile(io.BytesIO(template)) as theirs:
        assert ours.read("xl/vbaProject.bin") == theirs.read("xl/vbaProject.bin")
        kinds = ours.read("[Content_Types].xml").decode()
        assert "application/vnd.ms-excel.sheet.macroEnabled.main+xml" in kinds
        assert len(set(ours.namelist())) == len(ours.namelist())


def test_it_is_wired_to_the_functions(made: bytes) -> None:
    book = load_workbook(io.BytesIO(made), keep_vba=True)
    settings = {r[0]: r[1] for r in book[SETTINGS].iter_rows(values_only=True, max_col=2)}
    assert settings["UDF Modules"] == MODULE
    assert settings["Interpreter_Win"] == "python"
    codes = {s.title: s.sheet_properties.codeName for s in book}
    assert codes["In use"] == "Sheet1"
    assert codes[SETTINGS] == "Sheet2"
    assert not [n for n in book.sheetnames if n.endswith(".py") or n in FUNCTIONS]
    called = {m for s in book for row in s for c in row
              for m in re.findall(r"DAMP_[A-Z_]+(?=\()", _formula(c.value))}  # fmt: skip
    assert called == {*FUNCTIONS, "DAMP_INSTALLED"}
    assert book.properties.creator == book.properties.lastModifiedBy
    assert str(book.properties.creator).startswith("estimator ")


def _formula(value: Any) -> str:
    return str(getattr(value, "text", value))


def test_every_total_over_functions_is_guarded(made: bytes) -> None:
    """A sum passes over a text: one that says why there is no figure would shrink it in silence."""
    sheet = load_workbook(io.BytesIO(made))["In use"]
    totals = [str(c.value) for row in sheet for c in row if "SUMPRODUCT(B" in str(c.value)]
    assert len(totals) == 2
    for total in totals:
        assert re.fullmatch(
            r'=IF\(SUMPRODUCT\(\((B\d+:B\d+)<>""\)\*\(LEN\((\w+:\w+)\)=0\)\)'
            r'\+SUMPRODUCT\(--\(LEFT\(\2,7\)="Check: "\)\)>0,NA\(\),SUMPRODUCT\(\1,\2\)\)',
            total,
        )


def test_it_carries_the_notices(made: bytes) -> None:
    """BSD clause 2 and the MIT licence: both notices are repeated with what is carried."""
    page = load_workbook(io.BytesIO(made))[LICENCES]
    text = "\n".join(str(c.value) for row in page for c in row if c.value)
    for words in ("Zoomer Analytics GmbH", "Redistributions in binary form must reproduce",
                  "(c) Tim Hall", "Permission is hereby granted, free of charge"):  # fmt: skip
        assert words in text


def test_the_command_writes_it_whole_or_says_what_is_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "f.xlsm"
    done = CliRunner().invoke(main, ["addin", "--excel", str(out)])
    assert done.exit_code == 0
    assert "Not run in Excel" in done.output
    assert [p.name for p in tmp_path.iterdir()] == ["f.xlsm"]
    monkeypatch.setattr("estimator.excel.workbook.XLWINGS", "9.9.9")
    done = CliRunner().invoke(main, ["addin", "--excel", str(out), "--replace"])
    assert done.exit_code == 2
    assert "pip install xlwings==9.9.9" in done.output


def test_the_pages_version_is_the_one_that_is_needed() -> None:
    page = (ROOT / "docs" / "install-excel.md").read_text("utf-8")
    assert f"{XLWINGS} exactly" in page
    assert f"xlwings=={XLWINGS}" in page
    assert f"estimator-{__version__}-py3-none-any.whl" in page
    assert "not been run" in page
    assert EXCEL.page == "docs/install-excel.md"
    assert page.count("- [ ]") == 10
