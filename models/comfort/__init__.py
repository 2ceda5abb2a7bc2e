"""How the motion feels: frequency weightings and measures of ISO 2631-1, and the places they are taken at."""
