"""Pure functions from a ride model and an input to a result: rates, modes, responses."""
