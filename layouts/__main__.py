"""Lets `python -m layouts` do what `loomfolio` does."""

from layouts.cli import main

main(prog_name="loomfolio")
