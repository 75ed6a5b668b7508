"""The language rules are written in. Standard library only, so that it can travel into any host."""

from .helpers import (
    at_most,
    available,
    beside,
    both,
    choose,
    count_of,
    divided,
    either,
    first_given,
    given,
    largest_of,
    less,
    most,
    root_of,
    same,
    sum_of,
    to_pence,
    to_six_places,
    total,
    where,
    whole_down,
    whole_up,
)
from .missing import NOT_AVAILABLE
from .registry import RULES, Rule, RuleError, rule
from .tables import Fixed, Input, Item, Linked, Plan, Table, Worked, number, text, worked

__all__ = [
    *("at_most", "available", "beside", "both", "choose", "count_of", "divided", "either"),
    *("first_given", "given", "largest_of", "less", "most", "root_of", "same"),
    *("sum_of", "to_pence", "to_six_places", "total", "where", "whole_down", "whole_up"),
    *("NOT_AVAILABLE", "RULES", "Rule", "RuleError", "rule"),
    *("Fixed", "Input", "Item", "Linked", "Plan", "Table", "Worked", "number", "text", "worked"),
]
