"""The functions for Excel, without Excel: xlwings' own code under stand-ins, and the workbook.

What is shown: names, help, the Visual Basic that xlwings writes, what arrives and what is given
back. What is not: that Visual Basic compiles, that COM carries it, that Excel shows it.
"""

import ast
import io
import json
import re
import subprocess
import sys
import zipfile
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook
from xlwings.utils import prepare_sys_path

from estimator import __version__
from estimator.cli.main import main
from estimator.functions import FUNCTIONS, Function
from estimator.hosts.calc.sample import THERE
from estimator.hosts.excel.publishing import argument_name, shortened, wrapper
from estimator.hosts.excel.workbook import (
    EXCEL,
    INTERPRETER,
    LICENCES,
    MODULE,
    SETTINGS,
    XLWINGS,
    excel_workbook,
)

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
    wrong = said["answers"][function.name]["wrong"]
    assert len(wrong) == 2 * (6 + 7 + 7 + 1) + 1  # values, errors old and new, a refusal; left out
    for kind, found in wrong.items():
        for argument, sentence in zip(function.arguments, found, strict=True):
            assert isinstance(sentence, str), (kind, argument.name)
            assert sentence.startswith(f"Check: {argument.name.replace('_', ' ')}"), sentence
            assert len(sentence) <= 255
            if kind.startswith(("#", "message")):
                assert "found an error of another cell" in sentence, kind
            if kind.startswith(("blank", "empty text", "left out")):
                assert re.search("found (nothing|a blank cell)", sentence)


def test_every_shape_of_cells(said: dict[str, Any]) -> None:
    shapes = said["answers"]["shapes"]
    assert shapes["1 x 1"] == 6
    assert shapes["N x 1"] == [[2], [4], [6]]
    assert shapes["N x 1 typed"] == [[2], [4]]
    assert shapes["nothing but blanks"] == [[""], [""], [""]]
    for kind, columns in (("1 x N", 3), ("N x M", 2), ("1 x N typed", 3)):
        assert shapes[kind].startswith(f"Check: trays: found {columns} columns"), kind


def test_a_column_of_every_kind_keeps_its_rows(said: dict[str, Any]) -> None:
    """A row that cannot be used says so in its own place; the rows around it have their figure."""
    rows = [cell for (cell,) in said["answers"]["mixed column"]]
    assert len(rows) == 5 + 14 + 1 + 5
    assert {n: cell for n, cell in enumerate(rows) if not str(cell).startswith("Check: ")} == {
        0: 2, 20: 4, 23: 8, 24: ""
    }  # fmt: skip
    assert all("found an error of another cell" in cell for cell in rows[5:20])


def test_other_cells(said: dict[str, Any]) -> None:
    assert said["answers"]["money"] == 128.45  # a cell shown as money arrives as a Decimal
    # What the canary of the workbook looks for.
    assert said["answers"]["installed"] == f"{THERE} {__version__}"


def test_a_defect_of_ours_is_a_sentence_and_no_traceback() -> None:
    def work(*_: Any) -> float:
        raise ZeroDivisionError("division\nby zero" + "." * 400)

    failing = replace(FUNCTIONS["DAMP_BASIS_FIGURE"], figure=work)
    found = wrapper(failing)([["dpm_lap"]], [["nhbc_2024"]])
    assert found.startswith(
        "Check: DAMP_BASIS_FIGURE failed: ZeroDivisionError: division by zero..."
    )
    assert len(found) == 255


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
    assert vba.isascii(), "xlwings writes it in whatever encoding the machine has"


def test_help_is_within_limits(said: dict[str, Any]) -> None:
    """Excel takes 255 characters for a function and for each of its arguments."""
    for function in ALL:
        description, arguments, category = said["help"][f"'job.xlsm'!{function.name}"]
        assert description == shortened(function.described)
        assert len(arguments) == len(function.arguments)
        for text, argument in zip(arguments, function.arguments, strict=True):
            assert text.startswith(argument.help)
            assert len(text) <= 255
        assert len(description) <= 255
        assert category == "Damp-proofing"


def uses_of_xlwings(text: str) -> set[str]:
    """What a module takes from xlwings: what it imports, and what it reads of the name."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            for name in node.names:
                if name.name.split(".")[0] == "xlwings":
                    found.add(f"import {name.name}" + (f" as {name.asname}" if name.asname else ""))
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "xlwings":
            found |= {f"from {node.module} import {name.name}" for name in node.names}
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            found |= {node.attr} if node.value.id == "xlwings" else set()
    return found


def test_nothing_of_the_other_licence_is_used(said: dict[str, Any]) -> None:
    """xlwings itself loads `pro.utils` when it looks for a key; nothing of ours may load more."""
    assert [m for m in said["loaded"] if m.startswith("xlwings.pro")] == ["xlwings.pro.utils"]
    assert not {"xlwings.server", "xlwings.reports"} & set(said["loaded"])
    users, by_name = {}, set()
    for path in (ROOT / "estimator").rglob("*.py"):
        text = path.read_text("utf-8")
        assert not [word for word in NOT_OURS if word in text], path
        if uses := uses_of_xlwings(text):
            users[path.name] = uses
        # Nor by a name in a text; so are loaded the core inside Calc, what `import estimator`
        # gives, and the work of a command: modules of ours.
        if "import_module" in text or "__import__" in text:
            by_name.add(path.relative_to(ROOT / "estimator").as_posix())
    assert by_name == {"__init__.py", "cli/declaring.py", "hosts/calc/host/damp_functions.py"}
    assert users == {"udfs.py": {"import xlwings", "func", "arg"}}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("from xlwings import server", {"from xlwings import server"}),
        ("from xlwings.pro import reports", {"from xlwings.pro import reports"}),
        ("import xlwings.pro.utils", {"import xlwings.pro.utils"}),
        ("import xlwings as xw\nxw.Book(mode='r')", {"import xlwings as xw"}),
        ("import xlwings\nxlwings.Book('x')", {"import xlwings", "Book"}),
    ],
)
def test_every_way_to_the_other_licence_is_noticed(text: str, found: set[str]) -> None:
    assert uses_of_xlwings(text) == found


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
    assert settings["Interpreter_Win"] == INTERPRETER
    # Read by the macros from A1 down to the first blank cell; each name once, in any case.
    column = [c.value for c in book[SETTINGS]["A"]]
    names = [str(n).upper() for n in column[: column.index(None) if None in column else None]]
    assert len(set(names)) == len(names) == len(settings) - (None in settings)
    assert "LICENSE_KEY" not in names
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


def test_python_looks_for_modules_where_it_was_installed_only(
    made: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the macros hand to xlwings: the setting, the workbook's name twice, folders.

    Else a file beside the workbook could stand in for a module, and where OneDrive shows the
    folder as an address on the web Python would not start.
    """
    book = load_workbook(io.BytesIO(made))
    settings = {str(r[0]).upper(): r[1] for r in book[SETTINGS].iter_rows(values_only=True)}
    before = ["", "installed"]
    monkeypatch.setattr(sys, "path", before)
    for name in (r"C:\Users\jane o'neill\f.xlsm", "https://example.sharepoint.com/x/f.xlsm"):
        given = settings["ADD_WORKBOOK_TO_PYTHONPATH"]
        prepare_sys_path(f"{given};{name};{name};;;;{settings['PYTHONPATH'] or ''}")
        assert [p for p in sys.path if p] == ["installed"]


def test_every_total_over_functions_is_guarded(made: bytes) -> None:
    """A sum passes over a text in silence; tests/test_addin_calc.py works the guards out."""
    sheet = load_workbook(io.BytesIO(made))["In use"]
    totals = [str(c.value) for row in sheet for c in row if re.search(r"SUM\w*\(", str(c.value))]
    assert len(totals) == 3
    for total in totals:
        assert re.fullmatch(
            r"=IF\(SUMPRODUCT\(1-\(ISNUMBER\((B\d+:B\d+)\)\*ISNUMBER\((\w+:\w+)\)"
            r"\+\(LEN\(\1\)\+LEN\(\2\)=0\)\)\)>0,NA\(\),(SUM\(\1\)|SUMPRODUCT\(\1,\2\))\)",
            total,
        )


def test_a_refusal_is_coloured(made: bytes) -> None:
    book = load_workbook(io.BytesIO(made))
    for name in ("In use", "Every function"):
        (area,) = book[name].conditional_formatting
        assert str(area.sqref) == book[name].dimensions
        assert [r.formula for r in area.rules] == [['LEFT(A1,7)="Check: "']]


def test_nothing_foreign_and_no_result_is_in_the_file(made: bytes) -> None:
    """No path or name of the template's author, and no figure that was not worked out there."""
    with zipfile.ZipFile(io.BytesIO(made)) as package:
        for part in package.namelist():
            if part.endswith((".xml", ".rels")):
                text = package.read(part).decode()
                assert not re.search(r"absPath|[A-Za-z]:\\|/Users/|zumstein", text, re.I), part
                assert not re.search(r"</f><v>[^<]", text), part
        sheet = package.read("xl/worksheets/sheet1.xml").decode()
        assert set(re.findall(r'<f t="array" ref="(\w+:\w+)"', sheet)) == {
            "H9:H14", "I9:I14", "J9:J14"
        }  # fmt: skip
        assert b'fullCalcOnLoad="1"' in package.read("xl/workbook.xml")
        # A macro's reference to another file would stand in it as a path.
        macros = package.read("xl/vbaProject.bin")
        for path in (b"xlwings.xlam", "xlwings.xlam".encode("utf-16-le"), b"\\Users\\"):
            assert path not in macros
    created = load_workbook(io.BytesIO(made)).properties.created
    assert abs(created - datetime.now(UTC).replace(tzinfo=None)) < timedelta(hours=1)


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
    monkeypatch.setattr("estimator.hosts.excel.workbook.XLWINGS", "9.9.9")
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
    # One folder throughout: where it is made, filled, looked into, and what the workbook names.
    folder = INTERPRETER.removesuffix(r"\Scripts\python.exe")
    assert f'py -m venv "{folder}"' in page
    assert page.count(f'"{folder}\\Scripts\\python" -') == 2
    assert f"`{INTERPRETER}`" in page
    assert set(re.findall(r"%LOCALAPPDATA%[^`\"]*venv", page)) == {folder}
    assert f"import {MODULE}" in page
    # Every open point of the first run, and none ticked.
    assert len(re.findall(r"^- \[.\] ", page, re.M)) == page.count("- [ ] ") == 16
