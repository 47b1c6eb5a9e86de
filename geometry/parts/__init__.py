"""Tool parts: what is threaded on the rod, and the sets in which parts are owned or sold."""
