"""Planning: the set-up for a step from the parts at hand, the part that is missing, what it costs."""
