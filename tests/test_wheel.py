"""A wheel works away from the repository: template, bases and demo data travel in it."""

import os
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from estimator import __version__

from .conftest import in_turn

ROOT = Path(__file__).parent.parent

PYTHONS = ("3.11", "3.12", "3.13")


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
    versions = [f.rpartition(" ")[2] for f in fields if "Python :: 3." in f]
    assert versions == list(PYTHONS), "those it is installed on, below"
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


# ---- installed as a person installs it, on each Python ----


def interpreter(version: str) -> Path | None:
    """A Python of that version that can make environments: on the path, or one of pyenv's."""
    named = shutil.which(f"python{version}")
    kept = sorted((Path.home() / ".pyenv" / "versions").glob(f"{version}.*/bin/python"))
    for python in [*([Path(named)] if named else []), *kept]:
        asked = "import ensurepip, venv, sys; print('%d.%d' % sys.version_info[:2])"
        said = subprocess.run([python, "-c", asked], capture_output=True, text=True, check=False)
        if said.stdout.strip() == version:
            return python
    return None


def run(command: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    """Run it in a folder, the checkout out of sight."""
    seen = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    return subprocess.run(
        command, cwd=folder, env=seen, capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize("version", in_turn(PYTHONS, len(PYTHONS)))
def test_installed_on_each_python(wheel: Path, tmp_path: Path, version: str) -> None:
    """In a clean environment, with what pip takes today: the total is the one that is kept."""
    python = interpreter(version)
    if python is None:
        pytest.skip(f"Python {version} is not installed")
    subprocess.run([python, "-m", "venv", tmp_path / "clean"], check=True)
    scripts = tmp_path / "clean" / ("Scripts" if os.name == "nt" else "bin")
    got = run([str(scripts / "python"), "-m", "pip", "install", "--quiet", str(wheel)], tmp_path)
    assert got.returncode == 0, got.stderr
    estimator = str(scripts / "estimator")
    assert run([estimator, "--version"], tmp_path).stdout.split()[-1] == __version__
    demo = run([estimator, "demo"], tmp_path)
    assert demo.returncode == 0, demo.stderr
    kept = (ROOT / "tests" / "data" / "figures_kept.txt").read_text("utf-8")
    (total,) = re.findall(r"^demo: ([\d.]+),", kept, re.M)
    assert f"{float(total):,.2f}" in demo.stdout
    checked = run([estimator, "check", "demo.xlsx"], tmp_path)
    here = run([sys.executable, "-m", "estimator.cli", "check", str(tmp_path / "demo.xlsx")], ROOT)
    assert len(checked.stdout.splitlines()) > 20
    assert checked.stdout == here.stdout
    assert checked.returncode == here.returncode
