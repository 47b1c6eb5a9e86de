"""How a thread is called on a drawing."""

from geometry.errors import InputError
from geometry.facts.threads import Thread, thread


def known_thread(name: str) -> Thread | None:
    """The thread of the table; None for one beyond it."""
    try:
        return thread(name)
    except InputError:
        return None


def callout_of(name: str, *, inside: bool) -> str:
    """M10 – 6H inside, M10 – 6g outside (ISO 965-1, medium); the pitch of a coarse thread is not said."""
    known = known_thread(name)
    if known is None:
        return name
    fine = "x" in name.lower().replace("×", "x") and not _is_coarse(known)
    size = f"M{known.major_mm:g}×{known.pitch_mm:g}" if fine else f"M{known.major_mm:g}"
    return f"{size} – {'6H' if inside else '6g'}"


def _is_coarse(known: Thread) -> bool:
    return thread(f"M{known.major_mm:g}").pitch_mm == known.pitch_mm
