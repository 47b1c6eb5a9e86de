"""What can go wrong outside the program; the text of each error is a sentence for the user."""


class RingpathError(Exception):
    """Anything that the user can mend; caught at the window, the command line and the worker only."""


class InputError(RingpathError):
    """Something given is not what it should be: where, what was found, what would be right."""

    def __init__(self, place: str, *, found: str, expected: str) -> None:
        super().__init__(f"{place}: found {found}, expected {expected}.")
        self.place, self.found, self.expected = place, found, expected


class ReadingError(InputError):
    """A typed length, force or other figure that cannot be read."""


class FileError(InputError):
    """A file, or a field in it, that cannot be used."""


class OutOfRangeError(RingpathError):
    """A formula asked outside the range of its source."""


class Problems(RingpathError):
    """Several things wrong at once, each with its own sentence."""

    def __init__(self, problems: tuple[RingpathError, ...]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems
