"""What was computed and can be thrown away, by what it was computed from."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

V = TypeVar("V")


class Kept(Generic[V]):
    """The most recent values by key; one that is asked for twice is made once."""

    def __init__(self, most: int) -> None:
        """Begin empty.

        Args:
            most: how many are kept.
        """
        self.most = most
        self._values: OrderedDict[Hashable, V] = OrderedDict()
        self._making: dict[Hashable, Lock] = {}
        self._lock = Lock()

    def get(self, key: Hashable) -> V | None:
        """The value, if it is there."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
            return self._values.get(key)

    def ask(self, key: Hashable, make: Callable[[], V]) -> V:
        """The value, made if it is not there; who asks meanwhile waits for it."""
        found = self.get(key)
        if found is not None:
            return found
        with self._lock:
            making = self._making.setdefault(key, Lock())
        with making:
            found = self.get(key)
            if found is None:
                found = make()
                self._put(key, found)
        with self._lock:
            self._making.pop(key, None)
        return found

    def _put(self, key: Hashable, value: V) -> None:
        with self._lock:
            self._values[key] = value
            while len(self._values) > self.most:
                self._values.popitem(last=False)
