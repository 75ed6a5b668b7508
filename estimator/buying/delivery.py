"""When a delivery is charged."""

from ..language import *

NEVER = 1000000000  # no order is delivered free


@rule
def delivery_due(goods: Pounds, delivery: Pounds, free_over: Pounds) -> Pounds:
    """Delivery for one drop: nothing without an order, nothing from the free threshold up."""
    return where(
        both(less(0, goods), less(goods, first_given(free_over, NEVER))),
        first_given(delivery, 0),
        0,
    )
