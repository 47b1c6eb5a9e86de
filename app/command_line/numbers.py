"""Numbers that are typed behind an option."""

import argparse
from datetime import date

from geometry.errors import RingpathError
from geometry.units import read_length_mm, read_number, read_torque_nm


def percentage(text: str) -> float:
    """A share as 0 to 1 from a percentage: `80` or `80%`."""
    value = amount(text.removesuffix("%"))
    if value > 100.0:
        raise argparse.ArgumentTypeError(f"{text!r} is more than 100 %")
    return value / 100


def amount(text: str) -> float:
    """A number of zero or more; comma and point both work."""
    value = read_number(text)
    if not 0.0 <= value < 1e9:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of zero or more")
    return value


def count(text: str) -> int:
    """A whole number of at least 1."""
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if number < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number of at least 1")
    return number


def length(text: str) -> float:
    """A length in mm, or with its unit."""
    try:
        return read_length_mm(text)
    except RingpathError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def torque(text: str) -> float:
    """A torque in Nm; a number alone means Nm."""
    try:
        return read_torque_nm(text)
    except RingpathError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def day(text: str) -> date:
    """A day on which something was done, such as 2024-05-28."""
    try:
        found = date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no day such as 2024-05-28") from None
    if found > date.today():
        raise argparse.ArgumentTypeError(f"{text!r} is after today, {date.today().isoformat()}")
    return found
