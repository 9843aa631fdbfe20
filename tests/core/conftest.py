"""What holds for every test of the core."""

from several_phones import Phone


def pytest_runtest_setup(item):
    """Ids begin anew with each test, so that entries of one millisecond stand in the same order in every run."""
    Phone.made = 0
