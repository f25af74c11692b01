"""Arguments and lines of text around `limen.desk`: no logic of doors here."""
