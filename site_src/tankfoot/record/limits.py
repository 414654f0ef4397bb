"""How much a checklist may hold: characters of each text, parts, lines before a pause. An emergency card, too.

Tankfoot's own lists keep to it too, so that a copy of one can always be saved as a site's.
"""

LIST = {"title": 60, "condition": 160, "completion": 60}
PART = {"title": 40, "pause": 120}
LINE = {"act": 60, "value": 80, "why": 300, "consequence": 200, "avoid": 240, "source": 300}
MOST_PARTS = 5
MOST_LINES = 9
CARD = {"act": 44, "detail": 110, "never": 90, "then": 160, "defer": 120, "why": 300, "source": 300}
