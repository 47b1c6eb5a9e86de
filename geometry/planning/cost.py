"""Cost of a turned part: stock, saw, lathe, finish, packing and margin, line by line."""

from math import pi

from geometry.errors import InputError
from geometry.facts.materials import material
from geometry.facts.workshop import ShopPrices, turning
from geometry.parts.bar_stock import PARTING_MM, BarStock, bar_stock
from geometry.parts.part import ToolPart, part_profile
from geometry.planning.price_list import profile_volume_mm3
from geometry.record import Derived

MM3_PER_M3 = 1e9


class CostLine(Derived, frozen=True):
    """One line of the sum for one piece."""

    what: str
    sum: str
    """How it was reckoned: `0.21 kg x 7.50`."""
    amount: float
    """In whole hundredths, so that the lines add up to what they are said to."""


class PartCost(Derived, frozen=True):
    """What one piece costs in a batch."""

    lines: tuple[CostLine, ...]
    batch: int
    bar: BarStock

    @property
    def each(self) -> float:
        return round(sum(line.amount for line in self.lines), 2)


def cost_of(part: ToolPart, prices: ShopPrices, *, batch: int, fine_diameters: int = 0) -> PartCost:
    """What a part costs to turn in a batch of so many pieces.

    `fine_diameters`: how many of its diameters are of grade 7 or finer.

    Raises
    ------
    InputError
        The batch is no number of pieces, or no part is turned from that material.
    """
    if not 1 <= batch <= 100_000:
        raise InputError("Batch", found=str(batch), expected="a number of pieces from 1 to 100000")
    stock, bar = turning(part.material), bar_stock(part)
    profile = part_profile(part)
    area = pi / 4 * bar.diameter_mm**2
    weight = area * bar.length_mm / MM3_PER_M3 * material(part.material).density_kg_m3
    turned = area * (bar.length_mm - PARTING_MM) - profile_volume_mm3(profile)
    minutes = turned / stock.turned_mm3_per_min
    faces = len({z for face in profile.faces_left + profile.faces_right for z in face[2:]})
    rate = prices.machine_price_per_min
    lines = [
        _line(
            f"{bar.length_mm:g} mm of bar {bar.diameter_mm:g}, {part.material}",
            f"{weight:.3f} kg x {stock.price_per_kg:.2f}",
            weight * stock.price_per_kg,
        ),
        _line("saw", "one cut", prices.saw_price_per_cut),
        _lathe(f"setting up, shared by {batch}", prices.set_up_min / batch, rate),
        _lathe("clamping and turning round", prices.handling_min, rate),
        _lathe("turning and boring", minutes, rate),
        _lathe(f"{faces} faces", faces * prices.face_min, rate),
    ]
    if fine_diameters:
        lines.append(_lathe(f"{fine_diameters} fine diameters", fine_diameters * prices.fine_diameter_min, rate))
    lines.append(_line("finish", _finish_in_words(part.material), _finish(part.material, prices)))
    lines.append(_line("packing", "cleaned and packed", prices.packing_price))
    before = sum(line.amount for line in lines)
    share = prices.margin_percent
    lines.append(_line("margin", f"{share:g} % of {before:.2f}", before * share / 100))
    return PartCost(tuple(lines), batch, bar)


def _line(what: str, sum: str, amount: float) -> CostLine:
    return CostLine(what, sum, round(amount, 2))


def _lathe(what: str, minutes: float, rate: float) -> CostLine:
    return _line(what, f"{minutes:.2f} min x {rate:.2f}", minutes * rate)


def _finish(name: str, prices: ShopPrices) -> float:
    if name == "aluminium":
        return prices.finish_price_aluminium
    return prices.finish_price_steel if name == "steel" else prices.finish_price_other


def _finish_in_words(name: str) -> str:
    return {"aluminium": "anodised", "steel": "blackened"}.get(name, "as turned")
