"""Which modules go into one file: those that the same pages need. So a page asks for few files, and parses little more
than it runs.
"""

from itertools import combinations
from typing import NamedTuple

ONE_MORE = 80_000  # characters that a page would rather have for nothing than ask for one more file


class Part(NamedTuple):
    """Modules that make a file, those who need one of them, and how many characters it has."""

    modules: tuple
    users: frozenset
    size: int

    def with_other(self, other):
        return Part(
            tuple(sorted(self.modules + other.modules)), self.users | other.users, self.size + other.size
        )

    def spared_with(self, other, weights, one_more):
        """Characters that all users together are spared where the two become one."""
        def weight(users):
            return sum(weights.get(user, 1) for user in users)

        for_nothing = other.size * weight(self.users - other.users) + self.size * weight(other.users - self.users)
        return one_more * weight(self.users & other.users) - for_nothing


def parts(needs, sizes, weights, one_more=ONE_MORE):
    """The modules of ``needs``, {user: modules}, in lists that make a file each; what most users need comes first.

    Modules that the same users need stay together. Two lists become one while that spares more than it costs.
    ``sizes``: characters by module. ``weights``: of users that count as more than one.
    """
    modules_of = {}
    for module in sorted(set().union(*needs.values())):
        users = frozenset(user for user, needed in needs.items() if module in needed)
        modules_of.setdefault(users, []).append(module)
    found = [Part(tuple(of), users, sum(sizes[module] for module in of)) for users, of in modules_of.items()]
    while len(found) > 1:
        one, other = max(combinations(found, 2), key=lambda pair: pair[0].spared_with(pair[1], weights, one_more))
        if one.spared_with(other, weights, one_more) <= 0:
            break
        found = [part for part in found if part not in (one, other)] + [one.with_other(other)]
    return [part.modules for part in sorted(found, key=lambda part: (-len(part.users), part.modules))]
