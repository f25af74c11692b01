"""The planning desk in a browser: forms and pages in, verbs of `limen.desk` out."""

from limen.web.app import create_app

__all__ = ["create_app"]
