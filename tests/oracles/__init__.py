"""Independent ways to ask whether a body is reached, written from the frame alone.

Nothing here imports the code under test. Each module answers the same question by
other means: an adversary that looks for the worst pose, planar shapes, rays against a
real box in three dimensions, and mountings that err in every direction.
"""
