"""Tankfoot: the cellar hand's pocket tool for the foot of the tank."""

__version__ = "0.1.0"
