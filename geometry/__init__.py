"""The pure core of Ringpath: geometry, mechanics and judgement; no Qt, runs headless."""
