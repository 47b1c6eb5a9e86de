"""The page of the job dialog about faces, or rings of them, that must carry no force."""

from PySide6.QtWidgets import QLineEdit, QListWidget, QPushButton, QVBoxLayout

from app.window.choice_box import ChoiceBox
from app.window.forms import form_of, quiet, sentence_label
from app.window.job_pages import JobPage
from app.window.lengths import length_figure
from geometry.errors import InputError, RingpathError
from geometry.job.changes import set_keep_off
from geometry.job.job import Job
from geometry.section.body import Body, KeepOff, Side, profile_of
from geometry.units import read_length_mm

FLAT_MM = 0.01
"""A face runs along z by no more than this."""
WIDE_MM = 0.5
"""Of narrower ones nobody needs to be kept off."""

FaceOf = tuple[Body, Side, float, float, float]
"""Body, where its face looks, z, and its diameters, the smaller one first [mm]."""


class KeepOffPage(JobPage):
    """Faces with holes, teeth, pockets or a thin lip: what is kept off, and what is added to it."""

    def __init__(self, job: Job, unit: str) -> None:
        super().__init__()
        self._unit, self._titles = unit, {body.id: body.title for body in job.section.bodies}
        self.zones = list(job.section.keep_off)
        self.list = QListWidget()
        self.list.setAccessibleName("Faces that must carry no force")
        self.list.setWordWrap(True)
        self.list.currentRowChanged.connect(self._look)
        self.remove = QPushButton("Take it away")
        self.remove.clicked.connect(self._take_away)
        self._faces = flat_faces(job)
        self.face = ChoiceBox()
        self.face.addItems([self._face_words(*face) for face in self._faces])
        self.face.activated.connect(lambda _: self._propose())
        self.inner, self.outer, self.reason = QLineEdit(), QLineEdit(), QLineEdit()
        self.reason.setPlaceholderText("holes of the disc screws, teeth, pawl pockets, a thin lip")
        self.add = QPushButton("Keep off it")
        self.add.clicked.connect(self._add)
        self.sentence = sentence_label()
        form = form_of(
            ("Face", self.face),
            (f"From ⌀, {unit}", self.inner),
            (f"To ⌀, {unit}", self.outer),
            ("What is there", self.reason),
        )
        for field in (self.inner, self.outer, self.reason):
            field.textEdited.connect(self.edited)
        column = QVBoxLayout(self)
        column.addWidget(quiet("A part that would land there is not good, and the sheet shows it."))
        column.addWidget(self.list, stretch=1)
        column.addWidget(self.remove)
        column.addLayout(form)
        column.addWidget(self.sentence)
        column.addWidget(self.add)
        self._fill()
        self._propose()

    def change(self, job: Job) -> Job:
        """With the one whose words are typed already, though not added yet."""
        begun = (self._typed(),) if self.reason.text().strip() else ()
        return set_keep_off(job, zones=(*self.zones, *begun))

    def _fill(self) -> None:
        self.list.clear()
        for zone in self.zones:
            self.list.addItem(self._zone_words(zone))
        self._look()

    def _look(self) -> None:
        self.remove.setEnabled(self.list.currentRow() >= 0)

    def _propose(self) -> None:
        """The whole of the face that was chosen."""
        if self._faces:
            _, _, _, inner, outer = self._faces[self.face.currentIndex()]
            self.inner.setText(length_figure(inner, self._unit))
            self.outer.setText(length_figure(outer, self._unit))
            for field in (self.inner, self.outer):
                field.setModified(False)

    def _add(self) -> None:
        try:
            self.zones.append(self._typed())
        except RingpathError as error:
            self.sentence.setText(str(error))
            return
        self.sentence.clear()
        self.reason.clear()
        self._fill()
        self.edited.emit()

    def _take_away(self) -> None:
        del self.zones[self.list.currentRow()]
        self._fill()
        self.edited.emit()

    def _typed(self) -> KeepOff:
        if not self._faces:
            raise InputError("Face", found="none in this section", expected="a flat face of a body")
        body, facing, z_mm, inner, outer = self._faces[self.face.currentIndex()]
        from_mm = self._read(self.inner, "From ⌀", inner)
        to_mm = self._read(self.outer, "To ⌀", outer)
        if not inner - FLAT_MM <= from_mm < to_mm <= outer + FLAT_MM:
            found = f"{from_mm:g} to {to_mm:g} mm"
            raise InputError("Kept off", found=found, expected=f"a ring of the face, within {inner:g} to {outer:g} mm")
        if not self.reason.text().strip():
            raise InputError("What is there", found="nothing", expected="some words, such as screw holes")
        return KeepOff(body.id, z_mm, facing, from_mm, to_mm, self.reason.text().strip())

    def _read(self, field: QLineEdit, place: str, proposed_mm: float) -> float:
        return read_length_mm(field.text(), place=place, unit=self._unit) if field.isModified() else proposed_mm

    def _face_words(self, body: Body, facing: Side, z_mm: float, inner: float, outer: float) -> str:
        where = f"{body.title}, {facing} face at z {length_figure(z_mm, self._unit)}"
        return f"{where}: ⌀{length_figure(inner, self._unit)} to {length_figure(outer, self._unit)}"

    def _zone_words(self, zone: KeepOff) -> str:
        title = self._titles.get(zone.body, zone.body)
        at, inner, outer = (length_figure(one, self._unit) for one in (zone.face_z_mm, zone.from_mm, zone.to_mm))
        return f"{title}, {zone.facing} face at z {at}: ⌀{inner} to {outer}, {zone.reason}"


def flat_faces(job: Job) -> list[FaceOf]:
    """The flat faces of the bodies of a job, those of one body from left to right."""
    found: list[FaceOf] = []
    for body in job.section.bodies:
        profile = profile_of(body.shape)
        sides: tuple[tuple[Side, tuple[tuple[float, float, float, float], ...]], ...] = (
            ("left", profile.faces_left), ("right", profile.faces_right),
        )  # fmt: skip
        of_body: list[FaceOf] = [
            (body, side, round(z0, 3), round(2 * inner, 3), round(2 * outer, 3))
            for side, faces in sides
            for inner, outer, z0, z1 in faces
            if abs(z1 - z0) <= FLAT_MM and outer - inner >= WIDE_MM
        ]
        found += sorted(of_body, key=lambda face: face[2:])
    return found
