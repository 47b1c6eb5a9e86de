"""What was measured: lines, typed readings, instruments, and the least-squares fit of both to the quantities."""
