"""Quantities at the edge: units, the text people type, the text people read, and the ± between.

Everything inside is an SI float. Each module but the units table and the marshmallow field has its
JavaScript twin beside it; the twins get the units, factors and sentences from ``declared.js``,
which the site generates from here.
"""
