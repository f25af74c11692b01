"""Lists of doors from other programs: read, mapped, judged row by row.

A row is taken, refused with its line and its reasons, or passed over and said to be;
nothing in it is repaired, and nothing that it lacks is made up.
"""
