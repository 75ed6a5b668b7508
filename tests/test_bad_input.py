"""A person's mistake gives one sentence with place, found and accepted; exit code 2; no file."""

import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from estimator.cli.main import main
from estimator.files.resources import DEMO_JOB

PRICES = "garden_room_prices.csv"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(DEMO_JOB, tmp_path / "job.toml")
    shutil.copy(DEMO_JOB.parent / PRICES, tmp_path)
    return tmp_path


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text, old
    path.write_text(text.replace(old, new, 1), "utf-8")


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(words))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output.strip()


JOB = {
    "negative": ("side_a_m = 7.2", "side_a_m = -7.2", r"zones\[1\]\.side_a_m: found -7.2; .*0.1 to 60 m"),
    "nought": ("side_a_m = 7.2", "side_a_m = 0", r"zones\[1\]\.side_a_m: found 0"),
    "not a number": ("side_a_m = 7.2", "side_a_m = nan", r"zones\[1\]\.side_a_m: found nan"),
    "endless": ("side_a_m = 7.2", "side_a_m = inf", r"zones\[1\]\.side_a_m: found inf"),
    "a text": ("side_a_m = 7.2", 'side_a_m = "7.2"', r"zones\[1\]\.side_a_m: found '7.2'"),
    "yes or no": ("side_a_m = 7.2", "side_a_m = true", r"zones\[1\]\.side_a_m: found True"),
    "millimetres": ("width_m = 1.81", "width_m = 1810", r"openings\[1\]\.width_m: found 1810.*millimetres\?"),
    "half a window": ("number = 2", "number = 1.5", r"openings\[1\]\.number: found 1.5.*whole"),
    "a field left out": ("side_a_m = 7.2\n", "", r"zones\[1\]\.side_a_m: found nothing"),
    "an unknown field": ("side_a_m = 7.2", "side_c_m = 7.2", r"zones\[1\]\.side_c_m: .*one of the fields"),
    "an unknown section": ("[[walls]]", "[[wals]]", r"wals: found 'wals'; accepted: one of"),
    "a mark used twice": ('mark = "O2"', 'mark = "o1"', r"openings\[2\]\.mark: .*row 1 has it"),
    "a wall that is not there": (
        'description = "High window"\nwall = "W2"', 'description = "High window"\nwall = "W9"',
        r"openings\[2\]\.wall: found 'W9'",
    ),
    "a run of an edge that is not there": ('wall = "W2"', 'wall = "W9"', r"edges\[\d\]\.wall: found 'W9'"),
    "an unknown kind": ('kind = "window"', 'kind = "porthole"', r"openings\[1\]\.kind: .*one of window"),
    "an unknown side": ('side = "A1"', 'side = "C1"', r"edges\[1\]\.side: found 'C1'"),
    "edges that fall short": ("length_m = 4.2", "length_m = 4.0", r"zones\[1\] \(Z1\), edges on side A1: found '7 m'.*7.2 m"),
    "no level for a wall": ("dpc_level_m = -0.15\n", "", r"edges\[2\]\.dpc_level_m: found nothing"),
    "no chase": ("dress_mm = 30\n", "", r"edges\[8\]\.dress_mm: found nothing"),
    "no turn-up": ("typed_turn_up_mm = 300\n", "", r"edges\[6\]\.typed_turn_up_mm: found nothing"),
    "a turn-up at a joint": ('joins = "Z2"', 'joins = "Z2"\ntyped_turn_up_mm = 300', r"edges\[1\]\.typed_turn_up_mm: .*none at: joint"),
    "a wastage switch half on": ("[line_status]", "[wastage_applies]\ndpm_sheet = 2\n[line_status]", r"wastage_applies\.dpm_sheet: found 2"),
    "an unknown status": ('ridges = "excluded"', 'ridges = "maybe"', r"line_status\.ridges: found 'maybe'"),
    "a joint with itself": ('joins = "Z2"', 'joins = "Z1"', r"edges\[1\]\.joins: found 'Z1'"),
    "a run that does not close": ('run = "open"', 'run = "closed"', r"walls\[1\]\.external_corners"),
    "a cavity and no leaf": ("inner_leaf_mm = 100", "inner_leaf_mm = 0", r"walls\[1\]\.inner_leaf_mm"),
    "an unknown basis": ("nhbc_2024", "nhbc_1999", r"job\.basis_choice: found 'nhbc_1999'; accepted: one of england"),
    "no basis": ('basis_choice = "nhbc_2024"\n', "", r"job\.basis_choice: found nothing"),
    "an unknown supplier": ('supplier_choice = "Fern', 'supplier_choice = "Nobody Fern', r"job\.supplier_choice"),
    "an unknown allowance": ("dpm_lap = 150", "dmp_lap = 150", r"allowances\.own: found 'dmp_lap'"),
    "an allowance too large": ("weep_from_end = 225", "weep_from_end = 10", r"allowances\.own\.weep_from_end: found 10"),
    "an unknown line": ("inserts = ", "inlets = ", r"lines: found 'inlets'"),
    "an unknown nation": ('site_nation = "England"', 'site_nation = "Albion"', r"job\.site_nation: found 'Albion'; accepted: one of England"),
    "hours without a rate": ("rate = 35\n", "", r"work_lines\[1\]\.rate: found nothing"),
    "labour on nothing counted": ('wired_to = "Trays over', 'wired_to = "Hats over', r"work_lines\[1\]\.wired_to: found 'Hats over"),
    "an unknown hold point": ("[line_status]", '[hold_points]\nfootings = "ring"\n[line_status]', r"hold_points: found 'footings'; accepted: one of before start"),
    "wastage of nothing": ("hardcore = 10", "softcore = 10", r"suppliers\[1\]\.wastage_percent: found 'softcore'"),
    "wastage below nought": ("hardcore = 10", "hardcore = -1", r"suppliers\[1\]\.wastage_percent\.hardcore: found -1"),
    "no such price file": (PRICES, "none.csv", r"none\.csv: found nothing; accepted: a file that exists"),
    "not TOML": ("[job]", "[job", r"job\.toml: .*accepted: TOML"),
    "rows that are no rows": ("[[walls]]\nmark", "[walls]\nmark", r"(walls|job\.toml): "),
}  # fmt: skip

BOOK = {
    "negative": (",,31.5,5", ",,-31.5,5", r"line 2\.price: found -31.5"),
    "a text for a price": ("31.5,5", "dear,5", r"line 2\.price: found 'dear'"),
    "an unknown material": ("hardcore,", "softcore,", r"price row 1 \(F-01\)\.material: found 'softcore'"),
    "an unknown supplier": ("F-02,Fernbank", "F-02,Ferny", r"price row 2 \(F-02\)\.supplier"),
    "a code used twice": ("F-02,", "F-01,", r"price row 2 \(F-01\)\.code: .*row 1 has it"),
    "a cell too many": ("31.5,5", "31.5,5,6", r"line 2: found '13 cells'; accepted: 12"),
    "an unknown column": ("length_m", "length", r"line 1: found 'length'"),
    "a quote mark left open": ('"Weeps for perpends, pack of 10"', '"Weeps for perpends, pack of 10', r"prices\.csv: .*quote marks"),
    "a roll wider than long": ("4000,25", "4000,2.5", r"\(F-03\)\.width_mm: .*longer than it is wide"),
    "a roll without a length": ("4000,25", "4000,", r"\(F-03\)\.length_m: found nothing"),
    "a bag without a weight": ("800,,,52.4", ",,,52.4", r"\(F-02\)\.weight_kg: found nothing"),
}  # fmt: skip


@pytest.mark.parametrize("name", JOB)
def test_job_file(folder: Path, name: str) -> None:
    old, new, said = JOB[name]
    edit(folder / "job.toml", old, new)
    refused(folder, said)


@pytest.mark.parametrize("name", BOOK)
def test_price_file(folder: Path, name: str) -> None:
    old, new, said = BOOK[name]
    edit(folder / PRICES, old, new)
    refused(folder, said)


def refused(folder: Path, said: str) -> None:
    before = sorted(folder.iterdir())
    code, output = run("workbook", str(folder / "job.toml"))
    assert code == 2
    assert output.count("\n") == 0, output
    assert re.search(said, output), output
    assert "; accepted: " in output
    assert sorted(folder.iterdir()) == before


def test_an_existing_file_is_left_alone(folder: Path) -> None:
    (folder / "job.xlsx").write_text("mine")
    code, output = run("workbook", str(folder / "job.toml"))
    assert (code, (folder / "job.xlsx").read_text()) == (2, "mine")
    assert "--replace" in output
    assert run("workbook", str(folder / "job.toml"), "--replace")[0] == 0
    assert (folder / "job.xlsx").read_bytes().startswith(b"PK")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["workbook", "none.toml"], "none.toml: found nothing; accepted: a file that exists"),
        (["workbook", "{job}", "--out", "x.pdf"], "accepted: a name ending in .xlsx"),
        (["workbook", "{job}", "--out", "nowhere/x.xlsx"], "nowhere: found nothing"),
        (["workbook", "{job}", "--out", "{new}", "--template", "none.xlsx"], "a template that exists"),
        (["demo", "--out", "nowhere"], "nowhere: found nothing; accepted: a folder that exists"),
    ],
)  # fmt: skip
def test_command_line(folder: Path, words: list[str], said: str) -> None:
    names = {"{job}": str(folder / "job.toml"), "{new}": str(folder / "new.xlsx")}
    code, output = run(*(names.get(w, w) for w in words))
    assert code == 2
    assert said in output


def test_demo_takes_the_next_free_name(tmp_path: Path) -> None:
    assert run("demo", "--out", str(tmp_path))[0] == 0
    code, output = run("demo", "--out", str(tmp_path))
    assert code == 0
    assert "demo-2.xlsx written" in output
    assert "invented" in output
    assert {p.name for p in tmp_path.iterdir()} == {"demo.xlsx", "demo-2.xlsx"}


def test_the_demo_may_be_another_invented_house(tmp_path: Path) -> None:
    code, output = run("demo", "--house", "wrap-round", "--out", str(tmp_path))
    assert code == 0
    assert "invented" in output
    title = load_workbook(tmp_path / "demo.xlsx", data_only=True)["Quote"]
    assert "Wrap-round extension (invented example)" in {
        c.value for r in title.iter_rows() for c in r
    }
    code, output = run("demo", "--house", "castle", "--out", str(tmp_path))
    assert code == 2
    assert "'garden room', 'lean-to', 'wrap-round'" in output


def test_a_basis_that_states_no_figure_is_named(folder: Path) -> None:
    """Common practice's figure stands in, and the document says that it is no quote."""
    edit(folder / "job.toml", "blinding_thickness = 50    # common practice\n", "")
    code, output = run("workbook", str(folder / "job.toml"))
    assert code == 0
    assert "Estimate: £" in output
    assert "rest on figures assumed from common practice" in output


def test_what_nothing_covers_is_counted(folder: Path) -> None:
    edit(
        folder / PRICES,
        "Fernbank Supplies (invented),stop_end",
        "Quayside Stores (invented),stop_end",
    )
    code, output = run("workbook", str(folder / "job.toml"))
    assert code == 0
    assert "Needs that their supplier has no product for (Stop ends to trays; " in output
    assert "Stop ends in existing walls): 11" in output


@pytest.mark.parametrize("word", [[], ["demo"], ["workbook"]])
def test_help(word: list[str]) -> None:
    code, output = run(*word, "--help")
    assert code == 0
    assert "Usage:" in output
