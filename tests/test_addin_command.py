"""`estimator addin`: files written whole, and one sentence where they cannot be."""

import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from lxml import etree
from openpyxl import load_workbook

from estimator.cli.main import main


def run(*words: str) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["addin", *words])
    return done.exit_code, done.output


def test_writes_the_extension_and_the_sample(tmp_path: Path) -> None:
    out, sample = tmp_path / "f.oxt", tmp_path / "f.xlsx"
    code, said = run("--out", str(out), "--sample", str(sample))
    assert code == 0
    assert str(out) in said
    assert "invented" in said
    with zipfile.ZipFile(out) as package:
        for name in package.namelist():
            if name.endswith((".xml", ".xcu")):
                etree.fromstring(package.read(name))
        listed = package.read("META-INF/manifest.xml").decode()
        for name in (
            "damp.rdb",
            "CalcAddIns.xcu",
            "Addons.xcu",
            "damp_functions.py",
            "damp_menu.py",
        ):
            assert f'"{name}"' in listed
            assert name in package.namelist()
        licence = (Path(__file__).parent.parent / "LICENSE").read_bytes()
        assert package.read("LICENSE") == licence, "it carries the program's code"
    formulas = [c.value for s in load_workbook(sample) for row in s for c in row]
    assert any("NOT installed" in str(f) for f in formulas)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["f.oxt", "f.xlsx"]


def test_writes_the_names_alone(tmp_path: Path) -> None:
    names = tmp_path / "names.xlsx"
    code, said = run("--names", str(names))
    assert code == 0
    assert "Not run in Excel" in said
    assert [p.name for p in tmp_path.iterdir()] == ["names.xlsx"]
    assert "DAMP_WEEP_COUNT" in load_workbook(names).defined_names
    code, said = run("--names", str(names))
    assert code == 2
    assert "a file of that name" in said


def test_names_and_sample_write_no_extension(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nor mind one that lies there: nobody asked for it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "damp-functions.oxt").write_bytes(b"kept")
    code, said = run("--names", "names.xlsx", "--sample", "sample.xlsx")
    assert code == 0, said
    assert "damp-functions.oxt" not in said
    assert (tmp_path / "damp-functions.oxt").read_bytes() == b"kept"
    assert sorted(p.name for p in tmp_path.iterdir()) == [
        "damp-functions.oxt", "names.xlsx", "sample.xlsx"]  # fmt: skip
    assert run("--sample", "alone.xlsx")[0] == 2  # with the extension, which is there
    assert run("--sample", "alone.xlsx", "--replace")[0] == 0
    assert zipfile.is_zipfile(tmp_path / "damp-functions.oxt")


@pytest.mark.parametrize(
    ("out", "sample", "words"),
    [
        ("f.zip", "", "a name ending in .oxt"),
        ("f.oxt", "f.ods", "a name ending in .xlsx"),
        ("there.oxt", "", "a file of that name"),
        ("f.oxt", "there.xlsx", "a file of that name"),
        ("none/f.oxt", "", "a folder that exists"),
    ],
)
def test_refuses_in_one_sentence_and_writes_nothing(
    out: str, sample: str, words: str, tmp_path: Path
) -> None:
    for name in ("there.oxt", "there.xlsx"):
        (tmp_path / name).write_bytes(b"kept")
    more = ["--sample", str(tmp_path / sample)] if sample else []
    code, said = run("--out", str(tmp_path / out), *more)
    assert code == 2
    assert words in said
    assert "Traceback" not in said
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {
        "there.oxt": b"kept",
        "there.xlsx": b"kept",
    }


def test_replaces_when_asked(tmp_path: Path) -> None:
    out = tmp_path / "f.oxt"
    out.write_bytes(b"old")
    assert run("--out", str(out), "--replace")[0] == 0
    assert zipfile.is_zipfile(out)
