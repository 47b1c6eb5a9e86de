"""Numbers that are typed behind an option."""

import argparse


def percentage(text: str) -> float:
    """A share as 0 to 1 from a percentage: `80` or `80%`."""
    value = amount(text.removesuffix("%"))
    if value > 100.0:
        raise argparse.ArgumentTypeError(f"{text!r} is more than 100 %")
    return value / 100


def amount(text: str) -> float:
    """A number of zero or more; comma and point both work."""
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = -1.0
    if not 0.0 <= value < 1e9:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of zero or more")
    return value


def count(text: str) -> int:
    """A whole number of at least 1."""
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if number < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number of at least 1")
    return number
