"""What tuning comes to, as `limen.findings.tuned` has it."""

from limen.findings.tuned import (
    Aim,
    Binding,
    Choice,
    Measures,
    Tuned,
    Turned,
    Work,
)

__all__ = ["Aim", "Binding", "Choice", "Measures", "Tuned", "Turned", "Work"]
