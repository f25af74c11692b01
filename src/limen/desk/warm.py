"""Compile the kernels ahead, so that the first answer does not wait for it."""

from limen.desk.cache import use_cache


def warm() -> str:
    """Prove a tiny problem: the kernels compile and stay in the user's cache.

    So do the functions of moist air.

    Returns:
        The verdict of the tiny proof.
    """
    use_cache()
    import numpy as np

    from limen.physics.coverage import prove
    from limen.physics.moist_air import psychrometry

    psychrometry()
    across = np.array([[-1.0, 0.0, 1.0, 0.0]])
    return prove(across, (-0.1, 0.1, -0.05, 0.05), (0.3, 0.2)).verdict


if __name__ == "__main__":
    warm()
