"""Bodies of an assembly at their places: housing, axle, bearings, spacers, inserts, circlips."""
