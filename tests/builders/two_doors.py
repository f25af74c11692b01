"""A site file with two doorways, `main` and `side`."""

from limen.store.starter import starter_text


def two_doors() -> str:
    """The starter's text, its doorway told twice under two names."""
    text = starter_text()
    _, _, door = text.partition("\n[[doorway]]\n")
    other = door.replace('id = "main"', 'id = "side"', 1)
    return f"{text}\n[[doorway]]\n{other.replace('Main entrance', 'Side door', 1)}"
