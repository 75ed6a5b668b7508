"""Damp-proofing materials for small masonry buildings: measured, checked, priced."""

__version__ = "0.2.0"
