"""Faces of bearings as sums of quantities: what readings of distances between them have to come to."""

from geometry.job.links import faces_of, layout_of


def bearing_face(section, id, *, ring, facing):
    """Place of one face of a bearing as drawn: `ring` is `outer` or `inner`."""
    face = next(one for one in faces_of(section)[id] if (one.ring, one.facing) == (ring, facing))
    return layout_of(section).places[id] + face.along
