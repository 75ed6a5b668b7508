"""A wheel works away from the repository: template, bases and demo data travel in it."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "wheel",
            "--quiet",
            "--no-deps",
            "-w",
            str(folder),
            str(ROOT),
        ],
        check=True,
    )
    return next(folder.glob("*.whl"))


def test_data_travels(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for wanted in ("workbook_templates/job.xlsx", "bases/nhbc_2024.toml", "demo/garden_room.toml",
                   "workbook_templates/client_quote.xlsx", "guidance/hold_points.toml", "guidance/nations/wales.toml",
                   "estimator/cli/help/check.txt", "estimator/py.typed"):  # fmt: skip
        assert any(n.endswith(wanted) for n in names), wanted
    pages = {f"estimator/docs/{p.name}" for p in (ROOT / "docs").iterdir()}
    assert len(pages) > 20
    assert pages - set(names) == set(), "`estimator help` prints them"


def test_what_the_package_says_of_itself_has_no_address(wheel: Path) -> None:
    package = zipfile.ZipFile(wheel)
    (name,) = [n for n in package.namelist() if n.endswith(".dist-info/METADATA")]
    fields = package.read(name).decode("utf-8").partition("\n\n")[0].splitlines()
    named = [f.partition(": ")[0] for f in fields]
    assert named.count("Classifier") >= 5
    assert "License-Expression: MIT" in fields
    assert not [f for f in fields if "://" in f or f.startswith(("Project-URL", "Home-page"))]
    assert any(f.startswith("Keywords: ") and "damp-proofing" in f for f in fields)


def test_demo_runs_from_the_wheel_alone(wheel: Path, tmp_path: Path) -> None:
    """Unpacked beside an empty folder and run from there, the repository out of sight."""
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    code = (
        "import sys; sys.path[:] = [p for p in sys.path if not p.startswith(sys.argv[2])];"
        "sys.path.insert(0, sys.argv[1]); import estimator.cli.main as c;"
        "from estimator.files.resources import JOB_TEMPLATE;"
        "assert c.__file__.startswith(sys.argv[1]), c.__file__;"
        "assert str(JOB_TEMPLATE).startswith(sys.argv[1]);"
        "c.main(['demo'], standalone_mode=False);"
        "c.main(['help', 'issuing'], standalone_mode=False);"
        "c.main(['addin', '--sample', 'functions.xlsx'], standalone_mode=False)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(site), str(ROOT / "estimator")],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "demo.xlsx").is_file()
    assert "What leaves the desk\n====" in done.stdout
    with zipfile.ZipFile(tmp_path / "damp-functions.oxt") as extension:
        assert "damp_functions.py" in extension.namelist()
        assert extension.read("LICENSE") == (ROOT / "LICENSE").read_bytes()
