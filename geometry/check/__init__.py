"""Check: what is wrong with a step, and the forces that run through it."""
