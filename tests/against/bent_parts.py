"""Axisymmetric elasticity with scikit-fem: a part pressed between two faces, no beams, no plates.

Quadratic quadrilaterals, Hooke's law in three dimensions; the load is an even pressure on an annulus of the left
end, the support holds an annulus of the right end along z and lets it slide.
"""

import numpy as np
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad2,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshQuad,
    asm,
    condense,
    solve,
)
from skfem.helpers import grad


def stresses(*, slices, load, support, force_n, e_mpa, poisson, size_mm):
    """Rows (r, z, radial, hoop, axial, shear) [mm, MPa] at the quadrature points of a part made of slices.

    `slices`: (from z, to z, bore radius, outside radius); `load` and `support`: inner and outer radius at the two ends.
    """
    mesh = _mesh(slices, {*load, *support}, size_mm)
    z_end = slices[-1][1]
    basis = Basis(mesh, ElementVector(ElementQuad2()), intorder=4)
    lame = e_mpa * poisson / ((1 + poisson) * (1 - 2 * poisson))
    shear = e_mpa / (2 * (1 + poisson))

    @BilinearForm
    def elasticity(u, v, w):
        r = w.x[0]
        du, dv = grad(u), grad(v)
        hoop_u, hoop_v = u[0] / r, v[0] / r
        trace = (du[0, 0] + du[1, 1] + hoop_u) * (dv[0, 0] + dv[1, 1] + hoop_v)
        strain = du[0, 0] * dv[0, 0] + du[1, 1] * dv[1, 1] + hoop_u * hoop_v
        slide = (du[0, 1] + du[1, 0]) * (dv[0, 1] + dv[1, 0]) / 2
        return 2 * np.pi * r * (lame * trace + 2 * shear * (strain + slide))

    pressed = mesh.facets_satisfying(
        lambda x: (abs(x[1] - slices[0][0]) < 1e-9) & (x[0] > load[0]) & (x[0] < load[1]), boundaries_only=True
    )
    pressure = force_n / (np.pi * (load[1] ** 2 - load[0] ** 2))

    @LinearForm
    def push(v, w):
        return 2 * np.pi * w.x[0] * pressure * v[1]

    b = asm(push, FacetBasis(mesh, ElementVector(ElementQuad2()), facets=pressed))
    held_facets = mesh.facets_satisfying(
        lambda x: (abs(x[1] - z_end) < 1e-9) & (x[0] > support[0]) & (x[0] < support[1]), boundaries_only=True
    )
    held = basis.get_dofs(held_facets).all(["u^2"])
    u = solve(*condense(asm(elasticity, basis), b, D=held))
    field = basis.interpolate(u)
    du, (r, z) = field.grad, np.asarray(basis.global_coordinates())
    hoop = np.asarray(field)[0] / r
    trace = lame * (du[0, 0] + du[1, 1] + hoop)
    rows = (r, z, trace + 2 * shear * du[0, 0], trace + 2 * shear * hoop, trace + 2 * shear * du[1, 1],
            shear * (du[0, 1] + du[1, 0]))  # fmt: skip
    return np.stack([row.ravel() for row in rows], axis=1)


def _mesh(slices, marks, size):
    radii = sorted(marks | {r for s in slices for r in s[2:]})
    heights = sorted({z for s in slices for z in s[:2]})
    mesh = MeshQuad.init_tensor(np.array(_grid(radii, size)), np.array(_grid(heights, size)))
    r, z = mesh.p[:, mesh.t].mean(axis=1)
    inside = np.zeros(len(r), dtype=bool)
    for z0, z1, a, b in slices:
        inside |= (z > z0) & (z < z1) & (r > a) & (r < b)
    return mesh.remove_elements(np.nonzero(~inside)[0])


def _grid(marks, size):
    fine = [marks[0]]
    for a, b in zip(marks, marks[1:], strict=False):
        fine += list(np.linspace(a, b, max(1, round((b - a) / size)) + 1)[1:])
    return fine
