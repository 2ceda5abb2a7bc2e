"""Parts in steel: sizes in, rates, stresses, masses and lives out."""
