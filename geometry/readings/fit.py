"""Fit: generalised least squares of all readings, with the errors that they share.

x = quantities [mm], y = A x + B s + e; e independent with u_i, shared errors s with u_g:
V = diag(u_i²) + sum_g u_g² b_g b_g',  W = V⁻¹,  U = (A'WA)⁻¹,  x = U A'W y  (mechanics.md, section 7).
"""

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from geometry.readings.observation import Observation
from geometry.record import Derived

Array = NDArray[np.float64]
Combination = Mapping[str, float]
"""A sum of quantities: how often each counts."""

INDEPENDENT = 1e-9
"""Smallest share of a combination that lies outside what the readings see, for it to count as unseen."""


class Fit(Derived, frozen=True, dict=True):
    """Quantities with their covariance [mm, mm²]; what no reading sees stays as it was drawn.

    `residuals_mm`, `weights` and `residual_covariance` are in the order of the observations, `values_mm` and
    `covariance` in that of `names`; `joint` is the covariance of quantities and shared errors together.
    """

    names: tuple[str, ...]
    observations: tuple[Observation, ...]
    causes: tuple[str, ...]
    values_mm: Array
    covariance: Array
    joint: Array
    unseen: Array
    """(quantities, k): orthonormal directions in which the quantities can move without any reading noticing."""
    residuals_mm: Array
    weights: Array
    residual_covariance: Array
    chi2: float
    dof: int
    rank: int

    def value_mm(self, combination: Combination) -> float:
        return float(self._vector(combination) @ self.values_mm)

    def variance_mm2(self, combination: Combination) -> float:
        """Variance of a sum of quantities, what they share included; means something where it is determined."""
        c = self._vector(combination)
        return max(float(c @ self.covariance @ c), 0.0)

    def uncertainty_mm(self, combination: Combination) -> float:
        """Standard uncertainty of a sum of quantities [mm]."""
        return float(self.variance_mm2(combination) ** 0.5)

    def is_determined(self, combination: Combination) -> bool:
        """Whether the readings fix this sum, alone or together."""
        c = self._vector(combination)
        return bool(np.linalg.norm(c @ self.unseen) <= INDEPENDENT * max(float(np.linalg.norm(c)), 1.0))

    def joint_vector(self, combination: Combination, shared: Mapping[str, float] | None = None) -> Array:
        """A sum of quantities and shared errors (in units of their own uncertainty) as a vector."""
        errors = [(shared or {}).get(cause, 0.0) for cause in self.causes]
        return np.concatenate([self._vector(combination), np.array(errors, dtype=np.float64)])

    def _vector(self, combination: Combination) -> Array:
        c = np.zeros(len(self.names))
        for name, factor in combination.items():
            c[self._place[name]] += factor
        return c

    @cached_property
    def _place(self) -> dict[str, int]:
        return {name: place for place, name in enumerate(self.names)}


def fit(observations: Sequence[Observation], drawn_mm: Mapping[str, float]) -> Fit:
    """The quantities that agree best with all observations.

    Parameters
    ----------
    observations
        Each with terms among the quantities.
    drawn_mm
        Every quantity with the value it has as long as nothing is read; where readings fix a sum only, its
        quantities move from there as little as possible.

    Notes
    -----
    Solved by the singular values of the whitened matrix, so that missing readings are no special case; the
    rank is that of A itself. The joint covariance comes from the same readings with each shared error as an
    unknown of prior 0 ± 1 (in units of its u_g).

    References
    ----------
    [jcgm-100] 5.2 (correlated input quantities)
    """
    names = tuple(drawn_mm)
    x0 = np.array([drawn_mm[name] for name in names], dtype=np.float64)
    A, B, y, u = _system(observations, names)
    m, n, g = len(y), len(names), B.shape[1]
    V = np.diag(u**2) + B @ B.T
    rank = int(np.linalg.matrix_rank(A)) if m and n else 0
    L = np.linalg.cholesky(V)
    U, unseen = _inverse_square(np.linalg.solve(L, A), rank)
    dx = U @ np.linalg.solve(L, A).T @ np.linalg.solve(L, y - A @ x0)
    W = np.asarray(np.linalg.inv(V), dtype=np.float64)
    r = y - A @ (x0 + dx)
    whitened = np.vstack([np.hstack([A, B]) / u[:, None], np.hstack([np.zeros((g, n)), np.eye(g)])])
    joint, _ = _inverse_square(whitened, rank + g)
    return Fit(
        names=names,
        observations=tuple(observations),
        causes=_causes(observations),
        values_mm=x0 + dx,
        covariance=U,
        joint=joint,
        unseen=unseen,
        residuals_mm=r,
        weights=W,
        residual_covariance=V - A @ U @ A.T,
        chi2=float(r @ W @ r),
        dof=m - rank,
        rank=rank,
    )


def _system(observations: Sequence[Observation], names: tuple[str, ...]) -> tuple[Array, Array, Array, Array]:
    """A, B (each shared error in units of its uncertainty), y and u."""
    place = {name: column for column, name in enumerate(names)}
    causes = {cause: column for column, cause in enumerate(_causes(observations))}
    A = np.zeros((len(observations), len(names)))
    B = np.zeros((len(observations), len(causes)))
    for row, one in enumerate(observations):
        for name, factor in one.terms:
            A[row, place[name]] += factor
        for shared in one.shared:
            B[row, causes[shared.cause]] += shared.sensitivity * shared.uncertainty
    y = np.array([one.value_mm for one in observations], dtype=np.float64)
    u = np.array([one.uncertainty_mm for one in observations], dtype=np.float64)
    return A, B, y, u


def _causes(observations: Sequence[Observation]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(shared.cause for one in observations for shared in one.shared))


def _inverse_square(M: Array, rank: int) -> tuple[Array, Array]:
    """(M'M)⁻¹ on what M sees, and the directions that it does not see."""
    if M.size == 0:
        return np.zeros((M.shape[1], M.shape[1])), np.eye(M.shape[1])
    _, s, Vt = np.linalg.svd(M, full_matrices=True)
    seen = Vt[:rank]
    return (seen.T / s[:rank] ** 2) @ seen, Vt[rank:].T
