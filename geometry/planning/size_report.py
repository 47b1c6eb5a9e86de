"""Size report: a sized part as text and as JSON; diameters everywhere, lengths along z."""

from typing import Any

import msgspec

from geometry.check.finding import Verdict
from geometry.check.wording import mm
from geometry.planning.free_zone import FreeZone
from geometry.planning.part_limits import End
from geometry.planning.score import VERDICTS
from geometry.planning.sized_part import NotSized, SizedDimension, SizedPart

FORMAT, VERSION = "ringpath-size", 1


def size_as_json(found: SizedPart | NotSized, *, program: str, currency: str) -> dict[str, Any]:
    """The answer of `ringpath size --json`, see docs/file-format.md."""
    head = {"format": FORMAT, "version": VERSION, "program": program, "sized": isinstance(found, SizedPart)}
    if isinstance(found, NotSized):
        return head | {"role": found.role, "reasons": list(found.reasons)}
    return head | {
        "role": found.role,
        "verified": found.is_verified,
        "verdict": verdict_of(found),
        "part": msgspec.to_builtins(found.part),
        "doubt_mm": found.doubt_mm,
        "dimensions": [_dimension(one) for one in found.dimensions],
        "material": {
            "name": found.part.material, "why": found.material_words, "utilisation": found.utilisation,
        },
        "cost": {
            "each": found.cost.each,
            "currency": currency,
            "batch": found.cost.batch,
            "bar_mm": found.cost.bar.diameter_mm,
            "bar_length_mm": found.cost.bar.length_mm,
            "lines": [
                {"what": one.what, "sum": one.sum, "amount": round(one.amount, 4)} for one in found.cost.lines
            ],
        },
        "steps": [
            {
                "job": one.job.title,
                "step": one.step + 1,
                "title": one.job.steps[one.step].title,
                "verdict": one.check.verdict,
                "stack": msgspec.to_builtins(one.trial.stack),
                "findings": [finding.message for finding in one.check.findings if finding.severity != "note"],
            }
            for one in found.served
        ],
        "corners": [
            {"corner": one.words, "job": one.job, "verdict": one.verdict, "against": one.says}
            for one in found.corners
        ],
        "free_zone": None if found.zone is None else _zone(found.zone),
    }  # fmt: skip


def verdict_of(found: SizedPart) -> Verdict:
    """The worst verdict of the steps."""
    return VERDICTS[max(VERDICTS.index(one.check.verdict) for one in found.served)]


def _dimension(one: SizedDimension) -> dict[str, Any]:
    return {
        "dimension": one.name,
        "words": one.words,
        "value_mm": one.value_mm,
        "tolerance": one.tolerance.name,
        "lower_mm": one.tolerance.lower_mm,
        "upper_mm": one.tolerance.upper_mm,
        "tolerance_fits": one.tolerance.fits,
        "least": _end(one.window.least),
        "most": _end(one.window.most),
    }


def _end(end: End) -> dict[str, Any] | None:
    if end.is_open:
        return None
    return {
        "value_mm": end.value_mm, "set_by": end.sets, "bodies": list(end.bodies), "code": end.code, "job": end.job,
    }  # fmt: skip


def _zone(zone: FreeZone) -> dict[str, Any]:
    return {
        "side": zone.side,
        "z_mm": round(zone.z_mm, 4),
        "must_touch": [
            {"thing": one.thing, "inner_diameter_mm": one.inner_mm, "outer_diameter_mm": one.outer_mm}
            for one in zone.must_touch
        ],
        "limits": [
            {"limit": one.what, "value_mm": round(one.value_mm, 4), "set_by": one.thing, "job": one.job}
            for one in zone.limits
        ],
        "outline": [[round(z, 4), round(2 * r, 4)] for z, r in zone.outline()],
    }


def size_as_text(found: SizedPart | NotSized, *, currency: str) -> str:
    """The answer for a terminal."""
    if isinstance(found, NotSized):
        return "\n".join(["No part was sized.", *(f"  {reason}" for reason in found.reasons)])
    part = found.part
    rows = [("dimension", "mm", "tolerance", "least", "most"), *(_row(one) for one in found.dimensions)]
    widths = [max(len(row[column]) for row in rows) for column in range(5)]
    lines = [f"{part.id}: {part.title}, {part.material}", ""]
    lines += ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    lines += ["", *_reasons(found), f"Material: {found.material_words}."]
    if found.utilisation is not None:
        lines.append(f"At the expected force {100 * found.utilisation:.0f} % of what it bears is used.")
    lines += ["", f"Cost of one in a batch of {found.cost.batch}, {currency} (invented prices unless given):"]
    lines += [f"  {one.what:<34}{one.sum:<24}{one.amount:>8.2f}" for one in found.cost.lines]
    lines.append(f"  {'together':<34}{'':<24}{found.cost.each:>8.2f}")
    for served in found.served:
        names = ", ".join(one.part for one in served.trial.stack.parts)
        lines += ["", f"{served.job.title}, step {served.step + 1}: {served.check.verdict}", f"  {names}"]
        lines += [f"  {finding.message}" for finding in served.check.findings if finding.severity != "note"]
    return "\n".join([*lines, "", proof_in_words(found)])


def _row(one: SizedDimension) -> tuple[str, str, str, str, str]:
    least, most = ("open" if end.is_open else mm(end.value_mm) for end in (one.window.least, one.window.most))
    return one.words, mm(one.value_mm), one.tolerance.name, least, most


def _reasons(found: SizedPart) -> list[str]:
    lines = []
    for one in found.dimensions:
        for word, end in (("less", one.window.least), ("more", one.window.most)):
            if not end.is_open:
                job = f" ({end.job})" if len(found.served) > 1 else ""
                lines.append(f"{one.words} {word} than {mm(end.value_mm)}: {end.sets}.{job}")
    return lines


def proof_in_words(found: SizedPart) -> str:
    """What was tried at the limits of the tolerances, and what came of it."""
    wrong = [one for one in found.corners if one.says]
    doubt = f", widened by the doubt of {mm(found.doubt_mm)}" if found.doubt_mm else ""
    if wrong:
        first = wrong[0]
        return (
            f"At {len(wrong)} of {len(found.corners)} limits of the tolerances{doubt} the check is less content;"
            f" {first.words}: {first.says}"
        )
    tight = [one.words for one in found.dimensions if not one.tolerance.fits]
    if tight:
        return f"The window of {' and '.join(tight)} is narrower than the finest tolerance that is offered."
    return f"Checked in full at {len(found.corners)} limits of the tolerances{doubt}: as good as drawn."
