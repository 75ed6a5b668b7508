"""The cheapest mix of suppliers: what lines cost at each, the choice, proven."""
