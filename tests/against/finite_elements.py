"""Axisymmetric elasticity with scikit-fem: an independent look at a ring pressed into a wall, no friction.

Hub and ring are meshed apart with nodes that match on the seat; their radial gap there is closed by
multipliers, and nodes that would pull are let go. Quadratic quadrilaterals, Hooke's law in three dimensions;
no beam, no Lamé.
"""

import numpy as np
import scipy.sparse as sparse
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementQuad2, ElementVector, MeshQuad, asm
from skfem.helpers import grad

SIZE_MM = 0.32


def contact_force_n(*, wall, ring, seat_mm, ring_left_z_mm, interference_mm, wall_material, ring_material):
    """Sum of the radial contact forces [N] between a ring and a wall, or an axle, of slices."""
    R = seat_mm / 2
    left = max(ring_left_z_mm + ring.left_chamfer_mm, wall[0].z_from_mm)
    right = ring_left_z_mm + ring.width_mm - ring.right_chamfer_mm
    z_marks = {left, right, ring_left_z_mm, ring_left_z_mm + ring.width_mm}
    z_marks |= {z for s in wall for z in (s.z_from_mm, s.z_to_mm) if left < z < right}
    hub = _Body(
        _slices_mesh([(s.z_from_mm, s.z_to_mm, s.bore_mm / 2, s.outside_mm / 2) for s in wall], z_marks, R),
        wall_material,
    )
    body = _Body(
        _slices_mesh(
            [(ring_left_z_mm, ring_left_z_mm + ring.width_mm, ring.bore_mm / 2, ring.outside_mm / 2)],
            z_marks,
            R,
        ),
        ring_material,
    )
    hub_dofs, z_hub = hub.radial_dofs_on(R, left, right)
    ring_dofs, z_ring = body.radial_dofs_on(R, left, right)
    assert np.allclose(z_hub, z_ring)
    give = hub.compliance(hub_dofs) + body.compliance(ring_dofs)
    on = np.arange(len(z_hub))
    while True:
        forces = np.linalg.solve(give[np.ix_(on, on)], np.full(len(on), interference_mm / 2))
        if (forces >= 0).all():
            return float(forces.sum())
        on = on[forces >= 0]


def _slices_mesh(slices, z_marks, R):
    radii = sorted({R} | {r for s in slices for r in s[2:]})
    r_grid = _grid(radii, lambda a, b: SIZE_MM if min(abs(a - R), abs(b - R)) < 4 else 1.5)
    ends = sorted(
        {z for s in slices for z in s[:2]} | {z for z in z_marks if slices[0][0] <= z <= slices[-1][1]}
    )
    low, high = min(z_marks), max(z_marks)
    z_grid = _grid(ends, lambda a, b: SIZE_MM if b > low - 8 and a < high + 8 else 1.5)
    mesh = MeshQuad.init_tensor(np.array(r_grid), np.array(z_grid))
    r, z = mesh.p[:, mesh.t].mean(axis=1)
    inside = np.zeros(len(r), dtype=bool)
    for z0, z1, a, b in slices:
        inside |= (z > z0) & (z < z1) & (r > a) & (r < b)
    return mesh.remove_elements(np.nonzero(~inside)[0])


def _grid(marks, size):
    fine = [marks[0]]
    for a, b in zip(marks, marks[1:], strict=False):
        pieces = [a, *(m for m in np.arange(np.ceil(a / 8) * 8, b, 8.0) if a + 1e-6 < m < b - 1e-6), b]
        for low, high in zip(pieces, pieces[1:], strict=False):
            count = max(1, int(np.ceil((high - low) / size(low, high))))
            fine += list(np.linspace(low, high, count + 1)[1:])
    return fine


class _Body:
    def __init__(self, mesh, material):
        self.basis = Basis(mesh, ElementVector(ElementQuad2()))
        e, nu = material.e_mpa, material.poisson
        lame, shear = e * nu / ((1 + nu) * (1 - 2 * nu)), e / (2 * (1 + nu))

        @BilinearForm
        def elasticity(u, v, w):
            r = w.x[0]
            du, dv = grad(u), grad(v)
            hoop_u, hoop_v = u[0] / r, v[0] / r
            trace_u, trace_v = du[0, 0] + du[1, 1] + hoop_u, dv[0, 0] + dv[1, 1] + hoop_v
            strain = du[0, 0] * dv[0, 0] + du[1, 1] * dv[1, 1] + hoop_u * hoop_v
            slide = (du[0, 1] + du[1, 0]) * (dv[0, 1] + dv[1, 0]) / 2
            return 2 * np.pi * r * (lame * trace_u * trace_v + 2 * shear * (strain + slide))

        stiffness = asm(elasticity, self.basis).tolil()
        places = self.basis.doflocs
        radial = np.zeros(self.basis.N, dtype=bool)
        radial[self.basis.nodal_dofs[0]] = radial[self.basis.facet_dofs[0]] = True
        radial[self.basis.interior_dofs[0]] = True
        self.radial = radial
        held = list(np.nonzero(radial & (places[0] < 1e-9))[0])
        held.append(int(np.nonzero(~radial)[0][np.argmin(places[1][~radial])]))
        scale = stiffness.diagonal().max()
        for dof in held:
            stiffness[dof, dof] += 1e6 * scale
        self.factors = splu(sparse.csc_matrix(stiffness))

    def radial_dofs_on(self, R, left, right):
        r, z = self.basis.doflocs
        dofs = np.nonzero(self.radial & (abs(r - R) < 1e-6) & (z > left - 1e-6) & (z < right + 1e-6))[0]
        dofs = dofs[np.argsort(z[dofs])]
        return dofs, z[dofs]

    def compliance(self, dofs):
        loads = np.zeros((self.basis.N, len(dofs)))
        loads[dofs, np.arange(len(dofs))] = 1.0
        return self.factors.solve(loads)[dofs]
