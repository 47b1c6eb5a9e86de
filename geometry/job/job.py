"""Job: the document. One frozen tree of inputs; everything else is computed from it."""

from typing import Literal

from geometry.job.by_identity import kept_by_identity
from geometry.job.day import require_day
from geometry.parts.part import ToolPart
from geometry.readings.readings import Readings
from geometry.section.body import Record, Side, require_length
from geometry.section.section import Section
from geometry.stack.stack import Stack

Fate = Literal["keep", "scrap"]
Result = Literal["done", "done with trouble", "not done"]
"""How work at the bench went."""
MOST_DOUBT_MM = 1.0
"""Of lengths that are drawn and not measured."""
FORMAT = "ringpath-job"
VERSION = 1


class Limits(Record, frozen=True):
    """Default limits of the judgement, editable, printed on the sheet (common practice; geometry/check)."""

    offset_good_mm: float = 0.30
    offset_caution_mm: float = 0.60
    contact_ring_mm: float = 0.5
    thin_lip_mm: float = 1.2
    balls_caution_of_c0: float = 0.1
    balls_share_of_force: float = 0.9
    spacer_doubt_mm: float = 0.03
    utilisation_caution: float = 0.8

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            require_length(name, getattr(self, name))


class MakerInstructions(Record, frozen=True):
    """What the maker of the hub prescribes; it governs."""

    first_bearing: str | None = None
    first_towards: Side | None = None
    never_push: tuple[str, ...] = ()
    """Bodies or rings ('BL.inner') that must not be pressed."""
    torque_nm: float | None = None
    note: str = ""


class Step(Record, frozen=True):
    """One press operation."""

    title: str
    operation: Literal["press out", "press in"]
    bearings: tuple[str, ...]
    towards: Side
    """Direction in which the bearings move."""
    stack: Stack = Stack()
    fates: dict[str, Fate] = {}
    """Asked for every bearing of the assembly, never assumed."""
    take_off: tuple[str, ...] = ()
    """Loose bodies taken off by hand before this step."""
    put_on: tuple[str, ...] = ()
    """Loose bodies put in place by hand before this step."""
    goes_along: tuple[str, ...] = ()
    """Loose bodies that travel with the bearings: out with them, or in with them."""
    refitted: tuple[str, ...] = ()
    """Bearings going in that were in this hub before."""
    start_z_mm: dict[str, float] = {}
    """Left face of the outer ring when pressing in starts; left out: at the mouth of the bore."""
    open_side: dict[str, Side] = {}
    """How a bearing with one seal is put in."""
    pushed_aside_mm: dict[str, float] = {}
    """Loose bodies held sideways by the user, by how much."""
    press_force_n: float | None = None
    """Replaces the computed press force (a seized or glued seat)."""
    note: str = ""

    def __post_init__(self) -> None:
        if not self.bearings:
            raise ValueError(f"step '{self.title}' names no bearing")
        if self.press_force_n is not None and not 0.0 < self.press_force_n <= 1e6:
            raise ValueError(f"press_force_n {self.press_force_n:g} must lie between 0 and 1e6")
        for name in ("start_z_mm", "pushed_aside_mm"):
            for value in getattr(self, name).values():
                require_length(name, value, signed=True)


class SignOff(Record, frozen=True):
    """Somebody did the whole job at the bench, and says how it went."""

    who: str
    when: str
    """Day, as 2031-05-28."""
    result: Result
    note: str = ""
    work: str = ""
    """What was signed: changes with section, parts and steps (geometry/job/sign_off.py)."""

    def __post_init__(self) -> None:
        if not self.who.strip():
            raise ValueError("who must not be empty")
        require_day("when", self.when)


class Job(Record, frozen=True):
    """One assembly with its steps, and the parts that it uses."""

    format: Literal["ringpath-job"]
    version: int
    title: str
    section: Section
    kind: str = "rear hub"
    summary: str = ""
    landmark: str = ""
    """A fixed landmark that tells left from right: 'disc on the left'."""
    parts: tuple[ToolPart, ...] = ()
    steps: tuple[Step, ...] = ()
    absent: tuple[str, ...] = ()
    """Bodies and bearings that are off before the first step."""
    doubt_mm: float = 0.0
    """Half-width within which a length of this section is known (95 %); 0: taken as exact."""
    readings: Readings | None = None
    """What was measured; the section then is the drawing that the readings refer to."""
    limits: Limits = Limits()
    instructions: MakerInstructions | None = None
    sign_offs: tuple[SignOff, ...] = ()
    """What the bench said of this job, the oldest first."""

    def __post_init__(self) -> None:
        if self.version != VERSION:
            raise ValueError(f"version {self.version} must be {VERSION}")
        if not 0.0 <= self.doubt_mm <= MOST_DOUBT_MM:
            raise ValueError(f"doubt_mm {self.doubt_mm:g} must lie between 0 and {MOST_DOUBT_MM:g}")
        part_ids = [part.id for part in self.parts]
        known_parts = set(part_ids)
        if len(known_parts) < len(part_ids):
            twice = next(one for one in part_ids if part_ids.count(one) > 1)
            raise ValueError(f"part id '{twice}' is used twice")
        bodies = {body.id for body in self.section.bodies}
        bearings = {bearing.id for bearing in self.section.bearings}
        _known("absent", self.absent, bodies | bearings)
        for step in self.steps:
            where = f"step '{step.title}'"
            _known(f"{where}: bearings", step.bearings, bearings)
            for name in ("fates", "start_z_mm", "open_side", "refitted"):
                _known(f"{where}: {name}", tuple(getattr(step, name)), bearings)
            for name in ("take_off", "put_on", "goes_along", "pushed_aside_mm"):
                _known(f"{where}: {name}", tuple(getattr(step, name)), bodies)
            used = tuple(part.part for part in step.stack.parts) + (
                (step.stack.rod,) if step.stack.rod is not None else ()
            )
            _known(f"{where}: stack", used, known_parts)

    def part(self, id: str) -> ToolPart:
        return _by_id(self.parts)[id]


@kept_by_identity
def _by_id(parts: tuple[ToolPart, ...]) -> dict[str, ToolPart]:
    return {part.id: part for part in parts}


def _known(where: str, names: tuple[str, ...], known: set[str]) -> None:
    for name in names:
        if name not in known:
            raise ValueError(f"{where}: '{name}' is not known (known: {', '.join(sorted(known)) or 'none'})")
