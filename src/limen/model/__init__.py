"""What exists: site, doorway, leaves, sensor sheet, fitting, surroundings."""
