"""Watching the glass: colours, and when solids turn to beer; numbers only, no picture."""
