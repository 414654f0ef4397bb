"""Batches: what is in each tank, what happens to it, and what is due because of it."""
