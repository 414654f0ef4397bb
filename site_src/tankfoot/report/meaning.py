"""Whether the prices that a cost is reckoned with can be read by this app."""

from tankfoot.batches.meaning import unread

PRICES = {"beer_value": "beer_value", "gas_price": "gas_price", "wage": "wage"}  # and their kinds of quantity


def basis_problems(body):
    """[(place in it, code, facts)] of what the ``body`` of a cost's basis, right in its shape, cannot mean.

    >>> basis_problems({"beer_value": "150 $/bbl", "gas_price": None, "wage": "a lot"})[0][:2]
    ('wage', 'must-be')
    """
    return [problem for name, kind in PRICES.items() for problem in unread(name, body[name], (kind,))]


RANGES = {"basis_problems": ["basis of the record"]}
