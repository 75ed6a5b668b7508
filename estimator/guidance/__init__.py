"""Guidance: whose figures are followed, and who is told before work is covered, by nation."""
