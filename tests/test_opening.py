"""Files that a person gives and that are none, have no end, or are not what they seem: one sentence.

The same files for every kind: job file, price file, answers, mail settings, workbook, template.
"""

import os
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.errors import BasisError, EstimateError
from estimator.files.opening import csv_lines, figure, file_bytes
from estimator.files.resources import DEMO_JOB
from estimator.guidance.basis import load_basis
from estimator.model.price_file import read_prices

PRICES = "garden_room_prices.csv"


def fifo(path: Path) -> None:
    os.mkfifo(path)


def endless(path: Path) -> None:
    path.symlink_to("/dev/zero")


def folder(path: Path) -> None:
    path.mkdir()


def large(path: Path) -> None:
    with path.open("wb") as stream:
        stream.truncate(80 * 2**20)


def link_to_itself(path: Path) -> None:
    path.symlink_to(path)


def not_text(path: Path) -> None:
    path.write_bytes(b"\xff\xfe\x00\x81")


STRANGE = (fifo, endless, folder, large, link_to_itself, not_text)
KINDS = {
    "job": ("job.toml", ("quantities", "job.toml")),
    "prices": (PRICES, ("quantities", "job.toml")),
    "answers": ("answers.toml", ("new", "--basis", "nhbc_2024", "--extension",
                                 "--answers", "answers.toml", "--out", "new.xlsx")),
    "settings": ("mail.toml", ("issue", "none.xlsx", "--out", "out", "--settings", "mail.toml")),
    "workbook": ("book.xlsx", ("quantities", "book.xlsx")),
    "list": ("list.csv", ("pricelist", "job.toml", "list.csv", "--map", "map.toml")),
    "map": ("map.toml", ("pricelist", "job.toml", PRICES, "--map", "map.toml")),
    "template": ("own.xlsx", ("workbook", "job.toml", "--out", "new.xlsx",
                              "--template", "own.xlsx")),
}  # fmt: skip


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copy(DEMO_JOB, tmp_path / "job.toml")
    shutil.copy(DEMO_JOB.parent / PRICES, tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def refused(words: tuple[str, ...], said: str) -> None:
    result = CliRunner().invoke(main, list(words))
    assert result.exit_code == 2, result.output
    last = result.output.strip().splitlines()[-1]
    assert re.search(said, last), last


@pytest.mark.parametrize("made", STRANGE, ids=lambda f: f.__name__)
@pytest.mark.parametrize("kind", KINDS)
def test_a_strange_file(desk: Path, kind: str, made: Callable[[Path], None]) -> None:
    """None of these can be read as what it is given for; a pipe that is opened would never end."""
    name, words = KINDS[kind]
    (desk / name).unlink(missing_ok=True)
    made(desk / name)
    refused(words, rf"\b{re.escape(name)}\b")
    assert not (desk / "new.xlsx").exists()


TOML = {
    "deep lists": ("x = " + "[" * 5000 + "]" * 5000, "lists within lists"),
    "deep sections": ("", r"lines\.hardcore: found something too long to be shown"),
    "5,000 digits": ("prices = 1" + "0" * 5000, "thousands of digits"),
    "400 digits": ('prices = "garden_room_prices.csv"\n[job]\nvat_percent = 1' + "0" * 400, "vat_percent"),
    "a NUL in a name": ('prices = "a\\u0000.csv"', r"a name that no file can have"),
}  # fmt: skip


@pytest.mark.parametrize("name", TOML)
def test_a_strange_job_file(desk: Path, name: str) -> None:
    text, said = TOML[name]
    job = (desk / "job.toml").read_text("utf-8")
    if "400" in name:
        text = re.sub(r"vat_percent = 20", "vat_percent = 1" + "0" * 400, job, count=1)
    elif name == "deep sections":
        text = job + "\n[lines.hardcore." + ".".join("a" * 3000) + "]\n"
    elif "NUL" in name:
        text = job.replace('prices = "garden_room_prices.csv"', text)
    (desk / "job.toml").write_text(text, "utf-8")
    refused(("quantities", "job.toml"), said)


def test_a_figure_of_400_digits(desk: Path) -> None:
    job = (desk / "job.toml").read_text("utf-8")
    (desk / "job.toml").write_text(
        job.replace("side_a_m = 7.2", "side_a_m = 1" + "0" * 400), "utf-8"
    )
    refused(("quantities", "job.toml"), r"zones\[1\]\.side_a_m: found 1000.*0\.1 to 60 m")


@pytest.mark.parametrize("given", ["1_000", "１２", "1e3", "1,5", "nan", "inf", "0x10", "٣", "3-"])
def test_a_figure_is_written_plainly(desk: Path, given: str) -> None:
    with pytest.raises(ValueError, match=re.escape(given)):
        figure(given)
    text = (desk / PRICES).read_text("utf-8")
    (desk / PRICES).write_text(text.replace(",,31.5,5", f',,"{given}",5', 1), "utf-8")
    refused(("quantities", "job.toml"), r"line 2\.price: found ")


@pytest.mark.parametrize(
    ("given", "value"), [("5", 5), ("0.50", 0.5), (".5", 0.5), ("-3", -3), (" 7 ", 7), ("5.", 5)]
)
def test_figures_that_are_taken(given: str, value: float) -> None:
    assert figure(given) == value


def test_blank_lines_are_no_rows(desk: Path) -> None:
    before = read_prices(desk / PRICES)
    text = (desk / PRICES).read_text("utf-8")
    (desk / PRICES).write_text(text + "\n" + "," * 11 + "\n\n", "utf-8")
    assert read_prices(desk / PRICES) == before


def test_a_line_break_within_a_cell_is_no_glue(desk: Path) -> None:
    """The rows after it bear the number they have in the file."""
    text = (desk / PRICES).read_text("utf-8")
    broken = text.replace('"Weeps for perpends, pack of 10"', '"Weeps for perpends,\npack of 10"')
    assert broken != text
    (desk / PRICES).write_text(broken, "utf-8")
    # A description is one line: the break is a blank.
    by_code = {r["description"] for r in read_prices(desk / PRICES)}
    assert "Weeps for perpends, pack of 10" in by_code
    lines = text.splitlines()
    # The second line takes two, so the third row begins at line 4: it has one cell too few.
    two = '"F-01\n1"' + lines[1][lines[1].index(",") :]
    (desk / PRICES).write_text("\n".join([lines[0], two, "x"]), "utf-8")
    refused(("quantities", "job.toml"), r"line 2\.code: found 'F-01\\n1'")
    assert list(csv_lines('a\n"b\nc"\n\nd')) == [(1, ["a"]), (2, ["b\nc"]), (5, ["d"])]


def test_an_empty_price_file(desk: Path) -> None:
    (desk / PRICES).write_text("\n\n", "utf-8")
    refused(("quantities", "job.toml"), r"prices\.csv: found nothing; accepted: a line of columns")


MAIL = ("[" * 3000, "host = 1_0", "host = 'a'\nport = 1" + "0" * 400, "from = [1]", "host = []",
        "x = {y = 1}", "ca_file = 3\nhost = 'a'\nfrom = 'a@b.org'", "password = 'p\\u0000'",
        'host = "mail.example.org"\nfrom = "a@example.org"\nca_file = "a\\u0000b"\nport = "x"')  # fmt: skip


@pytest.mark.parametrize("text", MAIL)
def test_a_slip_in_mail_settings(desk: Path, text: str) -> None:
    (desk / "mail.toml").write_text(text, "utf-8")
    refused(("issue", "none.xlsx", "--out", "out", "--settings", "mail.toml"),
            r"(mail\.toml|mail settings)")  # fmt: skip


def test_a_slip_in_a_basis(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text("[document", "utf-8")
    with pytest.raises(BasisError, match=r"own\.toml: found .*; accepted: TOML"):
        load_basis(tmp_path / "own.toml")


def test_a_file_that_grows_while_it_is_read(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"12345")
    assert file_bytes(tmp_path / "a", "a file", 5) == b"12345"
    with pytest.raises(EstimateError, match="a file of up to"):
        file_bytes(tmp_path / "a", "a file", 4)
