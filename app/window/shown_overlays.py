"""ShownOverlays: what is drawn over the bodies on demand: dimensions, force path, worst offset."""

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer

from app.drawing.dimensions import profile_dimensions
from app.drawing.marks import Label, Mark, moved
from app.drawing.section_drawing import place_of
from app.section_view.section_scene import DIMENSIONS
from app.section_view.section_view import SectionView
from app.window.lengths import length_text
from app.window.places_table import words_of_id
from geometry.check.result import Centring, StepCheck, Thing

HOVER_MS = 450


class ShownOverlays(QObject):
    """Switches, and the thing that they act on: the chosen one, or the one under the pointer."""

    def __init__(self, view: SectionView) -> None:
        super().__init__(view)
        self._view = view
        self._check: StepCheck | None = None
        self._thing: Thing | None = None
        self._hovered = ""
        self._unit = "mm"
        self._dimensions = self._offsets = False
        self.figures: tuple[Label, ...] = ()
        """Figures of the dimensions that are shown, in millimetres: `Ø28`, `12.5`; `body` says of what."""
        self._hover_rest = QTimer(self)
        self._hover_rest.setSingleShot(True)
        self._hover_rest.setInterval(HOVER_MS)
        self._hover_rest.timeout.connect(self._draw_dimensions)

    def show(self, check: StepCheck | None, thing: Thing | None, unit: str) -> None:
        """A new check, or another chosen thing."""
        self._check, self._thing, self._unit = check, thing, unit
        self._draw_dimensions()
        self._draw_offsets()

    def forget(self) -> None:
        """Another job: nothing is shown."""
        self._check = self._thing = None
        self._hovered = ""
        self._view.show_places(())

    def hover(self, id: str) -> None:
        """The pointer rests on a thing: its dimensions come a moment later."""
        if id == self._hovered:
            return
        self._hovered = id
        if id:
            self._hover_rest.start()
        else:
            self._hover_rest.stop()
            self._draw_dimensions()

    def show_dimensions(self, on: bool) -> None:
        """Dimensions of the chosen thing, without hovering."""
        self._dimensions = on
        self._draw_dimensions()

    def show_offsets(self, on: bool) -> None:
        """Ghosts at the worst offset."""
        self._offsets = on
        self._draw_offsets()

    @property
    def are_offsets_shown(self) -> bool:
        return self._offsets

    def _draw_dimensions(self) -> None:
        hovered = self._view.scene_.thing(self._hovered) if self._hovered else None
        thing = hovered or (self._thing if self._dimensions else None)
        if thing is None or self._view.is_dragging:
            self.figures = ()
            self._view.scene_.show_marks(DIMENSIONS, (), 9.0)
            return
        scale = self._view.transform().m11() / self._view.pixels_per_paper_mm
        marks = profile_dimensions(thing.profile, paper_scale=scale, body=thing.id)
        self.figures = tuple(mark for mark in marks if isinstance(mark, Label))
        x = place_of(thing, self._view.scene_.shifts)
        shown = marks if self._unit == "mm" else tuple(_in_inches(mark) for mark in marks)
        self._view.scene_.show_marks(DIMENSIONS, moved(shown, x_mm=x), 9.0)

    def _draw_offsets(self) -> None:
        worst = self._worst() if self._offsets else None
        self._view.show_offset(worst)
        factor = self._view.offset_factor
        if worst is None or not self._offsets:
            if not self._view.is_dragging:
                self._view.set_notice("")
            return
        offset = length_text(worst.levered_offset_mm or worst.offset_mm or 0.0, self._unit)
        times = f"drawn {factor} times as large" if factor != 1 else "drawn as it is"
        self._view.set_notice(f"{words_of_id(worst.part)} at worst {offset} off the axis, {times}")

    def _worst(self) -> Centring | None:
        centring = self._check.centring if self._check is not None else ()
        known = [one for one in centring if one.offset_mm]
        own = next((one for one in known if self._thing is not None and one.part == self._thing.id), None)
        return own or max(known, key=lambda one: one.offset_mm or 0.0, default=None)


def _in_inches(mark: Mark) -> Mark:
    """The figure of a dimension in inches, the millimetres in brackets."""
    if not isinstance(mark, Label):
        return mark
    sign = "Ø" if mark.text.startswith("Ø") else ""
    return replace(mark, text=f"{sign}{length_text(float(mark.text.removeprefix('Ø')), 'in')}")
