"""Abrasives: grades in every system, by the size of their grain."""
