"""Pure functions on arrays: beams, coverage, motion, radar, walking."""
