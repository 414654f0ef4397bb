"""Tanks: their shape and what follows from it, when they are due, and how a purge leaves them."""
