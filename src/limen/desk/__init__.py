"""The verbs a person asks for; the only callers of clock and disk.

A verb reads, asks the core, writes.  What cannot be used comes back as a
`Refusal` that says what, where, why and what now.
"""

from limen.desk.cache import use_cache

# Before anything compiled is imported: it asks once where its cache is.
use_cache()
