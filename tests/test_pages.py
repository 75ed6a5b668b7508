"""`estimator help`: each page as plain text, and no page named that is not there."""

import re
import zipfile
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.cli.plain_page import as_plain, heading
from estimator.files.resources import pages

ROOT = Path(__file__).parent.parent
NAMED = re.compile(r"\bdocs/([\w./-]*\w)")


def run(*words: str) -> Any:
    return CliRunner().invoke(main, ["help", *words])


# ---- as plain text, by hand ----


def test_a_page_in_plain_text() -> None:
    page = (
        "# One *thing*\n<!-- Made. -->\n\nSee [the page](x.md) and `a * b`, twice **over**.\n\n"
        "```sh\nestimator  demo\n```\n\n- first of two\n1. then\n\n"
        "| what | for |\n|---|--:|\n| `x` | y \\| z |\n"
    )
    assert as_plain(page, 30) == (
        "One thing\n=========\n\n"
        "See the page and `a * b`,\ntwice over.\n\n"
        "    estimator  demo\n\n"
        "  - first of two\n  1. then\n\n"
        "what  for\n----  -----\n`x`   y | z\n"
    )
    assert heading(page) == "One thing"


def test_a_wide_table_is_wrapped_and_a_crowded_one_taken_apart() -> None:
    row = "| " + " | ".join(["twelve letters"] * 2) + " |\n|---|---|\n| one two three four | b |\n"
    assert as_plain(row, 30) == (
        "twelve letters  twelve letters\n--------------  --------------\none two three   b\nfour\n"
    )
    crowded = "| a | b | c |\n|---|---|---|\n" + "| " + " | ".join(["thirteen sign"] * 3) + " |\n"
    assert as_plain(crowded, 30) == "  a: thirteen sign\n  b: thirteen sign\n  c: thirteen sign\n"


@pytest.mark.parametrize("name", pages())
def test_every_word_of_a_page_is_printed(name: str) -> None:
    """But for formulas, which a narrow column breaks anywhere."""
    page = pages()[name].read_text("utf-8")
    said = re.sub(r"\s+", "", run(name).output)
    words = re.findall(
        r"[A-Za-z]{4,}",
        re.sub(r"<!--.*?-->|\]\([^)]*\)|^```.*$|`[^`\s]{20,}`", "", page, flags=re.M),
    )
    assert words
    assert [w for w in set(words) if w not in said] == []


# ---- the command ----


def test_without_a_topic_every_page_is_listed_with_its_heading() -> None:
    lines = run().output.splitlines()
    listed = dict(re.split(r" {2,}", line.strip(), maxsplit=1) for line in lines[1:-1])
    assert set(listed) == {p.stem for p in (ROOT / "docs").glob("*.md")}
    assert listed["issuing"] == "What leaves the desk"


@pytest.mark.parametrize("topic", ["issuing", "ISSUING", "issuing.md", "docs/issuing.md"])
def test_a_page_is_found_as_it_is_named(topic: str) -> None:
    assert run(topic).output.startswith("What leaves the desk\n====")


def test_a_command_without_a_page_shows_its_options_and_one_with_a_page_names_them() -> None:
    assert run("quantities").output.startswith("Usage: estimator quantities")
    assert run("plan").output.endswith("Its options: estimator plan --help\n")


def test_an_unknown_topic_is_one_sentence() -> None:
    done = run("weather")
    assert done.exit_code == 2
    assert done.output.startswith(
        "help: found 'weather'; accepted: a page or a command: bases, changelog,"
    )


# ---- no page is named that is not there ----


def texts() -> dict[str, str]:
    """All that a person may read: messages and help in the sources, templates, the pages."""
    found = {}
    for folder in ("estimator", "workbook_templates", "docs"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix in {".py", ".txt", ".toml", ".html", ".csv", ".md", ".json"}:
                found[str(path.relative_to(ROOT))] = path.read_text("utf-8")
            elif path.suffix == ".xlsx":
                with zipfile.ZipFile(path) as package:
                    parts = [n for n in package.namelist() if n.endswith(".xml")]
                    found[str(path.relative_to(ROOT))] = " ".join(
                        package.read(n).decode("utf-8") for n in parts
                    )
    for name in ("README.md", "DEVELOPERS.md"):
        found[name] = (ROOT / name).read_text("utf-8")
    return found


def test_no_page_is_named_that_is_not_there() -> None:
    said = texts()
    named = {(where, name) for where, text in said.items() for name in NAMED.findall(text)}
    assert len(named) > 60
    assert any(where.startswith("estimator/cli/") for where, _ in named)
    assert {n for n in named if not (ROOT / "docs" / n[1]).exists()} == set()
