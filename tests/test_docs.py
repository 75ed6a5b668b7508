"""The reference pages are fresh, and what README and DEVELOPERS say exists."""

import doctest
import json
import re
import tomllib
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from estimator import __version__
from estimator.cli.main import main
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.model.reports import quantities
from estimator.reference import PAGES

ROOT = Path(__file__).parent.parent
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "estimator",
    "workbook_templates",
    "tests",
    "docs",
}


@pytest.mark.parametrize("name", PAGES)
def test_reference_page_is_fresh(name: str) -> None:
    written = (ROOT / "docs" / name).read_text("utf-8")
    assert written == PAGES[name](), "run python -m estimator.reference docs"


def test_the_schema_takes_the_demo_and_refuses_a_slip() -> None:
    schema = json.loads((ROOT / "docs" / "job-file.schema.json").read_text("utf-8"))
    demo = tomllib.loads(DEMO_JOB.read_text("utf-8"))
    jsonschema.validate(demo, schema)
    demo["zones"][0]["side_a_m"] = -1
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(demo, schema)


def test_the_worked_example_holds() -> None:
    page = ROOT / "docs" / "worked-example.md"
    found = doctest.testfile(str(page), module_relative=False, encoding="utf-8")
    assert found.attempted > 25
    assert found.failed == 0


def test_the_worked_example_is_what_the_program_orders(tmp_path: Path) -> None:
    """The page's order is worked by hand and holds no call of the program; here it is compared."""
    page = (ROOT / "docs" / "worked-example.md").read_text("utf-8")
    assert "estimator" not in page.split("## The job file")[0]
    for kind, name in (("toml", "job.toml"), ("csv", "prices.csv")):
        (block,) = re.findall(rf"^```{kind}\n(.*?)^```", page, re.M | re.S)
        (tmp_path / name).write_text(block, "utf-8")
    ledger = estimate(read_job(tmp_path / "job.toml"))
    by_hand = {
        product: int(packs)
        for product, packs in re.findall(r"^\| (.+?) \| (\d+) \| [\d.]+ \|$", page, re.M)
    }
    assert len(by_hand) == 12
    ordered = quantities(ledger)["orders"]
    assert {r["description"]: r["packs"] for r in ordered} == by_hand
    sums = (ledger.cell("quote_net"), ledger.cell("quote_vat"), ledger.cell("quote_total"))
    assert sums == (751.80, 150.36, 902.16)


def section(title: str) -> str:
    text = (ROOT / "README.md").read_text("utf-8")
    found = re.search(rf"^## {title}\n(.*?)(?=^## |\Z)", text, re.M | re.S)
    assert found, title
    return found.group(1)


@pytest.mark.parametrize("title", ["Run it", "Test it"])
def test_readme_has_one_command(title: str) -> None:
    blocks = re.findall(r"^```sh\n(.*?)^```", section(title), re.M | re.S)
    assert len(blocks) == 1
    assert len(blocks[0].strip().splitlines()) == 1


def test_ci_calls_exactly_the_readme_command() -> None:
    (command,) = re.findall(r"^```sh\n(.*?)^```", section("Test it"), re.M | re.S)
    assert (ROOT / ".ci" / "run").read_text("utf-8").rstrip().splitlines()[-1] == command.strip()


@pytest.mark.parametrize("command", main.commands)
def test_every_command_is_documented(command: str) -> None:
    assert f"estimator {command}" in (ROOT / "README.md").read_text("utf-8")
    assert CliRunner().invoke(main, [command, "--help"]).exit_code == 0


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_files_named_in_the_pages_exist(page: str) -> None:
    text = (ROOT / page).read_text("utf-8")
    for name in re.findall(r"`((?:estimator|tests|docs|workbook_templates)/[\w./]*)`", text):
        assert (ROOT / name).exists(), f"{page} names {name}"


OWN_PAPERS = re.compile(
    r"\bfacts? [A-Z]\d|\(facts\b|\b(?:design|measured|hosts|style|facts)\.md|design notes"
)


def test_no_paper_of_ours_is_cited() -> None:
    """A reader can look up a document; a list kept beside the project he cannot."""
    folders = ("estimator", "tests", "docs", "workbook_templates")
    texts = [p for f in folders for p in (ROOT / f).rglob("*")
             if p.suffix in {".py", ".md", ".toml", ".csv", ".txt", ".html", ".json"}]  # fmt: skip
    texts += [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "pyproject.toml"]
    assert len(texts) > 200
    this = Path(__file__)
    cited = {str(p.relative_to(ROOT)): found.group() for p in texts if p != this
             if (found := OWN_PAPERS.search(p.read_text("utf-8")))}  # fmt: skip
    assert cited == {}


def test_top_level_is_as_agreed() -> None:
    """Beside it may lie what the README's own command writes."""
    found = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")}
    found -= {p.name for p in ROOT.glob("demo*.xlsx")}
    assert found - {"LICENSE", "dist", "build"} == TOP


@pytest.mark.parametrize("name", ["install", "install-excel"])
def test_the_pages_of_installing_name_the_file_of_this_version(name: str) -> None:
    page = (ROOT / "docs" / f"{name}.md").read_text("utf-8")
    assert set(re.findall(r"estimator-([0-9.]+)-py3", page)) == {__version__}


def test_the_constraints_name_one_version_of_each_package_that_is_declared() -> None:
    """`tests/check` installs these; a package without one would be whatever is newest that day."""
    lines = (ROOT / "tests" / "constraints.txt").read_text("utf-8").splitlines()
    kept = dict(line.split("==") for line in lines)
    assert len(kept) == len(lines), "one line for each, and nothing but versions"
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    declared = [*project["dependencies"], *project["optional-dependencies"]["dev"]]
    named = {re.split(r"[<>=~;]", d)[0].strip().lower().replace("_", "-") for d in declared}
    assert named - {name.lower().replace("_", "-") for name in kept} == set()
