"""Whatever keeps a library from being opened, said as a `Refusal`."""

from collections.abc import Generator
from contextlib import contextmanager

from limen.desk.refusal import Refusal, refusing


@contextmanager
def opening() -> Generator[None]:
    """Turn what is wrong with the data folder or the database into a `Refusal`."""
    from sqlalchemy.exc import DatabaseError

    from limen.store.database.home import NoHomeError
    from limen.store.database.migrating import NewerDatabaseError
    from limen.store.database.trouble import NotKeptError

    try:
        with refusing():
            yield
    except (NoHomeError, NewerDatabaseError) as error:
        raise Refusal([str(error)]) from error
    except NotKeptError as error:
        raise Refusal([f"the library cannot be opened: {error}"]) from error
    except DatabaseError as error:
        said = f"the library cannot be opened: {error.orig}"
        raise Refusal([said]) from error
