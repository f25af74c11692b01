"""Shapes without doors: boxes on the floor, rotations, the axis convention."""
