"""The cheapest mix of suppliers, and the cheapest rolls for whole pieces: the choice, proven."""
