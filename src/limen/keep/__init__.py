"""Why a door misbehaves: causes by what is seen of it, and what to ask next."""
