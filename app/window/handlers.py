"""What each action of the table does to the work on screen."""

from collections.abc import Callable

from PySide6.QtWidgets import QInputDialog

from app.window import part_doings
from app.window.part_doings import Doing
from app.window.work_page import WorkPage
from geometry.job import changes
from geometry.job.changes import Operation

NEAR_MM, FAR_MM = 0.1, 1.0


class WorkHandlers:
    """The actions that concern the job on screen; `page` is the work page."""

    def __init__(self, page: WorkPage) -> None:
        self._page = page

    def table(self) -> dict[str, Callable[..., object]]:
        """Handlers by the id of their action."""
        return {
            "fit": lambda: self._page.view.fit(),
            "zoom-in": lambda: self._page.view.zoom_in(),
            "zoom-out": lambda: self._page.view.zoom_out(),
            "half": lambda on: self._page.view.set_half(on),
            "dimensions": lambda on: self._page.overlays.show_dimensions(on),
            "force-path": lambda on: self._page.show_force(on),
            "offsets": lambda on: self._page.overlays.show_offsets(on),
            "left-places": lambda on: self._page.show_side("left", on),
            "right-places": lambda on: self._page.show_side("right", on),
            "part-next": lambda: self._choose_beside(1),
            "part-before": lambda: self._choose_beside(-1),
            "part-left": lambda: self._shift(-NEAR_MM),
            "part-right": lambda: self._shift(NEAR_MM),
            "part-far-left": lambda: self._shift(-FAR_MM),
            "part-far-right": lambda: self._shift(FAR_MM),
            "part-side": lambda: self._do(part_doings.to_other_side),
            "part-flip": lambda: self._do(part_doings.flip),
            "part-smaller": lambda: self._swap("smaller"),
            "part-bigger": lambda: self._swap("larger"),
            "part-loose": lambda _: self._change_loose(),
            "part-remove": lambda: self._do(part_doings.take_off),
            "stack-clear": self._clear_stack,
            "turn-nut": self._turn_other_nut,
            "step-before": lambda: self._page.show_step(self._page.step - 1),
            "step-next": lambda: self._page.show_step(self._page.step + 1),
            "step-add-out": lambda: self._add_step("press out"),
            "step-add-in": lambda: self._add_step("press in"),
            "step-earlier": lambda: self._move_step(-1),
            "step-later": lambda: self._move_step(1),
            "step-copy": self._copy_step,
            "step-rename": self._rename_step,
            "job-form": self._change_job,
            "bodies": self._change_bodies,
            "bearings": self._change_bearings,
            "instruments": self._change_instrument,
            "step-delete": self._delete_step,
            "travel-back": lambda: self._page.travel.step(-1),
            "travel-on": lambda: self._page.travel.step(1),
            "travel-start": lambda: self._page.travel.step(-10_000),
            "travel-end": lambda: self._page.travel.go_to_end(),
        }

    def _choose_beside(self, by: int) -> None:
        page = self._page
        things = part_doings.things_on_rod(page.check)
        if not things:
            return
        chosen = page.chosen_thing
        places = [thing.place for thing in things]
        now = places.index(chosen.place) if chosen is not None and chosen.place is not None else None
        wanted = (0 if by > 0 else len(things) - 1) if now is None else (now + by) % len(things)
        page.choose(things[wanted].id)

    def _do(self, doing: Callable[..., Doing]) -> None:
        page = self._page
        thing = page.chosen_thing
        if page.job is not None and thing is not None and thing.place is not None:
            self._apply(doing(page.job, page.step, thing.place))

    def _shift(self, by_mm: float) -> None:
        page = self._page
        thing = page.chosen_thing
        if page.job is not None and thing is not None and thing.place is not None:
            self._apply(part_doings.shift(page.job, page.step, thing, by_mm=by_mm))

    def _change_loose(self) -> None:
        page = self._page
        thing = page.chosen_thing
        if page.job is not None and thing is not None and thing.place is not None:
            self._apply(part_doings.change_loose(page.job, page.step, thing))

    def _swap(self, direction: part_doings.Direction) -> None:
        page = self._page
        thing = page.chosen_thing
        if page.job is None or thing is None or thing.place is None:
            return
        doing = part_doings.swap_size(page.job, page.step, thing.place, page.tray_parts, direction)
        if doing is None:
            page.refused.emit(f"The tray has no {direction} part of this family.")
        self._apply(doing)

    def _apply(self, doing: Doing) -> None:
        if doing is not None:
            self._page.apply(*doing)

    def _turn_other_nut(self) -> None:
        page, step = self._page, self._page.step
        if page.job is not None and page.job.steps:
            side = "left" if page.job.steps[step].stack.driving_side == "right" else "right"
            page.apply("Turn the other nut", lambda job: changes.choose_driving_side(job, step=step, side=side))

    def _clear_stack(self) -> None:
        page, step = self._page, self._page.step
        if page.job is not None and page.job.steps:
            page.apply("Take everything off", lambda job: changes.clear_stack(job, step=step))

    def _add_step(self, operation: Operation) -> None:
        page = self._page
        if page.job is None or not page.job.section.bearings:
            page.refused.emit("This job has no bearing that could be pressed.")
            return
        bearing = page.job.section.bearings[0]
        away = "left" if bearing.leaves == "right" else "right"
        towards = bearing.leaves if operation == "press out" else away
        after = page.step if page.job.steps else None
        page.apply(
            f"Add {operation}",
            lambda job: changes.add_step(job, operation=operation, bearing=bearing.id, towards=towards, after=after),
        )
        page.show_step(0 if after is None else after + 1)
        page.left.turn_to("Step")

    def _copy_step(self) -> None:
        page, step = self._page, self._page.step
        page.apply("Duplicate the step", lambda job: changes.duplicate_step(job, step=step))
        page.show_step(step + 1)

    def _move_step(self, by: int) -> None:
        page, step = self._page, self._page.step
        if page.job is None or not 0 <= step + by < len(page.job.steps):
            return
        words = "earlier" if by < 0 else "later"
        page.apply(f"Step {words}", lambda job: changes.move_step(job, step=step, to=step + by))
        page.show_step(step + by)

    def _delete_step(self) -> None:
        page, step = self._page, self._page.step
        page.apply("Delete the step", lambda job: changes.delete_step(job, step=step))

    def _change_job(self) -> None:
        page = self._page
        if page.job is None:
            return
        from app.window.job_dialog import JobDialog  # not before somebody asks for it

        dialog = JobDialog(page.job, page.look.unit, page)
        if dialog.exec() == JobDialog.DialogCode.Accepted and dialog.is_changed:
            page.apply("About the job", dialog.change)

    def _change_bodies(self) -> None:
        page = self._page
        if page.job is None:
            return
        from app.window.bodies_dialog import BodiesDialog  # not before somebody asks for it

        dialog = BodiesDialog(page.job, page.look.palette, page.look.unit, page)
        if dialog.exec() == BodiesDialog.DialogCode.Accepted and dialog.is_changed:
            page.apply("Other bodies", dialog.change)
            page.view.fit()

    def _change_bearings(self) -> None:
        page = self._page
        if page.job is None:
            return
        from app.window.bearings_dialog import BearingsDialog  # not before somebody asks for it

        dialog = BearingsDialog(page.job, page.look.unit, page)
        if dialog.exec() == BearingsDialog.DialogCode.Accepted and dialog.is_changed:
            page.apply("Other bearings", dialog.change)

    def _change_instrument(self) -> None:
        """Ask for the figures of an instrument that the readings were taken with."""
        page = self._page
        if page.job is None or page.job.readings is None:
            page.refused.emit("This job has no readings yet: type one, then say what it was read with.")
            return
        from app.window.instrument_dialog import InstrumentDialog  # not before somebody asks for it

        dialog = InstrumentDialog(page.job.readings, page.look.unit, page)
        if dialog.exec() == InstrumentDialog.DialogCode.Accepted and dialog.is_changed:
            page.apply(f"Instrument {dialog.name.text().strip()}", dialog.change)

    def _rename_step(self) -> None:
        page, step = self._page, self._page.step
        if page.job is None or not page.job.steps:
            return
        title, given = QInputDialog.getText(page, "Rename", "Title of the step", text=page.job.steps[step].title)
        if given:
            page.apply("Rename the step", lambda job: changes.rename_step(job, step=step, title=title))
