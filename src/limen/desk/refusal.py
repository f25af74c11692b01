"""Input that cannot be used: everything wrong with it, ready to be read."""

import errno
from collections.abc import Generator, Iterable, Mapping
from contextlib import contextmanager


class Refusal(Exception):  # noqa: N818 - it refuses; nothing went wrong
    """What was asked cannot be done with what was given.

    Attributes:
        lines: what, where, why and what now, ready to print.
    """

    def __init__(self, lines: Iterable[str]) -> None:
        self.lines = tuple(lines)
        super().__init__("\n".join(self.lines))

    def __reduce__(self) -> tuple[type["Refusal"], tuple[tuple[str, ...]]]:
        """Cross a process border whole."""
        return Refusal, (self.lines,)


@contextmanager
def refusing() -> Generator[None]:
    """Turn whatever is wrong with files and rulebooks into a `Refusal`."""
    from limen.rules import RulebookError
    from limen.store.bookshelf import RulebookNotFoundError
    from limen.store.faults import FileFaults

    try:
        yield
    except FileFaults as faults:
        from limen.desk.fault_words import faults_told

        raise Refusal(faults_told(faults)) from faults
    except RulebookError as error:
        raise Refusal(str(one) for one in error.mistakes) from error
    except RulebookNotFoundError as error:
        raise Refusal([str(error)]) from error
    except OSError as error:
        raise Refusal([_told(error)]) from error


def _told(error: OSError) -> str:
    from limen.words import retold

    file = f"{error.filename}: " if error.filename else ""
    said = error.strerror or str(error)
    return f"{file}{retold(_REASONS.get(error.errno or 0, said))}"


_REASONS: Mapping[int, str] = {
    errno.EEXIST: "is there already and stays as it is. Choose another name.",
    errno.ENOENT: "there is no such file, or no folder to write it into.",
    errno.ENOTDIR: "a part of the path is no folder.",
    errno.EISDIR: "is a folder, not a file.",
    errno.EACCES: "you may not read it, or not write here.",
    errno.EPERM: "you may not read it, or not write here.",
    errno.EROFS: "nothing can be written here. Choose another folder.",
    errno.ENOSPC: "no room is left on the disk.",
}
"""Why something cannot be read or written; a site file's own faults say more."""
