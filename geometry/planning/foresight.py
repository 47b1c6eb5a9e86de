"""Foresight: faults and cautions of a pair of faces that can be told without driving the nut."""

from msgspec.structs import replace

from geometry.check.finding import Finding
from geometry.check.hanging import cup_findings, offset_findings
from geometry.check.landing_faces import standing_findings
from geometry.planning.faces import Face
from geometry.planning.guiding import Centred, Pair
from geometry.planning.situation import Situation


class Foresight:
    """Faults and cautions that can be told without driving the nut, worked out once for a face and its offset."""

    def __init__(self, situation: Situation) -> None:
        self.situation = situation
        self._kept: dict[tuple[int, int, float | None], tuple[Finding, ...]] = {}
        self._of_pushers: dict[tuple[int, float | None, int, int], tuple[Finding, ...]] = {}

    def of(self, pair: Pair) -> tuple[Finding, ...]:
        """What is foreseen of both faces, with the air that they have."""
        air, far_mm = pair.air, self.situation.job.limits.offset_caution_mm + 1e-9
        found = self.of_pusher(pair.pusher, air) + self._of_face(pair.pusher, pair.holder, air.holder_mm)
        if air.holder_mm is None or air.holder_mm > far_mm:
            found += (Finding("off-centre", "caution", (pair.holder.thing.id,), ""),)
        return found

    def of_pusher(self, pusher: Face, air: Centred) -> tuple[Finding, ...]:
        """What is foreseen of the face that pushes, and of spacers, whatever holds."""
        key = (id(pusher), air.pusher_mm, air.loose_spacers, air.slack_spacers)
        if key not in self._of_pushers:
            self._of_pushers[key] = self._pushing(pusher, air)
        return self._of_pushers[key]

    def _pushing(self, pusher: Face, air: Centred) -> tuple[Finding, ...]:
        limits, found = self.situation.job.limits, self._of_face(pusher, pusher, air.pusher_mm)
        if not pusher.part.goes_in_sideways:
            found += _offset(pusher.thing.id, air.pusher_mm, limits.offset_good_mm, limits.offset_caution_mm)
        found += (Finding("spacer-loose", "fault", (), ""),) * air.loose_spacers
        return found + (Finding("spacer-loose", "caution", (), ""),) * air.slack_spacers

    def spoils(self, face: Face, *, offset_mm: float = 0.0, pusher: Face | None = None) -> Finding | None:
        """A fault of a face that can be this far off the axis; `pusher`: what pushes against a face that holds."""
        found = self._of_face(pusher or face, face, offset_mm)
        return next((finding for finding in found if finding.severity == "fault"), None)

    def _of_face(self, pusher: Face, face: Face, offset_mm: float | None) -> tuple[Finding, ...]:
        key = (id(pusher) if face is pusher else hash(pusher.moving), id(face), offset_mm)
        if key not in self._kept:
            self._kept[key] = self._looked_at(pusher, face, offset_mm)
        return self._kept[key]

    def _looked_at(self, pusher: Face, face: Face, offset_mm: float | None) -> tuple[Finding, ...]:
        situation = self.situation
        job, landed = situation.job, tuple(replace(landing, offset_mm=offset_mm) for landing in face.landed)
        found = [finding for landing in landed for finding in standing_findings(job, landing)]
        scene = situation.scene(face.thing)
        if face is pusher and landed:
            home = situation.travelled(pusher.moving | {pusher.thing.group})
            found += offset_findings(job, scene, pusher.thing, landed[0], home)
        elif landed and situation.step.operation == "press out" and not pusher.part.goes_in_sideways:
            found += cup_findings(scene, landed[0], situation.travelled(pusher.moving))
        return tuple(finding for finding in found if finding.severity != "note")


def _offset(id: str, offset_mm: float | None, good_mm: float, caution_mm: float) -> tuple[Finding, ...]:
    if offset_mm is None or offset_mm > caution_mm + 1e-9:
        return (Finding("off-centre", "fault", (id,), ""),)
    return (Finding("off-centre", "caution", (id,), ""),) if offset_mm > good_mm + 1e-9 else ()

