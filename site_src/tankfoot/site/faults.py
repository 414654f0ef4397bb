"""What stops a build because of what stands in a file; here, so that the command knows it without the site's app."""

from tankfoot.calculators import CalculatorError
from tankfoot.checklists import ChecklistError
from tankfoot.rehearsal.scenarios import ScenarioError


class ContentError(Exception):
    """Files that do not fit together: in which one, what is wrong, what to do."""


FAULTS = (CalculatorError, ChecklistError, ContentError, ScenarioError)
