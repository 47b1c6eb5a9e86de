"""Record: the base of everything that is written to a file."""

import msgspec


class Record(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Base of everything that is written to a file: frozen, unknown keys refused, defaults left out."""
