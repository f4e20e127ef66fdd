"""The search for the largest number, held against trying all of them."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from cards.project.largest import Search
from cards.project.limits import Limit


@st.composite
def rising(draw, least=0):
    """A limit that is reached by and by, by jumps as packages are, or from the beginning on."""
    before, each = draw(st.integers(0, 400)), draw(st.integers(least, 40))
    package, allowed = draw(st.sampled_from([1, 1, 25, 100])), draw(st.integers(50, 2000))

    def limit(number):
        taken = before + each * number
        return Fraction(-(-taken // package) * package, allowed), taken

    return limit


@st.composite
def falling(draw):
    """A limit that is broken less the larger the number is."""
    most, allowed = draw(st.integers(0, 3000)), draw(st.integers(50, 500))
    return lambda number: (Fraction(most, number * allowed), None)


gaps = st.tuples(st.integers(1, 9), st.integers(0, 8), st.integers(1, 20))


@settings(max_examples=300)
@given(
    st.tuples(rising(least=1), st.lists(rising(), max_size=2)),
    st.lists(falling(), max_size=1),
    gaps,
    st.integers(1, 300),
    st.integers(1, 300),
)
def test_it_is_the_largest_of_all(up, down, gap, start, top):
    every, rest, least = gap
    shares = [up[0], *up[1], *down]  # the first is reached at last, so that there is an end

    def tried(number):
        """Nothing comes out of too small a number, nor of some between."""
        if number < least or (every > 1 and number % every == rest % every):
            return None
        return tuple(Limit("", str(at), *share(number)) for at, share in enumerate(shares))

    numbers = [number for number in range(1, top + 1) if tried(number) is not None]
    holding = [number for number in numbers if all(limit.holds for limit in tried(number))]
    found = Search(tried, top).largest(min(start, top))
    assert found.number == max(holding, default=0)
    if found.broken:
        after = next(number for number in numbers if number > found.number)
        assert set(found.broken) <= set(tried(after))
        assert not any(limit.holds for limit in found.broken)
    if numbers and not holding:
        assert found.least in numbers


def test_few_are_tried():
    tries = []

    def tried(number):
        tries.append(number)
        return (Limit("yarn", "", (300 + 7 * number) / 6000),)

    found = Search(tried, 5000).largest(60)
    assert found.number == (6000 - 300) // 7
    assert len(tries) < 20
    assert max(tries) < 4 * found.number
