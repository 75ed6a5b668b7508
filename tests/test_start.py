"""The program starts with what a command uses, and no more; its kept pages are its own words."""

import inspect
import os
import subprocess
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator import __version__
from estimator.cli.main import WORK, main
from estimator.cli.start import HELP, WHOLE, kept_page
from estimator.files.resources import DEMO_JOB
from estimator.language import RULES, Rule, RuleError, registry, rule
from estimator.language.units import Metres

HEAVY = {"openpyxl", "lxml", "PIL", "pydantic", "numpy", "email"}


def loaded(*words: str) -> set[str]:
    """The modules that are there when the program has done as it was told."""
    code = (
        "import sys; from estimator.cli.start import main; sys.argv = ['estimator', *sys.argv[1:]]\n"
        "try: main()\nexcept SystemExit: pass\n"
        "print(chr(10).join(sys.modules), file=sys.stderr)"
    )
    environment = {k: v for k, v in os.environ.items() if k != "COLUMNS"}
    done = subprocess.run(
        [sys.executable, "-c", code, *words], capture_output=True, text=True, env=environment
    )
    assert done.returncode == 0, done.stderr
    return set(done.stderr.split())


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["issue", "--help"]], ids=" ".join)
def test_help_loads_nothing(words: list[str]) -> None:
    found = loaded(*words)
    assert "click" not in found
    assert {m for m in found if m.startswith("estimator")} == {
        *("estimator", "estimator.cli", "estimator.cli.start"),
    }


def test_a_command_loads_what_it_uses() -> None:
    """A slip in the words needs click alone; a job file read needs no workbook."""
    assert not {m.split(".")[0] for m in loaded("check", "--no-such")} & HEAVY
    found = loaded("quantities", str(DEMO_JOB))
    assert "estimator.takeoff.floors" in found
    assert not {m.split(".")[0] for m in found} & {"openpyxl", "lxml", "PIL", "numpy"}


@pytest.mark.parametrize("name", [WHOLE, *main.commands])
def test_a_kept_page_is_what_the_command_line_prints(name: str) -> None:
    words = ["--help"] if name == WHOLE else [name, "--help"]
    printed = CliRunner().invoke(main, words, prog_name="estimator", terminal_width=78)
    assert kept_page(words) == printed.output, "run python -m estimator.reference docs"


def test_there_are_no_other_pages() -> None:
    assert {p.stem for p in Path(HELP).iterdir()} == {WHOLE, *main.commands}
    assert kept_page([WHOLE, "--help"]) is None
    assert kept_page(["../help/issue", "--help"]) is None
    assert kept_page(["--version"]) == f"estimator, version {__version__}\n"


@pytest.mark.parametrize("name", main.commands)
def test_what_a_command_is_given_is_what_its_work_takes(name: str) -> None:
    module, function = WORK[name]
    work: Callable[..., None] = getattr(import_module(f"estimator.cli.{module}"), function)
    taken = inspect.signature(work).parameters
    given = {p.name for p in main.commands[name].params}
    assert given - {"house"} == set(taken)  # the folder of bases is opened before any work


# ---- rules are proven while they are imported ----


def ours() -> list[Rule]:
    """The rules of the package, without those of tests."""
    import_module("estimator.model.plan")
    import_module("estimator.functions")
    return [found for found in RULES.values() if str(found.module).startswith("estimator.")]


def test_every_rule_holds_by_its_syntax_tree_too() -> None:
    """What is compiled is looked at first; what is written says the same of every rule."""
    for found in ours():
        registry._check(found.work, registry._expression(found.work))


def test_most_rules_need_no_syntax_tree() -> None:
    plain = sum(registry._is_plain(found.work) for found in ours())
    assert plain > 0.95 * len(ours()) > 700


def _power(length: Metres) -> Metres:
    """Not what a formula may say."""
    return length**2


def _double(length: Metres) -> Metres:
    """What a formula may say."""
    return length * 2


def test_an_unknown_instruction_has_the_syntax_tree_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """As with a Python that compiles to what is not known here."""
    monkeypatch.setattr(registry, "_KNOWN", frozenset())
    assert not registry._is_plain(_double)
    rule(_double)
    with pytest.raises(RuleError, match="Pow"):
        rule(_power)


def test_an_operation_out_of_reach_of_its_number_is_not_plain() -> None:
    assert registry._is_plain(_double)
    assert not registry._is_plain(_power)
