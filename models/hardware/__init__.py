"""Parts in steel: their sizes, and what these do."""
