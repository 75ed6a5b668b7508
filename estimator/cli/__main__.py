"""`python -m estimator.cli`: the command line."""

from .start import main

main()
