"""Older file versions, brought up to date step by step on plain JSON data.

A step takes the data of one version and returns those of the next. It is tagged with its format and the
version that it starts from, and never edited again: docs/file-format.md says how to add one.
"""

from collections.abc import Callable, Mapping

Data = dict[str, object]
VersionStep = Callable[[Data], Data]

VERSION_STEPS: Mapping[str, Mapping[int, VersionStep]] = {
    "ringpath-job": {},
    "ringpath-set": {},
    "ringpath-part": {},
    "ringpath-trial": {},
}
"""By format, then by the version that the step starts from. All formats are at version 1: no step yet."""


def brought_up_to_date(
    data: Data, *, steps: Mapping[int, VersionStep], from_version: int, to_version: int
) -> Data:
    """The data after every step between the two versions; the version in the data follows."""
    for version in range(from_version, to_version):
        data = {**steps[version](data), "version": version + 1}
    return data
