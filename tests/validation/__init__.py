"""Every published value and a general-purpose library against the installed package, in figures.

`make validate` writes them to `tests/VALIDATION.md`; `tests/python/test_validation.py` holds them to their
limits.
"""
