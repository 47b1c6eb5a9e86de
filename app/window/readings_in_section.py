"""ReadingsInSection: what the readings add to the section: a caliper, what is assumed, and figures to click."""

from PySide6.QtCore import QObject, Signal

from app.drawing.assumed import assumed_marks
from app.drawing.caliper import caliper_marks
from app.drawing.marks import Mark, Stroke, closed
from app.drawing.section_drawing import Shifts, outline_lines, place_of
from app.section_view.section_view import SectionView
from app.window.lengths import length_text
from app.window.readings_lines import combination_of
from app.window.readings_panel import ReadingsPanel
from app.window.shown_overlays import ShownOverlays
from geometry.check.result import StepCheck, Thing
from geometry.job.job import Job
from geometry.job.measured import Measured, measured_section
from geometry.job.quantities import stations_mm
from geometry.job.worksheet import Jaws, jaws
from geometry.readings.readings import Line
from geometry.section.bearing import measures
from geometry.section.section import Section
from geometry.section.state import State
from geometry.section.things import assembly_things

ASSUMED, CALIPER = "assumed", "caliper"


class ReadingsInSection(QObject):
    """Draws over the section what the readings panel points at; `opened` when a figure there was clicked."""

    opened = Signal()

    def __init__(self, view: SectionView, panel: ReadingsPanel, overlays: ShownOverlays) -> None:
        super().__init__(view)
        self._view, self._panel, self._overlays = view, panel, overlays
        self._job: Job | None = None
        self._things: tuple[Thing, ...] = ()
        self._shifts: Shifts = {}
        self._unit = "mm"
        panel.pointed.connect(self._draw_caliper)
        view.rested.connect(self._draw_caliper)
        view.dimension_clicked.connect(self._on_figure)

    def show(self, job: Job, check: StepCheck, shifts: Shifts, unit: str) -> None:
        """The section as it is now; the job may be one that is only being typed."""
        self._job, self._things, self._shifts, self._unit = job, check.things, shifts, unit
        marks = ()
        if job.readings is not None:
            measured = measured_section(job)
            marks = assumed_marks(measured.section, measured.states, self._things, shifts)
        self._view.scene_.show_marks(ASSUMED, marks, 3.0)
        self._draw_caliper()

    def open_line(self, line: str, instrument: str = "") -> None:
        """To a line of the sheet, wherever one is in the window, to read it again with an instrument."""
        self.opened.emit()
        self._panel.sheet.read_again(line, instrument)

    def _draw_caliper(self) -> None:
        marks = ()
        if self._job is not None and self._job.readings is not None:
            lines = {line.id: line for line in self._job.readings.lines}
            line = lines.get(self._panel.pointed_line)
            if line is not None:
                marks = self._caliper(measured_section(self._job), line)
        self._view.set_force_aside(bool(marks) and self._panel.is_typing)
        self._view.scene_.show_marks(CALIPER, marks, 11.5)

    def _caliper(self, measured: Measured, line: Line) -> tuple[Mark, ...]:
        """The instrument of a line, where its body is now; a body that is off in this step is outlined at home."""
        if any(term.quantity not in measured.states for term in line.terms):
            return ()
        at_home = jaws(measured.section, line)
        if at_home is None:
            return ()
        thing, ghost = self._thing(at_home.of), ()
        if thing is None:
            things = assembly_things(measured.section, State(frozenset({at_home.of})))
            thing = next(one for one in things if one.id in (at_home.of, f"{at_home.of}.outer"))
            ghost = tuple(Stroke(tuple(map(closed, outline_lines(one, {}))), "ghost", one.id) for one in things)
        left_mm = place_of(thing, {} if ghost else self._shifts) + thing.profile.z_min_mm
        here = _moved(at_home, left_mm - _left_mm(measured.section, at_home.of))
        value_mm = measured.fit.value_mm(combination_of(line))
        marks = caliper_marks(
            here,
            line,
            radius_mm=thing.profile.r_max_mm,
            paper_scale=self._view.scene_.drawn_scale,
            text=length_text(value_mm, self._unit),
        )
        return (*ghost, *marks)

    def _thing(self, of: str) -> Thing | None:
        return next((one for one in self._things if one.id in (of, f"{of}.outer")), None)

    def _on_figure(self, number: int) -> None:
        """A figure of a dimension was clicked: to the field where it is typed."""
        if not 0 <= number < len(self._overlays.figures):
            return
        figure = self._overlays.figures[number]
        self.opened.emit()
        self._panel.go_to(
            figure.body.partition(".")[0],
            is_diameter=figure.text.startswith("Ø"),
            value_mm=float(figure.text.removeprefix("Ø")),
        )


def _left_mm(section: Section, of: str) -> float:
    """Where the left end of a body, or of a bearing's outer ring, is at home."""
    body = next((one for one in section.bodies if one.id == of), None)
    return stations_mm(body)[0] if body is not None else measures(section.bearing(of)).outer_from_z_mm


def _moved(one: Jaws, by_mm: float) -> Jaws:
    return Jaws(
        one.of,
        one.instrument,
        one.from_z_mm + by_mm,
        one.from_diameter_mm,
        one.to_z_mm + by_mm,
        one.to_diameter_mm,
    )
