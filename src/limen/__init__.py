"""Plan, prove and keep the sensors of automatic sliding doors."""
