"""Lets ``python -m simedge`` do what ``simedge`` does."""

from simedge.cli.main import entry

entry()
