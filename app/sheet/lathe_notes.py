"""What stands beside the picture of a lathe drawing: general notes, material, stock, corners of free shapes."""

from app.drawing.lathe_dimensions import GUIDED_TEXTURE
from app.drawing.thread_callout import callout_of, known_thread
from app.drawing.turned_sizes import Sizes
from app.sheet.columns import Item, heading
from geometry.errors import InputError
from geometry.facts.materials import material
from geometry.parts.bar_stock import FACING_MM, PARTING_MM, BarStock, bar_stock
from geometry.parts.forms import Drawn, Handle, Nut, Rod, Toe
from geometry.parts.part import ToolPart
from geometry.parts.tolerance import BOUGHT
from geometry.units import format_mm

GENERAL_TOLERANCE = "ISO 2768-1 – m"
GENERAL_LIMITS = "up to 6 ±0.1, over 6 to 30 ±0.2, over 30 to 120 ±0.3, over 120 to 400 ±0.5"
"""Class m for lengths and diameters (ISO 2768-1, memory)."""
IN_GENERAL = (
    f"Dimensions in mm; in brackets what follows from others. General tolerances {GENERAL_TOLERANCE}: {GENERAL_LIMITS}."
)
BOUGHT_PART = "Bought part: sizes for reference, not for making."
OUTER_EDGE, INNER_EDGE = "−0.1 −0.3", "+0.2"
"""Edges of undefined shape [mm] (ISO 13715); the amounts are common practice for parts that press."""
RUN_OUT_MM = 0.05
"""Of faces and diameters against the bore (common practice)."""
GENERAL_TEXTURE = "Ra 1.6"
"""Turned faces of press parts (common practice)."""


def note_items(part: ToolPart, sizes: Sizes, *, sized: bool, guided: bool) -> tuple[Item, ...]:
    """General notes, numbered."""
    lines = [BOUGHT_PART] if part.kind in BOUGHT else _how_it_is_made(part, sizes, sized=sized, guided=guided)
    numbered = enumerate((IN_GENERAL, *lines), start=1)
    return (heading("Notes"), *(Item(text, marker=f"{number}.") for number, text in numbered))


def _how_it_is_made(part: ToolPart, sizes: Sizes, *, sized: bool, guided: bool) -> list[str]:
    lines = [
        f"Edges ISO 13715: outside {OUTER_EDGE} (broken by 0.1 to 0.3), inside {INNER_EDGE}; no burr where it presses."
    ]
    if not isinstance(part.form, Rod):
        lines.append(f"Run-out of faces and diameters against the {_axis(part, sizes)}: {RUN_OUT_MM:g} (ISO 1101).")
    if guided:
        lines.append(f"{GUIDED_TEXTURE} where marked: this diameter centres in a bore. Elsewhere {GENERAL_TEXTURE}.")
    if not sized:
        lines.append("Tolerances as usual for such a part, not sized to a job: compare them with what it goes into.")
    lines += _of_its_form(part)
    if sizes.corners:
        lines.append("Contour by the table of corners: z from the left face, Ø the diameter, in order round the half.")
    return lines


def _axis(part: ToolPart, sizes: Sizes) -> str:
    """What run-out is measured against."""
    if part.thread:
        return "thread"
    return "bore" if sizes.profile.r_min_mm > 0.0 else "greatest diameter"


def _of_its_form(part: ToolPart) -> list[str]:
    form = part.form
    lines = []
    if part.thread:
        inside = not isinstance(form, Rod)
        standards = "ISO 261, tolerance ISO 965-1" if known_thread(part.thread) else "its size is not in our table"
        lines.append(f"Thread {callout_of(part.thread, inside=inside)}: {standards}.")
    if isinstance(form, Toe):
        lines.append("Turn the toe all round, then take it off outside its arc, down to the shank.")
        lines.append("The face of the toe presses: break its outer edge by no more than 0.1.")
    if part.partial:
        lines.append("Turn all round, then split along the axis: one piece is a half-shell of 180°.")
    if isinstance(form, Handle):
        lines.append("Dot-dashed: room in which crossbar or knob turn; fasten it so that it cannot come out.")
    if isinstance(form, Nut) and form.slip:
        lines.append("Slip nut: the opening that lets it go on without turning is not drawn; outline for reference.")
    if isinstance(form, Drawn):
        lines += [
            f"{_edge_name(edge.form, edge.size_mm)} at z {format_mm(edge.z_mm)}, Ø{format_mm(edge.diameter_mm)}."
            for edge in form.drawn.edges
        ]
    return lines


def _edge_name(form: str, size_mm: float) -> str:
    size = format_mm(size_mm)
    return f"Chamfer {size} × 45°" if form == "chamfer" else f"Fillet R{size}"


def stock_items(part: ToolPart) -> tuple[Item, ...]:
    """Material, bar, rod that it is for."""
    lines = [Item(f"Material: {material_words(part)}."), Item(f"Stock for one piece: {stock_words(part)}.")]
    if not isinstance(part.form, Rod) and part.kind not in BOUGHT:
        allowance = f"{format_mm(FACING_MM)} faced off each end, {format_mm(PARTING_MM)} to part off"
        lines.append(Item(f"In the length: {allowance}; what the chuck holds comes once for each bar.", role="quiet"))
    if part.for_thread and not part.thread:
        lines.append(Item(f"Goes on a rod {part.for_thread}."))
    return (heading("Material and stock"), *lines)


def material_words(part: ToolPart) -> str:
    """The material and what its values are those of."""
    try:
        return f"{part.material}, such as {material(part.material).standard_material}"
    except InputError:
        return part.material or "not stated"


def stock_words(part: ToolPart) -> str:
    """The bar that a piece is cut from."""
    if part.kind in BOUGHT:
        return "bought"
    stock: BarStock = bar_stock(part)
    length = f"{format_mm(stock.length_mm)} long"
    if stock.section == "hexagon":
        return f"hexagon bar {format_mm(stock.diameter_mm)} across flats, {length}"
    if stock.section == "threaded rod":
        form = part.form
        assert isinstance(form, Rod)
        return f"threaded rod {form.thread}, class {form.property_class}, {length}"
    return f"round bar Ø{format_mm(stock.diameter_mm)}, {length}"


def corner_items(sizes: Sizes) -> tuple[Item, ...]:
    """The corners of a free shape, by number."""
    if not sizes.corners:
        return ()
    rows = (
        Item(f"z {format_mm(z)}, Ø{format_mm(diameter)}", marker=str(number))
        for number, (z, diameter) in enumerate(sizes.corners, start=1)
    )
    return (heading("Corners"), *rows)
