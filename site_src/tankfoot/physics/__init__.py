"""Formulas: SI floats in, SI floats out, no I/O and no knowledge of the rest of the package.

Each module has its JavaScript twin beside it, with the same functions in the same order.
"""
