"""Landing: the faces on which tool parts touch the assembly, moved by the worst offset."""

from geometry.check.contact_path import Pair
from geometry.check.finding import Place
from geometry.check.result import Centring, Thing
from geometry.job.job import Job
from geometry.profile.profile import Face
from geometry.profile.transverse import FlatRing, shared_mm2, shared_width_mm
from geometry.record import Derived

SAME_PLANE_MM = 1e-4


class Landing(Derived, frozen=True):
    """A tool part on the assembly: the face of each in the plane where they touch, and the force there."""

    tool: Thing
    on: Thing
    z_mm: float
    tool_facing_left: bool
    tool_inner_mm: float
    tool_outer_mm: float
    on_inner_mm: float
    on_outer_mm: float
    flat: bool
    force_n: float
    offset_mm: float | None
    hooked_mm2: float | None = None
    """What a hooked part covers of the ledge that it stands on, where there is one."""

    @property
    def inner_mm(self) -> float:
        return max(self.tool_inner_mm, self.on_inner_mm)

    @property
    def outer_mm(self) -> float:
        return min(self.tool_outer_mm, self.on_outer_mm)

    @property
    def width_mm(self) -> float:
        """Narrowest radial width of the contact at the worst offset."""
        return shared_width_mm(*self._rings, aside_mm=self.offset_mm or 0.0)

    @property
    def area_mm2(self) -> float:
        if self.hooked_mm2 is not None:
            return self.hooked_mm2
        return shared_mm2(*self._rings, aside_mm=self.offset_mm or 0.0)

    @property
    def _rings(self) -> tuple[FlatRing, FlatRing]:
        """The face of the tool part and the one that it stands on."""
        tool = FlatRing(self.tool_inner_mm / 2, self.tool_outer_mm / 2)
        return tool, FlatRing(self.on_inner_mm / 2, self.on_outer_mm / 2)

    @property
    def place(self) -> Place:
        return Place(self.z_mm, (self.inner_mm + self.outer_mm) / 2)


def landings(
    pairs: tuple[Pair, ...], forces: dict[tuple[str, str], float], centring: dict[str, Centring]
) -> tuple[Landing, ...]:
    """Contacts between a tool part and the assembly that carry force, annulus by annulus."""
    found = []
    for pair in pairs:
        force = forces.get((pair.left.id, pair.right.id), 0.0)
        if force <= 0.0 or (pair.left.side is None) == (pair.right.side is None):
            continue
        tool, on = (pair.left, pair.right) if pair.left.side is not None else (pair.right, pair.left)
        offset = centring[tool.id].offset_mm if tool.id in centring else None
        found += _landings_of(pair, tool, on, force, offset)
    return tuple(found)


def landings_between_parts(pairs: tuple[Pair, ...], forces: dict[tuple[str, str], float]) -> tuple[Landing, ...]:
    """Contacts of tool parts with each other that carry force, annulus by annulus."""
    found = []
    for pair in pairs:
        force = forces.get((pair.left.id, pair.right.id), 0.0)
        if force > 0.0 and pair.left.side is not None and pair.right.side is not None:
            found += _landings_of(pair, pair.left, pair.right, force, 0.0)
    return tuple(found)


def _landings_of(pair: Pair, tool: Thing, on: Thing, force: float, offset: float | None) -> list[Landing]:
    found = []
    annuli = pair.touch.annuli
    for annulus in annuli:
        flat = (
            abs(annulus.z_inner_mm - annulus.z_outer_mm) < SAME_PLANE_MM
            and annulus.outer_radius_mm > annulus.inner_radius_mm
        )
        z = annulus.z_inner_mm
        left_face = _face_at(
            pair.left.profile.faces_right,
            z - pair.touch.distance_mm - pair.left.at_mm,
            annulus.inner_radius_mm,
            annulus.outer_radius_mm,
        )
        right_face = _face_at(
            pair.right.profile.faces_left,
            z - pair.right.at_mm,
            annulus.inner_radius_mm,
            annulus.outer_radius_mm,
        )
        tool_face, on_face = (left_face, right_face) if tool is pair.left else (right_face, left_face)
        moved_z = z if on is pair.right else z - pair.touch.distance_mm
        found.append(
            Landing(
                tool,
                on,
                moved_z,
                tool is pair.right,
                2 * tool_face[0],
                2 * tool_face[1],
                2 * on_face[0],
                2 * on_face[1],
                flat,
                force / len(annuli),
                offset,
            )
        )
    return found


def _face_at(faces: tuple[Face, ...], z: float, inner: float, outer: float) -> tuple[float, float]:
    """Inner and outer radius of the flat face in a plane that spans the radii given; of a cone, those."""
    low, high = inner, outer
    for r0, r1, z0, z1 in faces:
        if abs(z0 - z) < SAME_PLANE_MM and abs(z1 - z) < SAME_PLANE_MM and r0 <= high + 1e-6 and r1 >= low - 1e-6:
            low, high = min(low, r0), max(high, r1)
    return low, high


def is_hooked(job: Job, tool: Thing) -> bool:
    """Whether a tool part is hooked in from one side: off the axis on purpose, and judged by its ledge."""
    return job.part(tool.id.split("@")[0]).goes_in_sideways
