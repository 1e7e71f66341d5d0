import pytest

from generator.trade.fuse import fuse_colour


@pytest.mark.parametrize("rating_a", [0, 6, 7, 12, 100, -10, float("nan")])
def test_a_rating_without_a_colour(rating_a):
    assert fuse_colour(rating_a) is None


def test_whole_ratings_may_be_given_as_integers():
    assert fuse_colour(15) == fuse_colour(15.0) == "blue"
