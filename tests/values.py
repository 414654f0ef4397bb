"""Generated values that JSON can hold."""

from hypothesis import settings
from hypothesis import strategies as st

unhurried = settings(deadline=None)  # a busy machine is no fault of the record's
finite = st.floats(allow_nan=False, allow_infinity=False)
texts = st.text(st.characters(exclude_categories=["Cs"]))
json_values = st.recursive(
    st.none() | st.booleans() | finite | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=20,
)
