"""Writes `tests/VALIDATION.md`."""

from .report import PATH, report

if __name__ == "__main__":
    PATH.write_text(report(), encoding="utf-8")
    print(f"written: {PATH}")
