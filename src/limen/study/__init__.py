"""All questions on one doorway; changes applied; a whole site."""

from limen.study.applying import apply
from limen.study.running import study, study_site

__all__ = ["apply", "study", "study_site"]
