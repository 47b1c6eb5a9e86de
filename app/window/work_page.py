"""WorkPage: one job in the places of the window, and what passes between them."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QWidget

from app.checking.step_checks import ShownCheck, StepChecks
from app.document.open_job import OpenJob
from app.drawing.section_drawing import Shifts
from app.window.actions import Actions
from app.window.look import Look
from app.window.one_a_frame import FRAME_MS, OneAFrame
from app.window.part_doings import new_places
from app.window.shown_words import chosen_words, path_moment, seat_words
from app.window.work_places import WorkPlaces
from geometry.check.finding import Finding, Fix
from geometry.check.result import StepCheck, Thing
from geometry.errors import RingpathError
from geometry.job import changes, dimensions, reading_changes
from geometry.job.changes import Change
from geometry.job.job import Job
from geometry.job.measured import job_as_measured
from geometry.parts.part import ToolPart

DOINGS = (changes, dimensions, reading_changes)
"""Where the change of a way out is looked for."""
AT_START: Shifts = {}
EMPTY_HINT = "Drag parts from the tray (left panel, F7) to either side, or use their ◀ ▶ buttons."


class WorkPage(WorkPlaces):
    """One open job. `refused(sentence)` when a change cannot be made; `chosen_changed` for the actions."""

    refused = Signal(str)
    chosen_changed = Signal()
    set_asked = Signal()

    def __init__(self, actions: Actions, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(actions, look, lambda change: self._try_change(change), parent)
        self._look = look
        self._open_job: OpenJob | None = None
        self._set_parts: tuple[ToolPart, ...] = ()
        self._set_title = ""
        self._shown: ShownCheck | None = None
        self._chosen = ""
        self._moment = 0
        self._previewed: Job | None = None
        self._foretold = ""
        """Verdict of what is previewed, where it is known already."""
        self._what_if: dict[Change, Job] = {}
        """Jobs that a drag would make, by change: a target that comes again is not checked again."""
        self._carried = OneAFrame(self)
        """What a carried part would do is checked once a frame; its outline under the pointer never waits."""
        self._rests = QTimer(self)
        """What takes longer to show than the seat of a carried part waits until it stays in one place for a frame."""
        self._rests.setSingleShot(True)
        self._rests.setInterval(FRAME_MS)
        self.is_force_shown = True
        self.checks = StepChecks(self)
        self._connect()
        actions.give_keys_to_drawing(self.view)

    # the job

    def show_job(self, open_job: OpenJob) -> None:
        """Show another job from its first step."""
        if self._open_job is not None:
            self._open_job.changed.disconnect(self._on_changed)
        self._open_job = open_job
        open_job.changed.connect(self._on_changed)
        self._chosen, self._moment, self._previewed = "", 0, None
        self.overlays.forget()
        self.view.clear_step()
        self.show_step(0)

    def set_tool_set(self, parts: tuple[ToolPart, ...], title: str) -> None:
        """Parts of a set beside those of the job."""
        self._set_parts, self._set_title = parts, title
        self._show_tray()
        if self.job is not None:
            self.new_part.show_step(self.job, self.step, self.tray_parts, self._look.unit)
            self.suggest.show_step(self.job, self.step, self.tray_parts, self._look)

    def set_look(self, look: Look) -> None:
        """Another palette, size or unit."""
        self._look = look
        self.view.set_ink(look.ink)
        self.set_widths(look.sizes)
        self.travel.set_palette(look.palette)
        if self._open_job is not None:
            self._show_inputs(self._open_job.job)
            self._show_strip()
            if self._shown is not None:
                self._on_shown(self._shown)

    def show_step(self, step: int) -> None:
        """Show a step of the job."""
        if self._open_job is None:
            return
        self._moment, self._chosen = 0, ""
        self._show(self._open_job.job, step)

    def apply(self, title: str, change: Change) -> None:
        """Make a change; what is refused becomes a sentence."""
        if self._open_job is None:
            return
        before, self._previewed = self._open_job.job, None
        try:
            self._open_job.apply(title, change)
        except RingpathError as error:
            self.refused.emit(str(error))
        if self._open_job.job is before:  # what was looked at before the change is not what is there
            self.checks.preview(None)

    @property
    def job(self) -> Job | None:
        return self._open_job.job if self._open_job is not None else None

    @property
    def look(self) -> Look:
        """Palette, sizes, and the unit in which lengths are shown and read."""
        return self._look

    @property
    def step(self) -> int:
        return self.checks.step

    @property
    def check(self) -> StepCheck | None:
        """The newest check of the step on screen."""
        return self._shown.check if self._shown is not None else None

    @property
    def chosen_thing(self) -> Thing | None:
        """The chosen thing, if it is on screen."""
        check = self.check
        return next((one for one in check.things if one.id == self._chosen), None) if check else None

    @property
    def chosen_part(self) -> ToolPart | None:
        """The tool part that is chosen on the rod."""
        thing, job = self.chosen_thing, self.job
        if thing is None or thing.place is None or job is None:
            return None
        return job.part(job.steps[self.step].stack.parts[thing.place].part)

    @property
    def set_parts(self) -> tuple[ToolPart, ...]:
        """Parts of the set in use."""
        return self._set_parts

    @property
    def tray_parts(self) -> tuple[ToolPart, ...]:
        """All parts at hand."""
        own = self.job.parts if self.job is not None else ()
        ids = {part.id for part in own}
        return (*own, *(part for part in self._set_parts if part.id not in ids))

    def choose(self, id: str) -> None:
        """Choose a thing by its id; empty: none."""
        self._chosen = id
        self._show_chosen()

    def choose_place(self, place: int) -> None:
        """Choose a part by its place in the stack."""
        check = self.check
        for thing in check.things if check is not None else ():
            if thing.place == place:
                self.choose(thing.id)

    def show_force(self, on: bool) -> None:
        """Draw the force path, or not."""
        self.is_force_shown = on
        self._draw()

    # results

    def _on_changed(self, before: Job, after: Job) -> None:
        self._what_if.clear()
        moved = new_places(before, after, self.step)
        if before.section is not after.section or before.steps != after.steps:
            self._moment = 0
        self._show(after, self.step)
        if len(moved) == 1:
            self.choose_place(moved[0])

    def _show(self, job: Job, step: int) -> None:
        self._show_inputs(job, step)
        if not job.steps:
            self._shown = None
            self.view.clear_step()
            self.banner.show_nothing("NO STEP", "Add what is to be pressed out or in.")
            self.findings.show_findings((), words_when_empty="")
            self.travel.show_check(None, 0, self._look.unit)
            self.forces.show_forces(None, self._look.palette, self._look.unit)
        self.checks.show(job, step)
        self._show_strip()

    def _show_inputs(self, job: Job, step: int | None = None) -> None:
        self._show_tray()
        self.step_panel.show_step(job, self.step if step is None else step)
        self.readings.show_section(job, self.step if step is None else step, self._look.unit)
        self.new_part.show_step(job, self.step if step is None else step, self.tray_parts, self._look.unit)
        self.suggest.show_step(job, self.step if step is None else step, self.tray_parts, self._look)

    def _show_tray(self) -> None:
        if self.job is not None:
            look = self._look
            title = f"With the set: {self._set_title}" if self._set_title else "Parts of this job"
            self.tray.show_parts(self.job, self._set_parts, title, look.palette, look.sizes, look.unit)

    def _show_strip(self) -> None:
        if self.job is not None:
            verdicts = tuple(self.checks.verdict_of(step) for step in range(len(self.job.steps)))
            self.strip.show_steps(self.job, self.step, verdicts)

    def _on_shown(self, shown: ShownCheck) -> None:
        """A check came: quick or deep, of the job or of what a drag would make of it."""
        self._shown = shown
        is_carried = self._previewed is not None and self.view.is_dragging
        if self._foretold and self._previewed is not None and not is_carried:
            self.banner.show_foretold(self._foretold)
        else:
            self.banner.show_check(shown, is_preview=is_carried)
        if is_carried and shown.check is not None:
            self.view.show_step(job_as_measured(shown.job), shown.check, AT_START, None)
            self._rests.start()
        else:
            self._rests.stop()
            self._tell()

    def _tell(self) -> None:
        """All that the newest check says, in every place."""
        shown = self._shown
        if shown is None:
            return
        is_preview = self._previewed is not None
        check = shown.check
        if check is None:
            self.findings.show_findings((), words_when_empty=shown.sentence)
            return
        empty = "Nothing found against this step." if shown.is_deep else "Nothing found so far."
        self.findings.set_unit(self._look.unit)
        self.findings.show_findings(check.findings, words_when_empty=empty)
        self.readings.show_again(check.readings, check.verdict)
        count = len(check.findings)
        self.right.mark("Findings", f"Findings ({count})" if count else "Findings")
        self.checked.show_checked(check.checked, is_complete=shown.is_deep)
        self.centring.show_centring(check.centring, shown.job.limits, self._look.palette, self._look.unit)
        if shown.is_deep or not is_preview:
            deep = check if shown.is_deep else None
            self.travel.show_check(deep, self._moment, self._look.unit)
            self.forces.show_forces(deep, self._look.palette, self._look.unit)
        self._draw()
        is_empty = not shown.job.steps[shown.step].stack.parts
        self.view.set_hint(EMPTY_HINT if is_empty and not self.view.is_dragging else "")

    def _draw(self) -> None:
        """The section at the moment of the slider."""
        shown = self._shown
        if shown is None or shown.check is None:
            return
        moments = shown.check.moments
        at = min(self._moment, len(moments) - 1) if shown.is_deep else 0
        shifts = moments[at].shift_mm if moments and at > 0 else AT_START
        path = path_moment(shown.check, at) if self.is_force_shown else None
        self.view.show_step(job_as_measured(shown.job), shown.check, shifts, path)
        self.in_section.show(shown.job, shown.check, shifts, self._look.unit)
        self.places.show_places(shown.job, shown.check, shifts, self._look.unit)
        self._show_chosen()

    def _show_chosen(self) -> None:
        thing = self.chosen_thing
        self.view.scene_.choose(self._chosen if thing is not None else "")
        self.places.choose(self._chosen)
        job = self._shown.job if self._shown is not None else None
        self.view.set_chosen_text(chosen_words(thing, job, self._look.unit) if thing and job else "")
        self.overlays.show(self.check, thing, self._look.unit)
        if not self.view.is_dragging:
            self.chosen_changed.emit()

    # what the places ask for

    def _preview(self, change: Change | None) -> None:
        """Show what a change would make, without making it."""
        job = self.job
        if job is None:
            return
        if change is None:
            self._previewed = None
            self.checks.preview(None)
            return
        try:
            if change not in self._what_if:
                self._what_if[change] = change(job)
            self._previewed = self._what_if[change]
        except RingpathError as error:
            self.view.set_notice(str(error))
            return
        self.checks.preview(self._previewed)
        self._show_in_hand(job, self._previewed)

    def _preview_suggested(self, change: Change | None, verdict: str) -> None:
        """Show a set-up that was found; the whole check of it was made when it was searched for."""
        self._foretold = verdict
        self._preview(change)
        self._foretold = ""

    def _show_in_hand(self, before: Job, after: Job) -> None:
        """While a part is carried: its ghost at the seat, and in words where it would lie."""
        if not self.view.is_dragging:
            return
        places = new_places(before, after, self.step)
        check = self.check
        thing = next((one for one in check.things if one.place in places), None) if check is not None else None
        self.view.scene_.hold(thing.id if thing is not None else "")
        is_on = check is not None and thing is not None
        self.view.set_notice(seat_words(check, thing, after) if is_on else "Let go here: taken off")

    def _on_drag_ended(self) -> None:
        self._carried.forget()
        self._previewed = None
        self._what_if.clear()
        self.checks.preview(None)

    def _on_place_asked(self, finding: Finding) -> None:
        if finding.place is not None:
            self.view.show_places((finding.place,))
            self.view.zoom_to(finding.place)
        tool = next((id for id in finding.bodies if "@" in id), "")
        if tool:
            self.choose(tool)
        if finding.code in ("off-centre", "floating", "tilted-start"):
            self.right.turn_to("Centring") if finding.code == "floating" else self.overlays.show_offsets(True)

    def _on_fix_asked(self, fix: Fix) -> None:
        function = next(getattr(one, fix.change) for one in DOINGS if hasattr(one, fix.change))
        self.apply(fix.title, lambda job: function(job, **fix.arguments))

    def _on_put_asked(self, part: ToolPart, side: str) -> None:
        step = self.step
        self.apply(f"Put {part.id} on", lambda job: changes.put_part(job, step=step, part=part, side=side))

    def size_part(self, step: int, miss: object = None) -> None:
        """Find the part that a step lacks: of a near miss, or whatever helps."""
        self.show_step(step)
        self.left.turn_to("New part")
        self.new_part.make_for(miss)

    def _on_part_added(self, title: str, change: Change) -> None:
        """With a stack round the new part, which may be longer than what was on screen."""
        self.apply(title, change)
        self.view.fit()

    def _on_moment(self, moment: int) -> None:
        self._moment = moment
        self._draw()

    def _try_change(self, change: Change) -> None:
        if self.job is not None:
            change(self.job)

    def _connect(self) -> None:
        self.checks.shown.connect(self._on_shown)
        self._rests.timeout.connect(self._tell)
        self.checks.verdicts_changed.connect(self._show_strip)
        self.view.chosen.connect(self.choose)
        self.view.previewed.connect(self._carried.ask)
        self._carried.due.connect(self._preview)
        self.view.dropped.connect(self.apply)
        self.view.drag_ended.connect(self._on_drag_ended)
        self.view.hovered.connect(self.overlays.hover)
        self.findings.place_asked.connect(self._on_place_asked)
        self.findings.fix_asked.connect(self._on_fix_asked)
        self.findings.line_asked.connect(self.in_section.open_line)
        self.centring.ghost_asked.connect(self._on_ghost_asked)
        self.places.chosen.connect(self.choose)
        self.tray.drag_began.connect(lambda part: self.view.begin_drag(part, self.step))
        self.tray.dragged.connect(self.view.drag_to)
        self.tray.drag_ended.connect(self.view.end_drag)
        self.tray.put_asked.connect(self._on_put_asked)
        self.tray.set_asked.connect(self.set_asked)
        self.step_panel.asked.connect(self.apply)
        self.step_panel.refused.connect(self.refused)
        self.readings.asked.connect(self.apply)
        self.readings.previewed.connect(self._preview)
        self.readings.focused.connect(self._on_reading_focused)
        self.readings.refused.connect(self.refused)
        self.new_part.asked.connect(self._on_part_added)
        self.new_part.refused.connect(self.refused)
        self.suggest.asked.connect(self.apply)
        self.suggest.previewed.connect(self._preview_suggested)
        self.suggest.refused.connect(self.refused)
        self.suggest.size_asked.connect(self.size_part)
        self.in_section.opened.connect(lambda: self.left.turn_to("Readings"))
        self.left.turned.connect(lambda page: self.readings.begin() if page == "Readings" else None)
        self.strip.chosen.connect(self.show_step)
        self.travel.moved.connect(self._on_moment)

    def _on_ghost_asked(self, centring: object) -> None:
        self.choose(getattr(centring, "part", ""))
        self.overlays.show_offsets(True)

    def _on_reading_focused(self, id: str) -> None:
        check = self.check
        ids = {one.id for one in check.things} if check is not None else set()
        self.choose(id if id in ids else f"{id}.outer")
