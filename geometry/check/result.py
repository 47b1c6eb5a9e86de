"""What a check hands out: of one step, and of a whole job."""

from msgspec import field

from geometry.check.finding import Finding, Verdict
from geometry.job.job import Fate
from geometry.record import Derived
from geometry.section.thing import Thing as Thing


class ContactForce(Derived, frozen=True):
    """A contact that carries force."""

    between: tuple[str, str]
    """The left and the right one."""
    z_mm: float
    inner_diameter_mm: float
    outer_diameter_mm: float
    force_n: float
    by: str = "face"
    """`face`, `friction` of a fit, or `balls`."""


class Moment(Derived, frozen=True):
    """One moment of the press: how far the driving nut has come, where everything is, what carries force."""

    nut_mm: float
    travel_mm: float
    """Travel of the bearings towards their goal."""
    shift_mm: dict[str, float]
    """Displacement of each group since the start, along z."""
    force_n: float
    contacts: tuple[ContactForce, ...]
    balls_n: dict[str, float]


class BearingForces(Derived, frozen=True):
    """The largest forces through one bearing up to home."""

    outer_n: float
    inner_n: float
    balls_n: float
    fate: Fate | None


class Link(Derived, frozen=True):
    """One clearance of a chain: the inner one lies in the outer one with this much air to one side."""

    inner: str
    outer: str
    clearance_mm: float
    """Radial: the air to one side."""
    bore_mm: float = 0.0
    """Bore in which the inner one lies, for the size of a guide."""


class Centring(Derived, frozen=True):
    """How far a part can be off the axis at the start; None: nothing locates it."""

    part: str
    offset_mm: float | None
    levered_offset_mm: float | None
    tilt_deg: float | None
    chain: tuple[Link, ...]


class Travel(Derived, frozen=True):
    """Travel of the bearings of the step."""

    needed_mm: float
    stops_at_mm: float | None
    stopped_by: tuple[str, str] | None
    room_left_mm: float | None


class RodUse(Derived, frozen=True):
    """Length of the rod that the stack asks for; `needed_mm` leaves out any showing thread."""

    between_nuts_start_mm: float
    between_nuts_end_mm: float
    needed_mm: float
    length_mm: float
    spare_mm: float
    nut_stops_at_mm: float | None


class Band(Derived, frozen=True):
    """A figure that is never one number."""

    low: float
    expected: float
    high: float


class ForceTravel(Derived, frozen=True):
    """Force against travel, with the part of it that crosses the balls of each bearing."""

    travel_mm: tuple[float, ...]
    force_n: tuple[float, ...]
    balls_n: dict[str, tuple[float, ...]]


class Utilisation(Derived, frozen=True):
    """How much of what a member bears is used, at the expected and at the highest force."""

    member: str
    """Id of the thing; `rod` for the rod."""
    what: str
    """In words: `tension of the rod`, `face pressure`, `wall of the cup in bending`."""
    value: float
    allowable: float
    unit: str
    """Of value and allowable: MPa or N."""
    share: float
    """At the expected force; 1.0 is all."""
    share_high: float
    """At the high end of the force band."""
    sum: str
    source: str


class FitResult(Derived, frozen=True):
    """What the fit of one ring is, and what it does to the bearing and its seat."""

    bearing: str
    ring: str
    """`outer` or `inner`."""
    interference_mm: Band
    state: str
    """`loose`, `right` or `tight`."""
    clearance_left_um: Band | None
    """Radial internal clearance (diametral) after both fits."""
    free_at_k: Band | None
    """Temperature rise of the housing alone that frees the ring."""
    hoop_mpa: float | None
    """Greatest hoop stress in the seat wall, tension positive."""
    source: str
    loose_probability: float | None = None
    """Chance that there is air between ring and seat; None where ring and seat are not both measured."""


class BallMargin(Derived, frozen=True):
    """How far a load through the balls is from harm."""

    load_n: float
    c0_n: float
    limit_n: float
    """Rule for a pure axial load (share of C0)."""
    edge_n: Band
    """Load at which the contact reaches the shoulder of the groove, over the band of groove depths."""
    dent_n: float
    """Load at which the contact pressure reaches the dent pressure of ISO 76 (4200 MPa)."""
    peak_mpa: float
    contact_angle_deg: float
    load_per_ball_n: float
    words: str


class ToeFit(Derived, frozen=True):
    """Whether a toe part of the job can stand on a ledge."""

    part: str
    fits: bool
    area_mm2: float
    pressure_mpa: float | None
    """None: it finds nothing to stand on."""
    words: str


class LedgeView(Derived, frozen=True):
    """A ledge seen along the axis: what a spacer pushed aside leaves bare of a ring, and the toe on it.

    Diameters in mm; the hooked side, to which the spacer is pushed, is up.
    """

    ring: str
    spacer: str
    tool: str
    asked_mm: float
    room_mm: float | None
    """How far the spacer can go: its side play, or what its outside leaves in the housing; None: not known."""
    aside_mm: float
    """How far it goes."""
    ring_bore_mm: float
    edge_mm: float
    """Where the flat of the ring's face begins; it ends at `face_mm`."""
    face_mm: float
    spacer_bore_mm: float
    spacer_outside_mm: float
    housing_bore_mm: float | None
    """Round the spacer."""
    rod_mm: float
    shank_mm: float
    toe_reach_mm: float
    """How far the toe reaches off the axis."""
    toe_edge_mm: float
    """Diameter of the curve of the toe's edge: that of the bore through which it goes in, or smaller."""
    toe_arc_deg: float
    width_mm: float
    least_width_mm: float
    """With the largest corner of the ring and the doubt of the lengths."""
    area_mm2: float
    half_angle_deg: float
    toe_area_mm2: float
    off_axis_mm: float
    """Of the middle of what the toe covers."""
    force_n: float
    pressure_mpa: float | None
    ring_bears_mpa: float
    toe_bears_mpa: float | None
    moment_nm: float
    tilt_deg: float
    """At most, in its bore while it comes out: diametral play over the width of the ring."""
    inner_tilt_deg: float | None
    """At most, of the inner ring in the outer one: the play of its balls; None where their clearance is not known."""
    ball_factor: float
    """By how much the pull off the axis multiplies the worst ball load, at most."""
    toes: tuple[ToeFit, ...]


class ReadingAgain(Derived, frozen=True):
    """The one reading that would tell most about what is in doubt."""

    line: str
    """Id of the line of the sheet."""
    instrument: str
    about: str
    """Code of the finding in doubt."""
    question: str
    """What that finding leaves open, in words."""
    before_mm: float
    """Half-width of the 95 % band of its figure now."""
    after_mm: float


class StepReadings(Derived, frozen=True):
    """What the readings of a job are worth for one step."""

    closes: bool
    missing: tuple[str, ...]
    """Quantities that the step rests on and that nothing measures."""
    again: ReadingAgain | None
    trials: int
    """Sections drawn from what the readings leave open that the step was checked with; 0: none yet."""


class StepCheck(Derived, frozen=True):
    """All results of one step."""

    step: int
    """Counted from 1."""
    title: str
    verdict: Verdict
    checked: tuple[str, ...]
    findings: tuple[Finding, ...]
    things: tuple[Thing, ...]
    moments: tuple[Moment, ...]
    """From the start to the end of the travel (and on to the first hard stop for a bearing pressed out)."""
    force_path: tuple[str, ...]
    """Ids from the turned nut to the standing nut; `BL.balls` where the force crosses the balls."""
    contacts: tuple[ContactForce, ...]
    """Of the moment that the force path is drawn for."""
    bearings: dict[str, BearingForces]
    centring: tuple[Centring, ...]
    travel: Travel | None
    rod: RodUse | None
    force_n: Band | None
    torque_nm: Band | None
    force_travel: ForceTravel | None
    home: str = ""
    """How home is recognised, in millimetres: 'outer ring 0.50 below the left face of the shell'."""
    pusher: str | None = None
    support: str | None = None
    strength: tuple[Utilisation, ...] = ()
    fits: tuple[FitResult, ...] = ()
    ball_margins: dict[str, BallMargin] = field(default_factory=dict)
    feel: str = ""
    """What the hand on the nut notices on the way."""
    ledge: LedgeView | None = None
    """Where a part is hooked in behind a ring: the narrowest ledge."""
    readings: StepReadings | None = None
    """None for a job without readings."""


class JobCheck(Derived, frozen=True):
    """All steps of a job."""

    title: str
    verdict: Verdict
    steps: tuple[StepCheck, ...] = field(default=())
