"""The site does not jump in size unseen. Budgets are aims, told with each run; what stops here is a mistake."""

from budgets import told, weighed


def test_no_part_of_the_site_weighs_far_more_than_at_the_last_release(site, tell):
    found = weighed(site)
    for what, (size, now) in found.items():
        tell(told(what, size, now))
    jumped = {what: f"{now:.3g} kB" for what, (size, now) in found.items() if now > size.jump * size.released}
    assert not jumped, "mend it, or write the new figures in budgets.py and say why"
