"""What was changed outside the lists: particulars, answers, allowances, and what hangs on a line."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from ...buying.lines import HOLD_POINTS, LINES
from ...buying.materials import BY_SUPPLIER, MATERIAL_ROWS
from ...buying.suppliers import SUPPLIERS
from ...checks import CHECKS
from ...guidance.basis import KEYS
from ...language.ledger import Ledger, is_available
from ...model.job import Job
from ...model.plan import PARTICULARS
from ...questionnaire.answers import INPUTS as FORM_INPUTS
from ...questionnaire.assumed import ASSUMPTIONS
from ..defaults import usual_status, usual_wastage_applies
from .change import INPUTS, Change, State
from .renamed import Renames, blank_as_none
from .rows import shown
from .visible import CLIENT_CELLS
from .words import as_typed, in_sentence, say, word

BASIS = "basis_choice"


def particular_changes(old: State, new: State, renames: Renames) -> Iterator[Change]:
    """Everything that was typed once for the job, and every choice made for a line or a material."""
    yield from _cells(old.job, new.job, renames)
    yield from _assumed(old.job, new.job)
    yield from _allowances_in_use(old, new)
    for which in ("override", "own"):
        yield from _own_figures(which, getattr(old.job, which), getattr(new.job, which))
    yield from _lines(old.job, new.job, renames)
    yield from _words("reasons", "reason", {c.key: c.label for c in CHECKS}, old.job, new.job, True)
    holds = {h: h for h in HOLD_POINTS}
    yield from _words("own_notices", "notice", holds, old.job, new.job, False)
    for name in BY_SUPPLIER:
        yield from _percents(name, old.job, new.job, renames)
    yield from _wastage_applies(old.job, new.job)


def _cells(old: Job, new: Job, renames: Renames) -> Iterator[Change]:
    titles = {b.name: b.document.title for job in (old, new) for b in job.bases}
    for section, inputs in (("job", PARTICULARS), ("form", FORM_INPUTS)):
        for item in inputs:
            was = renames.followed(item, blank_as_none(old.particulars.get(item.name)))
            now = blank_as_none(new.particulars.get(item.name))
            if was == now:
                continue
            texts = {"was": shown(item, was), "now": shown(item, now)}
            if item.name == BASIS:
                text = say("guidance", **{k: titles.get(v, v) for k, v in texts.items()})
            elif section == "form":
                text = say("answer", field=in_sentence(item.label), **texts)
            else:
                text = say("changed", what=item.label, **texts)
            seen = section == "form" or item.name in CLIENT_CELLS
            yield Change(INPUTS, (section, item.name), text, was, now, seen)


def _assumed(old: Job, new: Job) -> Iterator[Change]:
    for a in ASSUMPTIONS:
        was, now = (blank_as_none(j.assumed.get(a.key)) for j in (old, new))
        if was == now:
            continue

        def figure(value: Any, a: Any = a) -> str:
            if value is not None:
                return as_typed(value, a.unit)
            return say("assumed_figure", figure=as_typed(a.figure, a.unit))

        text = say("assumed", field=in_sentence(a.label), was=figure(was), now=figure(now))
        yield Change(INPUTS, ("assumed", a.key), text, was, now, True)


def _allowances_in_use(old: State, new: State) -> Iterator[Change]:
    """The figures in use; another basis is told in one sentence, so its figures are not listed."""
    same_basis = old.job.particulars.get(BASIS) == new.job.particulars.get(BASIS)
    before, after = (_in_use(s.ledger) for s in (old, new))
    for key in KEYS:
        was, now = before[key.name], after[key.name]
        if was != now:
            texts = {
                k: word("no_figure") if v is None else as_typed(v, key.unit)
                for k, v in (("was", was), ("now", now))
            }
            text = say("changed", what=key.label, **texts)
            yield Change(INPUTS, ("allowances", key.name), text, was, now, same_basis)


def _in_use(ledger: Ledger) -> dict[str, float | None]:
    keys, figures = (ledger.column("allowances", c) for c in ("key", "in_use"))
    return {k: f if is_available(f) else None for k, f in zip(keys, figures, strict=True)}


def _own_figures(
    which: str, old: Mapping[str, float], new: Mapping[str, float]
) -> Iterator[Change]:
    for key in KEYS:
        was, now = old.get(key.name), new.get(key.name)
        if was != now:
            texts = {
                k: word("blank") if v is None else as_typed(v, key.unit)
                for k, v in (("was", was), ("now", now))
            }
            text = say(which, what=in_sentence(key.label), **texts)
            yield Change(INPUTS, (which, key.name), text, was, now)


def _lines(old: Job, new: Job, renames: Renames) -> Iterator[Change]:
    usual = usual_status()
    suppliers = renames.of(SUPPLIERS)
    for line in LINES:
        was, now = (j.line_status.get(line.key) or usual[line.key] for j in (old, new))
        if was != now:
            text = say("changed", what=line.label, was=was, now=now)
            yield Change(INPUTS, ("line_status", line.key), text, was, now, True)
    for line in LINES:
        before, after = (blank_as_none(j.line_suppliers.get(line.key)) for j in (old, new))
        before = suppliers.get(before, before) if before else before
        if before != after:
            texts = {k: v or word("job_supplier") for k, v in (("was", before), ("now", after))}
            text = say("bought_from", what=line.label, **texts)
            yield Change(INPUTS, ("line_suppliers", line.key), text, before, after)


def _words(
    section: str, sentence: str, labels: Mapping[str, str], old: Job, new: Job, seen: bool
) -> Iterator[Change]:
    before, after = getattr(old, section), getattr(new, section)
    for key, label in labels.items():
        was, now = blank_as_none(before.get(key)), blank_as_none(after.get(key))
        if was != now:
            texts = {k: v or word("nothing") for k, v in (("was", was), ("now", now))}
            text = say(sentence, what=label, **texts)
            yield Change(INPUTS, (section, key), text, was, now, seen)


_LABELS = {str(m["key"]): str(m["label"]) for m in MATERIAL_ROWS}


def _percents(name: str, old: Job, new: Job, renames: Renames) -> Iterator[Change]:
    """The percentages of each material by supplier: wastage, and trade discounts."""
    followed = renames.of(SUPPLIERS)
    before = {followed.get(s, s): percents for s, percents in getattr(old, name).items()}
    after: Mapping[str, Mapping[str, float]] = getattr(new, name)
    unit = BY_SUPPLIER[name][0].unit
    for supplier in dict.fromkeys([*before, *after]):
        for material, label in _LABELS.items():
            was, now = (found.get(supplier, {}).get(material) for found in (before, after))
            if was != now:
                percents = {
                    k: word("nothing") if v is None else as_typed(v, unit)
                    for k, v in (("was", was), ("now", now))
                }
                text = say(name, what=in_sentence(label), supplier=supplier, **percents)
                yield Change(INPUTS, (name, supplier, material), text, was, now)


def _wastage_applies(old: Job, new: Job) -> Iterator[Change]:
    usual = usual_wastage_applies()
    for material, label in _LABELS.items():
        was, now = (
            j.wastage_applies.get(material, usual[material]) for j in (old, new)
        )  # fmt: skip
        if was != now:
            counts: Callable[[Any], str] = lambda v: word("counts" if v else "counts_not")  # noqa: E731
            text = say("wastage_applies", what=in_sentence(label), was=counts(was), now=counts(now))
            yield Change(INPUTS, ("wastage_applies", material), text, was, now)
