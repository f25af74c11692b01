"""How the database came to its form, step by step; run by Alembic on start."""
