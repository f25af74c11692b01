"""From readings on the floor to how a unit hangs, and how sure that is."""
