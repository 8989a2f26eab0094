"""Packages that only some calls need."""

from __future__ import annotations

from importlib import import_module
from typing import Any


def pandas() -> Any:
    """Give the module pandas, or say how to get it."""
    try:
        return import_module("pandas")
    except ImportError as error:
        raise ImportError("this call needs pandas: pip install 'interstage[pandas]'") from error
